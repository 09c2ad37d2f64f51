import type { Finding } from "../model/finding.ts";
import { capitalised } from "../model/sentence.ts";
import type { FilmUnit } from "../model/units.ts";
import type { Language } from "../model/words.ts";
import { rules } from "./generated/rules.ts";
import type { Rule } from "./rule.ts";
import { type Say, sayTools } from "./say.ts";

/** A finding in words. */
export interface SaidFinding {
	/** "Row 5, Passes: 2. P1500 scratches …" — all of it. */
	message: string;
	/** What was expected, and whose rule that is. */
	expected: string;
	/** What was found, without row and field. */
	found: string;
}

/** Sentences for findings, in one language and one unit of film. */
export function sayer(
	language: Language,
	film: FilmUnit,
	book: readonly Rule[] = rules,
): (finding: Finding) => SaidFinding {
	const say = sayTools(language, film);
	const byId = new Map(book.map((rule) => [rule.id, rule]));
	return (finding) => {
		const rule = byId.get(finding.rule);
		if (rule === undefined) throw new RangeError(`no rule is called ${finding.rule}`);
		const { found, expected, then } = rule.say[language](finding.data, say);
		const sentences = [found, expected, then].filter((part) => part !== undefined && part !== "").map(sentence);
		return { message: `${whereOf(finding, say)}: ${sentences.join(" ")}`, expected, found };
	};
}

/** "Row 5, Passes" or "Procedure" or "Procedure, Scope". */
function whereOf({ row, field }: Finding, say: Say): string {
	const words = { en: { row: "Row", all: "Procedure" }, es: { row: "Fila", all: "Procedimiento" } }[say.language];
	const at = row === null ? words.all : `${words.row} ${row + 1}`;
	return field === null ? at : `${at}, ${say.field(field)}`;
}

/** Ends in one full stop, whatever it came with. */
function sentence(text = ""): string {
	const trimmed = text.trim();
	return capitalised(/[.?!]$/.test(trimmed) ? trimmed : `${trimmed}.`);
}
