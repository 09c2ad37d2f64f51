import type { Procedure, Step } from "../../model/generated/types.ts";
import { isRecord } from "../../model/pointer.ts";

/** What stands in a place of the list of rows: a row, or something that is none and that the file holds all the same. */
export type Entry = { id: string; step: Step } | { id: string; step: null; found: unknown };

/** Everything in the list of rows, in order. What is no row goes by its place; no id of a step has a hyphen. */
export function entriesOf({ steps }: Procedure): Entry[] {
	const list: unknown = steps;
	if (!Array.isArray(list)) return [];
	return list.map((found: unknown, at) =>
		isRow(found) ? { id: found.id, step: found } : { id: `${notRow}${at}`, step: null, found },
	);
}

/** The rows among them. */
export function rowsOf({ steps }: Procedure): readonly Step[] {
	const list: unknown = steps;
	if (!Array.isArray(list)) return [];
	return list.every(isRow) ? list : list.filter(isRow);
}

/** The procedure with nothing but rows in its list, to be read; the one given where it is so already. */
export function withRowsOnly(procedure: Procedure): Procedure {
	const rows = rowsOf(procedure);
	return rows === procedure.steps ? procedure : { ...procedure, steps: [...rows] as Step[] };
}

/** Whether an id is that of a place in the list where no row stands. */
export function isNotRow(id: string): boolean {
	return id.startsWith(notRow);
}

const notRow = "not-row-";

function isRow(found: unknown): found is Step {
	return isRecord(found) && typeof found.id === "string";
}
