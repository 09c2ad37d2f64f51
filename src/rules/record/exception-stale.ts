import type { Exception } from "../../model/generated/types.ts";
import type { Level } from "../../model/finding.ts";
import { isAbout, whyNotCovered } from "../exceptions.ts";
import { sand } from "../example-rows.ts";
import { common, type Remedy, rule } from "../rule.ts";
import type { Say } from "../say.ts";

const jump = [sand("P600"), sand("P2000", { work: { unit: "passes", low: 2, high: 2 } })];
const accepted: Exception = {
	rule: "grade-jump",
	step: "aaaaaaaaab",
	field: "abrasive",
	restedOn: { fromGrade: "P600", grade: "P2000" },
	reason: "Trial panel of January came out clean",
	by: "Ana Ruiz",
	on: "2026-01-12",
};

type Why = "gone" | "unsigned" | "higher-level" | "other-value" | "new-situation";

type Value = number | string | boolean | null;

export default rule({
	id: "exception-stale",
	group: "record",
	level: "caution",
	source: common,
	why: {
		en: "A finding was accepted as it stood; once the values, the level or the situations change, it is another finding.",
		es: "Un hallazgo se aceptó tal como estaba; si cambian los valores, el nivel o las situaciones, es otro hallazgo.",
	},
	axes: [],
	readsFindings: true,
	*check({ procedure, shop, allRows, findings, today }) {
		for (const [index, exception] of (procedure.exceptions ?? []).entries()) {
			// A rule that is switched off finds nothing; what was accepted waits for it.
			if (shop.limits.rules[exception.rule]?.off) continue;
			const about = findings.filter((finding) => isAbout(exception, finding));
			const row = allRows.findIndex(({ step }) => step.id === exception.step);
			const at = { field: "exceptions" as const, pointer: `/exceptions/${index}` };
			const ofRow = row === -1 ? null : row + 1;
			const said = (why: Why, key: string | null = null, from: Value = null, to: Value = null) => ({
				index,
				exception: exception.rule,
				ofRow,
				by: exception.by,
				why,
				key,
				from,
				to,
			});
			if (about.length === 0) {
				yield { ...at, level: "advice" as const, data: said("gone") };
				continue;
			}
			const open = about.find((finding) => finding.accepted === null);
			const not = open && whyNotCovered(exception, open, { procedure, shop, today });
			// Of one that has expired, another rule speaks.
			if (not === undefined || not === null || not.why === "expired") continue;
			if (not.why === "other-value") yield { ...at, data: said(not.why, not.key, not.from, not.to) };
			else if (not.why === "higher-level") yield { ...at, data: said(not.why, null, not.from, not.to) };
			else yield { ...at, data: said(not.why) };
		}
	},
	say: {
		en: ({ exception, ofRow, by, why, key, from, to }, say) => ({
			found: `${by} accepted ${exception}${ofRow === null ? "" : ` of row ${ofRow}`}; ${
				{
					gone: "nothing of the kind is found there any more",
					unsigned: "a finding of level stop is accepted by somebody who signs",
					"higher-level": `the level was ${level(from, say)} and is ${level(to, say)}`,
					"other-value": `${key} was ${value(from, say)} and is ${value(to, say)}`,
					"new-situation": "the finding now holds in situations that were not accepted",
				}[why]
			}`,
			expected: "An exception covers a finding as it stood, signed where it has to be",
			then: why === "gone" ? "Take the exception out" : "The finding counts again; put it right, or accept it anew",
		}),
		es: ({ exception, ofRow, by, why, key, from, to }, say) => ({
			found: `${by} aceptó ${exception}${ofRow === null ? "" : ` de la fila ${ofRow}`}; ${
				{
					gone: "ahí ya no se encuentra nada así",
					unsigned: "un hallazgo de parada lo acepta alguien que firma",
					"higher-level": `el nivel era ${level(from, say)} y es ${level(to, say)}`,
					"other-value": `${key} era ${value(from, say)} y es ${value(to, say)}`,
					"new-situation": "el hallazgo vale ahora en situaciones que no se aceptaron",
				}[why]
			}`,
			expected: "Una excepción cubre un hallazgo tal como estaba, firmada donde debe estarlo",
			then: why === "gone" ? "Quite la excepción" : "El hallazgo vuelve a contar; corríjalo, o acéptelo de nuevo",
		}),
	},
	remedies({ data: { why, index } }, { procedure: { exceptions: from = [] } }): Remedy[] {
		if (why !== "gone") return [];
		const others = from.filter((_, at) => at !== index);
		return [
			{
				kind: "sure",
				say: { en: "Take the exception out", es: "Quitar la excepción" },
				edit: [{ op: "setPart", pointer: "/exceptions", from, ...(others.length === 0 ? {} : { to: others }) }],
			},
		];
	},
	examples: {
		good: [
			{ title: "As it stood when it was accepted", steps: jump, procedure: { exceptions: [accepted] } },
			{
				title: "A rule that the shop has switched off",
				steps: jump,
				procedure: { exceptions: [accepted] },
				limits: { rules: { "grade-jump": { off: true, reason: "On trial", by: "Ana Ruiz", on: "2026-01-01" } } },
			},
			{
				title: "Expired: another rule speaks",
				steps: jump,
				procedure: { exceptions: [{ ...accepted, restedOn: { grade: "P1500" }, until: "2026-01-31" }] },
			},
		],
		bad: [
			{
				title: "Accepted from P800, and the row before is P600 now",
				steps: jump,
				procedure: { exceptions: [{ ...accepted, restedOn: { fromGrade: "P800", grade: "P2000" } }] },
				at: { row: null, field: "exceptions" },
			},
			{
				title: "Accepted as advice, and it is a caution now",
				steps: jump,
				procedure: { exceptions: [{ ...accepted, level: "advice" }] },
				at: { row: null, field: "exceptions" },
			},
			{
				title: "Accepted for plastic, found on steel",
				steps: jump,
				procedure: { exceptions: [{ ...accepted, situations: [{ substrate: ["plastic"] }] }] },
				at: { row: null, field: "exceptions" },
			},
			{
				title: "A grade that does not exist, accepted by somebody who does not sign",
				steps: [sand("P1700")],
				procedure: {
					exceptions: [{ ...accepted, rule: "unknown-grade", step: "aaaaaaaaaa", restedOn: {}, level: "stop" }],
				},
				book: { people: [{ name: "Ana Ruiz" }] },
				at: { row: null, field: "exceptions" },
			},
			{
				title: "Nothing is left to accept",
				steps: [sand("P1500"), sand("P2000")],
				procedure: { exceptions: [accepted] },
				at: { row: null, field: "exceptions" },
				level: "advice",
			},
		],
	},
});

function level(value: Value, say: Say): string {
	return say.label("level", value as Level);
}

function value(one: Value, say: Say): string {
	if (one === null) return { en: "not there", es: "ninguno" }[say.language];
	return typeof one === "number" ? say.number(one) : String(one);
}
