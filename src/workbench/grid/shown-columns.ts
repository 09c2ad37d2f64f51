import type { StepField } from "../../model/fields/reading.ts";
import { firstColumns, type GridColumn, gridColumns } from "../store/columns.ts";

/** What a person asked for, by column; a column not named is shown where it is one of the first, or in use. */
export type ColumnChoice = Partial<Record<StepField, boolean>>;

/** The writing columns to show, in order. */
export function shownColumns(choice: ColumnChoice, inUse: ReadonlySet<StepField>): GridColumn[] {
	return gridColumns.filter(({ id }) => choice[id] ?? (firstColumns.includes(id) || inUse.has(id)));
}

/** The columns of this browser, kept in its local storage. */
export function readChoice(storage: Storage | null): ColumnChoice {
	try {
		const kept: unknown = JSON.parse(storage?.getItem(key) ?? "{}");
		return typeof kept === "object" && kept !== null ? (kept as ColumnChoice) : {};
	} catch {
		return {};
	}
}

/** A full or forbidden storage costs only the memory of it. */
export function keepChoice(storage: Storage | null, choice: ColumnChoice): void {
	try {
		storage?.setItem(key, JSON.stringify(choice));
	} catch {
		// Kept for as long as the page is open.
	}
}

const key = "gritwright.columns";
