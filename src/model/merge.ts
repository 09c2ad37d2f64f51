import { type Cell, withCell } from "./cells.ts";
import { canonicalText } from "./canonical.ts";
import { movedIds, rowsById } from "./edits.ts";
import type { Procedure, Step } from "./generated/types.ts";
import { isRecord, pointerTo } from "./pointer.ts";
import { keysOf, same, withMember } from "./same.ts";

/** One side of a conflict: what stands there; neither member where the place is empty or the row is gone. */
export type Side = Cell;

/** A place that both sides changed, each in its own way. The merged procedure has `mine`. */
export interface Conflict {
	/** `removed-and-changed`: one side took the row out, the other changed or moved it; `order`: the values are lists of row ids. */
	code: "changed-both" | "removed-and-changed" | "order";
	/** Id of the row; null outside the rows. */
	row: string | null;
	/** Field of the row; null for the whole row or outside the rows. */
	field: string | null;
	/** Outside the rows: where. Null in the rows. */
	pointer: string | null;
	base: Side;
	mine: Side;
	theirs: Side;
}

/**
 * Brings together what two sides made of one procedure. Every change of a side is in `merged` or in a conflict,
 * and there `mine` stands. Swapping the sides gives the same procedure but for the conflicts.
 *
 * - Rows are matched by id, then merged field by field; a field and its unread text are one cell; words merge by
 *   language. A value of several parts (a speed, an estimate) is one value.
 * - Two rows stay in the order that a side gave them if it changed that order, else in the order they had. Rows
 *   that only one side has stay behind the row they stood behind there; where both put rows at one place, the
 *   run whose first row id is smaller comes first.
 * - Lists outside the rows merge by element where each side only added and took out elements and not both took
 *   out the same one in exchange for another; otherwise they are one value.
 * - Where the rows of one of the three cannot be told apart by id, `steps` is one value.
 */
export function merge(
	base: Procedure,
	mine: Procedure,
	theirs: Procedure,
): { merged: Procedure; conflicts: Conflict[] } {
	const conflicts: Conflict[] = [];
	const rows = [base, mine, theirs].map(rowsById);
	const [rowsBase, rowsMine, rowsTheirs] = rows;
	if (!rowsBase || !rowsMine || !rowsTheirs) {
		const merged = mergeRecords({ base, mine, theirs }, "", conflicts) as unknown as Procedure;
		return { merged, conflicts };
	}
	const steps = mergeRows({ base: rowsBase, mine: rowsMine, theirs: rowsTheirs }, conflicts);
	const parts = mergeRecords(
		{
			base: withMember(base, "steps", undefined),
			mine: withMember(mine, "steps", undefined),
			theirs: withMember(theirs, "steps", undefined),
		},
		"",
		conflicts,
	) as unknown as Procedure;
	return { merged: { ...parts, steps }, conflicts };
}

interface Three<T> {
	base: T;
	mine: T;
	theirs: T;
}

const sides = ["base", "mine", "theirs"] as const;
type Rows = Three<Map<string, Step>>;

/** What both sides together make of one value; null where each changed it in its own way. */
function settled<T>({ base, mine, theirs }: Three<T>): { value: T } | null {
	if (same(mine, theirs) || same(base, theirs)) return { value: mine };
	return same(base, mine) ? { value: theirs } : null;
}

function map<T, U>({ base, mine, theirs }: Three<T>, to: (one: T) => U): Three<U> {
	return { base: to(base), mine: to(mine), theirs: to(theirs) };
}

/** Records whose members are set independently of each other. */
const separate = new Set(["/scope", "/film", "/film/assumed", "/cure", "/setUp"]);
const languages: ReadonlySet<string> = new Set(["en", "es"]);

function mergeRecords(records: Three<object>, pointer: string, conflicts: Conflict[]): Record<string, unknown> {
	const { base, mine, theirs } = records as Three<Record<string, unknown>>;
	let merged: Record<string, unknown> = {};
	for (const key of new Set([...keysOf(mine), ...keysOf(theirs), ...keysOf(base)])) {
		const values = map({ base, mine, theirs }, (record) => (Object.hasOwn(record, key) ? record[key] : undefined));
		const value = mergePart(values, pointerTo(pointer, key), conflicts);
		if (value !== undefined) merged = withMember(merged, key, value);
	}
	return merged;
}

function mergePart(values: Three<unknown>, pointer: string, conflicts: Conflict[]): unknown {
	const done = settled(values);
	if (done !== null) return done.value;
	const { base, mine, theirs } = values;
	if (isRecord(mine) && isRecord(theirs) && (base === undefined || isRecord(base))) {
		const records = { base: base ?? {}, mine, theirs };
		if (separate.has(pointer) || isWords(records)) return mergeRecords(records, pointer, conflicts);
	}
	const list = mergeLists(values);
	if (list !== null) return list;
	const sides = map(values, (value) => (value === undefined ? {} : { value }));
	conflicts.push({ code: "changed-both", row: null, field: null, pointer, ...sides });
	return mine;
}

function isWords({ base, mine, theirs }: Three<unknown>): boolean {
	return [base, mine, theirs].every((words) => isRecord(words) && keysOf(words).every((key) => languages.has(key)));
}

/** The lists merged by element; null where that is not safe. */
function mergeLists({ base, mine, theirs }: Three<unknown>): unknown[] | null {
	if (!Array.isArray(base) || !Array.isArray(mine) || !Array.isArray(theirs)) return null;
	const elements = new Map<string, unknown>();
	const lists = map({ base, mine, theirs }, (list) =>
		list.map((element) => {
			const key = canonicalText("procedure", element);
			elements.set(key, element);
			return key;
		}),
	);
	const sets = map(lists, (list) => new Set(list));
	if (sets.base.size < base.length || sets.mine.size < mine.length || sets.theirs.size < theirs.length) return null;
	const bothTookOut = lists.base.some((key) => !sets.mine.has(key) && !sets.theirs.has(key));
	const someoneAdded = [...lists.mine, ...lists.theirs].some((key) => !sets.base.has(key));
	if (bothTookOut && someoneAdded) return null;
	const order = mergeOrder(lists);
	if (order === null) return null;
	const kept = order.filter((key) => (sets.base.has(key) ? sets.mine.has(key) && sets.theirs.has(key) : true));
	const merged = kept.map((key) => elements.get(key));
	// Two entries about one thing, one from each side, are a conflict and not a list of two.
	const subjects = merged.map(subjectOf).filter((subject) => subject !== null);
	return new Set(subjects).size < subjects.length ? null : merged;
}

/** What an entry of a keyed list is about: a defect of the scope, a finding accepted; null for any other. */
function subjectOf(element: unknown): string | null {
	if (!isRecord(element)) return null;
	const { defect, rule, step, field } = element;
	if (defect === undefined && rule === undefined) return null;
	return canonicalText("procedure", [defect ?? null, rule ?? null, step ?? null, field ?? null]);
}

function mergeRows(rows: Rows, conflicts: Conflict[]): Step[] {
	const merged = new Map<string, Step>();
	const { base, mine, theirs } = rows;
	const moved = { mine: movedRows(base, mine), theirs: movedRows(base, theirs) };
	for (const id of new Set([...mine.keys(), ...theirs.keys()])) {
		const row = map(rows, (side) => side.get(id));
		const step = mergeRow(id, row, moved, conflicts);
		if (step !== undefined) merged.set(id, step);
	}
	const ids = map(rows, (side) => [...side.keys()]);
	const order = mergeOrder(ids);
	if (order === null) {
		const both = (list: string[]) => list.filter((id) => mine.has(id) && theirs.has(id));
		conflicts.push({
			code: "order",
			row: null,
			field: null,
			pointer: "/steps",
			...map(ids, (list) => ({ value: both(list) })),
		});
	}
	return (order ?? mergeOrder({ ...ids, theirs: ordered(ids.theirs, ids.mine) }) ?? ids.mine).flatMap(
		(id) => merged.get(id) ?? [],
	);
}

/** The rows that one side moved, of those it still has. */
function movedRows(base: Map<string, Step>, side: Map<string, Step>): Set<string> {
	const kept = [...base.keys()].filter((id) => side.has(id));
	return movedIds(
		kept,
		[...side.keys()].filter((id) => base.has(id)),
	);
}

function mergeRow(
	id: string,
	row: Three<Step | undefined>,
	moved: { mine: Set<string>; theirs: Set<string> },
	conflicts: Conflict[],
): Step | undefined {
	const { base, mine, theirs } = row;
	if (mine !== undefined && theirs !== undefined)
		return mergeFields(id, { base: base ?? { id }, mine, theirs }, conflicts);
	const kept = mine ?? theirs;
	if (base === undefined) return kept;
	const touched = mine === undefined ? moved.theirs.has(id) : moved.mine.has(id);
	if (same(kept, base) && !touched) return undefined;
	const sides = map(row, (step) => (step === undefined ? {} : { value: step }));
	conflicts.push({ code: "removed-and-changed", row: id, field: null, pointer: null, ...sides });
	return mine;
}

function mergeFields(id: string, row: Three<Step>, conflicts: Conflict[]): Step {
	const done = settled(row);
	if (done !== null) return done.value;
	// A field and its unread text are one cell, unless a side holds something else where the texts belong.
	const together = sides.every((side) => row[side].asTyped === undefined || isRecord(row[side].asTyped));
	const cells = map(row, (step) => cellsOf(step, together));
	let merged: Step = { id };
	for (const field of new Set(sides.flatMap((side) => [...cells[side].keys()]))) {
		const cell = map(cells, (of) => of.get(field) ?? {});
		const { side, clean } = mergeCell(cell);
		if (!clean) conflicts.push({ code: "changed-both", row: id, field, pointer: null, ...cell });
		merged = withCell(merged, field, side);
	}
	return merged;
}

function cellsOf(step: Step, together: boolean): Map<string, Side> {
	const { id: _, ...fields } = step as unknown as Record<string, unknown>;
	const cells = new Map<string, Side>();
	for (const field of keysOf(fields)) if (!together || field !== "asTyped") cells.set(field, { value: fields[field] });
	if (together && step.asTyped !== undefined)
		for (const field of keysOf(step.asTyped)) cells.set(field, { ...cells.get(field), asTyped: step.asTyped[field] });
	return cells;
}

/** The merged cell; not `clean` where both sides changed it, or one language of its words, each in its own way. */
function mergeCell(cell: Three<Side>): { side: Side; clean: boolean } {
	const done = settled(cell);
	if (done !== null) return { side: done.value, clean: true };
	const words = map(cell, ({ value, asTyped }) => (asTyped === undefined ? (value ?? {}) : null));
	if (cell.mine.value === undefined || cell.theirs.value === undefined || !isWords(words))
		return { side: cell.mine, clean: false };
	const conflicts: Conflict[] = [];
	const value = mergeRecords(words as Three<object>, "", conflicts);
	return { side: { value }, clean: conflicts.length === 0 };
}

/**
 * The order of everything that any side has, what was taken out included; null where the sides' changes of order
 * contradict each other.
 */
function mergeOrder(lists: Three<string[]>): string[] | null {
	const places = map(lists, (list) => new Map(list.map((id, index) => [id, index])));
	const inBoth = commonOrder(
		lists.mine.filter((id) => places.theirs.has(id)),
		places,
	);
	if (inBoth === null) return null;
	// What both took out still marks where others stood.
	const withGone = place(inBoth, [lists.base], (id) => !places.mine.has(id) && !places.theirs.has(id));
	const withBase = place(withGone, [lists.mine, lists.theirs], (id) => places.base.has(id));
	return place(withBase, [lists.mine, lists.theirs], () => true);
}

/** The order of what both sides have: each pair as the side has it that changed it. */
function commonOrder(ids: string[], { base, mine, theirs }: Three<Map<string, number>>): string[] | null {
	const isBefore = (places: Map<string, number>, a: string, b: string) =>
		(places.get(a) as number) < (places.get(b) as number);
	const before = new Map(ids.map((id) => [id, 0]));
	for (const [index, a] of ids.entries()) {
		for (const b of ids.slice(index + 1)) {
			let first = isBefore(mine, a, b);
			if (first !== isBefore(theirs, a, b)) {
				if (!base.has(a) || !base.has(b)) return null;
				first = !isBefore(base, a, b);
			}
			const later = first ? b : a;
			before.set(later, (before.get(later) as number) + 1);
		}
	}
	// Without a contradiction every count of those before occurs once.
	const order = [...ids].toSorted((a, b) => (before.get(a) as number) - (before.get(b) as number));
	return order.every((id, index) => before.get(id) === index) ? order : null;
}

/** Puts the wanted ids of each side behind the id they stand behind there; of two runs at one place the one with the smaller first id first. */
function place(order: string[], sideOrders: string[][], wanted: (id: string) => boolean): string[] {
	const standing = new Set(order);
	const runs = new Map<string | null, string[][]>();
	for (const ids of sideOrders) {
		let anchor: string | null = null;
		let run: string[] | undefined;
		for (const id of ids) {
			if (standing.has(id)) {
				anchor = id;
				run = undefined;
			} else if (wanted(id)) {
				if (run === undefined) {
					run = [];
					runs.set(anchor, [...(runs.get(anchor) ?? []), run]);
				}
				run.push(id);
			}
		}
	}
	const behind = (anchor: string | null) =>
		(runs.get(anchor) ?? []).toSorted(([a = ""], [b = ""]) => (a < b ? -1 : 1)).flat();
	return [...behind(null), ...order.flatMap((id) => [id, ...behind(id)])];
}

/** One list with the ids it shares with another in the order of that one; the others keep their places. */
function ordered(list: string[], like: string[]): string[] {
	const own = new Set(list);
	const other = new Set(like);
	const shared = like.filter((id) => own.has(id));
	return list.map((id) => (other.has(id) ? (shared.shift() as string) : id));
}
