import { rounded } from "../../forecast/spread.ts";
import { defect } from "../../model/defects.ts";
import { liquid, sand } from "../example-rows.ts";
import { house, rule } from "../rule.ts";
import { scopeEntry } from "../scope-entry.ts";

const hollow = {
	id: "hollow",
	name: { en: "Hollow" },
	position: "recessed" as const,
	polishable: true,
	um: { mid: 6, low: 5, high: 7 },
	halfWidthMm: 6,
};

export default rule({
	id: "deeper-than-film",
	group: "defects",
	level: "caution",
	source: house("leastLeftUm", null, "um"),
	why: {
		en: "A recessed defect is gone only when the clear around it is down to its bottom; one deeper than the film allows costs the clear that protects the colour.",
		es: "Un defecto hundido desaparece solo cuando el barniz de alrededor baja hasta su fondo; si es más hondo de lo que permite la película, se pierde el barniz que protege el color.",
	},
	axes: ["defect", "clearCoat"],
	*check({ procedure, situation, shop, forecast }) {
		const { defect: id, clearCoat } = situation;
		const met = id === undefined ? undefined : defect(id, shop.book);
		const { startUm, leastLeftUm, leastLeftFrom, defectUm, toBottomUm } = forecast;
		if (met?.position !== "recessed" || startUm === null || leastLeftUm === null) return;
		if (defectUm === null || toBottomUm === null) return;
		const claimed = procedure.scope?.defects?.find((one) => one.defect === met.id);
		const depthUm = defectUm.mid;
		const costUm = toBottomUm.mid;
		const reachUm = Math.max(0, rounded(startUm.mid - leastLeftUm));
		if (costUm <= reachUm || claimed?.goal === "match-neighbour") return;
		yield {
			field: "scope" as const,
			pointer: scopeEntry(procedure, "defects", met.id),
			weight: costUm - reachUm,
			basis: house(leastLeftFrom === "house" ? `leastLeftUm.${clearCoat}` : "film.leastLeftUm", leastLeftUm, "um"),
			data: {
				defect: met.id,
				depthUm,
				costUm,
				reachUm,
				startUm: startUm.mid,
				leastLeftUm,
				limitFrom: leastLeftFrom ?? "house",
			},
		};
	},
	say: {
		en: ({ defect: met, depthUm, costUm, reachUm, startUm, leastLeftUm, limitFrom }, say) => ({
			found: `${say.label("defect", met)} of the scope is ${say.um(depthUm)} deep${isDearer(costUm, depthUm) ? ` and costs ${say.um(costUm)} on this backing` : ""}, and the film allows ${say.um(reachUm)}`,
			expected: `Of ${say.um(startUm)} of clear at the start, ${say.um(leastLeftUm)} is to stay (${limitFrom === "house" ? "house limit" : "limit of this procedure"})`,
			then: `Taken out whole it leaves too little clear; set its goal to "${say.label("goal", "match-neighbour")}", or refinish`,
		}),
		es: ({ defect: met, depthUm, costUm, reachUm, startUm, leastLeftUm, limitFrom }, say) => ({
			found: `El defecto del alcance (${say.label("defect", met)}) tiene ${say.um(depthUm)} de profundidad${isDearer(costUm, depthUm) ? ` y cuesta ${say.um(costUm)} con este respaldo` : ""}, y la película permite ${say.um(reachUm)}`,
			expected: `De ${say.um(startUm)} de barniz al principio deben quedar ${say.um(leastLeftUm)} (${limitFrom === "house" ? "límite de la casa" : "límite de este procedimiento"})`,
			then: `Quitarlo del todo deja muy poco barniz; ponga como meta «${say.label("goal", "match-neighbour")}», o repinte`,
		}),
	},
	examples: {
		good: [
			{
				title: "Etching of the usual depth",
				steps: [sand("P2000"), liquid("heavy-cut", "foam-firm")],
				procedure: { scope: { defects: [{ defect: "etch", goal: "gone" }], clearCoats: ["factory"] } },
			},
			{
				title: "Deep etching that is only to match the neighbour",
				steps: [liquid("fine", "foam-soft")],
				procedure: {
					scope: {
						defects: [{ defect: "etch", goal: "match-neighbour", um: { mid: 20, low: 15, high: 25 } }],
						clearCoats: ["factory"],
					},
				},
			},
			{
				title: "Deep etching where the clear coat is not named",
				steps: [liquid("fine", "foam-soft")],
				procedure: { scope: { defects: [{ defect: "etch", goal: "gone", um: { mid: 20, low: 15, high: 25 } }] } },
			},
			{
				title: "A wide hollow of the shop's own, sanded on a rigid block",
				steps: [sand("P2000", { backing: "rigid-block" }), liquid("heavy-cut", "foam-firm")],
				procedure: { scope: { defects: [{ defect: "hollow", goal: "gone" }], clearCoats: ["factory"] } },
				book: { defects: [hollow] },
			},
		],
		bad: [
			{
				title: "Wide hollow that a soft plate follows to the bottom",
				steps: [sand("P2000", { backing: "soft-plate" })],
				procedure: { scope: { defects: [{ defect: "hollow", goal: "gone" }], clearCoats: ["factory"] } },
				book: { defects: [hollow] },
				at: { row: null, field: "scope" },
			},
			{
				title: "Etching of 20 µm on factory clear",
				steps: [liquid("fine", "foam-soft")],
				procedure: {
					scope: {
						defects: [{ defect: "etch", goal: "gone", um: { mid: 20, low: 15, high: 25 } }],
						clearCoats: ["factory"],
					},
				},
				at: { row: null, field: "scope" },
			},
			{
				title: "A usual scuff where the procedure keeps almost all of the clear",
				steps: [liquid("fine", "foam-soft")],
				procedure: {
					scope: { defects: [{ defect: "scuff", goal: "gone" }], clearCoats: ["refinish"] },
					film: { known: "clear-reading", leastLeftUm: 58 },
				},
				at: { row: null, field: "scope" },
			},
		],
	},
});

/** Whether the way to the bottom costs more than the depth, read to a tenth of a µm: the face follows a wide hollow. */
function isDearer(costUm: number, depthUm: number): boolean {
	return costUm >= depthUm + 0.1;
}
