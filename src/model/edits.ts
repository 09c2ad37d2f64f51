import type { Procedure, Step } from "./generated/types.ts";
import { isRecord, pointerParts, pointerTo, unsafeNames, valueAt } from "./pointer.ts";
import { type Problem, type ProblemData, type ProblemPlace, problemOf } from "./problem.ts";
import { keysOf, same, withMember } from "./same.ts";

/** Sets one field of a row; an absent `from` or `to` stands for an absent field. */
export interface SetField {
	op: "set";
	row: string;
	field: string;
	from?: unknown;
	to?: unknown;
}

/** Puts a row in, behind the row `after`; null: at the top. */
export interface InsertRow {
	op: "insert";
	step: Step;
	after: string | null;
}

/** Takes a row out that stands, exactly as given, behind the row `after`. */
export interface RemoveRow {
	op: "remove";
	step: Step;
	after: string | null;
}

/** Takes a row from behind the row `from` and puts it behind the row `after`. */
export interface MoveRow {
	op: "move";
	row: string;
	from: string | null;
	after: string | null;
}

/**
 * Sets a part outside the rows; an absent `from` or `to` stands for an absent part. Elements of a list can be
 * replaced, not added or taken out: then the list is set as a whole. `/steps` itself may be set as a whole,
 * for files whose rows cannot be told apart; nothing below it may.
 */
export interface SetPart {
	op: "setPart";
	pointer: string;
	from?: unknown;
	to?: unknown;
}

export type EditOperation = SetField | InsertRow | RemoveRow | MoveRow | SetPart;

/** A change of a procedure, as data: one gesture. */
export type Edit = readonly EditOperation[];

/**
 * The procedure after an edit; the one given stays as it is, and parts that did not change are shared.
 *
 * `edit-stale` where the procedure is no longer what an operation rests on, `edit-refused` where it reaches for a
 * name such as `__proto__`, for a row id, or into the rows by position. Then nothing of the edit is applied.
 */
export function applyEdit(procedure: Procedure, edit: Edit): { procedure: Procedure } | { problem: Problem } {
	let at = procedure;
	for (const operation of edit) {
		const next = applyOne(at, operation);
		if ("problem" in next) return next;
		at = next.procedure;
	}
	return { procedure: at };
}

/** The edit that takes this one back. */
export function invertEdit(edit: Edit): Edit {
	return edit.map(invertOne).toReversed();
}

/** One edit that does what `first` and then `second` do; what cancels out is gone, so that it may be empty. */
export function joinEdits(first: Edit, second: Edit): Edit {
	const joined: EditOperation[] = [];
	for (const operation of [...first, ...second]) add(joined, operation);
	return joined;
}

/** True where an edit has no operation. */
export function isEmpty(edit: Edit): boolean {
	return edit.length === 0;
}

/**
 * The edit that turns one procedure into the other. Rows are matched by id, and as few rows as possible move.
 * Where the rows of either cannot be told apart by id, `steps` is set as a whole.
 */
export function editBetween(before: Procedure, after: Procedure): Edit {
	const rowsBefore = rowsById(before);
	const rowsAfter = rowsById(after);
	const byRow = rowsBefore !== null && rowsAfter !== null;
	return [...partsBetween(before, after, "", byRow), ...(byRow ? rowsBetween(rowsBefore, rowsAfter) : [])];
}

/** What makes one state of a row of another; its id is that of `before`. */
export function fieldsBetween(before: Step, after: Step): SetField[] {
	if (before === after) return [];
	const fields = new Set([...Object.keys(before), ...Object.keys(after)]);
	return [...fields].flatMap((field) => {
		const [from, to] = [ownMember(before, field), ownMember(after, field)];
		return same(from, to) ? [] : [{ op: "set" as const, row: before.id, field, ...fromTo(from, to) }];
	});
}

/** The rows of a procedure by id, in order; null where there is no list of rows or not every row has its own id. */
export function rowsById(procedure: Procedure): Map<string, Step> | null {
	const steps: unknown = procedure.steps;
	if (!Array.isArray(steps)) return null;
	const rows = new Map<string, Step>();
	for (const step of steps) {
		if (!isRecord(step) || typeof step.id !== "string" || rows.has(step.id)) return null;
		rows.set(step.id, step as unknown as Step);
	}
	return rows;
}

/** Which of `kept` have to move to come from one order into the other, the fewest there are. Both orders hold the same ids. */
export function movedIds(before: readonly string[], after: readonly string[]): Set<string> {
	const placeAfter = new Map(after.map((id, index) => [id, index]));
	const places = before.map((id) => placeAfter.get(id) as number);
	const staying = longestRising(places);
	return new Set(before.filter((_, index) => !staying.has(index)));
}

function applyOne(procedure: Procedure, operation: EditOperation): { procedure: Procedure } | { problem: Problem } {
	if (operation.op === "setPart") return setPart(procedure, operation);
	const steps: unknown = procedure.steps;
	const id = "row" in operation ? operation.row : isRecord(operation.step) ? operation.step.id : undefined;
	const stale = (data: ProblemData = {}) => ({ problem: problemOf("edit-stale", rowPlace(operation, id), data) });
	if (!Array.isArray(steps) || typeof id !== "string") return stale();
	const index = indexOf(steps, id);
	const withSteps = (changed: Step[]) => ({ procedure: { ...procedure, steps: changed } });

	if (operation.op === "insert") {
		const behind = behindOf(steps, operation.after);
		if (index !== -1 || behind === null) return stale();
		return withSteps([...steps.slice(0, behind), operation.step, ...steps.slice(behind)]);
	}
	if (index === -1) return stale();
	const step = steps[index] as Step;
	if (operation.op === "set") {
		const { field, from, to } = operation;
		if (unsafeNames.has(field) || field === "id")
			return { problem: problemOf("edit-refused", rowPlace(operation, id), { name: field }) };
		if (!same(ownMember(step, field), from)) return stale({ field });
		return withSteps(steps.with(index, withMember(step, field, to)));
	}
	const rest = [...steps.slice(0, index), ...steps.slice(index + 1)];
	const before = index === 0 ? null : idOf(steps[index - 1]);
	if (operation.op === "remove")
		return same(step, operation.step) && before === operation.after ? withSteps(rest) : stale();
	const behind = behindOf(rest, operation.after);
	if (before !== operation.from || behind === null) return stale();
	return withSteps([...rest.slice(0, behind), step, ...rest.slice(behind)]);
}

function rowPlace(operation: EditOperation, id: unknown): ProblemPlace {
	const place: ProblemPlace = typeof id === "string" ? { row: id } : {};
	return operation.op === "set" ? { ...place, field: operation.field } : place;
}

function setPart(
	procedure: Procedure,
	{ pointer, from, to }: SetPart,
): { procedure: Procedure } | { problem: Problem } {
	const parts = pointerParts(pointer);
	const refused =
		parts.length === 0 || (parts[0] === "steps" && parts.length > 1) || parts.some((part) => unsafeNames.has(part));
	if (refused) return { problem: problemOf("edit-refused", { pointer }, { name: pointer }) };
	const stale = { problem: problemOf("edit-stale", { pointer }) };
	if (!same(valueAt(procedure, parts), from)) return stale;
	const changed = withPart(procedure, parts, to);
	return changed === null ? stale : { procedure: changed as Procedure };
}

/** A copy with one part set or taken out; null where there is nothing to hold it. */
function withPart(holder: unknown, [part, ...rest]: string[], value: unknown): unknown {
	if (part === undefined) return value;
	if (Array.isArray(holder)) {
		if (!/^\d+$/.test(part) || !Object.hasOwn(holder, part) || (rest.length === 0 && value === undefined)) return null;
		const element = withPart(holder[Number(part)], rest, value);
		return element === null && rest.length > 0 ? null : holder.with(Number(part), element);
	}
	if (!isRecord(holder)) return null;
	if (rest.length === 0) return withMember(holder, part, value);
	const member = withPart(ownMember(holder, part), rest, value);
	return member === null ? null : withMember(holder, part, member);
}

function ownMember(record: object, key: string): unknown {
	return Object.hasOwn(record, key) ? (record as Record<string, unknown>)[key] : undefined;
}

function idOf(step: unknown): unknown {
	return isRecord(step) ? step.id : undefined;
}

function indexOf(steps: readonly unknown[], id: string): number {
	return steps.findIndex((step) => idOf(step) === id);
}

/** The index at which a row behind `after` stands; null where there is no such row. */
function behindOf(steps: readonly unknown[], after: string | null): number | null {
	if (after === null) return 0;
	const index = indexOf(steps, after);
	return index === -1 ? null : index + 1;
}

function invertOne(operation: EditOperation): EditOperation {
	switch (operation.op) {
		case "set":
		case "setPart": {
			const { from, to, ...rest } = operation;
			return { ...rest, ...fromTo(to, from) };
		}
		case "insert":
			return { ...operation, op: "remove" };
		case "remove":
			return { ...operation, op: "insert" };
		case "move":
			return { ...operation, from: operation.after, after: operation.from };
	}
}

/** `from` and `to` as members, absent ones left out, so that an edit is the same after a trip through JSON. */
function fromTo(from: unknown, to: unknown): { from?: unknown; to?: unknown } {
	return { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) };
}

function add(joined: EditOperation[], operation: EditOperation): void {
	const last = joined.at(-1);
	if (last !== undefined && same(last, invertOne(operation))) {
		joined.pop();
		return;
	}
	if (operation.op === "set" || operation.op === "setPart") {
		if (same(operation.from, operation.to)) return;
		const index = joined.findLastIndex((one) => !leavesAlone(one, operation));
		const before = joined[index];
		if (before === undefined || !isSameCell(before, operation) || !same(before.to, operation.from))
			joined.push(operation);
		else if (same(before.from, operation.to)) joined.splice(index, 1);
		else {
			const { from: _from, to: _to, ...cell } = operation;
			joined[index] = { ...cell, ...fromTo(before.from, operation.to) } as EditOperation;
		}
	} else if (
		operation.op === "move" &&
		last?.op === "move" &&
		last.row === operation.row &&
		last.after === operation.from
	) {
		joined.pop();
		if (last.from !== operation.after) joined.push({ ...operation, from: last.from });
	} else if (operation.op !== "move" || operation.from !== operation.after) joined.push(operation);
}

/** True where an operation neither reads nor writes what a later `set` or `setPart` does, so that they may change places. */
function leavesAlone(one: EditOperation, later: SetField | SetPart): boolean {
	if (later.op === "set") {
		if (one.op === "set") return one.row !== later.row || one.field !== later.field;
		if (one.op === "setPart") return one.pointer !== "/steps";
		return one.op === "move" || one.step.id !== later.row;
	}
	if (one.op !== "setPart") return later.pointer !== "/steps";
	return !`${one.pointer}/`.startsWith(`${later.pointer}/`) && !`${later.pointer}/`.startsWith(`${one.pointer}/`);
}

function isSameCell(one: EditOperation, later: SetField | SetPart): one is SetField | SetPart {
	if (later.op === "set") return one.op === "set" && one.row === later.row && one.field === later.field;
	return one.op === "setPart" && one.pointer === later.pointer;
}

/** Records are compared inside, everything else as a whole; the rows only where they cannot be matched by id. */
function partsBetween(before: unknown, after: unknown, pointer: string, byRow: boolean): EditOperation[] {
	if (same(before, after) || (pointer === "/steps" && byRow)) return [];
	if (!isRecord(before) || !isRecord(after)) return [{ op: "setPart", pointer, ...fromTo(before, after) }];
	const keys = new Set([...keysOf(before), ...keysOf(after)]);
	return [...keys].flatMap((key) =>
		partsBetween(ownMember(before, key), ownMember(after, key), pointerTo(pointer, key), byRow),
	);
}

function rowsBetween(before: Map<string, Step>, after: Map<string, Step>): EditOperation[] {
	const operations: EditOperation[] = [];
	const order = [...before.keys()];
	const behind = (id: string) => order[order.indexOf(id) - 1] ?? null;
	const take = (id: string) => order.splice(order.indexOf(id), 1);
	for (const [id, step] of before) {
		if (after.has(id)) continue;
		operations.push({ op: "remove", step, after: behind(id) });
		take(id);
	}
	const moving = movedIds(
		order,
		[...after.keys()].filter((id) => before.has(id)),
	);
	// Left to right through the rows as they shall be: all before the present one already stand in their order.
	let previous: string | null = null;
	for (const [id, step] of after) {
		if (!before.has(id)) operations.push({ op: "insert", step, after: previous });
		if (moving.has(id)) {
			operations.push({ op: "move", row: id, from: behind(id), after: previous });
			take(id);
		}
		if (!before.has(id) || moving.has(id)) order.splice(previous === null ? 0 : order.indexOf(previous) + 1, 0, id);
		previous = id;
	}
	for (const [id, step] of before) operations.push(...fieldsBetween(step, after.get(id) ?? step));
	return operations;
}

/** The indexes of a longest rising subsequence of distinct numbers. */
function longestRising(numbers: readonly number[]): Set<number> {
	/** For each length the index of the smallest number that ends a rise of that length. */
	const ends: number[] = [];
	const before: (number | undefined)[] = [];
	for (const [index, number] of numbers.entries()) {
		let length = ends.findIndex((end) => (numbers[end] as number) > number);
		if (length === -1) length = ends.length;
		before[index] = ends[length - 1];
		ends[length] = index;
	}
	const rising = new Set<number>();
	for (let index = ends.at(-1); index !== undefined; index = before[index]) rising.add(index);
	return rising;
}
