import type { OpenFile } from "../model/document.ts";
import { unknownFields } from "../model/unknown-fields.ts";
import type { Finding, Level } from "../model/finding.ts";
import { sayProblem } from "../model/problem.ts";
import { type Case, judge } from "../rules/judge.ts";
import { sayer } from "../rules/sayer.ts";
import { filmUnitOf } from "../model/shop.ts";
import type { Language } from "../model/words.ts";

const unknownSentence: Record<Language, string> = {
	en: "{pointer}: this field is not known here. It is kept as it is, and nothing reads it.",
	es: "{pointer}: este campo no se conoce aquí. Se conserva tal cual y nada lo lee.",
};

export type { Case } from "../rules/judge.ts";

/** Where something stands in the file as read, from 1. */
export interface Place {
	line: number;
	column: number;
}

/** A finding as it is reported: the data, the place in the file, and the sentences in the reader's language. */
export interface ReportedFinding {
	rule: string;
	level: Finding["level"];
	/** Data row, from 1; null for the whole procedure. */
	row: number | null;
	rowId: string | null;
	field: string | null;
	/** RFC 6901, into the JSON file; null for a sheet. */
	pointer: string | null;
	line: number | null;
	column: number | null;
	situations: Finding["situations"];
	data: Finding["data"];
	message: string;
	expected: string;
	basis: Finding["basis"];
	accepted: Finding["accepted"];
}

/** Findings of one file, ready to report. */
export interface CheckedFile {
	path: string;
	/** Id of the procedure; null for a file that is none. */
	procedure: string | null;
	/** Number of data rows; null where there are none to count. */
	rows: number | null;
	findings: ReportedFinding[];
}

/** Findings by level, accepted ones left out. */
export type Counts = Record<Finding["level"], number>;

/**
 * Checks one procedure and words what was found.
 *
 * @param path the file as the user named it
 * @param where finds the place of a finding in the file; null where it has none
 * @param isSheet a sheet has no JSON to point into
 */
export function checkFile(
	path: string,
	one: Case,
	language: Language,
	where: (finding: Finding) => Place | null,
	isSheet = false,
): CheckedFile {
	const say = sayer(language, filmUnitOf(one.shop));
	return {
		path,
		procedure: one.procedure.id,
		rows: one.procedure.steps?.length ?? 0,
		findings: judge(one).map((finding) => {
			const { message, expected } = say(finding);
			const place = where(finding);
			return {
				rule: finding.rule,
				level: finding.level,
				row: finding.row === null ? null : finding.row + 1,
				rowId: finding.rowId,
				field: finding.field,
				pointer: isSheet ? null : finding.pointer,
				line: place?.line ?? null,
				column: place?.column ?? null,
				situations: finding.situations,
				data: finding.data,
				message,
				expected,
				basis: finding.basis,
				accepted: finding.accepted,
			};
		}),
	};
}

/**
 * What the schema says of a book, stock, limits or other part of a book: values it does not allow, and fields it does
 * not know. Both are kept in the file.
 */
export function checkPart(path: string, file: OpenFile, language: Language): CheckedFile {
	const found = (rule: string, level: Level, pointer: string, data: Finding["data"], message: string) => {
		const { line, column } = file.place(pointer);
		const basis = { kind: "standard" as const, name: `${file.kind}.schema.json`, value: null, unit: null };
		const none = { row: null, rowId: null, situations: [{}], accepted: null, field: pointer.split("/")[1] ?? null };
		return { ...none, rule, level, pointer, line, column, data, message, expected: message, basis };
	};
	return {
		path,
		procedure: null,
		rows: null,
		findings: [
			...file.problems.map((problem) =>
				found("unread-cell", "stop", problem.pointer, problem.data, sayProblem(problem, language)),
			),
			...unknownFields(file.kind, file.value).map((pointer) =>
				found(
					"unknown-field",
					"caution",
					pointer,
					{ pointer },
					unknownSentence[language].replace("{pointer}", pointer),
				),
			),
		],
	};
}

/** How many findings of each level are not accepted. */
export function countFindings(files: readonly { findings: readonly Pick<Finding, "level" | "accepted">[] }[]): Counts {
	const counts: Counts = { stop: 0, caution: 0, advice: 0 };
	for (const { findings } of files)
		for (const { level, accepted } of findings) if (accepted === null) counts[level] += 1;
	return counts;
}
