import { isStepField } from "../../model/fields/columns.ts";
import { read } from "../../model/fields/read.ts";
import type { StepField } from "../../model/resolve.ts";
import type { Shop } from "../../model/shop.ts";
import type { WordKind } from "../../model/words.ts";
import { rotary, sand, sandByHand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";
import type { Say } from "../say.ts";
import { hasItems, itemNamed } from "../stock-references.ts";

export default rule({
	id: "unknown-stock",
	group: "record",
	level: "caution",
	source: common,
	why: {
		en: "A row that names what the shop does not have cannot be worked as written, nor judged.",
		es: "Una fila que nombra lo que el taller no tiene no se puede trabajar como está escrita, ni juzgar.",
	},
	axes: [],
	*check({ allRows, shop }) {
		const unknown = allRows.flatMap((row) =>
			row.unknownRefs.map(({ field, text }) => {
				const item = itemNamed(field, text, shop);
				const grade = item !== undefined && "grade" in item ? item.grade : null;
				const meant = meantBy(text, field, row.step.tool, shop);
				return { row, field, data: { text, column: field as string, grade, meant, names: [] as string[] } };
			}),
		);
		// Where nothing is in stock, the names that say nothing else have one cause.
		const names = new Set(unknown.flatMap(({ data }) => (data.meant === null ? data.text : [])));
		if (hasItems(shop) || names.size < 2) yield* unknown;
		else {
			yield* unknown.filter(({ data }) => data.meant !== null);
			yield {
				field: "steps" as const,
				data: { text: "", column: "", grade: null, meant: null, names: [...names] },
			};
		}
	},
	say: {
		en: ({ text, column, grade, meant, names }, say) => ({
			found:
				names.length > 0
					? `The shop has no stock, and its rows name ${names.length} items: ${say.list(firstOf(names, "more"))}`
					: grade === null
						? `${say.quote(text)} is neither in stock nor ${column === "abrasive" ? "a grade" : "a kind this column knows"}`
						: `The stock gives ${text} the grade ${say.quote(grade)}, which is no grade`,
			expected:
				meant === null
					? "A row names an item of the shop's stock or a kind of item (the shop's stock)"
					: `It may mean ${inWords(column, meant, say)} (common practice)`,
			then:
				names.length > 0
					? "Put them into the stock of the book, or name kinds; until then these rows are not judged"
					: grade === null
						? "Until then nobody can fetch it, and the row is not judged"
						: "Put the grade or the median grain right in the stock; until then the row is not judged",
		}),
		es: ({ text, column, grade, meant, names }, say) => ({
			found:
				names.length > 0
					? `El taller no tiene existencias, y sus filas nombran ${names.length} artículos: ${say.list(firstOf(names, "más"))}`
					: grade === null
						? `${say.quote(text)} no está en existencias ni es ${column === "abrasive" ? "un grano" : "un tipo que esta columna conozca"}`
						: `Las existencias dan a ${text} el grano ${say.quote(grade)}, que no es un grano`,
			expected:
				meant === null
					? "Una fila nombra un artículo de las existencias o un tipo de artículo (existencias del taller)"
					: `Puede significar ${inWords(column, meant, say)} (práctica común)`,
			then:
				names.length > 0
					? "Póngalos en las existencias del libro o nombre tipos; mientras tanto estas filas no se juzgan"
					: grade === null
						? "Mientras tanto nadie puede cogerlo, y la fila no se juzga"
						: "Corrija el grano o el grano medio en las existencias; mientras tanto la fila no se juzga",
		}),
	},
	remedies({ row, data: { text, column, meant } }) {
		if (row === null || meant === null) return [];
		return [
			{
				kind: "offered",
				say: { en: `Change ${text} to ${meant}`, es: `Cambiar ${text} por ${meant}` },
				edit: [{ op: "set", row: row.step.id, field: column, from: text, to: meant }],
			},
		];
	},
	examples: {
		good: [
			{ title: "Kinds of tool, backing and pad", steps: [sand("P1500"), rotary("heavy-cut", "wool-twisted")] },
			{
				title: "An item of the stock, withdrawn or not",
				steps: [sandByHand("wet-1500")],
				stock: { abrasives: [{ id: "wet-1500", name: "Wet 1500", grade: "P1500", withdrawn: true }] },
			},
			{
				title: "A foam disc finer than any table, known by its median",
				steps: [sand("foam-9000", { wetness: "damp" })],
				stock: { abrasives: [{ id: "foam-9000", name: "Foam 9000", grade: "P9000", medianUm: 2, carrier: "foam" }] },
			},
		],
		bad: [
			{ title: "A tool nobody has", steps: [sand("P1500", { tool: "lost-sander" })], at: { row: 1, field: "tool" } },
			{
				title: "A kind in other words",
				steps: [rotary("heavy-cut", "twisted wool")],
				at: { row: 1, field: "pad" },
			},
			{ title: "Neither a grade nor in stock", steps: [sand("fine disc")], at: { row: 1, field: "abrasive" } },
			{
				title: "Two items, and nothing in stock",
				steps: [sand("fine disc"), rotary("heavy-cut", "wool-yellow")],
				at: { row: null, field: "steps" },
			},
			{
				title: "In stock, with a grade that is none",
				steps: [sand("fine-disc")],
				stock: { abrasives: [{ id: "fine-disc", name: "Fine disc", grade: "very fine" }] },
				at: { row: 1, field: "abrasive" },
			},
		],
	},
});

const mostNames = 6;

function firstOf(names: readonly string[], more: string): string[] {
	const left = names.length - mostNames;
	return left < 2 ? [...names] : [...names.slice(0, mostNames), `${left} ${more}`];
}

/** The one word or item that the text may mean in its column; null where it means none, or several. */
function meantBy(text: string, field: StepField, tool: string | undefined, { book, stock }: Shop): string | null {
	if (!isStepField(field)) return null;
	const reading = read(text, {
		field,
		language: book.language ?? "en",
		stock,
		...(tool === undefined ? {} : { tool }),
	});
	return "value" in reading && typeof reading.value === "string" && reading.value !== text ? reading.value : null;
}

/** "twisted wool, written wool-twisted"; the id alone of an item. */
function inWords(column: string, meant: string, say: Say): string {
	const word = say.label(column as WordKind, meant);
	return word === meant ? meant : `${word}, ${{ en: "written", es: "escrito" }[say.language]} ${meant}`;
}
