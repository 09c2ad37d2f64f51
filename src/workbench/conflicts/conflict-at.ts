import type { Conflict } from "../../model/merge.ts";

/** The conflict at a cell, or that of its whole row; null where there is none. */
export function conflictAt(conflicts: readonly Conflict[], row: string, field: string): Conflict | null {
	return conflicts.find((one) => one.row === row && (one.field === field || one.field === null)) ?? null;
}
