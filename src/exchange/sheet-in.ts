import { digestOf } from "../model/digest.ts";
import { isBlank, type StepField } from "../model/fields/reading.ts";
import type { Box, Procedure, Stage, Step, Wear } from "../model/generated/types.ts";
import { slugOf } from "../model/ids.ts";
import { type Problem, problemOf } from "../model/problem.ts";
import type { Shop } from "../model/shop.ts";
import { type Axis, axes } from "../model/situations.ts";
import { mostRows } from "../model/most-rows.ts";
import { formatOf } from "../model/upgrades.ts";
import { label, type Language } from "../model/words.ts";
import {
	addWear,
	boxOfRow,
	claim,
	type ContextSettings,
	type ContextValue,
	emptyContext,
	readAxisValues,
	readContextLines,
	noteExtraction,
	readContextValue,
	readGear,
	type SheetContext,
	settleFilm,
	wearByStage,
} from "./context-in.ts";
import { type Cell, delimiters, type GridLine, namedDelimiter, readGrid } from "./grid.ts";
import { type Column, columnsOf, contextKey, findHeader, headerFields, languageOf } from "./header.ts";
import { isNumbering } from "./numbering.ts";
import { type ReadRow, readRow, type RowCell } from "./row-in.ts";
import { sentence } from "./sentence.ts";

export type { ContextValue } from "./context-in.ts";

/** A sheet as handed in: its text, decoded, and the name of its file. */
export interface SheetInput {
	text: string;
	/** File name, with or without folders and extension; gives the id, and the title where the sheet has none. */
	name: string;
	/** Whose stock, grade scale and film unit the cells are read by. */
	shop: Shop;
	/** Language of the sentences; the cells may be in either. */
	language?: Language;
	/** What the person says that columns hold, by their place from 0. */
	overrides?: Overrides;
}

/** What a person says that columns hold, by their place from 0: fields of a row, or `out` to leave the column out. */
export type Overrides = ReadonlyMap<number, readonly StepField[] | "out">;

/** What became of a column: a field of a row, a part of the context, `id` for the numbering, null where it could not be placed. */
export interface ImportedColumn {
	header: string;
	field: string | null;
}

/** A column as a person sees it who decides what it holds. */
export interface PlacedColumn {
	/** Place in the line, from 0. */
	index: number;
	/** As written; null where the table has no header. */
	header: string | null;
	/** The first different texts below it. */
	samples: string[];
	/** Fields of a row that it feeds; null where it feeds none: then `field` says what it is. */
	fields: StepField[] | null;
	/** As in `ImportedColumn`. */
	field: string | null;
	/** The person left it out. */
	out: boolean;
	/** Its cells and not its header or its place say what it holds. */
	guessed: boolean;
}

/** A text that was not read; it is kept all the same, as `why` says. */
export interface UnreadText {
	/** Data row, from 1; null outside the rows. */
	row: number | null;
	/** Header of its column, or the key of its line, as written. */
	column: string | null;
	text: string;
	why: string;
}

export interface ImportedSheet {
	columns: ImportedColumn[];
	/** The same columns, and those left out, with what a person needs to place them otherwise. */
	placed: PlacedColumn[];
	/** What the sheet says outside its rows, flat; units in the keys. */
	context: Record<string, ContextValue>;
	/** Valid by its schema. */
	procedure: Procedure;
	unread: UnreadText[];
	/** Number of data rows read. */
	rows: number;
	/** Line and character, from 1, where a field of a row (from 0) was read, or would stand; `null` for the whole procedure. */
	placeOf(row: number | null, field: string | null): { line: number; column: number } | null;
	/** Sentences on how something was taken that the sheet does not say outright. */
	notes: string[];
}

/**
 * A sheet as a shop keeps it → a procedure. Separators, header, title and context lines, and what the cells mean are found;
 * what cannot be read stays in the row as typed, in its note or in the notes of the procedure, and is told.
 */
export function importSheet({
	text,
	name,
	shop,
	language = "en",
	overrides,
}: SheetInput): ImportedSheet | { problem: Problem } {
	const table = findTable(text);
	return "problem" in table ? table : readTable(table, { name, shop, language, ...(overrides ? { overrides } : {}) });
}

/** How a table is read. */
export interface TableInput {
	name: string;
	shop: Shop;
	language: Language;
	overrides?: Overrides;
	/** What the columns of a table without a header hold, from the left. */
	columns?: readonly Column[];
	/** What the rows hold already in columns that the table does not have. */
	known?: readonly (Step | undefined)[];
	/** Stages of the rows before them. */
	before?: readonly (Stage | undefined)[];
	/** Ids of the rows that "row 3" names, where the table does not number its own. */
	rowIds?: readonly string[];
}

/** A table → a procedure: what {@link importSheet} does once the table is found. */
export function readTable(table: Table, input: TableInput): ImportedSheet {
	const { shop, language, overrides } = input;
	const written = table.header.map(({ text: header }) => header);
	const ownLanguage = languageOf(
		written.filter((header) => header !== ""),
		shop.book.language ?? language,
	);
	const exact = table.above.some(
		(line) => contextKey(line[0]?.text ?? "")?.key === "format" && /^\d+$/.test(line[1]?.text ?? ""),
	);
	const settings: ContextSettings = { shop, language, ownLanguage, exact };
	const isWhole = exact || input.columns !== undefined;
	const parts = isWhole
		? { above: table.above, units: null, rows: table.below, remarks: [], others: [] }
		: partsOf(table);
	const door = { language: ownLanguage, stock: shop.stock };
	const header = parts.units ? withUnits(table.header, parts.units) : table.header;
	const found = input.columns ?? columnsOf(header, parts.rows, door);
	const all = found.map((column) => ({ ...column, header: table.header[column.index]?.text ?? "" }));
	const columns = all.flatMap((column) => overridden(column, overrides?.get(column.index)) ?? []);

	const context = emptyContext();
	if (table.turned) context.notes.push(sentence("note-turned", {}, language));
	readContextLines(parts.above, context, settings);
	const unread: UnreadText[] = [];
	const rows = ownRows(parts, columns, context, unread, settings);
	return assembled({ rows, all, columns, context, remarks: parts.remarks, unread, input, settings });
}

function overridden(column: Column, override: readonly StepField[] | "out" | undefined): Column | null {
	if (override === undefined) return column;
	if (override === "out") return null;
	const { end: _, ...rest } = column;
	return { ...rest, meaning: { holds: "fields", fields: [...override] } };
}

/** A table as it was found in a text. */
export interface Table {
	above: GridLine[];
	/** Empty where the table has none. */
	header: GridLine;
	below: GridLine[];
	/** The sheet has its fields down the side and one row to a column. */
	turned: boolean;
}

/** The text is empty, or no text at all; null where it may hold a table. */
export function problemOfText(text: string): Problem | null {
	if (text.trim() === "") return problemOf("empty-sheet", null);
	return text.includes("\u0000") || /^(?:PK\u0003\u0004|%PDF|\{\s*")/.test(text)
		? problemOf("not-a-table", null)
		: null;
}

/** The separator that shows the fullest header is the one the sheet is written with. */
export function findTable(text: string): Table | { problem: Problem } {
	const problem = problemOfText(text);
	if (problem !== null) return { problem };
	const named = namedDelimiter(text);
	const candidates = named === undefined ? delimiters : [named];
	let best: { delimiter: string; fields: number } | null = null;
	for (const delimiter of candidates) {
		const fields = findHeader(readGrid(text, delimiter, linesTried))?.fields ?? 0;
		if (fields > (best?.fields ?? 0)) best = { delimiter, fields };
	}
	const turned = candidates.flatMap((delimiter) => turnedTable(readGrid(text, delimiter, linesTried)) ?? []).at(0);
	if (turned && headerFields(turned.header) > Math.max(3, best?.fields ?? 0)) return turned;
	if (best !== null) {
		const lines = readGrid(text, best.delimiter);
		const header = findHeader(lines);
		if (header !== null) {
			const below = lines.slice(header.at + 1);
			if (below.length === 0)
				return { problem: problemOf("no-rows-found", { line: lines[header.at]?.[0]?.line ?? 1 }) };
			return { above: lines.slice(0, header.at), header: lines[header.at] as GridLine, below, turned: false };
		}
	}
	if (turned) return turned;
	const isTable = candidates.some(
		(delimiter) => readGrid(text, delimiter, linesTried).filter((line) => line.length > 1).length > 1,
	);
	return { problem: problemOf(isTable ? "no-header-found" : "not-a-table", null) };
}

const linesTried = 200;
const mostFields = 100;

/** Fields down the first column, one row to a column. */
function turnedTable(lines: readonly GridLine[]): Table | null {
	// A sheet that long has its rows down the side as usual.
	if (lines.length > mostFields) return null;
	const width = lines.reduce((widest, line) => Math.max(widest, line.length), 0);
	if (width < 3 || width > mostRows) return null;
	const side = lines.map((line) => line[0] ?? null);
	const names = (cell: Cell | null) => (cell === null || cell.text === "" ? 0 : headerFields([cell]));
	const first = side.findIndex(
		(cell, at) => names(cell) > 0 && (lines[at]?.filter(({ text }) => text !== "").length ?? 0) > 2,
	);
	if (first < 0) return null;
	const table = lines.slice(first);
	const header = table.map((line) => line[0] ?? { text: "", line: 1, column: 1 });
	if (headerFields(header) < 3) return null;
	const below: GridLine[] = [];
	for (let column = 1; column < width; column += 1) {
		const row = table.map(
			(line) => line[column] ?? { text: "", line: line[0]?.line ?? 1, column: line[0]?.column ?? 1 },
		);
		if (row.some(({ text }) => text !== "")) below.push(row);
	}
	return below.length === 0 ? null : { above: lines.slice(0, first), header, below, turned: true };
}

interface Parts {
	above: GridLine[];
	units: GridLine | null;
	rows: GridLine[];
	/** Totals, remarks and headings between and below the rows. */
	remarks: GridLine[];
	/** What begins with a second title and header. */
	others: GridLine[];
}

function partsOf({ above, header, below }: Table): Parts {
	const parts: Parts = { above, units: null, rows: [], remarks: [], others: [] };
	const fields = headerFields(header);
	const stageAt = header.findIndex(({ text }) => isStageHeader(text));
	let pending: GridLine[] = [];
	for (const [at, line] of below.entries()) {
		if (at === 0 && isUnitsLine(line)) {
			parts.units = line;
			continue;
		}
		if (isHeaderAgain(line, header, fields)) {
			const isSame = sameTexts(line, header) && pending.every((one) => !isTitleLike(one));
			if (isSame) continue;
			parts.others = [...pending, ...below.slice(at)];
			return parts;
		}
		if (isRemark(line, stageAt)) {
			pending.push(line);
			continue;
		}
		if (isOnlyNumbered(line, header)) continue;
		parts.remarks.push(...pending);
		pending = [];
		parts.rows.push(line);
	}
	parts.remarks.push(...pending);
	return parts;
}

function isStageHeader(text: string): boolean {
	const [column] = columnsOf([{ text, line: 1, column: 1 }], [], { language: "en" });
	return column?.meaning?.holds === "fields" && column.meaning.fields[0] === "stage";
}

function isUnitsLine(line: GridLine): boolean {
	const texts = line.map(({ text }) => text).filter((text) => text !== "");
	return (
		texts.length > 0 &&
		texts.every((text) =>
			/^[([]?(?:rpm|opm|spm|n|kg|min|mins|minutes|minutos|x|passes|pasadas|µm|um|mil|mils|micras|mm|ml|m\/s|%|grit|grano|p|#|s|h)[)\]]?$/i.test(
				text,
			),
		)
	);
}

function withUnits(header: GridLine, units: GridLine): GridLine {
	return header.map((cell, at) => {
		const unit = units[at]?.text.replace(/^[([]|[)\]]$/g, "") ?? "";
		return unit === "" || /[([]/.test(cell.text) ? cell : { ...cell, text: `${cell.text} (${unit})` };
	});
}

function isHeaderAgain(line: GridLine, header: GridLine, fields: number): boolean {
	return sameTexts(line, header) || headerFields(line) >= Math.max(3, fields - 1);
}

function sameTexts(line: GridLine, header: GridLine): boolean {
	const key = (one: GridLine) =>
		one
			.map(({ text }) => text.toLowerCase())
			.join("\u0000")
			.replace(/\u0000+$/, "");
	return key(line) === key(header);
}

function isTitleLike(line: GridLine): boolean {
	return line.some(({ text }) => contextKey(/^([^:=]*)[:=]/.exec(text)?.[1] ?? text) !== null);
}

/** Totals, a remark, a heading of some rows: a line that fills no row. */
function isRemark(line: GridLine, stageAt: number): boolean {
	const filled = line.flatMap(({ text }, at) => (text === "" ? [] : [{ text, at }]));
	const [first] = filled;
	if (first === undefined) return true;
	if (/^(?:grand |sub)?-?\s?(?:total(?:s|es)?|sum|suma)\b/i.test(first.text)) return true;
	const keyed = /^([^:=]{1,60}?)\s*[:=]/.exec(first.text)?.[1];
	if (keyed !== undefined && filled.length <= 3 && contextKey(keyed) !== null) return true;
	if (
		/^(?:\*|note\b|notes\b|remarks?\b|nota\b|notas\b|observaci[oó]n|ojo\b|ppe\b|epi\b|written by|escrito por)/i.test(
			first.text,
		) &&
		filled.length <= 2
	)
		return true;
	if (filled.length > 1) return false;
	if (first.at !== stageAt)
		return stageAt >= 0 && !isNumbering(first.text) && (first.at === 0 || first.text.length > 30);
	return first.text.length > 40 || /[.:!]$/.test(first.text);
}

/** A numbered line that was never filled in. */
function isOnlyNumbered(line: GridLine, header: GridLine): boolean {
	const filled = line.flatMap(({ text }, at) => (text === "" || isBlank(text) ? [] : [{ text, at }]));
	if (filled.length === 0) return true;
	const [only] = filled;
	return (
		filled.length === 1 &&
		only !== undefined &&
		isNumbering(only.text) &&
		only.at <= 1 &&
		!/\d/.test(header[only.at]?.text ?? "")
	);
}

/** The rows of the first procedure, at most as many as a procedure holds; the others are told. */
function ownRows(
	parts: Parts,
	columns: readonly Column[],
	context: SheetContext,
	unread: UnreadText[],
	{ language }: ContextSettings,
): GridLine[] {
	const titles: string[] = [];
	const leaveOut = (line: GridLine, code: "other-procedure" | "beyond-most-rows", title = "") => {
		const text = line
			.map((cell) => cell.text)
			.filter((cell) => cell !== "")
			.join("; ");
		unread.push({ row: null, column: null, text, why: sentence(code, { title, most: mostRows }, language) });
	};
	let rows = parts.rows;
	const titleAt = columns.find(({ meaning }) => meaning?.holds === "context" && meaning.key === "title")?.index;
	if (titleAt !== undefined) {
		const titleOf = (line: GridLine) => line[titleAt]?.text ?? "";
		const first = rows.map(titleOf).find((title) => title !== "");
		let current = "";
		const own: GridLine[] = [];
		for (const line of rows) {
			current = titleOf(line) === "" ? current : titleOf(line);
			if (current === "" || current === first) own.push(line);
			else {
				if (!titles.includes(current)) titles.push(current);
				leaveOut(line, "other-procedure", current);
			}
		}
		rows = own;
	}
	if (parts.others.length > 0) {
		const title = titleOfLines(parts.others);
		titles.push(title);
		for (const line of parts.others) leaveOut(line, "other-procedure", title);
	}
	if (titles.length > 0) context.notes.push(sentence("note-other-procedure", { titles: titles.join(", ") }, language));
	if (rows.length > mostRows) {
		context.notes.push(sentence("note-more-rows", { found: rows.length, most: mostRows }, language));
		for (const line of rows.slice(mostRows)) leaveOut(line, "beyond-most-rows");
	}
	return rows.slice(0, mostRows);
}

function titleOfLines(lines: readonly GridLine[]): string {
	const first = lines[0]?.map(({ text }) => text).filter((text) => text !== "") ?? [];
	if (first.length > 2) return "—";
	const key = /^([^:=]*)[:=]\s*(.*)$/.exec(first[0] ?? "");
	return (key?.[2] || first[1] || first[0] || "—").trim();
}

interface Assembly {
	rows: GridLine[];
	/** Every column, those left out too. */
	all: Column[];
	columns: Column[];
	context: SheetContext;
	remarks: GridLine[];
	unread: UnreadText[];
	input: TableInput;
	settings: ContextSettings;
}

function assembled({ rows, all, columns, context, remarks, unread, input, settings }: Assembly): ImportedSheet {
	const texts = settings.exact ? rows : withoutDitto(rows);
	const ids = texts.map((line, at) => rowId(at, line));
	const rowIds = numberedIds(texts, columns, ids, input.rowIds);
	const beside = readContextColumns(texts, columns, context, settings);
	for (const line of remarks) readRemark(line, context, settings);
	settleFilm(context, settings);
	noteExtraction(
		texts.flatMap((line) => line.map(({ text }) => text)),
		context,
	);
	const fed = new Set(columns.flatMap(({ meaning }) => (meaning?.holds === "fields" ? meaning.fields : [])));
	const known = (input.known ?? []).map((step) => step && withoutFields(step, fed));
	const read: ReadRow[] = [];
	const headerWidth = Math.max(
		0,
		...all.map(({ header, index }) => (header === "" && input.columns === undefined ? 0 : index + 1)),
	);
	for (const [at, line] of texts.entries()) {
		const cells = columns.flatMap((column): RowCell[] => {
			const cell = line[column.index];
			if (cell === undefined || cell.text === "" || column.meaning?.holds === "context") return [];
			if (column.meaning?.holds === "number" && isNumbering(cell.text)) return [];
			return [{ column, cell }];
		});
		const before = [...(input.before ?? []), ...read.map(({ step }, place) => step.stage ?? known[place]?.stage)];
		const row = readRow(ids[at] as string, at + 1, withRanges(cells, columns), {
			...settings,
			rowIds,
			before,
			...(known[at] ? { known: known[at] } : {}),
		});
		if (line.some(({ text }, index) => text !== "" && index >= headerWidth))
			row.notes.push(sentence("note-extra-cells", { row: at + 1 }, settings.language));
		const extra = beside.rows[at];
		if (extra) takeBeside(row, extra);
		read.push(row);
		for (const { column, text, why } of row.unread)
			unread.push({ row: at + 1, column: column.header || null, text, why });
		for (const { column, text, why } of extra?.unread ?? [])
			unread.push({ row: at + 1, column: column.header || null, text, why });
	}
	if (beside.wears)
		addWear(
			wearByStage(read.map(({ step }, at) => ({ stage: step.stage, wear: beside.rows[at]?.wear ?? [] }))),
			context,
		);

	const title = context.parts.title;
	const base = baseName(input.name);
	const procedure: Procedure = {
		format: formatOf("procedure"),
		id: slugOf(base) || slugOf(Object.values(title ?? {})[0] ?? "") || "sheet",
		...context.parts,
		title: title ?? { [settings.ownLanguage]: base || "Sheet" },
		steps: read.map(({ step }) => step),
	};
	if (context.kept.length > 0) procedure.notes = { [settings.ownLanguage]: [...new Set(context.kept)].join("\n") };
	return {
		columns: columns.map((column) => ({ header: column.header, field: fieldReported(column, read) })),
		placed: all.map((column) => placedColumn(column, columns, read, texts, input)),
		context: context.said,
		procedure,
		unread: [...context.unread.map((one) => ({ row: null, ...one })), ...unread],
		rows: read.length,
		placeOf: (row, field) => {
			if (row === null) return placed(context.places.get(field ?? ""));
			const line = rows[row];
			const found = field === null ? undefined : (read[row]?.places.get(field) ?? columnCell(line, columns, field));
			return placed(found ?? line?.find(({ text }) => text !== "") ?? line?.[0]);
		},
		notes: [...context.notes, ...read.flatMap(({ notes }) => notes)],
	};
}

/** What a row holds beside the fields that a table feeds. */
function withoutFields(step: Step, fields: ReadonlySet<StepField>): Step {
	return Object.fromEntries(
		Object.entries(step).filter(([field]) => !fields.has(field as StepField)),
	) as unknown as Step;
}

function placedColumn(
	{ index, header, meaning: found }: Column,
	columns: readonly Column[],
	read: readonly ReadRow[],
	rows: readonly GridLine[],
	{ columns: given, overrides }: TableInput,
): PlacedColumn {
	const column = columns.find((one) => one.index === index);
	const texts = rows.map((line) => line[index]?.text ?? "").filter((text) => text !== "");
	const { meaning = null } = column ?? {};
	return {
		index,
		header: given === undefined ? header : null,
		samples: [...new Set(texts)].slice(0, mostSamples),
		fields: meaning?.holds === "fields" ? [...meaning.fields] : null,
		field: column === undefined ? null : fieldReported(column, read),
		out: column === undefined,
		guessed: given === undefined && header === "" && found !== null && !overrides?.has(index),
	};
}

const mostSamples = 3;

/** A line below or between the rows: part of the context where it says so, else a note, never a title. */
function readRemark(line: GridLine, context: SheetContext, settings: ContextSettings): void {
	const filled = line.filter(({ text }) => text !== "");
	const [only] = filled;
	if (filled.length === 1 && only !== undefined && !/[:=]/.test(only.text)) context.kept.push(only.text);
	else readContextLines([line], context, settings);
}

function placed(cell: Cell | undefined): { line: number; column: number } | null {
	return cell === undefined ? null : { line: cell.line, column: cell.column };
}

function columnCell(line: GridLine | undefined, columns: readonly Column[], field: string): Cell | undefined {
	const column = columns.find(
		({ meaning }) => meaning?.holds === "fields" && meaning.fields.includes(field as StepField),
	);
	return column === undefined ? undefined : line?.[column.index];
}

/** Ditto marks stand for the cell above. */
function withoutDitto(rows: readonly GridLine[]): GridLine[] {
	const above: string[] = [];
	return rows.map((line) =>
		line.map((cell, at) => {
			const text = /^(?:["″”]|''|,,|do\.|ditto|[ií]dem|[ií]d\.|same as above|as above|igual que arriba)$/i.test(
				cell.text,
			)
				? (above[at] ?? cell.text)
				: cell.text;
			above[at] = text;
			return text === cell.text ? cell : { ...cell, text };
		}),
	);
}

/** The two columns of a range as one cell: "min rpm" and "max rpm". */
function withRanges(cells: readonly RowCell[], columns: readonly Column[]): RowCell[] {
	if (columns.every(({ end }) => end === undefined)) return [...cells];
	const taken = new Set<RowCell>();
	const joined: RowCell[] = [];
	for (const low of cells.filter(({ column }) => column.end === "low")) {
		const field = firstField(low.column);
		const high = cells.find(({ column }) => column.end === "high" && firstField(column) === field);
		if (high === undefined || isBlank(high.cell.text) || isBlank(low.cell.text)) continue;
		taken.add(low);
		taken.add(high);
		joined.push({ column: low.column, cell: { ...low.cell, text: `${low.cell.text}-${high.cell.text}` } });
	}
	return [...joined, ...cells.filter((one) => !taken.has(one))].toSorted((a, b) => a.column.index - b.column.index);
}

function firstField({ meaning }: Column): StepField | undefined {
	return meaning?.holds === "fields" ? meaning.fields[0] : undefined;
}

interface Beside {
	when: Map<Axis, string[]>;
	wear: Wear[];
	kept: string[];
	unread: { column: Column; text: string; why: string }[];
	places: Map<string, Cell>;
}

/** Columns of the context: what is the same beside every row that says it is of the procedure, what differs of the row. */
function readContextColumns(
	rows: readonly GridLine[],
	columns: readonly Column[],
	context: SheetContext,
	settings: ContextSettings,
): { rows: Beside[]; wears: boolean } {
	const beside: Beside[] = rows.map(() => ({ when: new Map(), wear: [], kept: [], unread: [], places: new Map() }));
	let wears = false;
	for (const column of columns) {
		if (column.meaning?.holds !== "context") continue;
		const { key } = column.meaning;
		const cells = rows.flatMap((line, row) => {
			const cell = line[column.index];
			return cell === undefined || isBlank(cell.text) ? [] : [{ row, cell }];
		});
		const [first] = cells;
		if (first === undefined) continue;
		const isSame = cells.every(({ cell }) => cell.text === first.cell.text);
		const isAxis = (axes as readonly string[]).includes(key);
		if (key === "wear") {
			wears = true;
			for (const { row, cell } of cells) readWearCell(column, cell, beside[row] as Beside, settings);
		} else if (key === "film" || key === "filmLeast") {
			takeFilmColumn(key, column, cells, beside, context, settings);
		} else if (isSame) {
			readContextValue(key, first.cell.text, column.unit, column.header, first.cell, context, settings);
		} else if (isAxis) {
			for (const { row, cell } of cells)
				readAxisCell(key as Axis, column, cell, beside[row] as Beside, context, settings);
		} else for (const { row, cell } of cells) beside[row]?.kept.push(`${column.header}: ${cell.text}`);
	}
	return { rows: beside, wears };
}

/** The first figure of a column of film is the film at the start; the sheet's own estimates below it stay in the notes of their rows. */
function takeFilmColumn(
	key: "film" | "filmLeast",
	column: Column,
	cells: readonly { row: number; cell: Cell }[],
	beside: readonly Beside[],
	context: SheetContext,
	{ language }: ContextSettings,
): void {
	const [first] = cells;
	if (first === undefined) return;
	const isSame = cells.every(({ cell }) => cell.text === first.cell.text);
	const keep = () => {
		for (const { row, cell } of cells) beside[row]?.kept.push(`${column.header}: ${cell.text}`);
	};
	if (!isSame) keep();
	if (!isSame) context.notes.push(sentence("note-film-column", { header: column.header }, language));
	context.places.set("film", context.places.get("film") ?? first.cell);
	context.film.push({
		key,
		text: first.cell.text,
		unit: column.unit,
		written: column.header,
		keep: () => {},
		unread: (code, rest = "") => {
			if (isSame) keep();
			const why = sentence(code, { field: column.header, rest }, language);
			context.unread.push({ column: column.header, text: first.cell.text, why });
		},
	});
}

function readAxisCell(
	axis: Axis,
	column: Column,
	cell: Cell,
	beside: Beside,
	context: SheetContext,
	{ shop, language }: ContextSettings,
): void {
	const { values, open, rest } = readAxisValues(axis, cell.text, shop);
	const doubtful = axis === "defect" || axis === "clearCoat" ? open : [];
	const all = [...new Set([...values, ...(doubtful.length > 0 ? [] : open.flat())])];
	context.places.set("scope", context.places.get("scope") ?? cell);
	if (all.length > 0) {
		claim(axis, all, context);
		beside.when.set(axis, all);
		beside.places.set("when", cell);
	}
	if (all.length > 0 && doubtful.length === 0 && rest.length === 0) return;
	beside.kept.push(`${column.header}: ${cell.text}`);
	const [list] = doubtful;
	const field = column.header;
	const why = list
		? sentence("between", { field, candidates: list.map((one) => label(axis, one, language)).join(", ") }, language)
		: all.length > 0
			? sentence("rest", { rest: rest.join(" ") }, language)
			: sentence("scope-unread", { field }, language);
	beside.unread.push({ column, text: cell.text, why });
}

function readWearCell(column: Column, cell: Cell, beside: Beside, { language }: ContextSettings): void {
	const { wear, rest } = readGear(cell.text);
	beside.wear = wear;
	if (wear.length > 0 && rest.length === 0) return;
	beside.kept.push(`${column.header}: ${cell.text}`);
	const code = wear.length > 0 ? "rest" : "context-unread";
	beside.unread.push({
		column,
		text: cell.text,
		why: sentence(code, { rest: rest.join(" "), field: column.header }, language),
	});
}

function takeBeside({ step, places }: ReadRow, { when, kept, places: cells }: Beside): void {
	if (when.size > 0) {
		const beside = boxOfRow(when);
		step.when = (step.when ?? [{}]).map((box): Box => ({ ...beside, ...box }));
	}
	for (const [field, cell] of cells) if (!places.has(field)) places.set(field, cell);
	if (kept.length > 0) step.note = [...(step.note === undefined ? [] : [step.note]), ...kept].join("\n");
}

function fieldReported({ index, meaning }: Column, rows: readonly ReadRow[]): string | null {
	if (meaning === null || meaning.holds === "other") return null;
	if (meaning.holds === "typed") return meaning.field;
	if (meaning.holds === "number") return "id";
	if (meaning.holds === "context") return meaning.key;
	const became = new Set(rows.map((row) => row.became.get(index)));
	return meaning.fields.find((field) => became.has(field)) ?? meaning.fields[0] ?? null;
}

/** Ten letters out of what the row holds and where it stands, so that the same sheet gives the same procedure. */
function rowId(at: number, line: GridLine): string {
	const digest = digestOf([at, ...line.map(({ text }) => text)]);
	let id = "";
	for (let place = 0; place < 20; place += 2)
		id += String.fromCharCode(97 + (Number.parseInt(digest.slice(place, place + 2), 16) % 26));
	return id;
}

/** Ids by the number the sheet itself gives its rows, which need not be 1, 2, 3; where it gives none, those around it or its own in order. */
function numberedIds(
	rows: readonly GridLine[],
	columns: readonly Column[],
	ids: readonly string[],
	around: readonly string[] = ids,
): string[] {
	const column = columns.find(({ meaning }) => meaning?.holds === "number");
	const numbers = rows.map((line) => Number(/\d+/.exec(line[column?.index ?? -1]?.text ?? "")?.[0]));
	const isNumbered =
		column !== undefined &&
		numbers.every((number) => number > 0 && number < 10_000) &&
		new Set(numbers).size === numbers.length;
	if (!isNumbered) return [...around];
	const byNumber: string[] = [];
	for (const [at, number] of numbers.entries()) byNumber[number - 1] = ids[at] as string;
	return byNumber;
}

function baseName(name: string): string {
	return (name.split(/[\\/]/).at(-1) ?? "")
		.replace(/\.[A-Za-z0-9]{1,5}$/, "")
		.replace(/[_\s]+/g, " ")
		.trim();
}
