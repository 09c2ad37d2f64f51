import type { InsertRow } from "../model/edits.ts";
import type { Step } from "../model/generated/types.ts";
import { insertedRowId } from "./inserted-row-id.ts";

/** Puts a row that reads the film with a gauge at a place among the rows, counted from 0. */
export function readingRowAt(index: number, steps: readonly Step[]): InsertRow {
	const before = steps[index - 1]?.id ?? null;
	const id = insertedRowId(
		before,
		steps[index]?.id ?? "end",
		steps.map((step) => step.id),
	);
	return { op: "insert", step: { id, stage: "measure", tool: "gauge" }, after: before };
}
