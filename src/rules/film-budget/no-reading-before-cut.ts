import type { ResolvedRow } from "../../model/resolve.ts";
import { isCutting } from "../chains.ts";
import { liquid, reading, rotary, sand } from "../example-rows.ts";
import { isFilmAtStake, isSandingOrBlade } from "../film-taken.ts";
import { insertRowAt } from "../insert-row.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "no-reading-before-cut",
	group: "film budget",
	level: "caution",
	source: common,
	why: {
		en: "What was sprayed is not what is there: the panel may have been cut before. Only a reading tells whether there is enough to cut again.",
		es: "Lo que se pintó no es lo que queda: el panel puede haberse lijado antes. Solo una medición dice si queda bastante para volver a cortar.",
	},
	axes: ["defect", "clearCoat"],
	*check(input) {
		const { procedure, rows } = input;
		// That the film is not read at all is said once, of the film.
		if (procedure.film?.known === "none" || !isFilmAtStake(input)) return;
		if (procedure.startWhen?.some(({ readingBelowUm }) => readingBelowUm !== undefined)) return;
		const first = firstCut(rows);
		if (first === undefined || rows.some(({ kind, index }) => kind === "reading" && index < first.index)) return;
		yield { row: first, data: { row: first.index + 1, kind: first.kind } };
	},
	say: {
		en: ({ row }) => ({
			found: "The cutting begins here, and no row before reads the film",
			expected: "The film is read before the first cut (common practice)",
			then: `Whether this car has enough clear is not known until it is gone; put a reading before row ${row}`,
		}),
		es: ({ row }) => ({
			found: "Aquí empieza el corte, y ninguna fila anterior mide la película",
			expected: "La película se mide antes del primer corte (práctica común)",
			then: `Si este coche tiene barniz bastante no se sabe hasta que ya no está; ponga una medición antes de la fila ${row}`,
		}),
	},
	remedies({ row }, { procedure: { steps = [] } }) {
		if (row === null) return [];
		return [
			{
				kind: "offered",
				say: {
					en: `Insert a gauge reading before row ${row.index + 1}`,
					es: `Insertar una medición de película antes de la fila ${row.index + 1}`,
				},
				edit: [insertRowAt(row.index, reading, steps)],
			},
		];
	},
	examples: {
		good: [
			{ title: "A reading before sanding", steps: [reading, sand("P1500"), reading] },
			{ title: "Polishing that takes off little", steps: [liquid("medium-cut", "foam-medium")] },
			{
				title: "Polished clean first, then read, then sanded",
				steps: [liquid("fine", "foam-soft"), reading, sand("P2000")],
			},
			{
				title: "A reading is a condition to begin",
				steps: [sand("P2000")],
				procedure: { startWhen: [{ text: { en: "Clear reads 45 µm or more" }, readingBelowUm: 45 }] },
			},
			{
				title: "The film cannot be read: said of the film",
				steps: [sand("P2000")],
				procedure: { film: { known: "none" } },
			},
		],
		bad: [
			{ title: "Sanding without a reading", steps: [sand("P1500"), reading], at: { row: 1, field: null } },
			{
				title: "A nib blade without a reading",
				steps: [
					{ stage: "clean", wipe: "wash" },
					{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } },
					sand("P2000", { place: "spot" }),
					reading,
				],
				at: { row: 2, field: null },
			},
			{
				title: "Compound that takes off more than 4 µm",
				steps: [rotary("heavy-cut", "wool-twisted", { work: { unit: "passes", low: 10, high: 10 } }), reading],
				at: { row: 1, field: null },
			},
		],
	},
});

/** The row where the film begins to go in earnest: the first that sands or takes a blade, else the first liquid. */
function firstCut(rows: readonly ResolvedRow[]): ResolvedRow | undefined {
	return rows.find(isSandingOrBlade) ?? rows.find(isCutting);
}
