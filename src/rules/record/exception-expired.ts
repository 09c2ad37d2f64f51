import { hasExpired, isAbout } from "../exceptions.ts";
import { sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

const jump = [sand("P600"), sand("P2000", { work: { unit: "passes", low: 2, high: 2 } })];
const accepted = {
	rule: "grade-jump",
	step: "aaaaaaaaab",
	reason: "Trial panel of January came out clean",
	by: "Ana Ruiz",
	on: "2026-01-12",
	until: "2026-02-28",
};

export default rule({
	id: "exception-expired",
	group: "record",
	level: "caution",
	source: common,
	why: {
		en: "Whoever accepted a finding until a certain day wanted it looked at again after that day.",
		es: "Quien aceptó un hallazgo hasta cierto día quiso que se volviera a mirar después.",
	},
	axes: [],
	readsFindings: true,
	*check({ procedure: { exceptions = [] }, allRows, findings, today }) {
		for (const [index, exception] of exceptions.entries()) {
			if (!hasExpired(exception, today)) continue;
			// One that another exception accepts by now needs this one no more.
			if (!findings.some((finding) => isAbout(exception, finding) && finding.accepted === null)) continue;
			const row = allRows.findIndex(({ step }) => step.id === exception.step);
			yield {
				field: "exceptions" as const,
				pointer: `/exceptions/${index}`,
				data: {
					exception: exception.rule,
					ofRow: row === -1 ? null : row + 1,
					by: exception.by,
					until: exception.until ?? "",
				},
			};
		}
	},
	say: {
		en: ({ exception, ofRow, by, until }) => ({
			found: `${by} accepted ${exception}${ofRow === null ? "" : ` of row ${ofRow}`} until ${until}; that day is over`,
			expected: "An exception holds up to the last day it names",
			then: "The finding counts again; put the row right, or accept it anew",
		}),
		es: ({ exception, ofRow, by, until }) => ({
			found: `${by} aceptó ${exception}${ofRow === null ? "" : ` de la fila ${ofRow}`} hasta el ${until}; ese día ha pasado`,
			expected: "Una excepción vale hasta el último día que nombra",
			then: "El hallazgo vuelve a contar; corrija la fila, o acéptelo de nuevo",
		}),
	},
	examples: {
		good: [
			{ title: "The last day is today", steps: jump, procedure: { exceptions: [accepted] }, today: "2026-02-28" },
			{
				title: "Expired, and nothing is left to accept",
				steps: [sand("P1500"), sand("P2000")],
				procedure: { exceptions: [accepted] },
				today: "2026-03-02",
			},
			{
				title: "Expired, and accepted anew",
				steps: jump,
				procedure: { exceptions: [accepted, { ...accepted, on: "2026-03-01", until: "2026-12-31" }] },
				today: "2026-03-02",
			},
		],
		bad: [
			{
				title: "The last day was yesterday",
				steps: jump,
				procedure: { exceptions: [accepted] },
				today: "2026-03-01",
				at: { row: null, field: "exceptions" },
			},
		],
	},
});
