import { sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "review-overdue",
	group: "record",
	level: "caution",
	source: common,
	why: {
		en: "Materials and sheets change; a procedure that nobody has looked at since may teach what no longer holds.",
		es: "Los materiales y las fichas cambian; un procedimiento que nadie ha revisado puede enseñar lo que ya no vale.",
	},
	axes: [],
	*check({ procedure: { reviewBy, state }, today }) {
		if (reviewBy === undefined || reviewBy >= today || state === "withdrawn") return;
		yield { field: "reviewBy" as const, data: { reviewBy } };
	},
	say: {
		en: ({ reviewBy }) => ({
			found: `The review was due by ${reviewBy}`,
			expected: "A procedure is looked at again by the date it names (its own date)",
			then: "Go through it against the stock and the sheets of today, and set a new date",
		}),
		es: ({ reviewBy }) => ({
			found: `La revisión debía hacerse antes del ${reviewBy}`,
			expected: "Un procedimiento se revisa antes de la fecha que él mismo nombra",
			then: "Repáselo con las existencias y fichas de hoy, y ponga una fecha nueva",
		}),
	},
	examples: {
		good: [
			{ title: "Due today", steps: [sand("P1500")], procedure: { reviewBy: "2026-03-02" }, today: "2026-03-02" },
			{ title: "No date set", steps: [sand("P1500")] },
			{
				title: "Withdrawn, so that nobody works by it",
				steps: [sand("P1500")],
				procedure: { reviewBy: "2020-01-31", state: "withdrawn" },
			},
		],
		bad: [
			{
				title: "Due yesterday",
				steps: [sand("P1500")],
				procedure: { reviewBy: "2026-03-01" },
				today: "2026-03-02",
				at: { row: null, field: "reviewBy" },
			},
		],
	},
});
