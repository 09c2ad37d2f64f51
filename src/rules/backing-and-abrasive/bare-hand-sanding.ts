import { sandByHand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "bare-hand-sanding",
	group: "backing and abrasive",
	level: "caution",
	source: common,
	why: {
		en: "Fingers press in lines: the grooves they cut show as waves once the panel is polished.",
		es: "Los dedos aprietan en líneas: los surcos que cortan se ven como ondas cuando se pule el panel.",
	},
	axes: [],
	*check({ rows }) {
		for (const row of rows) {
			if (row.kind !== "abrasive" || row.tool.kind !== "bare-hand" || row.backing !== null) continue;
			// The foam of a foam-backed abrasive spreads the fingers' pressure as a pad does.
			if (row.abrasive.carrier === "foam") continue;
			yield { row, field: "backing" as const, data: { grade: row.abrasive.grade.text } };
		}
	},
	say: {
		en: ({ grade }) => ({
			found: `${grade} is held in the bare hand, with nothing behind it`,
			expected: "Sanding is done on a block, a pad or a plate (common practice)",
			then: "Fingers cut grooves that show as waves after polishing; put a block behind it, or a sponge pad on a curve",
		}),
		es: ({ grade }) => ({
			found: `${grade} se sujeta con la mano sola, sin nada detrás`,
			expected: "Se lija con taco, almohadilla o plato (práctica común)",
			then: "Los dedos cortan surcos que se ven como ondas tras el pulido; ponga un taco detrás, o una almohadilla en una curva",
		}),
	},
	examples: {
		good: [
			{ title: "By hand on a soft block", steps: [sandByHand("P2000")] },
			{ title: "A sponge pad in the hand", steps: [sandByHand("P2000", { tool: "bare-hand", backing: "sponge-pad" })] },
			{
				title: "A foam-backed abrasive in the hand",
				steps: [sandByHand("P3000", { tool: "bare-hand", backing: undefined, carrier: "foam" })],
			},
		],
		bad: [
			{
				title: "Waterproof paper under the fingers",
				steps: [sandByHand("P1500", { tool: "bare-hand", backing: undefined })],
				at: { row: 1, field: "backing" },
			},
			{
				title: "The edge by fingers, after a block",
				steps: [
					sandByHand("P1500"),
					sandByHand("P2000", { tool: "bare-hand", backing: undefined, place: "edge-strip" }),
				],
				at: { row: 2, field: "backing" },
			},
		],
	},
});
