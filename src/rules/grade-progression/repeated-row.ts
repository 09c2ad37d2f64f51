import type { Step } from "../../model/generated/types.ts";
import { same } from "../../model/same.ts";
import { isCutting } from "../chains.ts";
import { liquid, sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "repeated-row",
	group: "grade progression",
	level: "caution",
	source: common,
	why: {
		en: "The same row twice in a run is most often a row pasted twice, and it takes the film off twice.",
		es: "La misma fila dos veces seguidas suele ser una fila pegada dos veces, y quita barniz dos veces.",
	},
	axes: [],
	*check({ rows }) {
		for (const [at, row] of rows.entries()) {
			const before = rows[at - 1];
			if (before === undefined || !isCutting(row) || !isSameWork(before.step, row.step)) continue;
			yield { row, data: { row: row.index + 1, fromRow: before.index + 1 } };
		}
	},
	say: {
		en: ({ fromRow }) => ({
			found: `The row says the same as row ${fromRow}`,
			expected: "More of the same work is written as more passes in one row (common practice)",
			then: "It takes off as much film again; remove it, or say what is different the second time",
		}),
		es: ({ fromRow }) => ({
			found: `La fila dice lo mismo que la fila ${fromRow}`,
			expected: "Más del mismo trabajo se escribe como más pasadas en una sola fila (práctica común)",
			then: "Vuelve a quitar otro tanto de barniz; elimínela, o diga qué cambia la segunda vez",
		}),
	},
	remedies({ row, data }, { procedure: { steps = [] } }) {
		if (row === null) return [];
		const { step, index } = row;
		if (steps.some(({ ifNot }) => ifNot?.back === step.id)) return [];
		return [
			{
				kind: "offered",
				say: {
					en: `Remove row ${data.row}, which repeats row ${data.fromRow}`,
					es: `Eliminar la fila ${data.row}, que repite la fila ${data.fromRow}`,
				},
				edit: [{ op: "remove", step, after: steps[index - 1]?.id ?? null }],
			},
		];
	},
	examples: {
		good: [
			{
				title: "Crosswise, then lengthwise",
				steps: [sand("P1500", { pattern: "crosswise" }), sand("P1500", { pattern: "lengthwise" })],
			},
			{
				title: "Compound, wipe and look, and compound again",
				steps: [
					liquid("heavy-cut", "foam-firm"),
					{ stage: "wipe", wipe: "alcohol-wipe" },
					liquid("heavy-cut", "foam-firm"),
				],
			},
			{
				title: "A second round, if needed",
				steps: [liquid("medium-cut", "foam-medium"), liquid("medium-cut", "foam-medium", { need: "if-needed" })],
			},
		],
		bad: [
			{
				title: "P2000 pasted twice",
				steps: [sand("P1500"), sand("P2000"), sand("P2000")],
				at: { row: 3, field: null },
			},
			{
				title: "The same polish twice",
				steps: [liquid("fine", "foam-soft"), liquid("fine", "foam-soft")],
				at: { row: 2, field: null },
			},
		],
	},
});

/** Whether two rows agree in every field but their id. */
function isSameWork(one: Step, other: Step): boolean {
	return same({ ...one, id: "" }, { ...other, id: "" });
}
