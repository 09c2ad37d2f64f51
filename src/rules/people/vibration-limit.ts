import { liquid, sand, sandByHand } from "../example-rows.ts";
import { house, rule } from "../rule.ts";
import { sayVibration, vibrationReached } from "../vibration-reached.ts";

const roughPolisher = {
	id: "rough-polisher",
	name: "Rough polisher",
	kind: "random-orbital" as const,
	vibrationMs2: 20,
};
const softPolisher = { id: "soft-polisher", name: "Soft polisher", kind: "random-orbital" as const, vibrationMs2: 2.5 };

const panel = { place: "panel" as const, work: { unit: "passes" as const, low: 6, high: 6 } };

export default rule({
	id: "vibration-limit",
	group: "people",
	level: "caution",
	source: house("vibrationLimitMs2", 5, "m/s2"),
	why: {
		en: "Vibration harms vessels and nerves of the hands for good; above the limit value nobody may be exposed.",
		es: "La vibración daña para siempre vasos y nervios de las manos; por encima del valor límite nadie puede estar expuesto.",
	},
	parameters: { carsADay: 4 },
	axes: ["defect", "clearCoat"],
	*check({ work, shop, parameters: { carsADay } }) {
		const limitMs2 = shop.limits.vibrationLimitMs2;
		const reached = vibrationReached(work.vibration, limitMs2);
		if (reached === null || reached.onCar > carsADay) return;
		const { row, onCar, data } = reached;
		yield {
			row,
			field: "tool" as const,
			level: onCar === 1 ? ("stop" as const) : undefined,
			weight: -onCar,
			basis: house("vibrationLimitMs2", limitMs2, "m/s2"),
			data: { ...data, carsADay },
		};
	},
	say: {
		en: ({ carsADay, ...data }, say) => ({
			found: sayVibration.en(data, say),
			expected: `It is the limit value of Directive 2002/44/EC, judged for up to ${carsADay} such cars a day of one technician (parameter carsADay; common practice, no source)`,
			then: "Take a tool that shakes less, share the work, or let one technician do fewer such cars a day",
		}),
		es: ({ carsADay, ...data }, say) => ({
			found: sayVibration.es(data, say),
			expected: `Es el valor límite de la Directiva 2002/44/CE, juzgado para un máximo de ${carsADay} coches así al día por técnico (parámetro carsADay; práctica común, sin fuente)`,
			then: "Use una herramienta que vibre menos, reparta el trabajo o haga menos coches así al día por técnico",
		}),
	},
	examples: {
		good: [
			{
				title: "A polisher that shakes little",
				steps: [liquid("fine", "foam-medium", { tool: "soft-polisher", ...panel })],
				stock: { tools: [softPolisher] },
			},
			{ title: "By hand", steps: [sandByHand("P2000")] },
			{ title: "A tool of which no vibration is known: another rule says so", steps: [sand("P2000")] },
			{
				title: "A house where one technician does one such car a day",
				steps: [liquid("fine", "foam-medium", { tool: "rough-polisher", ...panel })],
				stock: { tools: [{ ...roughPolisher, vibrationMs2: 13 }] },
				limits: {
					rules: {
						"vibration-limit": {
							parameters: { carsADay: 1 },
							reason: "One panel is a day's work here.",
							by: "Ines Marlow",
							on: "2026-01-12",
						},
					},
				},
			},
		],
		bad: [
			{
				title: "A rough polisher over a panel",
				steps: [liquid("fine", "foam-medium", { tool: "rough-polisher", ...panel })],
				stock: { tools: [{ ...roughPolisher, vibrationMs2: 13 }] },
				at: { row: 1, field: "tool" },
			},
			{
				title: "One car alone reaches it",
				steps: [
					sand("P2000"),
					liquid("medium-cut", "foam-medium", { tool: "rough-polisher", ...panel }),
					liquid("fine", "foam-medium", { tool: "rough-polisher", ...panel }),
				],
				stock: { tools: [roughPolisher] },
				at: { row: 2, field: "tool" },
				level: "stop",
			},
		],
	},
});
