import { liquid, sand, sandByHand } from "../example-rows.ts";
import { house, rule } from "../rule.ts";
import { sayVibration, type VibrationData, vibrationReached } from "../vibration-reached.ts";

const polisher = { id: "shop-polisher", name: "Shop polisher", kind: "random-orbital" as const, vibrationMs2: 5.8 };
const untoldPolisher = { id: "untold-polisher", name: "Untold polisher", kind: "random-orbital" as const };

const panel = { place: "panel" as const, work: { unit: "passes" as const, low: 4, high: 4 } };

export default rule({
	id: "vibration-action",
	group: "people",
	level: "advice",
	source: house("vibrationActionMs2", 2.5, "m/s2"),
	why: {
		en: "From the action value on an employer must bring vibration down and have hands examined; white fingers do not come back to life.",
		es: "Desde el valor de acción la empresa debe reducir la vibración y vigilar las manos; los dedos blancos no se recuperan.",
	},
	parameters: { carsADay: 4 },
	axes: ["defect", "clearCoat"],
	*check({ work, shop, parameters: { carsADay } }) {
		const { vibrationActionMs2: limitMs2, vibrationLimitMs2 } = shop.limits;
		const basis = house("vibrationActionMs2", limitMs2, "m/s2");
		const { vibration } = work;
		const reached = vibrationReached(vibration, limitMs2);
		if (reached !== null && reached.onCar <= carsADay) {
			// Of the limit another rule speaks.
			if ((vibrationReached(vibration, vibrationLimitMs2)?.onCar ?? Number.POSITIVE_INFINITY) <= carsADay) return;
			const { row, onCar, data } = reached;
			yield { row, field: "tool" as const, weight: -onCar, basis, data: { ...data, carsADay } };
			return;
		}
		// Outside a book there is no stock that could say it.
		const untold = shop.generic ? undefined : vibration.tools.find(({ vibrationMs2 }) => vibrationMs2 === null);
		const [row] = untold?.rows ?? [];
		if (untold === undefined || row === undefined) return;
		const data: VibrationData = {
			a8Ms2: null,
			onCar: null,
			limitMs2,
			tool: untold.item?.name ?? untold.kind,
			isAtLeast: true,
		};
		yield { row, field: "tool" as const, weight: Number.NEGATIVE_INFINITY, basis, data: { ...data, carsADay } };
	},
	say: {
		en: ({ carsADay, ...data }, say) => ({
			found:
				data.onCar === null
					? `How much the ${say.label("tool", data.tool)} shakes the hand is not known`
					: sayVibration.en(data, say),
			expected:
				data.onCar === null
					? `The stock states the vibration of a driven tool, so that the day can be held against ${say.number(data.limitMs2, 1)} m/s² (Directive 2002/44/EC)`
					: `It is the action value of Directive 2002/44/EC, judged for up to ${carsADay} such cars a day of one technician (parameter carsADay; common practice, no source)`,
			then:
				data.onCar === null
					? "Put the figure of the tool's manual into the stock, or have it measured"
					: "Take a tool that shakes less, share the work, and tell whoever looks after health",
		}),
		es: ({ carsADay, ...data }, say) => ({
			found:
				data.onCar === null
					? `No se sabe cuánto vibra en la mano la herramienta (${say.label("tool", data.tool)})`
					: sayVibration.es(data, say),
			expected:
				data.onCar === null
					? `Las existencias indican la vibración de una herramienta motorizada, para comparar la jornada con ${say.number(data.limitMs2, 1)} m/s² (Directiva 2002/44/CE)`
					: `Es el valor de acción de la Directiva 2002/44/CE, juzgado para un máximo de ${carsADay} coches así al día por técnico (parámetro carsADay; práctica común, sin fuente)`,
			then:
				data.onCar === null
					? "Anote en las existencias la cifra del manual, o hágala medir"
					: "Use una herramienta que vibre menos, reparta el trabajo y avise a quien cuida de la salud",
		}),
	},
	examples: {
		good: [
			{
				title: "A short polish of one section",
				steps: [liquid("fine", "foam-medium", { tool: "shop-polisher" })],
				stock: { tools: [polisher] },
			},
			{ title: "By hand", steps: [sandByHand("P2000")] },
			{
				title: "Shaking so much that the limit is reached: another rule says so",
				steps: [liquid("fine", "foam-medium", { tool: "shop-polisher", ...panel })],
				stock: { tools: [{ ...polisher, vibrationMs2: 16 }] },
			},
		],
		bad: [
			{
				title: "Two polishes over a panel",
				steps: [
					liquid("medium-cut", "foam-medium", { tool: "shop-polisher", ...panel }),
					liquid("fine", "foam-medium", { tool: "shop-polisher", ...panel }),
				],
				stock: { tools: [polisher] },
				at: { row: 1, field: "tool" },
			},
			{
				title: "A stocked tool without a figure",
				steps: [sandByHand("P2000"), liquid("fine", "foam-medium", { tool: "untold-polisher" })],
				stock: { tools: [untoldPolisher] },
				at: { row: 2, field: "tool" },
			},
			{ title: "A tool named by its kind", steps: [sand("P2000")], at: { row: 1, field: "tool" } },
		],
	},
});
