import { alcoholWipe, inspection, liquid, sand, sandByHand } from "../example-rows.ts";
import { isPolishing, isSanding, sayWithoutGear, wearThroughout, withoutGear } from "../gear.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "eye-protection-missing",
	group: "people",
	level: "caution",
	source: common,
	why: {
		en: "Sanding grit, slurry and splashes of liquid go into the eye, most of all when work is overhead or on a rotary.",
		es: "El grano, el lodo y las salpicaduras de pulimento entran en los ojos, sobre todo al trabajar en alto o con rotativa.",
	},
	axes: [],
	*check({ rows, procedure }) {
		const needing = rows.filter((row) => isSanding(row) || isPolishing(row));
		const data = withoutGear("eyes", needing, procedure);
		if (data !== null) yield { field: "wear" as const, weight: data.rows.length, data };
	},
	say: {
		en: (data, say) => ({
			found: sayWithoutGear.en(data, say),
			expected: "Sanding and polishing are done with eye protection (common practice)",
			then: "Grit and splashes injure the eye; name it under what is worn",
		}),
		es: (data, say) => ({
			found: sayWithoutGear.es(data, say),
			expected: "Se lija y se pule con protección ocular (práctica común)",
			then: "El grano y las salpicaduras dañan los ojos; nómbrela en lo que se lleva",
		}),
	},
	remedies: (_, { procedure }) => wearThroughout("eyes", procedure),
	examples: {
		good: [
			{ title: "Worn throughout", steps: [sand("P1500"), liquid("fine", "foam-medium")] },
			{ title: "Wipe and look", steps: [alcoholWipe, inspection], procedure: { wear: [] } },
		],
		bad: [
			{
				title: "By hand and wet, no eye protection",
				steps: [sandByHand("P2000", { wetness: "wet" })],
				procedure: { wear: [{ item: "respirator" }, { item: "gloves" }] },
				at: { row: null, field: "wear" },
			},
			{
				title: "For polishing only",
				steps: [sand("P1500"), sand("P2000"), liquid("fine", "foam-medium")],
				procedure: { wear: [{ item: "eyes", stages: ["polish"] }] },
				at: { row: null, field: "wear" },
			},
		],
	},
});
