import { isCutting } from "../chains.ts";
import { liquid, sand, sandByHand } from "../example-rows.ts";
import { sayWithoutGear, wearThroughout, withoutGear } from "../gear.ts";
import { house, rule } from "../rule.ts";

/** The lower exposure action value of Directive 2003/10/EC in dB(A), over a day of eight hours. From memory. */
const lawDb = 80;

const quietSander = { id: "quiet-sander", name: "Quiet sander", kind: "random-orbital" as const, noiseDb: 72 };
const loudSander = { id: "loud-sander", name: "Loud sander", kind: "random-orbital" as const, noiseDb: 84 };

export default rule({
	id: "hearing-protection-missing",
	group: "people",
	level: "caution",
	source: house("hearingProtectionDb", lawDb, "dB(A)"),
	why: {
		en: "Sanders and polishers are loud enough to take hearing away over the years, and it does not come back.",
		es: "Las lijadoras y pulidoras hacen ruido suficiente para quitar el oído con los años, y no se recupera.",
	},
	axes: [],
	*check({ rows, procedure, shop }) {
		const limitDb = shop.limits.hearingProtectionDb;
		const driven = rows.filter(isCutting).filter(({ tool }) => tool.driven);
		const noiseOf = ({ tool }: (typeof driven)[number]) => tool.item?.noiseDb;
		const loud = driven.filter((row) => (noiseOf(row) ?? 0) >= limitDb);
		const data = withoutGear("hearing", loud, procedure);
		const basis = house("hearingProtectionDb", limitDb, "dB(A)");
		if (data !== null) {
			const loudest = loud.reduce((a, b) => ((noiseOf(b) ?? 0) > (noiseOf(a) ?? 0) ? b : a));
			const noiseDb: number | null = noiseOf(loudest) ?? null;
			const tool = loudest.tool.item?.name ?? loudest.tool.kind;
			yield { field: "wear" as const, weight: noiseDb ?? 0, basis, data: { ...data, tool, noiseDb, limitDb } };
			return;
		}
		const untold = driven.filter((row) => noiseOf(row) === undefined);
		const unknown = withoutGear("hearing", untold, procedure);
		const [first] = untold;
		if (unknown === null || first === undefined) return;
		const tool = first.tool.item?.name ?? first.tool.kind;
		yield {
			field: "wear" as const,
			level: "advice" as const,
			basis,
			data: { ...unknown, tool, noiseDb: null, limitDb },
		};
	},
	say: {
		en: ({ tool, noiseDb, limitDb, ...data }, say) => ({
			found:
				noiseDb === null
					? `${sayWithoutGear.en(data, say)}, and how loud the ${say.label("tool", tool)} is stands nowhere`
					: `${sayWithoutGear.en(data, say)}, and the ${say.label("tool", tool)} makes ${say.number(noiseDb)} dB(A)`,
			expected: `The house asks for it from ${say.number(limitDb)} dB(A) on; the lower action value of Directive 2003/10/EC is ${lawDb} dB(A) over a working day (from memory)`,
			then:
				noiseDb === null
					? "Put the level of the tool's manual into the stock, or wear it"
					: "Hearing lost to noise does not come back",
		}),
		es: ({ tool, noiseDb, limitDb, ...data }, say) => ({
			found:
				noiseDb === null
					? `${sayWithoutGear.es(data, say)}, y no consta el ruido de la herramienta (${say.label("tool", tool)})`
					: `${sayWithoutGear.es(data, say)}, y la herramienta (${say.label("tool", tool)}) hace ${say.number(noiseDb)} dB(A)`,
			expected: `La casa la pide desde ${say.number(limitDb)} dB(A); el valor inferior de exposición de la Directiva 2003/10/CE es ${lawDb} dB(A) en una jornada (de memoria)`,
			then:
				noiseDb === null
					? "Anote en las existencias el nivel que da el manual, o llévela"
					: "El oído perdido por el ruido no se recupera",
		}),
	},
	remedies: (_, { procedure }) => wearThroughout("hearing", procedure),
	examples: {
		good: [
			{
				title: "A loud sander with hearing protection",
				steps: [sand("P1500", { tool: "loud-sander" })],
				stock: { tools: [loudSander] },
			},
			{
				title: "A quiet sander",
				steps: [sand("P1500", { tool: "quiet-sander" })],
				stock: { tools: [quietSander] },
				procedure: { wear: [] },
			},
			{ title: "By hand", steps: [sandByHand("P1500")], procedure: { wear: [] } },
			{
				title: "A house that asks from 85 dB(A) on",
				steps: [sand("P1500", { tool: "loud-sander" })],
				stock: { tools: [loudSander] },
				limits: { values: { hearingProtectionDb: { value: 85 } } },
				procedure: { wear: [] },
			},
		],
		bad: [
			{
				title: "A loud sander, ears bare",
				steps: [sand("P1500", { tool: "loud-sander" }), liquid("fine", "foam-medium")],
				stock: { tools: [loudSander] },
				procedure: { wear: [{ item: "gloves" }] },
				at: { row: null, field: "wear" },
			},
			{
				title: "Worn for polishing, not with the loud sander",
				steps: [sand("P1500", { tool: "loud-sander" })],
				stock: { tools: [loudSander] },
				procedure: { wear: [{ item: "hearing", stages: ["polish"] }] },
				at: { row: null, field: "wear" },
			},
			{
				title: "A driven tool of which no level is known",
				steps: [liquid("fine", "foam-medium")],
				procedure: { wear: [] },
				at: { row: null, field: "wear" },
				level: "advice",
			},
		],
	},
});
