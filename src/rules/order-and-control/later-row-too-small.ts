import type { AbrasiveRow, ResolvedRow } from "../../model/resolve.ts";
import { coversPlace, isCutting } from "../chains.ts";
import { liquid, sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "later-row-too-small",
	group: "order and control",
	level: "caution",
	source: common,
	why: {
		en: "Each row must reach past the scratches of the one before. A row that stops short leaves a ring of them around its place.",
		es: "Cada fila debe pasar más allá de los arañazos de la anterior. Una que se queda corta deja un cerco alrededor.",
	},
	axes: [],
	*check({ rows }) {
		for (const [at, from] of rows.entries()) {
			// A place that is not named is not known to be smaller.
			if (from.kind !== "abrasive" || from.step.place === undefined || from.place === "edge-strip") continue;
			let next: ResolvedRow | undefined;
			let isPassed = false;
			for (let later = at + 1; later < rows.length && !isPassed; later += 1) {
				const row = rows[later] as ResolvedRow;
				if (!isCutting(row) || row.kind === "blade" || row.place === "edge-strip") continue;
				next ??= row;
				isPassed = reachesPast(row, from);
			}
			if (next === undefined || isPassed) continue;
			yield {
				row: next,
				field: next.place === from.place ? ("spotMm" as const) : ("place" as const),
				weight: from.areaM2,
				data: {
					fromRow: from.index + 1,
					grade: from.abrasive.grade.text,
					place: next.place,
					fromPlace: from.place,
					spotMm: next.place === "spot" ? next.spotMm : null,
					fromSpotMm: from.place === "spot" ? from.spotMm : null,
				},
			};
		}
	},
	say: {
		en: ({ fromRow, grade, place, fromPlace, spotMm, fromSpotMm }, say) => ({
			found: `Neither this row (${say.label("place", place)}${spotMm === null ? "" : `, ${say.number(spotMm)} mm`}) nor one after it reaches past the ${grade} scratches of row ${fromRow} (${say.label("place", fromPlace)}${fromSpotMm === null ? "" : `, ${say.number(fromSpotMm)} mm`})`,
			expected: "A later row reaches past the scratches before it (common practice)",
			then: "They stay around the place and show; make it larger, or sand a smaller one",
		}),
		es: ({ fromRow, grade, place, fromPlace, spotMm, fromSpotMm }, say) => ({
			found: `Ni esta fila (${say.label("place", place)}${spotMm === null ? "" : `, ${say.number(spotMm)} mm`}) ni otra posterior pasa más allá de los arañazos de ${grade} de la fila ${fromRow} (${say.label("place", fromPlace)}${fromSpotMm === null ? "" : `, ${say.number(fromSpotMm)} mm`})`,
			expected: "Una fila posterior va más allá de los arañazos anteriores (práctica común)",
			then: "Quedan alrededor y se ven; agrande el lugar, o lije uno más pequeño",
		}),
	},
	examples: {
		good: [
			{
				title: "A spot sanded, the section polished",
				steps: [sand("P2000", { place: "spot" }), liquid("heavy-cut", "foam-firm", { place: "section" })],
			},
			{
				title: "The panel sanded, and the polish names no place",
				steps: [sand("P2000", { place: "panel" }), liquid("heavy-cut", "foam-firm")],
			},
			{
				title: "The panel sanded and polished, and a nib done on its spot",
				steps: [
					sand("P2000", { place: "panel" }),
					liquid("heavy-cut", "foam-firm", { place: "panel" }),
					sand("P2000", { place: "spot" }),
					liquid("heavy-cut", "foam-firm", { place: "spot", spotMm: 60 }),
				],
			},
			{
				title: "Sanded for a new coat, nothing polished",
				steps: [sand("P800", { place: "panel" })],
			},
		],
		bad: [
			{
				title: "The panel sanded, one section polished",
				steps: [sand("P2000", { place: "panel" }), liquid("heavy-cut", "foam-firm", { place: "section" })],
				at: { row: 2, field: "place" },
			},
			{
				title: "A spot of 60 mm sanded, 30 mm polished",
				steps: [
					sand("P2000", { place: "spot", spotMm: 60 }),
					liquid("heavy-cut", "foam-firm", { place: "spot", spotMm: 30 }),
					liquid("finest", "foam-soft", { place: "spot", spotMm: 30 }),
				],
				at: { row: 2, field: "spotMm" },
			},
		],
	},
});

/** Whether a row covers the whole place of an earlier one; one that names no place, or no size of its spot, may. */
function reachesPast(row: ResolvedRow, from: AbrasiveRow): boolean {
	if (row.step.place === undefined) return true;
	if (row.place === "spot" && from.place === "spot")
		return row.step.spotMm === undefined || from.step.spotMm === undefined || row.spotMm >= from.spotMm;
	return coversPlace(row, from);
}
