import { hazeAfter } from "../../forecast/panel-gloss.ts";
import { liquid } from "../example-rows.ts";
import { liquidName, liquidPairs } from "../liquids.ts";
import { common, rule } from "../rule.ts";

const light = {
	scope: {
		defects: [{ defect: "swirl", goal: "gone" as const }],
		substrates: ["steel" as const],
		clearCoats: ["refinish" as const],
		tones: ["light" as const],
	},
};

export default rule({
	id: "finest-idle",
	group: "pads and liquids",
	level: "advice",
	source: common,
	why: {
		en: "The finest stage takes the last marks off a dark colour; on a light one nobody sees them, and the row costs time and liquid.",
		es: "La etapa finísima quita las últimas marcas de un color oscuro; en uno claro nadie las ve, y la fila cuesta tiempo y líquido.",
	},
	axes: ["defect", "clearCoat", "tone"],
	*check({ rows, forecast, situation: { tone }, shop }) {
		if (tone !== "light" && tone !== "light-effect") return;
		for (const { from, to: row } of liquidPairs(rows)) {
			if (row.liquid.class !== "finest" || from.liquid.class === "finest") continue;
			const before = forecast.rows.findLast((one) => one.row.index < row.index);
			// Marks of the defect itself are not what it is there for.
			if (before?.scratchFrom?.kind !== "liquid") continue;
			const haze = hazeAfter(before, tone, shop.limits);
			if (haze === null || haze.visible) continue;
			yield {
				row,
				field: "liquid" as const,
				weight: -haze.ratio.mid,
				data: { before: liquidName(from), tone, hazeRatio: haze.ratio.mid, limit: shop.limits.hazeVisible },
			};
		}
	},
	say: {
		en: ({ before, tone, hazeRatio, limit }, say) => ({
			found: `What ${say.label("liquid", before)} leaves is not seen on ${say.label("tone", tone)}, so that the finest liquid has nothing to do`,
			expected: `Haze is seen above ${say.number(limit)} of scattered over returned light (house limit); the forecast before this row is ${say.number(hazeRatio, 3)}`,
			then: "Keep the row for dark colours, and save its time and liquid here",
		}),
		es: ({ before, tone, hazeRatio, limit }, say) => ({
			found: `Lo que deja ${say.label("liquid", before)} no se ve en ${say.label("tone", tone)}, y el líquido finísimo no tiene qué hacer`,
			expected: `El velo se ve por encima de ${say.number(limit)} de luz dispersada sobre devuelta (límite de la casa); antes de esta fila el pronóstico es ${say.number(hazeRatio, 3)}`,
			then: "Deje la fila para colores oscuros y ahorre aquí su tiempo y su líquido",
		}),
	},
	remedies({ row }, { procedure: { scope } }) {
		const others = (scope?.tones ?? []).filter((tone) => !tone.startsWith("light"));
		if (row === null || row.step.when !== undefined || others.length === 0) return [];
		return [
			{
				kind: "offered",
				say: { en: "Leave the row out on light colours", es: "Omitir la fila en colores claros" },
				edit: [{ op: "set", row: row.step.id, field: "when", to: [{ tone: others }] }],
			},
		];
	},
	examples: {
		good: [
			{
				title: "The finest on dark only",
				steps: [liquid("fine", "foam-medium"), liquid("finest", "foam-soft", { when: [{ tone: ["dark"] }] })],
				procedure: { scope: { ...light.scope, tones: ["dark", "light"] } },
			},
			{
				title: "On a dark colour",
				steps: [liquid("fine", "foam-medium"), liquid("finest", "foam-soft")],
				procedure: { scope: { ...light.scope, tones: ["dark"] } },
			},
			{ title: "One step on light", steps: [liquid("medium-cut", "foam-medium")], procedure: light },
			{ title: "The finest alone on fine swirls", steps: [liquid("finest", "foam-soft")], procedure: light },
		],
		bad: [
			{
				title: "The finest after a fine liquid on light",
				steps: [liquid("fine", "foam-medium"), liquid("finest", "foam-soft")],
				procedure: light,
				at: { row: 2, field: "liquid" },
			},
			{
				title: "The finest on every colour of the scope",
				steps: [liquid("fine", "foam-medium"), liquid("finest", "foam-soft")],
				procedure: { scope: { ...light.scope, tones: ["dark", "light"] } },
				at: { row: 2, field: "liquid" },
			},
		],
	},
});
