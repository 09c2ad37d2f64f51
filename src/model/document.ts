import type { FileKind } from "./canonical.ts";
import * as validators from "./generated/validators.js";
import { type Place, readJson } from "./locate.ts";
import { isRecord } from "./pointer.ts";
import { kindOfValue, type Loss, type Problem, problemOf, type SchemaProblem } from "./problem.ts";
import { formatOf, type UpgradeChain, upgrade, upgrades } from "./upgrades.ts";
import { type Validated, validated } from "./validated.ts";

/** A file of a book, opened. */
export interface OpenFile<K extends FileKind = FileKind> extends Validated<K> {
	kind: K;
	/** The file as read and brought to the format of today, with everything unknown or invalid still in it: what is edited and saved. */
	value: unknown;
	/** Why the file must not be written; empty for nearly every file. */
	readOnly: Loss[];
	/** The format it was read in. */
	from: number;
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

	const valid = validated(kind, value, validators[kind], formatOf(kind, chain));
	const problems = read.byteOrderMark ? [byteOrderMark(kind), ...valid.problems] : valid.problems;
	return { ...valid, kind, value, problems, readOnly: read.lossy, from, place: read.place };
}

function hasId(kind: FileKind): boolean {
	return kind === "procedure" || kind === "book";
}

function byteOrderMark(kind: FileKind): SchemaProblem {
	return { kind, code: "byte-order-mark", pointer: "", row: null, rowId: null, field: null, data: {} };
}
