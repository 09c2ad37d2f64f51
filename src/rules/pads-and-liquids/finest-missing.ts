import { leavesTrail } from "../../forecast/gloss.ts";
import { glossAfterRows, hazeAfter } from "../../forecast/panel-gloss.ts";
import type { LiquidRow } from "../../model/resolve.ts";
import { chainEnds } from "../chains.ts";
import { alcoholWipe, liquid, rotary, sand } from "../example-rows.ts";
import { insertRowAt } from "../insert-row.ts";
import { liquidName } from "../liquids.ts";
import { common, rule } from "../rule.ts";

const dark = {
	scope: {
		defects: [{ defect: "swirl", goal: "gone" as const }],
		substrates: ["steel" as const],
		clearCoats: ["refinish" as const],
		tones: ["dark" as const],
	},
};

export default rule({
	id: "finest-missing",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "A dark colour returns little light, so that the fine marks a polish leaves are seen as a grey haze in the sun.",
		es: "Un color oscuro devuelve poca luz, y las marcas finas que deja un pulimento se ven al sol como un velo gris.",
	},
	axes: ["defect", "clearCoat", "tone"],
	*check({ rows, forecast, situation: { tone }, shop }) {
		if (tone !== "dark" && tone !== "dark-effect") return;
		const polishing = rows.filter((row): row is LiquidRow => row.kind === "liquid");
		const ends = chainEnds(rows);
		const row = polishing.findLast((one) => ends.includes(one));
		const end = forecast.rows.at(-1);
		if (row === undefined || end === undefined || polishing.some((one) => one.liquid.class === "finest")) return;
		// A half-typed polishing row may be the very row that is missing; what is not known other rules say.
		if (rows.some((one) => one.kind === "incomplete")) return;
		// Of the defect itself, of sanding scratches and of a rotary's trails other rules speak.
		const { scratchFrom: from } = end;
		if (from?.kind !== "liquid" || leavesTrail(from)) return;
		const haze = hazeAfter(end, tone, shop.limits);
		if (haze === null || !haze.visible) return;
		const hazeRatio = haze.ratio.mid;
		yield {
			row,
			field: "liquid" as const,
			weight: hazeRatio,
			data: {
				liquid: liquidName(from),
				from: from.index + 1,
				tone,
				hazeRatio,
				limit: shop.limits.hazeVisible,
				glossGu: glossAfterRows(forecast).at(-1)?.at20Gu.mid ?? null,
			},
		};
	},
	say: {
		en: ({ liquid: one, from, hazeRatio, limit, glossGu }, say) => ({
			found: `On dark the marks of ${say.label("liquid", one)} (row ${from}) are left as a haze, and no row with the finest liquid follows`,
			expected: `Haze is seen above ${say.number(limit)} of scattered over returned light (house limit); the forecast is ${say.number(hazeRatio)}${glossGu === null ? "" : `, gloss ${say.number(glossGu, 0)} GU at 20°`}`,
			then: "It shows once the polishing oils are wiped off; finish with the finest liquid on soft foam",
		}),
		es: ({ liquid: one, from, hazeRatio, limit, glossGu }, say) => ({
			found: `En oscuro quedan como velo las marcas de ${say.label("liquid", one)} (fila ${from}), y no sigue ninguna fila con el líquido finísimo`,
			expected: `El velo se ve por encima de ${say.number(limit)} de luz dispersada sobre devuelta (límite de la casa); el pronóstico es ${say.number(hazeRatio)}${glossGu === null ? "" : `, brillo ${say.number(glossGu, 0)} GU a 20°`}`,
			then: "Aparece al limpiar los aceites del pulimento; acabe con el líquido finísimo y espuma blanda",
		}),
	},
	remedies({ row }, { procedure: { scope, steps = [] } }) {
		if (row === null) return [];
		const { place, spotMm, edges } = row.step;
		const isDarkOnly = (scope?.tones ?? []).every((tone) => tone.startsWith("dark"));
		const finish = {
			stage: "finish" as const,
			...(place === undefined ? {} : { place }),
			...(spotMm === undefined ? {} : { spotMm }),
			...(edges === undefined ? {} : { edges }),
			tool: "random-orbital",
			pad: "foam-soft",
			liquid: "finest",
			speed: { unit: "opm" as const, low: 4500, high: 4500 },
			work: { unit: "passes" as const, low: 4, high: 4 },
			...(isDarkOnly ? {} : { when: [{ tone: ["dark" as const] }] }),
		};
		return [
			{
				kind: "offered",
				say: {
					en: `Add four passes of the finest liquid on soft foam after row ${row.index + 1}, on dark`,
					es: `Añadir tras la fila ${row.index + 1} cuatro pasadas de líquido finísimo con espuma blanda, en oscuro`,
				},
				edit: [insertRowAt(row.index + 1, finish, steps)],
			},
		];
	},
	examples: {
		good: [
			{
				title: "Fine, then the finest",
				steps: [liquid("fine", "foam-medium"), alcoholWipe, liquid("finest", "foam-soft")],
				procedure: dark,
			},
			{
				title: "Fine on a light colour",
				steps: [liquid("fine", "foam-medium")],
				procedure: { scope: { ...dark.scope, tones: ["light"] } },
			},
			{ title: "Sanded and not yet polished", steps: [sand("P2000")], procedure: dark },
			{
				title: "A rotary's trails: another rule says so",
				steps: [rotary("fine", "foam-medium")],
				procedure: dark,
			},
			{
				title: "No tone named",
				steps: [liquid("fine", "foam-medium")],
				procedure: { scope: { defects: dark.scope.defects, clearCoats: ["refinish"] } },
			},
			{
				title: "A house that sees less",
				steps: [liquid("fine", "foam-medium")],
				procedure: dark,
				limits: { values: { hazeVisible: { value: 0.2 } } },
			},
		],
		bad: [
			{
				title: "One step with a fine liquid on dark",
				steps: [liquid("fine", "foam-medium")],
				procedure: dark,
				at: { row: 1, field: "liquid" },
			},
			{
				title: "The finest on mid colours only",
				steps: [
					liquid("medium-cut", "foam-medium"),
					alcoholWipe,
					liquid("finest", "foam-soft", { when: [{ tone: ["mid"] }] }),
				],
				procedure: { scope: { ...dark.scope, tones: ["dark", "mid"] } },
				at: { row: 1, field: "liquid" },
			},
		],
	},
});
