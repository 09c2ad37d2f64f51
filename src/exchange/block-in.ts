import { mostRows } from "../model/most-rows.ts";
import { withCell } from "../model/cells.ts";
import { type Edit, editBetween } from "../model/edits.ts";
import { type FieldContext, isBlank, type StepField } from "../model/fields/reading.ts";
import { read } from "../model/fields/read.ts";
import type { Procedure, Stage, Step } from "../model/generated/types.ts";
import { newRowId, withRowIds } from "../model/ids.ts";
import { type Problem, problemOf } from "../model/problem.ts";
import type { Shop } from "../model/shop.ts";
import type { Language } from "../model/words.ts";
import { doorOf } from "./cell-in.ts";
import { type GridLine, readGrid } from "./grid.ts";
import { type Column, headerFields, type Meaning } from "./header.ts";
import {
	type ContextValue,
	findTable,
	type Overrides,
	type PlacedColumn,
	problemOfText,
	readTable,
	type Table,
	type UnreadText,
} from "./sheet-in.ts";

/** A block as it comes from the clipboard, and where it is pasted. */
export interface PastedBlock {
	text: string;
	shop: Shop;
	/** Language of the sentences and of the screen. */
	language: Language;
	/** The procedure it is pasted into. */
	procedure: Procedure;
	/** The grid's columns from the left, each with its fields: without a header, a block falls on them from `startColumn` on. */
	columns: readonly (readonly StepField[])[];
	/** Place among them of the leftmost column pasted on. */
	startColumn: number;
	/** Id of the row that the first row of the block overwrites; null where all become new rows. */
	over: string | null;
	/** What the person says that columns hold. */
	overrides?: Overrides;
	/** Whether the first lines hold names of columns; absent: as it looks. */
	hasHeader?: boolean;
}

/** What a block says. */
export interface ReadBlock {
	columns: PlacedColumn[];
	/** The rows, with ids of their own; fields are those of the block alone, not of the rows they overwrite. */
	steps: Step[];
	unread: UnreadText[];
	/** Sentences on how something was taken that the block does not say outright. */
	notes: string[];
	hasHeader: boolean;
	/** Parts of a procedure that lines around the table tell: scope, film, cure … */
	parts: Partial<Procedure>;
	/** The same, flat, for show. */
	context: Record<string, ContextValue>;
}

/**
 * A pasted block → rows. With a header its columns are found as in a sheet. Without one they fall on the columns of the grid,
 * unless their cells clearly are something else. Nothing is lost: a cell that cannot be read stays as typed, a column
 * that nothing places is kept in the notes of its rows.
 */
export function readBlock(block: PastedBlock): ReadBlock | { problem: Problem } {
	const { text, shop, language, procedure, overrides } = block;
	const problem = problemOfText(text);
	if (problem !== null) return { problem };
	const headed = block.hasHeader === false ? { problem: problemOf("no-header-found", null) } : findTable(text);
	const hasHeader = !("problem" in headed) && (block.hasHeader === true || !isRowOfValues(headed, block));
	if (!hasHeader && block.hasHeader === true && "problem" in headed) return headed;
	const lines = hasHeader ? [] : readGrid(text, delimiterOf(text), 0, true);
	const columns = hasHeader ? undefined : placedColumns(lines, block);
	if (columns?.every(({ meaning }) => meaning === null)) return { problem: problemOf("not-a-table", null) };
	const table = hasHeader ? (headed as Table) : { above: [], header: [], below: lines, turned: false };
	const ids = (procedure.steps ?? []).map(({ id }) => id);
	const sheet = readTable(table, {
		name: "",
		shop,
		language,
		...overwritten(block),
		...(columns ? { columns } : {}),
		...(overrides ? { overrides } : {}),
		...(ids.length > 0 ? { rowIds: ids } : {}),
	});
	const { steps = [], format: _format, id: _id, title: _title, ...parts } = sheet.procedure;
	const guessed = new Set(columns?.filter((column) => column.guessed).map(({ index }) => index));
	return {
		columns: sheet.placed.map((column) => ({
			...column,
			guessed: column.guessed || (guessed.has(column.index) && !overrides?.has(column.index)),
		})),
		steps,
		unread: sheet.unread,
		notes: sheet.notes,
		hasHeader,
		parts,
		context: sheet.context,
	};
}

/** Where a block that was read goes, and how. */
export interface BlockPlace {
	procedure: Procedure;
	block: Pick<ReadBlock, "steps" | "columns" | "parts">;
	/** `over`: its columns overwrite those of the rows from `row` on, and what is left becomes new rows; `insert`: all become new rows behind `row`. */
	mode: "over" | "insert";
	/** Id of a row; null: all become new rows, at the end. */
	row: string | null;
	/** Parts of the procedure that the block tells and the procedure does not have are taken too. */
	withParts: boolean;
	/** A source of numbers from 0 up to, but not including, 1, for the ids of new rows. */
	random: () => number;
}

/** The edit that pastes a block; `rows` are the ids of the rows it filled. Rows beyond what a procedure holds are left out. */
export function blockEdit(place: BlockPlace): { edit: Edit; rows: string[] } {
	const { procedure, block, mode, row, random } = place;
	const before = procedure.steps ?? [];
	const at = before.findIndex(({ id }) => id === row);
	const targets = mode === "over" && at >= 0 ? before.slice(at, at + block.steps.length) : [];
	const room = Math.max(0, mostRows - before.length);
	const taken = new Set(before.map(({ id }) => id));
	const kept = block.steps.slice(0, targets.length + room);
	const ids = new Map(kept.map((_, place) => [place, targets[place]?.id ?? freshId(taken, random)]));
	const { steps: renamed } = withRowIds({ steps: kept }, ids);
	const cells = new Set(block.columns.flatMap(({ fields, out }) => (out ? [] : (fields ?? []))));
	const filled = renamed.map((step, place) => {
		const target = targets[place];
		return target === undefined ? step : overwrittenRow(target, step, cells);
	});
	const behind = at < 0 ? before.length : mode === "over" ? at + targets.length : at + 1;
	const isNew = filled.slice(targets.length);
	const steps = [
		...before.slice(0, behind - targets.length),
		...filled.slice(0, targets.length),
		...isNew,
		...before.slice(behind),
	];
	const after = { ...(place.withParts ? withParts(procedure, block.parts) : procedure), steps };
	return { edit: editBetween(procedure, after), rows: filled.map(({ id }) => id) };
}

/** A line that names columns may as well be a row of few words: "Polish, Soft foam". It is one where each cell fits the column it falls on. */
function isRowOfValues(table: Table, block: PastedBlock): boolean {
	if (table.turned || table.above.length > 0 || headerFields(table.header) > 2) return false;
	const door = doorOf(block.procedure, null, block.shop, block.language);
	return table.header.every(({ text }, at) => {
		const fields = block.columns[block.startColumn + at];
		return text === "" || (fields !== undefined && readShare([text], fields, door) > 0);
	});
}

/** Blocks come with tabs; without any, a text of lines that all have as many cells is taken apart, any other is one column. */
function delimiterOf(text: string): string {
	if (text.includes("\t")) return "\t";
	const isEven = (delimiter: string) => {
		const widths = new Set(readGrid(text, delimiter).map((line) => line.length));
		return widths.size === 1 && !widths.has(1) && !widths.has(2);
	};
	return [";", "|", ","].find(isEven) ?? "\t";
}

type BlockColumn = Column & { guessed: boolean };

/** What the columns of a block without a header hold: what they fall on, unless their cells hardly fit it and fit another. */
function placedColumns(lines: readonly GridLine[], block: PastedBlock): BlockColumn[] {
	const door = doorOf(block.procedure, null, block.shop, block.language);
	const width = lines.reduce((widest, line) => Math.max(widest, line.length), 0);
	const placed = Array.from({ length: width }, (_, index) => {
		const texts = lines.map((line) => line[index]?.text ?? "").filter((text) => !isBlank(text));
		const fields = block.columns[block.startColumn + index];
		const share = fields === undefined || texts.length === 0 ? 1 : readShare(texts, fields, door);
		return { index, texts, fields, share };
	});
	const used = new Set(placed.filter(({ share, fields }) => fields && share >= goodShare).map(({ fields }) => fields));
	return placed.map(({ index, texts, fields, share }) => {
		const column = (meant: readonly StepField[] | undefined, guessed: boolean): BlockColumn => {
			const meaning: Meaning | null = meant === undefined ? null : { holds: "fields", fields: [...meant] };
			return { index, header: "", unit: "", meaning, guessed };
		};
		if (texts.length === 0 || (fields !== undefined && share >= goodShare)) return column(fields, false);
		let best: { fields: readonly StepField[]; share: number } | null = null;
		for (const other of block.columns) {
			if (used.has(other) || other.some((field) => anyText.includes(field))) continue;
			const otherShare = readShare(texts, other, door);
			if (otherShare > (best?.share ?? goodShare)) best = { fields: other, share: otherShare };
		}
		const isOther = best !== null && best.share >= (fields === undefined ? 0 : share) + clearlyMore;
		if (!isOther || best === null) return column(fields, false);
		used.add(best.fields);
		return column(best.fields, true);
	});
}

/** Share of its cells that a column must read to be left where it falls, and by how much another must read more. */
const goodShare = 0.5;
const clearlyMore = 0.4;
/** Most cells looked at to place a column. */
const mostTried = 60;
/** Fields that take any text, and so tell nothing. */
const anyText: readonly StepField[] = ["instruction", "padCare", "check", "light", "note"];

/** Share of the texts that read as one of the fields; several readings count half. */
function readShare(texts: readonly string[], fields: readonly StepField[], door: FieldContext): number {
	const tried = texts.slice(0, mostTried);
	const worth = (text: string) =>
		Math.max(
			...fields.map((field) => {
				const reading = read(text, { ...door, field });
				return "value" in reading ? 1 : "between" in reading ? 0.5 : firstWordReads(text, field, door) ? 0.5 : 0;
			}),
		);
	return tried.reduce((sum, text) => sum + worth(text), 0) / tried.length;
}

/** "P1500 film, damp" is a grade with more to it. */
function firstWordReads(text: string, field: StepField, door: FieldContext): boolean {
	const [first = "", ...others] = text.split(/[\s,;]+/);
	return others.length > 0 && "value" in read(first, { ...door, field });
}

/** The rows that a block overwrites, and the stages of those before them. */
function overwritten({ procedure, over }: PastedBlock): { known: Step[]; before: (Stage | undefined)[] } {
	const steps = procedure.steps ?? [];
	const at = over === null ? -1 : steps.findIndex(({ id }) => id === over);
	const before = steps.slice(0, at < 0 ? steps.length : at).map(({ stage }) => stage);
	return { known: at < 0 ? [] : steps.slice(at), before };
}

function overwrittenRow(target: Step, { id: _, asTyped, note, ...values }: Step, cells: ReadonlySet<StepField>): Step {
	let row = target;
	for (const field of cells) row = withCell(row, field, {});
	for (const [field, value] of Object.entries(values)) row = withCell(row, field, { value });
	for (const [field, text] of Object.entries(asTyped ?? {})) row = withCell(row, field, { asTyped: text });
	if (note === undefined) return row;
	const lines = row.note === undefined ? [] : row.note.split("\n");
	return { ...row, note: [...new Set([...lines, ...note.split("\n")])].join("\n") };
}

function freshId(taken: Set<string>, random: () => number): string {
	for (;;) {
		const id = newRowId(random);
		if (taken.has(id)) continue;
		taken.add(id);
		return id;
	}
}

/** Which of the parts that a block tells a procedure takes: those it has nothing of, and the notes, which add to its own. */
export function openParts(procedure: Procedure, parts: Partial<Procedure>): (keyof Procedure)[] {
	return (Object.keys(parts) as (keyof Procedure)[]).filter((name) => name === "notes" || isEmpty(procedure[name]));
}

function withParts(procedure: Procedure, parts: Partial<Procedure>): Procedure {
	const open = openParts(procedure, parts).map((name) => [name, parts[name]]);
	const notes = { ...procedure.notes };
	for (const [language, text] of Object.entries(parts.notes ?? {}) as [Language, string][])
		notes[language] = [...new Set([...(notes[language]?.split("\n") ?? []), ...text.split("\n")])].join("\n");
	return { ...procedure, ...Object.fromEntries(open), ...(parts.notes === undefined ? {} : { notes }) };
}

function isEmpty(part: unknown): boolean {
	if (part === undefined) return true;
	return typeof part === "object" && part !== null && Object.values(part).every(isEmpty);
}
