import { alcoholWipe, inspection, liquid, rotary, sand, wash } from "../example-rows.ts";
import { isPolishing, isSanding, isSolventWipe, sayWithoutGear, wearThroughout, withoutGear } from "../gear.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "gloves-missing",
	group: "people",
	level: "caution",
	source: common,
	why: {
		en: "Solvent and the oils of a liquid pass through the skin; close-fitting nitrile gloves keep them off and cannot be caught by a tool.",
		es: "El disolvente y los aceites del pulimento atraviesan la piel; unos guantes de nitrilo ajustados los detienen y no se enganchan en la máquina.",
	},
	axes: [],
	*check({ rows, procedure }) {
		const needing = rows.filter((row) => isSanding(row) || isPolishing(row) || isSolventWipe(row));
		const data = withoutGear("gloves", needing, procedure);
		if (data !== null) yield { field: "wear" as const, weight: data.rows.length, data };
	},
	say: {
		en: (data, say) => ({
			found: sayWithoutGear.en(data, say),
			expected: "Sanding, polishing and solvent wipes are done in close-fitting nitrile gloves (common practice)",
			then: "Solvent and oils pass through the skin; never wear loose gloves near a rotary",
		}),
		es: (data, say) => ({
			found: sayWithoutGear.es(data, say),
			expected: "Se lija, se pule y se limpia con disolvente con guantes de nitrilo ajustados (práctica común)",
			then: "El disolvente y los aceites atraviesan la piel; nunca guantes sueltos cerca de una rotativa",
		}),
	},
	remedies: (_, { procedure }) => wearThroughout("gloves", procedure),
	examples: {
		good: [
			{ title: "Worn throughout", steps: [sand("P1500"), rotary("heavy-cut", "wool-twisted")] },
			{ title: "A wash and an alcohol wipe", steps: [wash, alcoholWipe, inspection], procedure: { wear: [] } },
		],
		bad: [
			{
				title: "Eyes and lungs, but not the hands",
				steps: [sand("P1500"), liquid("fine", "foam-medium")],
				procedure: { wear: [{ item: "respirator", filter: "P100" }, { item: "eyes" }] },
				at: { row: null, field: "wear" },
			},
			{
				title: "Gloves for sanding, none for the solvent wipe",
				steps: [sand("P1500"), { stage: "wipe", wipe: "solvent-wipe" }],
				procedure: { wear: [{ item: "gloves", stages: ["sand"] }] },
				at: { row: null, field: "wear" },
			},
		],
	},
});
