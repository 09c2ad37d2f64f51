import type { FileKind } from "./canonical.ts";
import { shapes } from "./generated/shape.ts";
import type { BookFiles } from "./generated/types.ts";
import * as validators from "./generated/validators.js";
import type { SchemaError } from "./generated/validators.d.ts";
import { type Place, readJson } from "./locate.ts";
import { isRecord, pointerParts, pointerTo, valueAt } from "./pointer.ts";
import {
	kindOfValue,
	type Loss,
	type Problem,
	type ProblemCode,
	type ProblemData,
	problemOf,
	type SchemaProblem,
	type ValueKind,
} from "./problem.ts";
import { readablePart } from "./readable.ts";
import { type Shape, shapeOfPart } from "./shape.ts";
import { formatOf, type UpgradeChain, upgrade, upgrades } from "./upgrades.ts";

/** A file of a book, opened. */
export interface OpenFile<K extends FileKind = FileKind> {
	kind: K;
	/** The file as read and brought to the format of today, with everything unknown or invalid still in it: what is edited and saved. */
	value: unknown;
	/** What rules and forecast may trust: `value` itself where it is valid, else a copy without its invalid parts. */
	readable: BookFiles[K];
	/** What the schema does not allow, one for each cell; also repeated row ids and a byte order mark. */
	problems: SchemaProblem[];
	/** Why the file must not be written; empty for nearly every file. */
	readOnly: Loss[];
	/** The format it was read in. */
	from: number;
	/** The pointer into `value` of what a pointer into `readable` points at: they differ after a list element was left out. */
	pointerInFile(pointer: string): string;
	/** Where a pointer into `value` stands in the text. */
	place(pointer: string): Place;
}

/**
 * Opens the text of a file. A half-typed row is no problem: only its id is required.
 *
 * Refused are text that is not JSON, a newer format, a file that is not one record, and a procedure or book
 * without any id; everything else opens, with what is wrong in `problems`. In `readable` a row without a
 * usable id, or with the id of an earlier row, has a stand-in id; a row that is not a record is left out.
 */
export function openFile<K extends FileKind>(
	kind: K,
	text: string,
	chain: UpgradeChain = upgrades,
): OpenFile<K> | { problem: Problem } {
	const read = readJson(text);
	if ("problem" in read) return read;
	const upgraded = upgrade(kind, read.value, chain);
	if ("problem" in upgraded) return upgraded;
	const { value, from } = upgraded;
	if (!isRecord(value))
		return { problem: problemOf("not-an-object", read.place(""), { foundKind: kindOfValue(value) }) };
	if (hasId(kind) && (typeof value.id !== "string" || value.id.trim() === ""))
		return { problem: problemOf("no-id", read.place("/id")) };

	const repeated = kind === "procedure" ? repeatedIds(value) : [];
	const valid = validators[kind](value);
	const wrong = valid ? [] : schemaProblems(kind, value, validators[kind].errors ?? []);
	const mark: SchemaProblem[] = read.byteOrderMark ? [problemAt(kind, value, "byte-order-mark", "", {})] : [];
	const { readable, pointerInFile } =
		valid && repeated.length === 0
			? { readable: value as unknown as BookFiles[K], pointerInFile: (pointer: string) => pointer }
			: readablePart(kind, value, formatOf(kind, chain));
	const problems = [...mark, ...wrong, ...repeated];
	return { kind, value, readable, problems, readOnly: read.lossy, from, pointerInFile, place: read.place };
}

/** Pointers to every member that the schema does not know; members of free maps and of unknown members are not named. */
export function unknownFields(kind: FileKind, value: unknown): string[] {
	const found: string[] = [];
	const path: (string | number)[] = [];
	const walk = (part: unknown, shape: Shape | undefined) => {
		if (shape === undefined || part === null || typeof part !== "object") return;
		if (Array.isArray(part)) {
			if (shape.items === undefined) return;
			for (const [index, element] of part.entries()) step(index, element, shape.items);
			return;
		}
		if (shape.keys === undefined && shape.each === undefined) return;
		for (const key of Object.keys(part)) {
			const inner = shapeOfPart(shape, key);
			if (inner === undefined) found.push([...path, key].reduce<string>(pointerTo, ""));
			else step(key, (part as Record<string, unknown>)[key], inner);
		}
	};
	const step = (key: string | number, member: unknown, shape: Shape) => {
		if (member === null || typeof member !== "object") return;
		path.push(key);
		walk(member, shape);
		path.pop();
	};
	walk(value, shapes[kind]);
	return found;
}

function hasId(kind: FileKind): boolean {
	return kind === "procedure" || kind === "book";
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
