import type { Forecast, RowOutcome } from "../../forecast/outcome.ts";
import { rounded } from "../../forecast/spread.ts";
import { liquid, rotary, sand } from "../example-rows.ts";
import { takenAtWorst, takenByAll } from "../film-taken.ts";
import { house, rule } from "../rule.ts";

const factory = {
	scope: { defects: [{ defect: "sand-scratch", goal: "gone" as const }], clearCoats: ["factory" as const] },
};

export default rule({
	id: "film-below-limit",
	group: "film budget",
	level: "stop",
	source: house("leastLeftUm", null, "um"),
	why: {
		en: "Clear that is cut too thin no longer keeps the sun from the colour; it turns dull or peels months after the car has left.",
		es: "Un barniz demasiado fino deja de proteger el color del sol; se apaga o se pela meses después de entregar el coche.",
	},
	axes: ["defect", "clearCoat"],
	*check({ forecast, situation, shop }) {
		const { startUm, leastLeftUm, leastLeftFrom, start, totals } = forecast;
		if (startUm === null || leastLeftUm === null) return;
		const share = shop.limits.edgeLeastShare;
		const limits = [
			{ at: "panel", limitUm: leastLeftUm, leftUm: leastLeftInField(forecast, startUm.mid), takenUm: takenAtWorst },
			{ at: "edge", limitUm: rounded(leastLeftUm * share), leftUm: totals.edgeLeftLeastUm, takenUm: takenAtEdge },
		];
		for (const { at, limitUm, leftUm, takenUm } of limits) {
			if (leftUm === null || leftUm >= limitUm) continue;
			const row = whereBroken(forecast.rows, takenUm, startUm.mid - limitUm);
			if (row === undefined) continue;
			yield {
				row,
				field: "work" as const,
				weight: limitUm - leftUm,
				basis: house(
					leastLeftFrom === "house" ? `leastLeftUm.${situation.clearCoat}` : "film.leastLeftUm",
					leastLeftUm,
					"um",
				),
				data: {
					at,
					leftUm,
					limitUm,
					startUm: startUm.mid,
					shortUm: limitUm - leftUm,
					// With work until flush the reading to start by rests on a bound, far more than such a row takes off.
					startAtLeastUm: at === "edge" || totals.removedUpperUm === null ? null : (start?.clearAtLeastUm ?? null),
					limitFrom: leastLeftFrom ?? "house",
				},
			};
		}
	},
	say: {
		en: ({ at, leftUm, shortUm, limitUm, startUm, startAtLeastUm, limitFrom }, say) => ({
			found: `With this row the clear ${at === "edge" ? "at an edge " : ""}falls below its limit, in the end by ${say.um(shortUm)}; ${say.um(leftUm)} of ${say.um(startUm)} is left`,
			expected: `At least ${say.um(limitUm)} must stay${at === "edge" ? " at an edge" : ""} (${limitFrom === "house" ? "house limit" : "limit of this procedure"})`,
			then:
				at === "edge"
					? "The clear burns through there first; tape the edges or keep off them, or do less"
					: startAtLeastUm === null
						? "Too little clear no longer protects the colour; do less, or begin finer"
						: `Do less or begin finer, or start only where the clear reads at least ${say.um(startAtLeastUm)}`,
		}),
		es: ({ at, leftUm, shortUm, limitUm, startUm, startAtLeastUm, limitFrom }, say) => ({
			found: `Con esta fila el barniz ${at === "edge" ? "de un borde " : ""}baja de su límite, al final en ${say.um(shortUm)}; quedan ${say.um(leftUm)} de ${say.um(startUm)}`,
			expected: `Deben quedar al menos ${say.um(limitUm)}${at === "edge" ? " en un borde" : ""} (${limitFrom === "house" ? "límite de la casa" : "límite de este procedimiento"})`,
			then:
				at === "edge"
					? "El borde es lo primero que se traspasa; encíntelo o no lo toque, o trabaje menos"
					: startAtLeastUm === null
						? "Con tan poco barniz el color queda sin protección; trabaje menos, o empiece más fino"
						: `Trabaje menos o empiece más fino, o empiece solo si el barniz mide al menos ${say.um(startAtLeastUm)}`,
		}),
	},
	examples: {
		good: [
			{
				title: "P2000 and compound on factory clear",
				steps: [sand("P2000"), rotary("heavy-cut", "wool-twisted"), liquid("fine", "foam-soft")],
				procedure: factory,
			},
			{
				title: "A full chain on a refinish clear",
				steps: [sand("P1500"), sand("P2000"), rotary("heavy-cut", "wool-twisted")],
			},
			{
				title: "Much work on a clear that is not named",
				steps: [sand("P800", { work: { unit: "passes", low: 12, high: 12 } })],
				procedure: { scope: { defects: [{ defect: "sand-scratch", goal: "gone" }] } },
			},
			{
				title: "Until flush: how much comes off is not known",
				steps: [sand("P800", { work: { unit: "until-flush" } })],
				procedure: factory,
			},
		],
		bad: [
			{
				title: "P800 for eight passes on factory clear",
				steps: [
					sand("P800", { work: { unit: "passes", low: 6, high: 8 } }),
					sand("P2000"),
					rotary("heavy-cut", "wool-twisted"),
				],
				procedure: factory,
				at: { row: 1, field: "work" },
			},
			{
				title: "The second row breaks it, on clear that reads thin",
				steps: [{ stage: "measure", tool: "gauge" }, sand("P1500"), sand("P2000"), liquid("fine", "foam-soft")],
				procedure: { ...factory, film: { known: "clear-reading", startReadingUm: 35 } },
				at: { row: 3, field: "work" },
			},
			{
				title: "Broken by what is known, with a row of which it is not",
				steps: [
					sand("P800", { work: { unit: "passes", low: 8, high: 8 } }),
					sand("P1500", { work: { unit: "until-flush" } }),
				],
				procedure: factory,
				at: { row: 1, field: "work" },
			},
			{
				title: "An edge sanded freely on a rigid block",
				steps: [
					sand("P1200", {
						backing: "rigid-block",
						tool: "block",
						speed: undefined,
						edges: "free",
						work: { unit: "strokes", low: 40, high: 50 },
					}),
				],
				procedure: factory,
				at: { row: 1, field: "work" },
			},
		],
	},
});

/** Clear left in the field, µm; at most that much where a row of which it is not known takes off more. */
function leastLeftInField(forecast: Forecast, startUm: number): number {
	return forecast.totals.filmLeftLeastUm ?? rounded(Math.max(0, startUm - takenByAll(forecast).um));
}

/** Film taken off at an edge that the row works, µm: its share over the field is the same at every end of `work`. */
function takenAtEdge({ row, removedUm, removedUpperUm, edgeRemovedUm }: RowOutcome): number {
	const isJudged = row.place === "edge-strip" || row.edges === "free";
	if (!isJudged || !removedUm?.mid || edgeRemovedUm === null || removedUpperUm === null) return 0;
	return (removedUpperUm * edgeRemovedUm.mid) / removedUm.mid;
}

/** The row that takes the film beyond what may come off; the last that takes any, where rounding hides the moment. */
function whereBroken(rows: readonly RowOutcome[], takenUm: (one: RowOutcome) => number, budgetUm: number) {
	let sumUm = 0;
	const cutting = rows.filter((one) => takenUm(one) > 0);
	const breaking = cutting.find((one) => {
		sumUm += takenUm(one);
		return rounded(sumUm) > rounded(budgetUm);
	});
	return (breaking ?? cutting.at(-1))?.row;
}
