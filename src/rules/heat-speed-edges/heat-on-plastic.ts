import { liquid, rotary } from "../example-rows.ts";
import { hotRows, sayHeatLimits, sayHot } from "../hot-rows.ts";
import { house, rule } from "../rule.ts";

const plastic = {
	scope: {
		defects: [{ defect: "swirl", goal: "gone" as const }],
		substrates: ["plastic" as const],
		clearCoats: ["flexible" as const],
		tones: ["light" as const],
	},
};

export default rule({
	id: "heat-on-plastic",
	group: "heat, speed, edges",
	level: "caution",
	source: house("hotPlasticCautionC", 45, "C"),
	why: {
		en: "Plastic leads no heat away, so that its surface gets hotter than metal under the same pad, and part and clear soften earlier.",
		es: "El plástico no evacua el calor: su superficie se calienta más que la del metal con la misma boina, y pieza y barniz se ablandan antes.",
	},
	axes: ["substrate"],
	*check({ heat, situation: { substrate }, shop: { limits } }) {
		if (substrate !== "plastic") return;
		yield* hotRows(heat, substrate, limits, { caution: "hotPlasticCautionC", stop: "hotPlasticStopC" });
	},
	say: {
		en: (data, say) => ({
			found: sayHot.en(data, say),
			expected: sayHeatLimits.en(data, say),
			then:
				data.hottestC === null
					? "Fill in the dial table in the stock; plastic gets hot fast"
					: "Plastic warps and its clear smears; take an orbital, do fewer passes, turn slower or let it cool between rows",
		}),
		es: (data, say) => ({
			found: sayHot.es(data, say),
			expected: sayHeatLimits.es(data, say),
			then:
				data.hottestC === null
					? "Complete la tabla del dial en el stock; el plástico se calienta deprisa"
					: "El plástico se deforma y su barniz se arrastra; use una orbital, menos pasadas, gire más lento o deje enfriar entre filas",
		}),
	},
	examples: {
		good: [
			{ title: "An orbital on a bumper", steps: [liquid("medium-cut", "foam-medium")], procedure: plastic },
			{
				title: "The same rotary on steel",
				steps: [rotary("heavy-cut", "wool-twisted", { work: { unit: "passes", low: 8, high: 8 } })],
				procedure: { scope: { ...plastic.scope, substrates: ["steel"] } },
			},
		],
		bad: [
			{
				title: "A rotary on a bumper for eight passes, pressed hard",
				steps: [rotary("heavy-cut", "wool-twisted", { forceN: 45, work: { unit: "passes", low: 8, high: 8 } })],
				procedure: plastic,
				at: { row: 1, field: "work" },
			},
			{
				title: "A fast rotary over a bumper's edges",
				steps: [
					rotary("heavy-cut", "wool-twisted", {
						edges: "free",
						speed: { unit: "rpm", low: 2000, high: 2000 },
					}),
				],
				procedure: plastic,
				at: { row: 1, field: "work" },
				level: "stop",
			},
			{
				title: "A dial mark that stands in no table, on plastic",
				steps: [rotary("heavy-cut", "wool-twisted", { speed: { unit: "dial", low: 4, high: 4 } })],
				procedure: plastic,
				at: { row: 1, field: "speed" },
				level: "advice",
			},
		],
	},
});
