import type { InsertRow } from "../model/edits.ts";
import type { Step } from "../model/generated/types.ts";
import { insertedRowId } from "./inserted-row-id.ts";

/** Puts a new row in at a place among the rows, counted from 0; at their number it stands last. */
export function insertRowAt(index: number, row: Omit<Step, "id">, steps: readonly Step[]): InsertRow {
	const before = steps[index - 1]?.id ?? null;
	const taken = steps.map(({ id }) => id);
	const id = insertedRowId(before, steps[index]?.id ?? "end", taken);
	return { op: "insert", step: { ...row, id }, after: before };
}
