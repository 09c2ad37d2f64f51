import type { FileKind } from "./canonical.ts";
import table from "./data/problems.json" with { type: "json" };
import { capitalised, fillIn } from "./sentence.ts";
import { shapes } from "./generated/shape.ts";
import { pointerParts } from "./pointer.ts";
import { type Shape, shapeOfPart } from "./shape.ts";
import { label, type Language } from "./words.ts";

/** What went wrong, as a word; the sentences are made from it. */
export type ProblemCode = keyof typeof table.sentences;

/** Flat values a problem rests on. */
export type ProblemData = Record<string, number | string | boolean | null | readonly string[]>;

/** Where: in a text (from 1), in a procedure (row id and field), or at a JSON Pointer. */
export interface ProblemPlace {
	line?: number;
	column?: number;
	row?: string;
	field?: string;
	pointer?: string;
}

/** An outcome that was to be expected, in place of a result. */
export interface Problem {
	code: ProblemCode;
	/** The sentence in English, for logs; screens use `sayProblem`. */
	message: string;
	place: ProblemPlace | null;
	data: ProblemData;
}

/** A part of a file that its schema does not allow. */
export interface SchemaProblem {
	kind: FileKind;
	code: ProblemCode;
	/** Where in the file as read; for a missing value where it would stand. */
	pointer: string;
	/** Place among all rows of the file, from 0; null outside the rows. */
	row: number | null;
	rowId: string | null;
	/** The field of the row; outside the rows the part of the file; null for the whole row or file. */
	field: string | null;
	data: ProblemData;
}

/** Something in the text of a file that reading and writing would not keep. Line and column from 1. */
export interface Loss {
	code: ProblemCode;
	pointer: string;
	line: number;
	column: number;
	data: ProblemData;
}

/** A problem with its English sentence. */
export function problemOf(code: ProblemCode, place: ProblemPlace | null, data: ProblemData = {}): Problem {
	return { code, message: fill(code, { ...place, ...data }, "en"), place, data };
}

/** The sentence for a problem: where in trade words, what was found, what was expected or kept. */
export function sayProblem(problem: Problem | SchemaProblem | Loss, language: Language): string {
	if ("kind" in problem) {
		const where = placeInWords(problem, language);
		const sentence = fill(problem.code, problem.data, language);
		return where === "" ? capitalised(sentence) : `${where}: ${sentence}`;
	}
	const place = "line" in problem ? { line: problem.line, column: problem.column } : problem.place;
	return fill(problem.code, { ...place, ...problem.data }, language);
}

/** What a value is, in words that sentences use. */
export function kindOfValue(value: unknown): ValueKind {
	if (value === null) return "nothing";
	if (Array.isArray(value)) return "list";
	if (typeof value === "object") return "record";
	if (typeof value === "boolean") return "yes-or-no";
	return typeof value === "number" ? "number" : "text";
}

export type ValueKind = keyof typeof table.kinds;

/** "Row 3, Speed, Low" from the pointer: the words of the screens for parts and fields, inside them the titles of the schema. */
function placeInWords({ kind, pointer, row }: SchemaProblem, language: Language): string {
	const words: string[] = [];
	let shape: Shape | undefined = shapes[kind];
	for (const [depth, part] of pointerParts(pointer).entries()) {
		const title = shape?.keys !== undefined && Object.hasOwn(shape.keys, part) ? shape.keys[part]?.title : undefined;
		const vocabulary =
			kind !== "procedure" ? null : depth === 0 ? "part" : depth === 2 && row !== null ? "field" : null;
		if (shape?.items !== undefined) words.push(`${words.pop() ?? ""} ${Number(part) + 1}`);
		else if (title !== undefined && vocabulary !== null) words.push(label(vocabulary, part, language));
		else words.push(title ?? part);
		shape = shape?.items ?? shapeOfPart(shape, part);
	}
	if (row === null) return words.join(", ");
	return [`${language === "es" ? "Fila" : "Row"} ${row + 1}`, ...words.slice(1)].join(", ");
}

function fill(code: ProblemCode, data: Record<string, unknown>, language: Language): string {
	const forms: Record<Language, string> & { one?: Record<Language, string> } = table.sentences[code];
	const sentence = data.count === 1 && forms.one !== undefined ? forms.one : forms;
	return fillIn(sentence[language], (name) => {
		// Of a list or a record only the kind was kept.
		const key = name === "found" && data.found === undefined ? "foundKind" : name;
		return said(key, data[key], language);
	});
}

function said(name: string, value: unknown, language: Language): string {
	if (Array.isArray(value)) return value.join(", ");
	if (typeof value === "number") return language === "es" ? String(value).replace(".", ",") : String(value);
	if (name.endsWith("Kind")) return table.kinds[value as ValueKind][language];
	if (name !== "found" || typeof value !== "string") return String(value);
	const clipped = value.length > 60 ? `${value.slice(0, 60)}…` : value;
	return language === "es" ? `«${clipped}»` : `“${clipped}”`;
}
