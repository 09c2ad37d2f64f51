import { headerOf } from "../model/fields/columns.ts";
import type { StepField } from "../model/fields/reading.ts";
import type { Procedure } from "../model/generated/types.ts";
import type { Shop } from "../model/shop.ts";
import type { Language } from "../model/words.ts";
import { cellText, doorOf } from "./cell-in.ts";
import { formula } from "./formula.ts";

/** A block of cells to be copied. */
export interface CopiedBlock {
	procedure: Procedure;
	/** Ids of the rows, in the order in which they shall stand. */
	rows: readonly string[];
	/** The fields of each column, from the left. */
	columns: readonly (readonly StepField[])[];
	shop: Shop;
	language: Language;
	/** Whether a line with the columns' names comes first. */
	header: boolean;
}

/**
 * A block of cells → the tab-separated text that spreadsheets paste and that pasting here reads back. A cell that a
 * spreadsheet would take for a formula begins with an apostrophe. Rows that the procedure does not have are left out.
 */
export function blockOut({ procedure, rows, columns, shop, language, header }: CopiedBlock): string {
	const door = doorOf(procedure, null, shop, language);
	const byId = new Map((procedure.steps ?? []).map((step) => [step.id, step]));
	const steps = rows.map((id) => byId.get(id)).filter((step) => step !== undefined);
	const lines = steps.map((step) => columns.map((fields) => cellText(step, fields, door)));
	const names = columns.map((fields) => fields.map((field) => headerOf(field, language)).join(" / "));
	return [...(header ? [names] : []), ...lines].map((cells) => `${cells.map(quoted).join("\t")}\n`).join("");
}

function quoted(text: string): string {
	const safe = formula.test(text) ? `'${text}` : text;
	return /[\t\n\r"]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
