import type { Basis } from "../../model/finding.ts";
import { stockItem } from "../../model/shop.ts";
import { sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

const standards: { starts: string; basis: Basis }[] = [
	{ starts: "P", basis: standard("ISO 6344") },
	{ starts: "JIS", basis: standard("JIS R 6001") },
	{ starts: "CAMI", basis: standard("ANSI B74.18") },
];

export default rule({
	id: "unknown-grade",
	group: "grade progression",
	level: "stop",
	source: standard("ISO 6344"),
	why: {
		en: "No scale has such a grade: nobody can fetch that disc, and nothing can be said of the scratch it leaves.",
		es: "Ninguna escala tiene ese grano: nadie puede coger ese disco, y nada se puede decir del arañazo que deja.",
	},
	axes: [],
	*check({ rows, shop }) {
		for (const row of rows) {
			if (row.kind !== "incomplete" || row.unknownGrade === null) continue;
			const { text, nearest } = row.unknownGrade;
			const item = stockItem(shop.stock, "abrasives", row.step.abrasive);
			const known = standards.find(({ starts }) => text.startsWith(starts));
			yield {
				row,
				field: "abrasive" as const,
				basis: known?.basis ?? common,
				data: { grade: text, nearest, item: item?.name ?? null, scale: known?.basis.name ?? null },
			};
		}
	},
	say: {
		en: ({ grade, nearest, item, scale }, say) => ({
			found:
				scale === null
					? `${grade} can be read in two ways`
					: `${grade} is no grade${item === null ? "" : `; it is the grade of ${item} in stock`}`,
			expected:
				scale === null
					? `Written plainly it is ${say.list(nearest, "or")} (common practice)`
					: `The nearest in ${scale} ${nearest.length === 1 ? "is" : "are"} ${say.list(nearest)}`,
			then: "Until it is set, nothing is known of the scratches this row leaves",
		}),
		es: ({ grade, nearest, item, scale }, say) => ({
			found:
				scale === null
					? `${grade} se puede leer de dos maneras`
					: `${grade} no es un grano${item === null ? "" : `; es el grano de ${item} en existencias`}`,
			expected:
				scale === null
					? `Escrito sin duda es ${say.list(nearest, "or")} (práctica común)`
					: `En ${scale}, lo más cercano ${nearest.length === 1 ? "es" : "son"} ${say.list(nearest)}`,
			then: "Mientras no se fije, nada se sabe de los arañazos que deja esta fila",
		}),
	},
	remedies({ row, data }) {
		const from = row?.step.abrasive;
		// The grade of a stock item is put right in the stock, not in the rows that name it.
		if (row === null || from === undefined || data.item !== null) return [];
		return data.nearest.map((to) => ({
			kind: "offered" as const,
			say: { en: `Change ${from} to ${to}`, es: `Cambiar ${from} por ${to}` },
			edit: [{ op: "set" as const, row: row.step.id, field: "abrasive" as const, from, to }],
		}));
	},
	examples: {
		good: [
			{ title: "P1500, JIS 2000 and 16 µm exist", steps: [sand("16 µm"), sand("P1500"), sand("JIS 2000")] },
			{ title: "A grade not typed yet", steps: [{ stage: "sand", tool: "block", backing: "soft-block" }] },
		],
		bad: [
			{ title: "P1700", steps: [sand("P1700")], at: { row: 1, field: "abrasive" } },
			{ title: "P9000, beyond the finest", steps: [sand("P9000")], at: { row: 1, field: "abrasive" } },
			{ title: "1.500 µm", steps: [sand("1.500 µm")], at: { row: 1, field: "abrasive" } },
			{
				title: "A stock item with a grade that does not exist",
				steps: [sand("fine-film-disc")],
				stock: { abrasives: [{ id: "fine-film-disc", name: "Fine film disc", grade: "P1700" }] },
				at: { row: 1, field: "abrasive" },
			},
		],
	},
});

function standard(name: string): Basis {
	return { kind: "standard", name, value: null, unit: null };
}
