import type { FileKind } from "./canonical.ts";
import type { BookFiles } from "./generated/types.ts";
import type { SchemaError, Validator } from "./generated/validators.d.ts";
import { slugOf } from "./ids.ts";
import { isRecord, pointerParts, pointerTo, valueAt } from "./pointer.ts";

/**
 * A copy of a file with its invalid parts left out, deepest first, until the validator is content.
 *
 * What must not go has a stand-in: the format, id and title of the file, and the id of a row that has none,
 * a malformed one, or that of an earlier row; references to a malformed row id follow it.
 *
 * @param format what stands in for a missing format
 * @param validate the validator of that kind
 */
export function readablePart<K extends FileKind>(
	kind: K,
	value: Record<string, unknown>,
	format: number,
	validate: Validator,
): { readable: BookFiles[K]; pointerInFile(pointer: string): string } {
	const placesInFile: Copy["placesInFile"] = new WeakMap();
	const file = copied(value, placesInFile) as Record<string, unknown>;
	const copy: Copy = { file, value, format, placesInFile, rowIds: new Map(), takenIds: takenIds(value) };
	for (let valid = validate(copy.file); !valid; valid = validate(copy.file)) {
		const perPlace = new Map((validate.errors ?? []).map((error) => [placeKey(error), error]));
		const errors = [...perPlace.values()].map((error) => ({ error, place: pointerParts(error.instancePath) }));
		errors.sort(deepestThenLast);
		for (const { error, place } of errors) leaveOut(kind, copy, error, place);
	}
	if (kind === "procedure") settleRowIds(copy);
	return {
		readable: copy.file as unknown as BookFiles[K],
		pointerInFile: (pointer) => pointerInFile(copy, pointer),
	};
}

interface Copy {
	file: Record<string, unknown>;
	/** The file as read. */
	value: Record<string, unknown>;
	format: number;
	/** For every list of the copy, the place each element has in the file. */
	placesInFile: WeakMap<unknown[], number[]>;
	/** The stand-in of each malformed row id. */
	rowIds: Map<string, string>;
	takenIds: Set<unknown>;
}

function copied(value: unknown, placesInFile: Copy["placesInFile"]): unknown {
	if (Array.isArray(value)) {
		const list = value.map((element) => copied(element, placesInFile));
		placesInFile.set(list, [...list.keys()]);
		return list;
	}
	if (!isRecord(value)) return value;
	return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, copied(member, placesInFile)]));
}

/** One error for each place, or leaving out an element twice would take its neighbour; the file's own parts each count. */
function placeKey({ instancePath, params }: SchemaError): string {
	return instancePath === "" ? ` ${String(params.missingProperty)}` : instancePath;
}

/** Deep places first; in one list from its end, so that the places before it stay true. */
function deepestThenLast(a: { place: string[] }, b: { place: string[] }): number {
	return b.place.length - a.place.length || Number(b.place.at(-1)) - Number(a.place.at(-1)) || 0;
}

function leaveOut(kind: FileKind, copy: Copy, { keyword, params }: SchemaError, place: string[]): void {
	if (place.length === 0) {
		const part = String(params.missingProperty);
		copy.file[part] = standIn(copy, part);
		return;
	}
	const parent = valueAt(copy.file, place.slice(0, -1));
	const last = place.at(-1) as string;
	const found = valueAt(parent, [last]);
	if (found === undefined) return;
	if (keyword === "maxItems") {
		(found as unknown[]).splice((params as { limit: number }).limit);
	} else if (isRowWithoutId(kind, keyword, place)) {
		(found as Record<string, unknown>).id = rowStandIn(copy, Number(last));
	} else if (isRowId(kind, place)) {
		const id = rowStandIn(copy, Number(place[1]));
		if (typeof found === "string" && !copy.rowIds.has(found)) copy.rowIds.set(found, id);
		(parent as Record<string, unknown>).id = id;
	} else if (Array.isArray(parent)) {
		parent.splice(Number(last), 1);
		copy.placesInFile.get(parent)?.splice(Number(last), 1);
	} else Reflect.deleteProperty(parent as object, last);
}

/** @throws RangeError where a schema asks for a part that nothing can stand in for */
function standIn({ value, format }: Copy, part: string): unknown {
	switch (part) {
		case "format":
			return format;
		case "id":
			return slugOf(String(value.id)) || "unnamed";
		case "title":
			return {};
		case "name":
			return "";
		case "events":
			return [];
		default:
			throw new RangeError(`nothing stands in for ${part}`);
	}
}

function isRowWithoutId(kind: FileKind, keyword: string, place: string[]): boolean {
	return kind === "procedure" && keyword === "required" && place.length === 2 && place[0] === "steps";
}

function isRowId(kind: FileKind, place: string[]): boolean {
	return kind === "procedure" && place.length === 3 && place[0] === "steps" && place[2] === "id";
}

/** Ten letters that no row of the file has, always the same for the same row of the same file. */
function rowStandIn({ takenIds }: Copy, row: number): string {
	for (let turn = row; ; turn++) {
		let id = "";
		for (let rest = turn; id.length < 10; rest = Math.floor(rest / 26)) id = String.fromCharCode(97 + (rest % 26)) + id;
		if (takenIds.has(id)) continue;
		takenIds.add(id);
		return id;
	}
}

function takenIds({ steps }: Record<string, unknown>): Set<unknown> {
	return new Set(Array.isArray(steps) ? steps.map((step) => valueAt(step, ["id"])) : []);
}

function settleRowIds(copy: Copy): void {
	const { steps, exceptions } = copy.file as unknown as BookFiles["procedure"];
	const seen = new Set<string>();
	for (const [row, step] of (steps ?? []).entries()) {
		if (seen.has(step.id)) step.id = rowStandIn(copy, row);
		seen.add(step.id);
		const back = copy.rowIds.get(step.ifNot?.back ?? "");
		if (step.ifNot !== undefined && back !== undefined) step.ifNot.back = back;
	}
	for (const exception of exceptions ?? []) {
		const id = copy.rowIds.get(exception.step ?? "");
		if (id !== undefined) exception.step = id;
	}
}

function pointerInFile({ file, placesInFile }: Copy, pointer: string): string {
	let at: unknown = file;
	let inFile = "";
	for (const part of pointerParts(pointer)) {
		inFile = pointerTo(inFile, Array.isArray(at) ? (placesInFile.get(at)?.[Number(part)] ?? part) : part);
		at = valueAt(at, [part]);
	}
	return inFile;
}
