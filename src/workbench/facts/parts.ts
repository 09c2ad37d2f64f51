import type { Edit } from "../../model/edits.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { isRecord, pointerParts, pointerTo, valueAt } from "../../model/pointer.ts";
import { same, withMember } from "../../model/same.ts";

/**
 * The edit that sets one part outside the rows, or takes it out where `to` is undefined. Records on the way that are
 * missing are made, and those that end up empty go with it; an element is added by naming the place behind the last.
 * Empty where nothing changes.
 *
 * @throws RangeError where the pointer leads through an element that is not there, or into the rows
 */
export function partEdit(procedure: Procedure, pointer: string, to: unknown): Edit {
	const parts = pointerParts(pointer);
	if (parts.length === 0 || parts[0] === "steps") throw new RangeError(`${pointer} is no part outside the rows`);
	const after = withPart(procedure, parts, to, []) as Procedure;
	const depth = deepestHeld(procedure, after, parts);
	const place = parts.slice(0, depth);
	const [from, set] = [valueAt(procedure, place), valueAt(after, place)];
	if (same(from, set)) return [];
	const at = place.reduce((joined, part) => pointerTo(joined, part), "");
	return [
		{ op: "setPart", pointer: at, ...(from === undefined ? {} : { from }), ...(set === undefined ? {} : { to: set }) },
	];
}

/** The elements of a list part as it stands; none where there is no list. */
export function listAt(procedure: Procedure, pointer: string): readonly unknown[] {
	const value = valueAt(procedure, pointerParts(pointer));
	return Array.isArray(value) ? value : [];
}

/** A list without one of its elements; undefined where none is left, so that the part goes with it. */
export function without(list: readonly unknown[], index: number): unknown[] | undefined {
	const rest = list.toSpliced(index, 1);
	return rest.length === 0 ? undefined : rest;
}

/** A list with one element moved by so many places; the same where that would leave the list. */
export function moved(list: readonly unknown[], index: number, by: -1 | 1): readonly unknown[] {
	const target = index + by;
	if (target < 0 || target >= list.length) return list;
	return list.toSpliced(index, 1).toSpliced(target, 0, list[index]);
}

/**
 * A choice of several values with one put in or taken out: in the order of the vocabulary, values it lacks last.
 * Undefined where nothing is chosen any more.
 */
export function chosen(
	list: readonly unknown[],
	value: string,
	isChosen: boolean,
	vocabulary: readonly string[],
): unknown[] | undefined {
	const others = list.filter((one) => one !== value);
	const wanted = isChosen ? [...others, value] : others;
	const place = (one: unknown) => {
		const index = vocabulary.indexOf(one as string);
		return index === -1 ? vocabulary.length : index;
	};
	return wanted.length === 0 ? undefined : wanted.toSorted((a, b) => place(a) - place(b));
}

/** Records that stay when they are empty: the schema asks for them. */
function isNeeded(path: readonly string[]): boolean {
	return path.length === 1 ? path[0] === "title" : path.length === 3 && path[2] === "text";
}

function withPart(holder: unknown, [part, ...rest]: string[], value: unknown, path: readonly string[]): unknown {
	if (part === undefined) return Array.isArray(value) && value.length === 0 ? undefined : value;
	const here = [...path, part];
	if (Array.isArray(holder)) {
		const index = Number(part);
		if (!/^\d+$/.test(part) || index > holder.length) throw new RangeError(`no element ${part} of ${holder.length}`);
		const element = withPart(holder[index], rest, value, here);
		if (element === undefined) return without(holder, index);
		return index === holder.length ? [...holder, element] : holder.with(index, element);
	}
	// Where the next part is a place in a list that does not exist yet, the list begins.
	if (!isRecord(holder) && part === "0") return withPart([], [part, ...rest], value, path);
	const record = isRecord(holder) ? holder : {};
	const member = withPart(Object.hasOwn(record, part) ? record[part] : undefined, rest, value, here);
	const changed = withMember(record, part, member ?? (isNeeded(here) ? {} : undefined));
	return Object.keys(changed).length === 0 && path.length > 0 ? (isNeeded(path) ? {} : undefined) : changed;
}

/** How far the path can be followed so that everything which holds its last part is there before and after, as long as before. */
function deepestHeld(before: Procedure, after: Procedure, parts: readonly string[]): number {
	for (let depth = 1; depth < parts.length; depth += 1) {
		const path = parts.slice(0, depth);
		const [held, holds] = [valueAt(before, path), valueAt(after, path)];
		const isSameList = Array.isArray(held) && Array.isArray(holds) && held.length === holds.length;
		if (!isSameList && !(isRecord(held) && isRecord(holds))) return depth;
	}
	return parts.length;
}
