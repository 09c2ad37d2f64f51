import type { ResolvedRow } from "../../model/resolve.ts";
import { standsBetween } from "../chains.ts";
import { alcoholWipe, liquid, rotary, sand } from "../example-rows.ts";
import { insertRowAt } from "../insert-row.ts";
import { liquidName, liquidPairs, mayBeSameLiquid } from "../liquids.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "no-wipe-between-liquids",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "What a liquid leaves on the panel gets under the next pad: the finer liquid then marks like the coarser one, and its pad is spoilt.",
		es: "Lo que un líquido deja en el panel pasa a la boina siguiente: el más fino marca entonces como el más fuerte, y la boina se estropea.",
	},
	axes: [],
	*check({ rows }) {
		for (const { from, to } of liquidPairs(rows)) {
			if (mayBeSameLiquid(from, to) || standsBetween(isWipe, from, to, rows)) continue;
			// Either row may say itself that the panel is wiped.
			if (from.step.wipe !== undefined || to.step.wipe !== undefined) continue;
			yield {
				row: to,
				data: { row: to.index + 1, fromRow: from.index + 1, fromLiquid: liquidName(from), liquid: liquidName(to) },
			};
		}
	},
	say: {
		en: ({ fromRow, fromLiquid, liquid: one }, say) => ({
			found: `${say.label("liquid", one)} follows ${say.label("liquid", fromLiquid)} of row ${fromRow} without a wipe`,
			expected: "The panel is wiped between two liquids (common practice)",
			then: "Residue of the first gets into the pad of the second and goes on marking; put a wipe row between the two",
		}),
		es: ({ fromRow, fromLiquid, liquid: one }, say) => ({
			found: `${say.label("liquid", one)} sigue a ${say.label("liquid", fromLiquid)} de la fila ${fromRow} sin limpiar`,
			expected: "Entre dos líquidos se limpia el panel (práctica común)",
			then: "Los restos del primero pasan a la boina del segundo y siguen marcando; ponga una fila de limpieza entre ambas",
		}),
	},
	remedies({ row, data }, { procedure: { steps = [] } }) {
		if (row === null) return [];
		return [
			{
				kind: "sure",
				say: {
					en: `Insert a wipe with a dry cloth before row ${data.row}`,
					es: `Insertar una pasada de paño seco antes de la fila ${data.row}`,
				},
				edit: [insertRowAt(row.index, { stage: "wipe", wipe: "dry-cloth" }, steps)],
			},
		];
	},
	examples: {
		good: [
			{
				title: "A wipe between",
				steps: [rotary("heavy-cut", "wool-twisted"), alcoholWipe, liquid("fine", "foam-soft")],
			},
			{
				title: "The row itself says that it is wiped off",
				steps: [liquid("medium-cut", "foam-medium", { wipe: "dry-cloth" }), liquid("finest", "foam-soft")],
			},
			{
				title: "The same liquid on two pads",
				steps: [rotary("heavy-cut", "wool-twisted"), liquid("heavy-cut", "foam-firm")],
			},
			{
				title: "Two places that do not meet",
				steps: [
					liquid("heavy-cut", "foam-firm", { place: "edge-strip" }),
					liquid("fine", "foam-soft", { place: "spot" }),
				],
			},
			{
				title: "Sanded in between",
				steps: [
					liquid("heavy-cut", "foam-firm"),
					sand("P3000", { carrier: "foam", wetness: "damp" }),
					liquid("fine", "foam-soft"),
				],
			},
		],
		bad: [
			{
				title: "Compound, then finest, nothing between",
				steps: [rotary("heavy-cut", "wool-twisted"), liquid("finest", "foam-soft")],
				at: { row: 2, field: null },
			},
			{
				title: "A look but no wipe between",
				steps: [liquid("medium-cut", "foam-medium"), { stage: "inspect", tool: "lamp" }, liquid("fine", "foam-soft")],
				at: { row: 3, field: null },
			},
		],
	},
});

/** Whether a row wipes, one still half-typed too. */
function isWipe(row: ResolvedRow): boolean {
	return row.kind === "wipe" || (row.kind === "incomplete" && row.would === "wipe");
}
