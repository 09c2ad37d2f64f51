import type { ResolvedRow } from "../../model/resolve.ts";
import { isCutting } from "../chains.ts";
import { liquid, reading, rotary, sand } from "../example-rows.ts";
import { isFilmAtStake, isSandingOrBlade } from "../film-taken.ts";
import { insertRowAt } from "../insert-row.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "no-reading-after-cut",
	group: "film budget",
	level: "caution",
	source: common,
	why: {
		en: "The reading after the cut is what tells that enough clear is left, and what the next shop can go by.",
		es: "La medición después del corte es la que dice que queda barniz bastante, y de la que puede partir el próximo taller.",
	},
	axes: ["defect", "clearCoat"],
	*check(input) {
		const { procedure, rows } = input;
		// That the film is not read at all is said once, of the film.
		if (procedure.film?.known === "none" || !isFilmAtStake(input)) return;
		const last = cutToReadAfter(rows);
		if (last === undefined || rows.some(({ kind, index }) => kind === "reading" && index > last.index)) return;
		// A half-typed cut after it is the last one, once it is written.
		if (rows.some((row) => row.index > last.index && row.kind === "incomplete" && row.would === "abrasive")) return;
		yield { row: last, data: { row: last.index + 1, kind: last.kind } };
	},
	say: {
		en: ({ row, kind }) => ({
			found:
				kind === "liquid"
					? "No row after this one reads the film"
					: "The last sanding is done here, and no row after reads the film",
			expected: "The film is read after the cut (common practice)",
			then: `Clear cut too thin leaves the shop unseen; put a reading after row ${row}`,
		}),
		es: ({ row, kind }) => ({
			found:
				kind === "liquid"
					? "Ninguna fila posterior mide la película"
					: "Aquí acaba el lijado, y ninguna fila posterior mide la película",
			expected: "La película se mide después del corte (práctica común)",
			then: `Un barniz demasiado fino sale del taller sin que nadie lo vea; ponga una medición tras la fila ${row}`,
		}),
	},
	remedies({ row }, { procedure: { steps = [] } }) {
		if (row === null) return [];
		return [
			{
				kind: "offered",
				say: {
					en: `Insert a gauge reading after row ${row.index + 1}`,
					es: `Insertar una medición de película tras la fila ${row.index + 1}`,
				},
				edit: [insertRowAt(row.index + 1, reading, steps)],
			},
		];
	},
	examples: {
		good: [
			{
				title: "Read between sanding and compound",
				steps: [reading, sand("P1500"), sand("P2000"), reading, rotary("heavy-cut", "wool-twisted")],
			},
			{ title: "Read at the end", steps: [reading, sand("P2000"), liquid("fine", "foam-soft"), reading] },
			{ title: "Polishing that takes off little", steps: [liquid("medium-cut", "foam-medium")] },
			{
				title: "Compound that takes off much, read before the finish",
				steps: [
					reading,
					rotary("heavy-cut", "wool-twisted", { work: { unit: "passes", low: 10, high: 10 } }),
					reading,
					liquid("finest", "foam-soft"),
				],
			},
		],
		bad: [
			{
				title: "Sanding, never read again",
				steps: [reading, sand("P1500"), sand("P2000"), rotary("heavy-cut", "wool-twisted")],
				at: { row: 3, field: null },
			},
			{
				title: "Read, then sanded on",
				steps: [reading, sand("P1500"), reading, sand("P2000")],
				at: { row: 4, field: null },
			},
			{
				title: "Compound that takes off more than 4 µm",
				steps: [
					reading,
					rotary("heavy-cut", "wool-twisted", { work: { unit: "passes", low: 10, high: 10 } }),
					liquid("fine", "foam-soft"),
				],
				at: { row: 2, field: null },
			},
		],
	},
});

/** The row after which a reading is due: the last that sands or takes a blade, else the first liquid. */
function cutToReadAfter(rows: readonly ResolvedRow[]): ResolvedRow | undefined {
	return rows.findLast(isSandingOrBlade) ?? rows.find(isCutting);
}
