import type { ResolvedRow } from "../../model/resolve.ts";
import { plannedRows, sandingPairs, surfacesUnder } from "../chains.ts";
import { rotary, sand } from "../example-rows.ts";
import { rule, sheet } from "../rule.ts";
import { gradeCleared, sheetNameOf } from "../scratches-left.ts";

/**
 * How much finer than the liquid's sheet asks the row before must be already, as a ratio of medians: about two
 * grades, since one grade finer is a fair reserve. Common practice, no source.
 */
const enoughReserve = 1.5;

const compound = { id: "strong-compound", name: "Strong compound", class: "heavy-cut" as const, clearsGrade: "P1500" };
const foam = { carrier: "foam", holes: "none", wetness: "damp" } as const;

export default rule({
	id: "finer-than-needed",
	group: "grade progression",
	level: "advice",
	source: sheet("the liquid's sheet", null, null),
	why: {
		en: "Where the row before is already well finer than the liquid needs, one more sanding row costs discs and minutes and saves nothing.",
		es: "Si la fila anterior ya es bastante más fina de lo que pide el líquido, otra fila de lijado gasta discos y minutos sin ganar nada.",
	},
	axes: [],
	*check({ rows, shop }) {
		const planned = plannedRows(rows);
		const pairsTo = new Map<ResolvedRow, ReturnType<typeof sandingPairs>[number][]>();
		for (const pair of sandingPairs(planned)) pairsTo.set(pair.to, [...(pairsTo.get(pair.to) ?? []), pair]);
		for (const row of planned) {
			if (row.kind !== "liquid") continue;
			const clears = gradeCleared(row, shop);
			if (clears === null) continue;
			const idle = surfacesUnder(row, planned)
				.flatMap((to) => pairsTo.get(to) ?? [])
				.find(
					({ from, to }) =>
						to.abrasive.medianUm < from.abrasive.medianUm && clears.um / from.abrasive.medianUm >= enoughReserve,
				);
			if (idle === undefined) continue;
			const { from, to } = idle;
			yield {
				row: to,
				field: "abrasive" as const,
				basis: sheet(sheetNameOf(row), clears.text, null),
				data: {
					grade: to.abrasive.grade.text,
					fromGrade: from.abrasive.grade.text,
					fromRow: from.index + 1,
					clearsGrade: clears.text,
					liquidRow: row.index + 1,
					sheet: sheetNameOf(row),
				},
			};
		}
	},
	say: {
		en: ({ grade, fromGrade, fromRow, clearsGrade, liquidRow, sheet: name }) => ({
			found: `${grade} comes after ${fromGrade} of row ${fromRow}, and the liquid of row ${liquidRow} needs neither`,
			expected: `It clears ${clearsGrade} and finer (${name})`,
			then: "The row can go, unless it is there to save passes on a dark colour",
		}),
		es: ({ grade, fromGrade, fromRow, clearsGrade, liquidRow, sheet: name }) => ({
			found: `${grade} viene después de ${fromGrade} de la fila ${fromRow}, y el líquido de la fila ${liquidRow} no necesita ninguno`,
			expected: `Elimina ${clearsGrade} y más finos (${name})`,
			then: "La fila sobra, salvo que esté para ahorrar pasadas en un color oscuro",
		}),
	},
	examples: {
		good: [
			{
				title: "P1500, P3000 foam, then a compound that clears P1500",
				steps: [sand("P1500"), sand("P3000", foam), rotary("strong-compound", "wool-twisted")],
				stock: { liquids: [compound] },
			},
			{
				title: "P1500, P2000, P3000 foam: the row before the last is only one grade finer than needed",
				steps: [sand("P1500"), sand("P2000"), sand("P3000", foam), rotary("strong-compound", "wool-twisted")],
				stock: { liquids: [compound] },
			},
			{
				title: "P5000 only if needed",
				steps: [
					sand("P1500"),
					sand("P3000", foam),
					sand("P5000", { ...foam, need: "if-needed" }),
					rotary("strong-compound", "wool-twisted"),
				],
				stock: { liquids: [compound] },
			},
		],
		bad: [
			{
				title: "P5000 after P3000, then a compound that clears P1500",
				steps: [sand("P1500"), sand("P3000", foam), sand("P5000", foam), rotary("strong-compound", "wool-twisted")],
				stock: { liquids: [compound] },
				at: { row: 3, field: "abrasive" },
			},
		],
	},
});
