import type { ResolvedRow } from "../../model/resolve.ts";
import { stockItem } from "../../model/shop.ts";
import { liquid, without } from "../example-rows.ts";
import { lacksOnly } from "../liquids.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "liquid-without-pad",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "What cuts is the pair of liquid and pad: on wool a liquid cuts almost three times as fast as on soft foam.",
		es: "Lo que corta es la pareja de líquido y boina: con lana un líquido corta casi tres veces más que con espuma blanda.",
	},
	axes: [],
	*check({ allRows, shop }) {
		for (const row of allRows) {
			if (!lacksOnly("pad", row) || takesPadOfBefore(row, allRows)) continue;
			const { liquid: named = "", padUse } = row.step;
			const name = stockItem(shop.stock, "liquids", named)?.name ?? named;
			yield { row, field: "pad" as const, data: { liquid: name, samePad: padUse === "same-as-row" } };
		}
	},
	say: {
		en: ({ liquid: one, samePad }, say) => ({
			found: samePad
				? "The row takes the pad of a row before, and none before names a pad"
				: `${say.label("liquid", one)} is worked with no pad named`,
			expected: "A liquid row names its pad (common practice)",
			then: "What it takes off and leaves depends on the pad; name the pad, by hand too",
		}),
		es: ({ liquid: one, samePad }, say) => ({
			found: samePad
				? "La fila usa la boina de una fila anterior, y ninguna anterior nombra boina"
				: `${say.label("liquid", one)} se trabaja sin nombrar la boina`,
			expected: "Una fila de líquido nombra su boina (práctica común)",
			then: "De la boina depende lo que quita y lo que deja; nómbrela, también a mano",
		}),
	},
	examples: {
		good: [
			{ title: "A pad is named", steps: [liquid("fine", "foam-soft")] },
			{
				title: "The pad of the row before",
				steps: [
					liquid("fine", "foam-soft", { place: "edge-strip" }),
					without("pad", liquid("fine", "foam-soft", { padUse: "same-as-row" })),
				],
			},
			{ title: "By hand with an applicator", steps: [liquid("fine", "hand-applicator", { tool: "bare-hand" })] },
			{
				title: "The pad of the row before, which is not in the stock",
				steps: [liquid("fine", "lost-pad"), without("pad", liquid("fine", "foam-soft", { padUse: "same-as-row" }))],
			},
			{ title: "A row only begun", steps: [{ stage: "polish", liquid: "fine" }] },
		],
		bad: [
			{
				title: "Compound without a pad",
				steps: [without("pad", liquid("heavy-cut", "foam-firm"))],
				at: { row: 1, field: "pad" },
			},
			{
				title: "The same pad as before, and there is none before",
				steps: [without("pad", liquid("fine", "foam-soft", { padUse: "same-as-row" }))],
				at: { row: 1, field: "pad" },
			},
		],
	},
});

/** Whether the row takes the pad of an earlier one that names a pad: what is wrong with it is said there. */
function takesPadOfBefore({ step, index }: ResolvedRow, rows: readonly ResolvedRow[]): boolean {
	if (step.padUse !== "same-as-row") return false;
	return rows.some((row) => row.index < index && (row.step.pad ?? row.step.asTyped?.pad) !== undefined);
}
