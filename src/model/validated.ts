import type { FileKind } from "./canonical.ts";
import type { BookFiles } from "./generated/types.ts";
import type { SchemaError, Validator } from "./generated/validators.d.ts";
import { isRecord, pointerParts, pointerTo, valueAt } from "./pointer.ts";
import { kindOfValue, type ProblemCode, type ProblemData, type SchemaProblem, type ValueKind } from "./problem.ts";
import { readablePart } from "./readable.ts";
import { formatOf } from "./upgrades.ts";

/** What a schema says of a file, and what of it may be read. */
export interface Validated<K extends FileKind = FileKind> {
	/** What rules and forecast may trust: the value itself where it is valid, else a copy without its invalid parts. */
	readable: BookFiles[K];
	/** What the schema does not allow, one for each cell; also repeated row ids. */
	problems: SchemaProblem[];
	/** The pointer into the value of what a pointer into `readable` points at: they differ after a list element was left out. */
	pointerInFile(pointer: string): string;
}

/**
 * Checks a file against its schema. The validator is handed in, so that a page that reads one kind of file loads one.
 *
 * In `readable` a row without a usable id, or with the id of an earlier row, has a stand-in id; a row that is not a
 * record is left out.
 *
 * @param value a record in the format of today
 * @param validator of that kind
 * @param format what stands in for a missing format
 */
export function validated<K extends FileKind>(
	kind: K,
	value: Record<string, unknown>,
	validator: Validator,
	format = formatOf(kind),
): Validated<K> {
	const repeated = kind === "procedure" ? repeatedIds(value) : [];
	const valid = validator(value);
	const wrong = valid ? [] : schemaProblems(kind, value, validator.errors ?? []);
	const problems = [...wrong, ...repeated];
	if (problems.length === 0)
		return { readable: value as unknown as BookFiles[K], problems, pointerInFile: (pointer) => pointer };
	return { ...readablePart(kind, value, format, validator), problems };
}

function repeatedIds(value: Record<string, unknown>): SchemaProblem[] {
	const first = new Map<string, number>();
	const problems: SchemaProblem[] = [];
	const steps = Array.isArray(value.steps) ? value.steps : [];
	for (const [row, step] of steps.entries()) {
		const id = isRecord(step) ? step.id : undefined;
		if (typeof id !== "string") continue;
		const firstRow = first.get(id);
		if (firstRow === undefined) first.set(id, row);
		else {
			const data = { found: id, firstRow: firstRow + 1 };
			problems.push(problemAt("procedure", value, "repeated-row-id", `/steps/${row}/id`, data));
		}
	}
	return problems;
}

/** The validator's errors in trade words: one for each cell, the deepest; in the order of the schema. */
function schemaProblems(kind: FileKind, value: unknown, errors: readonly SchemaError[]): SchemaProblem[] {
	const perCell = new Map<string, SchemaProblem>();
	for (const error of errors) {
		const problem = translate(kind, value, error);
		const cell = problem.row === null || problem.field === null ? problem.pointer : `${problem.row}/${problem.field}`;
		const before = perCell.get(cell);
		if (before === undefined || depth(problem.pointer) > depth(before.pointer)) perCell.set(cell, problem);
	}
	return [...perCell.values()];
}

function depth(pointer: string): number {
	return pointer.split("/").length;
}

function translate(kind: FileKind, value: unknown, { instancePath, keyword, params }: SchemaError): SchemaProblem {
	const found = valueAt(value, pointerParts(instancePath));
	const at = (code: ProblemCode, data: ProblemData) => problemAt(kind, value, code, instancePath, data);
	const size = Array.isArray(found) ? found.length : 0;
	const { limit } = params as { limit: number };
	switch (keyword) {
		case "required":
			return problemAt(kind, value, "missing", pointerTo(instancePath, String(params.missingProperty)), {});
		case "enum":
			return at("not-allowed-word", { ...foundOf(found), allowed: params.allowedValues as string[] });
		case "type":
			return wrongType(found, params.type, at);
		case "minimum":
		case "exclusiveMinimum":
			return at("too-small", { ...foundOf(found), least: limit });
		case "maximum":
		case "exclusiveMaximum":
			return at("too-large", { ...foundOf(found), most: limit });
		case "maxLength":
			return at("too-long", { ...foundOf(found), most: limit });
		case "pattern":
			return at("bad-form", { ...foundOf(found), pattern: String(params.pattern) });
		case "format":
			return at(params.format === "date" ? "not-a-date" : "bad-form", foundOf(found));
		case "minItems":
			return at("too-few", { found: size, least: limit });
		case "maxItems":
			return at("too-many-rows", { found: size, most: limit });
		default:
			return at("not-valid", foundOf(found));
	}
}

function wrongType(
	found: unknown,
	expected: unknown,
	at: (code: ProblemCode, data: ProblemData) => SchemaProblem,
): SchemaProblem {
	if (expected === "integer" && typeof found === "number") return at("not-a-whole-number", foundOf(found));
	if (expected === "integer" || expected === "number") return at("not-a-number", foundOf(found));
	return at("wrong-type", { ...foundOf(found), expectedKind: kindOfType[String(expected)] ?? "text" });
}

const kindOfType: Record<string, ValueKind> = {
	string: "text",
	boolean: "yes-or-no",
	array: "list",
	object: "record",
};

/** What was found, flat: a list or a record only by its kind. */
function foundOf(value: unknown): ProblemData {
	if (value !== null && typeof value === "object") return { foundKind: kindOfValue(value) };
	return { found: value as string | number | boolean | null };
}

function problemAt(
	kind: FileKind,
	value: unknown,
	code: ProblemCode,
	pointer: string,
	data: ProblemData,
): SchemaProblem {
	const [part, index, field] = pointerParts(pointer);
	if (kind !== "procedure" || part !== "steps" || index === undefined)
		return { kind, code, pointer, row: null, rowId: null, field: part ?? null, data };
	const rowId = valueAt(value, ["steps", index, "id"]);
	return {
		kind,
		code,
		pointer,
		row: Number(index),
		rowId: typeof rowId === "string" ? rowId : null,
		field: field ?? null,
		data,
	};
}
