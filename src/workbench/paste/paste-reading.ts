import { openParts, type ReadBlock, readBlock } from "../../exchange/block-in.ts";
import { importSheet, type Overrides } from "../../exchange/sheet-in.ts";
import { mostRows } from "../../model/most-rows.ts";
import { headerOf } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";
import type { Procedure } from "../../model/generated/types.ts";
import type { Problem } from "../../model/problem.ts";
import type { Shop } from "../../model/shop.ts";
import type { Language } from "../../model/words.ts";
import { columnOf, type GridColumn, gridColumns } from "../store/columns.ts";
import type { CellPlace } from "../store/state.ts";

/** Where the rows of a block go: over those from the one with the focus on, or in between. */
export type PasteMode = "over" | "insert";

/** A pasted text, and what the person decided about it so far. */
export interface Pasted {
	text: string;
	/** Columns that they say hold something else. */
	overrides: Overrides;
	/** Whether they say that the first line names the columns; null: as it looks. */
	hasHeader: boolean | null;
}

/** A text pasted into a procedure, as read. */
export function readPasted(
	{ text, overrides, hasHeader }: Pasted,
	procedure: Procedure,
	at: CellPlace | null,
	mode: PasteMode,
	columns: readonly GridColumn[],
	shop: Shop,
	language: Language,
): ReadBlock | { problem: Problem } {
	return readBlock({
		text,
		shop,
		language,
		procedure,
		columns: columns.map(({ fields }) => fields),
		startColumn: Math.max(
			0,
			columns.findIndex(({ id }) => id === at?.column),
		),
		over: mode === "over" ? (at?.row ?? null) : null,
		overrides,
		...(hasHeader === null ? {} : { hasHeader }),
	});
}

/** A whole sheet as read, in the same shape, with the procedure it makes. */
export function readSheet(
	{ text, overrides }: Pasted,
	name: string,
	shop: Shop,
	language: Language,
): (ReadBlock & { procedure: Procedure }) | { problem: Problem } {
	const sheet = importSheet({ text, name, shop, language, overrides });
	if ("problem" in sheet) return sheet;
	const { placed, procedure, unread, notes, context } = sheet;
	return {
		columns: placed,
		steps: procedure.steps ?? [],
		unread,
		notes,
		hasHeader: true,
		parts: {},
		context,
		procedure,
	};
}

/** How many rows of a block a procedure has no room for. */
export function beyondRoom(block: ReadBlock, procedure: Procedure, at: CellPlace | null, mode: PasteMode): number {
	const steps = procedure.steps ?? [];
	const from = at === null || mode === "insert" ? -1 : steps.findIndex(({ id }) => id === at.row);
	const targets = from < 0 ? 0 : Math.min(block.steps.length, steps.length - from);
	return Math.max(0, block.steps.length - targets - Math.max(0, mostRows - steps.length));
}

/** Parts of the procedure that a block tells, as named: those it would take, and those the procedure keeps as its own. */
export function partsTold(block: ReadBlock, procedure: Procedure, language: Language): { taken: string; kept: string } {
	const open = openParts(procedure, block.parts);
	const names = (keys: readonly string[]) => keys.map((key) => headerOf(key, language)).join(", ");
	return {
		taken: names(open),
		kept: names(Object.keys(block.parts).filter((key) => !open.some((one) => one === key))),
	};
}

/** What a person can say that a column holds, in the order of the grid: each column of the grid, and each field of a joined one. */
export const choices: readonly (readonly StepField[])[] = gridColumns.flatMap(({ fields }) =>
	fields.length === 1 ? [fields] : [fields, ...fields.map((field) => [field])],
);

/** Fields by their headers: "Backing / Pad". */
export function fieldsInWords(fields: readonly StepField[], language: Language): string {
	return fields.map((field) => headerOf(field, language)).join(" / ");
}

/** The fields that any of the rows fill, in the order of the grid. */
export function filledFields({ steps }: Pick<ReadBlock, "steps">): StepField[] {
	const filled = new Set(steps.flatMap((step) => [...Object.keys(step), ...Object.keys(step.asTyped ?? {})]));
	return gridColumns.flatMap(({ fields }) => fields).filter((field) => filled.has(field));
}

/** Where the selection stands after pasting: from the first cell to the last of the block's rows. */
export function selectionAfter(rows: readonly string[], at: CellPlace | null, block: ReadBlock) {
	const [first, last] = [rows[0], rows.at(-1)];
	if (first === undefined || last === undefined) return null;
	const own = block.columns.flatMap(({ fields, out }) => (out || fields === null ? [] : fields.slice(0, 1)));
	const start = block.hasHeader ? own[0] : (own[0] ?? at?.column);
	const end = own.at(-1) ?? start;
	if (start === undefined || end === undefined) return null;
	return { anchor: { row: first, column: columnOf(start).id }, head: { row: last, column: columnOf(end).id } };
}
