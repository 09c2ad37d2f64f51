import { boxHolds, situationsOf } from "../../model/situations.ts";
import { liquid } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "dead-row",
	group: "order and control",
	level: "caution",
	source: common,
	why: {
		en: "A row for situations that the procedure does not claim is never done, and whoever reads it takes it for a safeguard.",
		es: "Una fila para situaciones que el procedimiento no abarca no se hace nunca, y quien la lee cree que protege.",
	},
	axes: [],
	*check({ procedure: { scope }, allRows }) {
		const situations = situationsOf(scope);
		if (situations.length === 0) return;
		for (const row of allRows) {
			const { when } = row;
			if (when === null || row.kind === "incomplete") continue;
			if (situations.some((one) => when.some((box) => boxHolds(box, one)))) continue;
			yield { row, field: "when" as const, data: { row: row.index + 1, stage: row.stage } };
		}
	},
	say: {
		en: () => ({
			found: "The row applies in no situation of the scope",
			expected: "A row is done in some situation that the procedure claims (common practice)",
			then: "It is never done; widen the scope, mend when it applies, or take it out",
		}),
		es: () => ({
			found: "La fila no se aplica en ninguna situación del alcance",
			expected: "Una fila se hace en alguna situación que el procedimiento abarca (práctica común)",
			then: "No se hace nunca; amplíe el alcance, corrija cuándo se aplica, o quítela",
		}),
	},
	examples: {
		good: [
			{
				title: "The finest on dark only, and dark is in the scope",
				steps: [liquid("fine", "foam-soft"), liquid("finest", "foam-soft", { when: [{ tone: ["dark"] }] })],
				procedure: { scope: { tones: ["dark", "light"] } },
			},
			{
				title: "Dark only, and the scope leaves tones open",
				steps: [liquid("finest", "foam-soft", { when: [{ tone: ["dark"] }] })],
				procedure: { scope: { clearCoats: ["refinish"] } },
			},
		],
		bad: [
			{
				title: "The finest on dark only, and only light is in the scope",
				steps: [liquid("fine", "foam-soft"), liquid("finest", "foam-soft", { when: [{ tone: ["dark"] }] })],
				procedure: { scope: { tones: ["light"] } },
				at: { row: 2, field: "when" },
			},
			{
				title: "For a situation that is excepted, beside one that another row turns on",
				steps: [
					liquid("fine", "foam-soft", { when: [{ substrate: ["steel"] }] }),
					liquid("finest", "foam-soft", { when: [{ tone: ["dark"], substrate: ["plastic"] }] }),
				],
				procedure: {
					scope: {
						substrates: ["steel", "plastic"],
						tones: ["dark", "light"],
						except: [{ substrate: ["plastic"], tone: ["dark"] }],
					},
				},
				at: { row: 2, field: "when" },
			},
		],
	},
});
