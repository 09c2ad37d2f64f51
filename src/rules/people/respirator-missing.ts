import { alcoholWipe, inspection, liquid, sand, sandByHand, wash } from "../example-rows.ts";
import { isPolishing, isSanding, isSolventWipe, sayWithoutGear, wearThroughout, withoutGear } from "../gear.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "respirator-missing",
	group: "people",
	level: "caution",
	source: common,
	why: {
		en: "Clear-coat dust, polishing dust and solvent vapour harm the lungs, and the harm shows only years later.",
		es: "El polvo de barniz, el polvo de pulido y el vapor de disolvente dañan los pulmones, y el daño se nota años después.",
	},
	axes: [],
	*check({ rows, procedure }) {
		const needing = rows.filter((row) => isSanding(row) || isPolishing(row) || isSolventWipe(row));
		const data = withoutGear("respirator", needing, procedure);
		if (data !== null) yield { field: "wear" as const, weight: data.rows.length, data };
	},
	say: {
		en: (data, say) => ({
			found: sayWithoutGear.en(data, say),
			expected: "Sanding, polishing and solvent wipes are done with a respirator (common practice)",
			then: "Dust and vapour are breathed in; the safety data sheets and local rules say which filter",
		}),
		es: (data, say) => ({
			found: sayWithoutGear.es(data, say),
			expected: "Se lija, se pule y se limpia con disolvente llevando respirador (práctica común)",
			then: "El polvo y el vapor se respiran; las fichas de seguridad y las normas locales dicen qué filtro",
		}),
	},
	remedies: (_, { procedure }) => wearThroughout("respirator", procedure),
	examples: {
		good: [
			{ title: "Worn throughout", steps: [sand("P1500"), liquid("fine", "foam-medium")] },
			{
				title: "A wash and a look: nothing to breathe in",
				steps: [wash, alcoholWipe, inspection],
				procedure: { wear: [] },
			},
			{
				title: "Worn in the stages that need it",
				steps: [wash, sand("P1500"), liquid("fine", "foam-medium"), inspection],
				procedure: { wear: [{ item: "respirator", filter: "P100", stages: ["sand", "polish"] }] },
			},
			{
				title: "A nib taken down with a blade only",
				steps: [{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } }],
				procedure: { wear: [] },
			},
		],
		bad: [
			{
				title: "Nothing is said of what is worn",
				steps: [sandByHand("P2000")],
				procedure: { wear: [] },
				at: { row: null, field: "wear" },
			},
			{
				title: "Worn for sanding, polishing left out",
				steps: [sand("P1500"), liquid("fine", "foam-medium")],
				procedure: { wear: [{ item: "respirator", filter: "P100", stages: ["sand"] }] },
				at: { row: null, field: "wear" },
			},
			{
				title: "Solvent vapour",
				steps: [{ stage: "clean", wipe: "solvent-wipe" }],
				procedure: { wear: [{ item: "gloves" }] },
				at: { row: null, field: "wear" },
			},
		],
	},
});
