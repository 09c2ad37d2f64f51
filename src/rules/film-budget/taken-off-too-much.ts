import { rounded } from "../../forecast/spread.ts";
import { liquid, rotary, sand } from "../example-rows.ts";
import { takenAtWorst, takenByAll } from "../film-taken.ts";
import { house, rule } from "../rule.ts";

const factory = {
	scope: { defects: [{ defect: "sand-scratch", goal: "gone" as const }], clearCoats: ["factory" as const] },
};

export default rule({
	id: "taken-off-too-much",
	group: "film budget",
	level: "caution",
	source: house("mostTakenUm", null, "um"),
	why: {
		en: "A panel is repaired more than once in its life. What one repair takes off is not there for the next, and the film was made to last with what it had.",
		es: "Un panel se repara más de una vez. Lo que quita una reparación le falta a la siguiente, y la película se hizo para durar con lo que tenía.",
	},
	axes: ["defect", "clearCoat"],
	*check({ forecast, situation }) {
		const limitUm = forecast.mostTakenUm;
		if (limitUm === null) return;
		const taken = takenByAll(forecast);
		const takenUm = rounded(taken.um);
		if (takenUm <= limitUm) return;
		let most = forecast.rows[0];
		for (const one of forecast.rows) if (most !== undefined && takenAtWorst(one) > takenAtWorst(most)) most = one;
		if (most === undefined) return;
		// No row is at fault by itself; and at the whole procedure it stays put when a row is added at the end.
		yield {
			field: "film" as const,
			weight: takenUm - limitUm,
			basis: house(`mostTakenUm.${situation.clearCoat}`, limitUm, "um"),
			data: { takenUm, limitUm, whole: taken.whole, mostRow: most.row.index + 1, mostUm: takenAtWorst(most) },
		};
	},
	say: {
		en: ({ takenUm, limitUm, whole, mostRow, mostUm }, say) => ({
			found: `The rows together take off ${whole ? "" : "at least "}${say.um(takenUm)}, row ${mostRow} most (${say.um(mostUm)})`,
			expected: `In one repair at most ${say.um(limitUm)} comes off (house limit)`,
			then: "The next repair finds that much less; begin finer, do fewer passes, or keep to the spot",
		}),
		es: ({ takenUm, limitUm, whole, mostRow, mostUm }, say) => ({
			found: `Las filas juntas quitan ${whole ? "" : "al menos "}${say.um(takenUm)}, la fila ${mostRow} la que más (${say.um(mostUm)})`,
			expected: `En una reparación se quitan como máximo ${say.um(limitUm)} (límite de la casa)`,
			then: "La próxima reparación encontrará otro tanto menos; empiece más fino, dé menos pasadas, o limítese al punto",
		}),
	},
	examples: {
		good: [
			{
				title: "P2000, compound and polish on factory clear",
				steps: [sand("P2000"), rotary("heavy-cut", "wool-twisted"), liquid("fine", "foam-soft")],
				procedure: factory,
			},
			{
				title: "A full chain on a refinish clear",
				steps: [sand("P1500"), sand("P2000"), rotary("heavy-cut", "wool-twisted"), liquid("medium-cut", "foam-medium")],
			},
		],
		bad: [
			{
				title: "A full chain on factory clear",
				steps: [
					sand("P1500"),
					sand("P2000"),
					sand("P3000", { carrier: "foam", holes: "none", wetness: "damp" }),
					rotary("heavy-cut", "wool-twisted"),
					liquid("medium-cut", "foam-medium"),
					liquid("finest", "foam-soft"),
				],
				procedure: factory,
				at: { row: null, field: "film" },
			},
			{
				title: "Long sanding on a soft refinish clear",
				steps: [sand("P1200", { work: { unit: "passes", low: 4, high: 8 } }), rotary("heavy-cut", "wool-twisted")],
				procedure: { scope: { defects: [{ defect: "orange-peel", goal: "gone" }], clearCoats: ["refinish-fast"] } },
				at: { row: null, field: "film" },
			},
		],
	},
});
