import { outcomeOf } from "../../forecast/outcome.ts";
import { enumerations } from "../../model/generated/enumerations.ts";
import type { LiquidClass } from "../../model/generated/types.ts";
import type { LiquidRow } from "../../model/resolve.ts";
import { plannedRows } from "../chains.ts";
import { liquid, rotary, sand } from "../example-rows.ts";
import { liquidName, liquidPairs } from "../liquids.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "liquid-coarser-again",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "A stronger liquid after a finer one puts back marks that the finer one has just taken off, and its work is lost.",
		es: "Un líquido más fuerte después de uno más fino vuelve a dejar marcas que el fino acababa de quitar, y su trabajo se pierde.",
	},
	axes: ["defect", "clearCoat"],
	*check({ rows, forecast }) {
		const planned = plannedRows(rows);
		const marksUm = (row: LiquidRow) => outcomeOf(row, forecast)?.ownScratchUm?.mid ?? 0;
		for (const { from, to } of liquidPairs(planned)) {
			if (from.place !== to.place || from.spotMm !== to.spotMm) continue;
			if (strength(to.liquid.class) <= strength(from.liquid.class)) continue;
			// The pair of liquid and pad counts: a heavy cut on foam marks less than a medium cut on wool.
			if (marksUm(to) <= marksUm(from)) continue;
			yield {
				row: to,
				field: "liquid" as const,
				weight: strength(to.liquid.class) - strength(from.liquid.class),
				data: { fromLiquid: liquidName(from), fromRow: from.index + 1, liquid: liquidName(to) },
			};
		}
	},
	say: {
		en: ({ fromLiquid, fromRow, liquid: one }, say) => ({
			found: `${say.label("liquid", one)} comes after ${say.label("liquid", fromLiquid)} of row ${fromRow} on the same place`,
			expected: "Liquids run from strong to fine on one place (common practice)",
			then: `It puts deeper marks back; move the row before row ${fromRow}, or mark it "${say.label("need", "if-needed")}" where it is a second try`,
		}),
		es: ({ fromLiquid, fromRow, liquid: one }, say) => ({
			found: `${say.label("liquid", one)} viene después de ${say.label("liquid", fromLiquid)} de la fila ${fromRow} en el mismo lugar`,
			expected: "En un mismo lugar los líquidos van de fuerte a fino (práctica común)",
			then: `Vuelve a dejar marcas más hondas; pase la fila antes de la fila ${fromRow}, o márquela «${say.label("need", "if-needed")}» donde sea un segundo intento`,
		}),
	},
	examples: {
		good: [
			{
				title: "Heavy cut, fine, finest",
				steps: [rotary("heavy-cut", "wool-twisted"), liquid("fine", "foam-medium"), liquid("finest", "foam-soft")],
			},
			{
				title: "A second try, if needed",
				steps: [liquid("fine", "foam-medium"), liquid("medium-cut", "foam-medium", { need: "if-needed" })],
			},
			{
				title: "Fine over the panel, then a nib sanded and compounded on its spot",
				steps: [
					liquid("fine", "foam-medium", { place: "panel" }),
					sand("P2000", { place: "spot" }),
					liquid("heavy-cut", "foam-firm", { place: "spot" }),
				],
			},
			{
				title: "Sanded in between",
				steps: [liquid("fine", "foam-medium"), sand("P2000"), liquid("heavy-cut", "foam-firm")],
			},
			{
				title: "Medium cut on wool, then a heavy cut on foam, which marks less",
				steps: [rotary("medium-cut", "wool-twisted"), liquid("heavy-cut", "foam-medium")],
			},
		],
		bad: [
			{
				title: "Fine, then heavy cut",
				steps: [liquid("fine", "foam-medium"), liquid("heavy-cut", "foam-medium"), liquid("finest", "foam-soft")],
				at: { row: 2, field: "liquid" },
			},
			{
				title: "Finest before medium cut, with a wipe between",
				steps: [
					liquid("finest", "foam-soft"),
					{ stage: "wipe", wipe: "alcohol-wipe" },
					liquid("medium-cut", "foam-medium"),
				],
				at: { row: 3, field: "liquid" },
			},
		],
	},
});

/** How strongly a class of liquid cuts, as a rank: the vocabulary has them from strong to fine. */
function strength(one: LiquidClass): number {
	return -enumerations.LiquidClass.indexOf(one);
}
