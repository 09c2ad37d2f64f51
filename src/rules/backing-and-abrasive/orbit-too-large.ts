import { gradeTables } from "../../model/grades.ts";
import { liquid, sand } from "../example-rows.ts";
import { common, house, rule } from "../rule.ts";

/** Median of P2000 in µm; finer grades have a smaller one. */
const fineUm = gradeTables.P.get(2000)?.um ?? 0;

const wide = { id: "wide-orbit-sander", name: "Wide-orbit sander", kind: "random-orbital" as const, orbitMm: 5 };

export default rule({
	id: "orbit-too-large",
	group: "backing and abrasive",
	level: "caution",
	source: { ...common, value: 3, unit: "mm" },
	why: {
		en: "A wide orbit draws longer, deeper curls than a fine grade should leave, and they outlast the polish.",
		es: "Una órbita amplia traza rizos más largos y profundos que los que debe dejar un grano fino, y sobreviven al pulido.",
	},
	parameters: { mostMm: 3 },
	axes: [],
	*check({ rows, parameters, shop }) {
		const limitMm = parameters.mostMm;
		const set = shop.limits.rules["orbit-too-large"]?.parameters?.mostMm !== undefined;
		for (const row of rows) {
			if (row.kind !== "abrasive" || row.abrasive.medianUm > fineUm) continue;
			// The orbit of a tool known by its kind only is a guess, and a guess is no fault.
			const orbitMm = row.tool.item?.orbitMm;
			if (orbitMm === undefined || orbitMm <= limitMm) continue;
			yield {
				row,
				field: "tool" as const,
				basis: set ? house("orbit-too-large", limitMm, "mm") : { ...common, value: limitMm, unit: "mm" },
				data: { orbitMm, limitMm, grade: row.abrasive.grade.text, set },
			};
		}
	},
	say: {
		en: ({ orbitMm, limitMm, grade, set }, say) => ({
			found: `${grade} runs on an orbit of ${say.number(orbitMm)} mm`,
			expected: `P2000 and finer take ${say.number(limitMm)} mm at most (${set ? "house limit" : "common practice"})`,
			then: "It leaves curls deeper than the grade should; take the sander with the smaller orbit",
		}),
		es: ({ orbitMm, limitMm, grade, set }, say) => ({
			found: `${grade} trabaja con una órbita de ${say.number(orbitMm)} mm`,
			expected: `P2000 y más finos piden ${say.number(limitMm)} mm como mucho (${set ? "límite de la casa" : "práctica común"})`,
			then: "Deja rizos más profundos de lo que debe el grano; use la lijadora de órbita menor",
		}),
	},
	examples: {
		good: [
			{
				title: "P1500 on a 5 mm orbit",
				steps: [sand("P1500", { tool: "wide-orbit-sander" })],
				stock: { tools: [wide] },
			},
			{
				title: "P2000 on a 3 mm orbit",
				steps: [sand("P2000", { tool: "fine-orbit-sander" })],
				stock: { tools: [{ ...wide, id: "fine-orbit-sander", orbitMm: 3 }] },
			},
			{
				title: "A wide orbit under a polishing pad",
				steps: [liquid("fine", "foam-soft", { tool: "wide-orbit-sander" })],
				stock: { tools: [{ ...wide, orbitMm: 15 }] },
			},
			{
				title: "A gear-driven orbital of unknown orbit",
				steps: [sand("P2000", { tool: "gear-orbital", speed: { unit: "opm", low: 4500, high: 4500 } })],
			},
		],
		bad: [
			{
				title: "P2000 on a 5 mm orbit",
				steps: [sand("P1500"), sand("P2000", { tool: "wide-orbit-sander" })],
				stock: { tools: [wide] },
				at: { row: 2, field: "tool" },
			},
			{
				title: "P2500 on 4 mm, where the shop allows 3.5",
				steps: [sand("P2500", { tool: "wide-orbit-sander" })],
				stock: { tools: [{ ...wide, orbitMm: 4 }] },
				limits: {
					rules: {
						"orbit-too-large": {
							parameters: { mostMm: 3.5 },
							reason: "trial panels",
							by: "shop lead",
							on: "2026-02-01",
						},
					},
				},
				at: { row: 1, field: "tool" },
			},
		],
	},
});
