import { liquid, rotary, sand, sandByHand } from "../example-rows.ts";
import { hotRows, sayHeatLimits, sayHot } from "../hot-rows.ts";
import { house, rule } from "../rule.ts";

export default rule({
	id: "too-hot",
	group: "heat, speed, edges",
	level: "caution",
	source: house("hotCautionC", 50, "C"),
	why: {
		en: "Friction heats the panel; hot clear softens, smears and marks, and the damage often shows only when it has cooled.",
		es: "La fricción calienta el panel; el barniz caliente se ablanda, se arrastra y se marca, y a menudo se ve solo cuando enfría.",
	},
	axes: ["substrate"],
	*check({ heat, situation: { substrate }, shop: { limits } }) {
		// Plastic has limits and a rule of its own; that no substrate is named another rule says.
		if (substrate === undefined || substrate === "plastic") return;
		yield* hotRows(heat, substrate, limits, { caution: "hotCautionC", stop: "hotStopC" });
	},
	say: {
		en: (data, say) => ({
			found: sayHot.en(data, say),
			expected: sayHeatLimits.en(data, say),
			then:
				data.hottestC === null
					? "Fill in the dial table in the stock, and feel the panel with the back of the hand"
					: "Do fewer passes at a time, press less, turn slower or let the panel cool between rows; feel it with the back of the hand",
		}),
		es: (data, say) => ({
			found: sayHot.es(data, say),
			expected: sayHeatLimits.es(data, say),
			then:
				data.hottestC === null
					? "Complete la tabla del dial en el stock y toque el panel con el dorso de la mano"
					: "Haga menos pasadas seguidas, apriete menos, gire más lento o deje enfriar entre filas; toque el panel con el dorso de la mano",
		}),
	},
	examples: {
		good: [
			{ title: "A rotary as it is usually set", steps: [rotary("heavy-cut", "wool-twisted")] },
			{ title: "By hand", steps: [sandByHand("P2000")] },
			{
				title: "A whole chain with a wait to cool",
				steps: [
					sand("P2000"),
					rotary("heavy-cut", "wool-twisted"),
					{ stage: "wait", waitMinutes: 5, waitFor: "cool" },
					liquid("fine", "foam-medium"),
				],
			},
			{
				title: "No substrate named: another rule says so",
				steps: [hot()],
				procedure: { scope: { defects: [{ defect: "sand-scratch", goal: "gone" }] } },
			},
			{
				title: "A row that is not filled in: another rule says so",
				steps: [{ stage: "compound", liquid: "heavy-cut" }],
			},
		],
		bad: [
			{
				title: "Ten passes of a fast rotary, pressed hard",
				steps: [hot()],
				at: { row: 1, field: "work" },
				level: "stop",
			},
			{
				title: "A whole chain on a panel from the sun",
				steps: [
					sand("P1500"),
					sand("P2000"),
					rotary("heavy-cut", "wool-twisted"),
					liquid("medium-cut", "foam-medium", { work: { unit: "passes", low: 4, high: 6 } }),
				],
				procedure: { setUp: { extraction: true, panelC: 38 } },
				at: { row: 4, field: "work" },
			},
			{
				title: "Too hot at an edge only",
				steps: [
					rotary("heavy-cut", "wool-twisted", {
						edges: "free",
						speed: { unit: "rpm", low: 1800, high: 1800 },
						work: { unit: "passes", low: 5, high: 6 },
					}),
				],
				at: { row: 1, field: "work" },
			},
			{
				title: "A dial mark that stands in no table",
				steps: [rotary("heavy-cut", "wool-twisted", { speed: { unit: "dial", low: 4, high: 4 } })],
				at: { row: 1, field: "speed" },
				level: "advice",
			},
		],
	},
});

function hot() {
	return rotary("heavy-cut", "wool-twisted", {
		speed: { unit: "rpm", low: 2500, high: 2500 },
		forceN: 60,
		work: { unit: "passes", low: 10, high: 10 },
	});
}
