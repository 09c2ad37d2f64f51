import { stockItem } from "../../model/shop.ts";
import { liquid, without } from "../example-rows.ts";
import { lacksOnly } from "../liquids.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "liquid-missing",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "A pad run dry heats the panel and marks it instead of polishing it; and from a strong liquid to the finest there is a factor of ten in cut.",
		es: "Una boina en seco calienta y marca el panel en lugar de pulirlo; y del líquido más fuerte al más fino el corte cambia más de diez veces.",
	},
	axes: [],
	*check({ allRows, shop }) {
		for (const row of allRows) {
			if (!lacksOnly("liquid", row)) continue;
			const { pad } = row.step;
			yield {
				row,
				field: "liquid" as const,
				data: { stage: row.stage, pad: pad === undefined ? null : (stockItem(shop.stock, "pads", pad)?.name ?? pad) },
			};
		}
	},
	say: {
		en: ({ pad }, say) => ({
			found: `${pad === null ? "A pad" : say.label("pad", pad)} works with no liquid named`,
			expected: "A polishing row names its liquid (common practice)",
			then: "What the row takes off and leaves is not known, and a dry pad burns; name the liquid or its class",
		}),
		es: ({ pad }, say) => ({
			found: `${pad === null ? "Una boina" : say.label("pad", pad)} trabaja sin líquido nombrado`,
			expected: "Una fila de pulido nombra su líquido (práctica común)",
			then: "No se sabe qué quita ni qué deja, y una boina seca quema; nombre el líquido o su clase",
		}),
	},
	examples: {
		good: [
			{ title: "A class of liquid", steps: [liquid("medium-cut", "foam-medium")] },
			{ title: "A row only begun", steps: [{ stage: "polish", pad: "foam-soft" }] },
			{
				title: "A liquid that could not be read",
				steps: [without("liquid", liquid("fine", "foam-soft", { asTyped: { liquid: "the white one" } }))],
			},
		],
		bad: [
			{
				title: "Polish with a pad alone",
				steps: [without("liquid", liquid("fine", "foam-medium"))],
				at: { row: 1, field: "liquid" },
			},
			{
				title: "Compound, then the same pad with nothing named",
				steps: [
					liquid("heavy-cut", "foam-firm"),
					without("liquid", without("pad", liquid("fine", "foam-soft", { padUse: "same-as-row" }))),
				],
				at: { row: 2, field: "liquid" },
			},
		],
	},
});
