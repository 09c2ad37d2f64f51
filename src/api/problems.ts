import { type Problem, sayProblem } from "../model/problem.ts";
import type { Language } from "../model/words.ts";
import table from "./data/problems.json" with { type: "json" };
import type { ProblemDetails } from "./types.ts";

/** What went wrong between workbench and server, as a word. `no-answer` (status 0) is told by the workbench alone. */
export type ServerProblemCode = keyof typeof table;

/** A problem as RFC 9457 has it; `problem` says what exactly was wrong, where that is known. */
export function problemDetails(code: ServerProblemCode, problem?: Problem): ProblemDetails {
	const { status, en } = table[code];
	return {
		type: `https://gritwright.example/problems/${code}`,
		title: en,
		status,
		code,
		detail: problem === undefined ? en : `${en} ${problem.message}`,
		...(problem === undefined ? {} : { problem }),
	};
}

/** The sentences of a problem in the reader's language; of a code not known here, its own in English. */
export function sayProblemDetails({ code, detail, problem }: ProblemDetails, language: Language): string {
	if (!Object.hasOwn(table, code)) return detail;
	const sentence = table[code as ServerProblemCode][language];
	return problem === undefined ? sentence : `${sentence} ${sayProblem(problem, language)}`;
}
