import { liquid } from "../example-rows.ts";
import { degrees } from "../hot-rows.ts";
import { house, rule } from "../rule.ts";

export default rule({
	id: "panel-hot-at-start",
	group: "heat, speed, edges",
	level: "caution",
	source: house("hotStartC", 30, "C"),
	why: {
		en: "A panel that comes warm from the sun or the oven has soft clear, dries liquids before they have worked, and leaves no room for the heat of the tool.",
		es: "Un panel que llega caliente del sol o del horno tiene el barniz blando, seca los líquidos antes de tiempo y no deja margen al calor de la herramienta.",
	},
	axes: [],
	*check({ procedure, shop }) {
		const startC = procedure.setUp?.panelC;
		const limitC = shop.limits.hotStartC;
		if (startC === undefined || startC <= limitC) return;
		yield {
			field: "setUp" as const,
			pointer: "/setUp/panelC",
			basis: house("hotStartC", limitC, "C"),
			data: { startC, limitC },
		};
	},
	say: {
		en: ({ startC, limitC }, say) => ({
			found: `Work may start on a panel of ${degrees(startC, say)}`,
			expected: `No work starts above ${degrees(limitC, say)} (house limit)`,
			then: "Let the panel cool in the shade, and measure it before the first row",
		}),
		es: ({ startC, limitC }, say) => ({
			found: `Se puede empezar con el panel a ${degrees(startC, say)}`,
			expected: `No se empieza por encima de ${degrees(limitC, say)} (límite de la casa)`,
			then: "Deje enfriar el panel a la sombra y mídalo antes de la primera fila",
		}),
	},
	remedies: ({ data: { startC, limitC } }) => [
		{
			kind: "sure",
			say: { en: `Start at ${limitC} °C at most`, es: `Empezar a ${limitC} °C como mucho` },
			edit: [{ op: "setPart", pointer: "/setUp/panelC", from: startC, to: limitC }],
		},
	],
	examples: {
		good: [
			{ title: "A cool panel", steps: [liquid("fine", "foam-medium")], procedure: { setUp: { panelC: 28 } } },
			{ title: "Nothing said of it", steps: [liquid("fine", "foam-medium")] },
			{
				title: "A house that allows more",
				steps: [liquid("fine", "foam-medium")],
				procedure: { setUp: { panelC: 34 } },
				limits: { values: { hotStartC: { value: 35 } } },
			},
		],
		bad: [
			{
				title: "A panel from the sun",
				steps: [liquid("fine", "foam-medium")],
				procedure: { setUp: { panelC: 36 } },
				at: { row: null, field: "setUp" },
			},
		],
	},
});
