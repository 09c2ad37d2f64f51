import { liquid, rotary, sand } from "../example-rows.ts";
import { house, rule } from "../rule.ts";
import { chanceOfShow, rowsBeyondSheet, scratchesLeft } from "../scratches-left.ts";

export default rule({
	id: "scratch-left-behind",
	group: "grade progression",
	level: "caution",
	source: house("scratchClearedUm", 0.2, "um"),
	why: {
		en: "Scratches that the last liquid row leaves come back into sight once the polishing oils are wiped off.",
		es: "Los arañazos que deja la última fila de líquido vuelven a verse en cuanto se limpian los aceites del pulimento.",
	},
	axes: ["defect", "clearCoat"],
	*check(input) {
		const { rows, shop, situation, procedure } = input;
		for (const left of scratchesLeft(input)) {
			const { from, chance, end, passes } = left;
			if (left.leftHighUm <= left.clearedUm) continue;
			if (rowsBeyondSheet(rows, shop).some((one) => one.from === from)) continue;
			const goal = procedure.scope?.defects?.find((one) => one.defect === situation.defect)?.goal;
			if (from === null && goal === "match-neighbour") continue;
			yield {
				row: left.strongest,
				field: "work" as const,
				level: chance > chanceOfShow ? ("stop" as const) : undefined,
				weight: chance,
				basis: house("scratchClearedUm", shop.limits.scratchClearedUm, "um"),
				data: {
					fromRow: from === null ? null : from.index + 1,
					fromGrade: from?.kind === "abrasive" ? from.abrasive.grade.text : null,
					fromLiquid: from?.kind === "liquid" ? from.liquid.class : null,
					defect: from === null ? (situation.defect ?? null) : null,
					endRow: end.index + 1,
					chance,
					leftUm: left.leftUm,
					leftHighUm: left.leftHighUm,
					clearedUm: left.clearedUm,
					passes,
				},
			};
		}
	},
	say: {
		en: ({ fromRow, fromGrade, fromLiquid, defect, endRow, chance, leftUm, leftHighUm, clearedUm, passes }, say) => {
			const one = defect !== null;
			const what = one
				? `The defect (${say.label("defect", defect)})`
				: `${fromGrade === null ? `Marks of ${say.label("liquid", fromLiquid ?? "")}` : `${fromGrade} scratches`} of row ${fromRow}`;
			return {
				found: isPlainlyLeft(leftUm, clearedUm)
					? `${what} ${one ? "stays" : "stay"} ${say.um(leftUm)} deep after row ${endRow}`
					: `${what} may stay up to ${say.um(leftHighUm)} deep after row ${endRow} (chance ${say.percent(chance)})`,
				expected: `By the house limit, ${say.um(clearedUm)} or less counts as cleared`,
				then:
					passes !== null
						? `${say.number(passes)} passes here clear ${one ? "it" : "them"} by the forecast`
						: `More passes alone are no way out; ${one ? "sand it out" : "sand finer"} before, or use a liquid that cuts more`,
			};
		},
		es: ({ fromRow, fromGrade, fromLiquid, defect, endRow, chance, leftUm, leftHighUm, clearedUm, passes }, say) => {
			const one = defect !== null;
			const what = one
				? `El defecto (${say.label("defect", defect)})`
				: `${fromGrade === null ? `Las marcas de ${say.label("liquid", fromLiquid ?? "")}` : `Los arañazos de ${fromGrade}`} de la fila ${fromRow}`;
			return {
				found: isPlainlyLeft(leftUm, clearedUm)
					? `${what} ${one ? "sigue" : "siguen"} con ${say.um(leftUm)} de profundidad tras la fila ${endRow}`
					: `${what} ${one ? "puede" : "pueden"} quedar con hasta ${say.um(leftHighUm)} de profundidad tras la fila ${endRow} (probabilidad ${say.percent(chance)})`,
				expected: `Según el límite de la casa, ${say.um(clearedUm)} o menos cuenta como eliminado`,
				then:
					passes !== null
						? `Según el pronóstico, ${say.number(passes)} pasadas aquí bastan`
						: `Solo con más pasadas no se arregla; ${one ? "líjelo" : "lije más fino"} antes, o use un líquido que corte más`,
			};
		},
	},
	examples: {
		good: [
			{
				title: "P1500, P2000, P3000, compound on wool, polish",
				steps: [
					sand("P1500"),
					sand("P2000"),
					sand("P3000", { carrier: "foam", holes: "none", wetness: "damp" }),
					rotary("heavy-cut", "wool-twisted"),
					liquid("medium-cut", "foam-medium"),
				],
			},
			{
				title: "One-step polish of swirls on a light colour",
				steps: [liquid("medium-cut", "foam-medium")],
				procedure: {
					scope: { defects: [{ defect: "swirl", goal: "gone" }], clearCoats: ["refinish"], tones: ["light"] },
				},
			},
			{
				title: "Sanding that nothing polishes: meant to be coated over",
				steps: [sand("P1500"), sand("P2000")],
			},
			{
				title: "Etching that is only to match the neighbour",
				steps: [liquid("fine", "foam-soft")],
				procedure: { scope: { defects: [{ defect: "etch", goal: "match-neighbour" }], clearCoats: ["refinish"] } },
			},
		],
		bad: [
			{
				title: "P1500, then one pass of fine polish",
				steps: [sand("P1500"), liquid("fine", "foam-soft", { work: { unit: "passes", low: 1, high: 1 } })],
				at: { row: 2, field: "work" },
				level: "stop",
			},
			{
				title: "P3000 foam, then too few passes of compound before the finest",
				steps: [
					sand("P1500"),
					sand("P2000"),
					sand("P3000", { carrier: "foam", holes: "none", wetness: "damp" }),
					rotary("heavy-cut", "wool-twisted", { work: { unit: "passes", low: 1, high: 1 } }),
					liquid("finest", "foam-soft"),
				],
				at: { row: 4, field: "work" },
			},
			{
				title: "Etching polished once with fine",
				steps: [liquid("fine", "foam-medium", { work: { unit: "passes", low: 2, high: 2 } })],
				procedure: { scope: { defects: [{ defect: "etch", goal: "gone" }], clearCoats: ["refinish"] } },
				at: { row: 1, field: "work" },
				level: "stop",
			},
		],
	},
});

/** Whether the middle depth, read to a tenth of a µm, is beyond what counts as cleared. */
function isPlainlyLeft(leftUm: number, clearedUm: number): boolean {
	return leftUm >= clearedUm + 0.05;
}
