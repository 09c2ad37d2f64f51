import { situationInWords } from "../../check/situation-words.ts";
import { whyInWords } from "../../check/unknown-words.ts";
import type { ForecastReport, WorstEstimate } from "../../check/forecast-report.ts";
import { cellText, doorOf } from "../../exchange/cell-in.ts";
import { isStepField } from "../../model/fields/columns.ts";
import { read } from "../../model/fields/read.ts";
import type { FieldContext, FieldValue, StepField } from "../../model/fields/reading.ts";
import { write } from "../../model/fields/write.ts";
import { type Finding, levels } from "../../model/finding.ts";
import type { Step } from "../../model/generated/types.ts";
import { same } from "../../model/same.ts";
import { filmUnitOf } from "../../model/shop.ts";
import { type FilmUnit, formatFilm, formatNumber } from "../../model/units.ts";
import type { Language } from "../../model/words.ts";
import { columnOf, type GridColumn, gridColumns } from "../store/columns.ts";
import type { SheetState } from "../store/state.ts";
import { type Say, saying } from "../words.ts";
import { entriesOf, rowsOf, withRowsOnly } from "./entries.ts";
import words from "./words.json" with { type: "json" };

/** What one cell shows. Views are compared by value and kept, so that a cell whose view is the same object is the same on screen. */
export interface CellView {
	text: string;
	/** Beside the text, smaller: the interval of a figure. */
	aside: string;
	/** Typed, and not read. */
	unread: boolean;
	/** Gravest first; accepted ones last. */
	findings: readonly Finding[];
	/** Changed here and on disk, and left to decide. */
	conflict: boolean;
	/** More about it, said on demand: the situation of a figure, the readings of a text. */
	detail: string;
}

/** One row: its cells by the id of the column. */
export interface RowView {
	/** Id of the step, or of what stands in its place; `newRow` for the empty last line. */
	id: string;
	cells: Readonly<Record<string, CellView>>;
}

/** Stands for the id of the row that is not yet there. No id of a step has a hyphen. */
export const newRow = "new-row";
/** Id of the column of row numbers. */
export const numberColumn = "number";

/** The computed columns, in order; what is left of the film comes last, where it stays in sight. */
export const figureColumns = ["scratchUm", "removedUm", "minutes", "filmLeftUm"] as const;
export type FigureColumn = (typeof figureColumns)[number];

/** The rows of a Sheet as they are shown; what did not change is the same object as before. */
export class RowViews {
	#rows = new Map<string, KeptRow>();
	#texts = new WeakMap<Step, Texts>();
	/** What decides, beside the rows, how a cell is written and described. */
	#readBy: readonly unknown[] = [];

	/** Every row in order, marked places where the file holds something else, and the empty last line. */
	of(state: SheetState, language: Language): RowView[] {
		const { procedure, readable, shop } = state;
		const readBy = [shop.stock, shop.book, language];
		if (readBy.some((one, at) => one !== this.#readBy[at])) {
			this.#texts = new WeakMap();
			this.#rows = new Map();
		}
		this.#readBy = readBy;

		const say = saying(words, language);
		const steps = rowsOf(procedure);
		const readableAt = new Map((readable.steps ?? []).map((step, at) => [step.id, { step, at }]));
		const marks = marksByRow(state);
		const door = doorOf(withRowsOnly(procedure), null, shop, language);
		const figures = new Figures(state, steps, filmUnitOf(shop), language, say);

		const rows = new Map<string, KeptRow>();
		for (const [at, step] of steps.entries()) {
			const found = readableAt.get(step.id);
			const basis: RowBasis = {
				number: at + 1,
				texts: this.#textsOf(step, found?.step ?? { id: step.id }, door, say),
				marks: marks.get(step.id) ?? noMarks,
				forecast: figures.basisOf(found?.at ?? -1),
			};
			const before = this.#rows.get(step.id);
			if (before !== undefined && sameBasis(before.basis, basis)) rows.set(step.id, before);
			else rows.set(step.id, { basis, view: changed(before, { id: step.id, cells: cellsOf(basis, figures) }) });
		}
		this.#rows = rows;
		// By id: a file that must not be written may hold the same row twice, and the grid takes it once.
		const views = new Map<string, RowView>();
		for (const entry of entriesOf(procedure))
			views.set(entry.id, entry.step === null ? notRow(entry, say) : (rows.get(entry.id) as KeptRow).view);
		return [...views.values(), emptyRow];
	}

	#textsOf(step: Step, readable: Step, door: FieldContext, say: Say<typeof words>): Texts {
		const known = this.#texts.get(step);
		if (known !== undefined && !("ifNot" in known)) return known;
		const texts: Texts = {};
		for (const column of gridColumns)
			if (isFilled(step, column))
				// Only the field that names other rows, by numbers that change when rows move, is written each time.
				texts[column.id] =
					(column.id === "ifNot" ? undefined : known?.[column.id]) ?? textOf(step, readable, column, door, say);
		this.#texts.set(step, texts);
		return texts;
	}
}

/** What a cell shows that holds nothing. */
export const emptyCell: CellView = { text: "", aside: "", unread: false, findings: [], conflict: false, detail: "" };

const emptyRow: RowView = { id: newRow, cells: { [numberColumn]: { ...emptyCell, text: "+" } } };

/** A place where the file holds what is no row: shown as the file has it. */
function notRow({ id, found }: { id: string; found: unknown }, say: Say<typeof words>): RowView {
	const cell = { ...emptyCell, unread: true, detail: say("not-row") };
	const text = JSON.stringify(found);
	return { id, cells: { [numberColumn]: cell, stage: { ...cell, text } } };
}

/** Everything that a row's cells are made from: where it is the same, so are they. */
interface RowBasis {
	number: number;
	texts: Texts;
	marks: RowMarks;
	forecast: ForecastBasis;
}

interface KeptRow {
	basis: RowBasis;
	view: RowView;
}

function sameBasis(a: RowBasis, b: RowBasis): boolean {
	return a.number === b.number && same(a.texts, b.texts) && sameMarks(a.marks, b.marks) && same(a.forecast, b.forecast);
}

function sameMarks(a: RowMarks, b: RowMarks): boolean {
	if (a === b) return true;
	if (a.findings.size !== b.findings.size || a.conflicts.size !== b.conflicts.size) return false;
	for (const [column, findings] of a.findings) if (!same(findings, b.findings.get(column))) return false;
	return [...a.conflicts].every((column) => b.conflicts.has(column));
}

function cellsOf({ number, texts, marks, forecast }: RowBasis, figures: Figures): Record<string, CellView> {
	const cells: Record<string, CellView> = { [numberColumn]: plain(String(number)), ...texts };
	for (const [column, findings] of marks.findings) cells[column] = { ...(cells[column] ?? emptyCell), findings };
	for (const column of marks.conflicts) cells[column] = { ...(cells[column] ?? emptyCell), conflict: true };
	return Object.assign(cells, figures.of(forecast));
}

/** The row with the cells that did not change as they were. */
function changed(before: KeptRow | undefined, { id, cells }: RowView): RowView {
	if (before === undefined) return { id, cells };
	const kept: Record<string, CellView> = {};
	for (const [column, cell] of Object.entries(cells)) {
		const was = before.view.cells[column];
		kept[column] = was !== undefined && sameCell(was, cell) ? was : cell;
	}
	return { id, cells: kept };
}

/** The columns that hold text in some row, or a finding: they are worth showing. */
export function columnsInUse({ procedure, findings }: SheetState): Set<StepField> {
	const fields = new Set<string>();
	for (const step of rowsOf(procedure)) {
		for (const field in step) fields.add(field);
		for (const field in step.asTyped) fields.add(field);
	}
	for (const { rowId, field } of findings) if (rowId !== null && field !== null) fields.add(field);
	return new Set(gridColumns.filter((column) => column.fields.some((field) => fields.has(field))).map(({ id }) => id));
}

/** What a text could mean where it reads several ways, as it would be written. */
export function readingsOf(text: string, fields: readonly StepField[], door: FieldContext): string[] {
	return fields.flatMap((field) => {
		const reading = read(text, { ...door, field });
		return "between" in reading ? reading.between.map((value) => write(value as FieldValue, { ...door, field })) : [];
	});
}

type Texts = Record<string, CellView>;

function plain(text: string): CellView {
	return { ...emptyCell, text };
}

function isFilled(step: Step, { fields }: GridColumn): boolean {
	return fields.some((field) => step[field] !== undefined || step.asTyped?.[field] !== undefined);
}

function textOf(step: Step, readable: Step, column: GridColumn, door: FieldContext, say: Say<typeof words>): CellView {
	const { fields } = column;
	const context = step.tool === undefined ? door : { ...door, tool: step.tool };
	const typed = fields.flatMap((field) => (step[field] === undefined ? (step.asTyped?.[field] ?? []) : []));
	const invalid = fields.filter((field) => step[field] !== undefined && !same(step[field], readable[field]));
	if (invalid.length > 0) {
		// A value that the schema does not allow cannot be written as a cell; it is shown as the file has it.
		const valid = cellText(
			{ ...step, ...Object.fromEntries(invalid.map((field) => [field, undefined])) },
			fields,
			context,
		);
		const raw = invalid.map((field) => {
			const value: unknown = step[field];
			return typeof value === "string" ? value : JSON.stringify(value);
		});
		return { ...emptyCell, text: [valid, ...raw].filter((one) => one !== "").join(", "), unread: true };
	}
	const readings = typed.flatMap((text) => readingsOf(text, fields, context));
	return {
		...emptyCell,
		text: cellText(step, fields, context),
		unread: typed.length > 0,
		detail: readings.length > 0 ? say("readings", { readings: readings.join("; ") }) : "",
	};
}

interface RowMarks {
	/** By column. */
	findings: Map<string, Finding[]>;
	conflicts: Set<string>;
}

const noMarks: RowMarks = { findings: new Map(), conflicts: new Set() };

function marksByRow({ findings, conflicts }: SheetState): Map<string, RowMarks> {
	const rows = new Map<string, RowMarks>();
	const marksOf = (row: string) => {
		const known = rows.get(row) ?? { findings: new Map(), conflicts: new Set() };
		rows.set(row, known);
		return known;
	};
	const columnFor = (field: string | null) =>
		field !== null && isStepField(field) ? columnOf(field).id : numberColumn;
	for (const finding of findings) {
		if (finding.rowId === null) continue;
		const { findings } = marksOf(finding.rowId);
		const column = columnFor(finding.field);
		findings.set(column, [...(findings.get(column) ?? []), finding]);
	}
	for (const { row, field } of conflicts) if (row !== null) marksOf(row).conflicts.add(columnFor(field));
	for (const { findings } of rows.values()) for (const some of findings.values()) some.sort(byGravity);
	return rows;
}

function byGravity(a: Finding, b: Finding): number {
	const rank = ({ accepted, level }: Finding) => (accepted === null ? 0 : levels.length) + levels.indexOf(level);
	return rank(a) - rank(b);
}

/** What the figures of a row are made from. */
interface ForecastBasis {
	row: ForecastReport["rows"][number] | null;
	/** Number of the row that left the deepest scratch, as it stands in the procedure. */
	scratchFrom: number | null;
	/** Why figures are not known. */
	why: Partial<Record<ForecastReport["unknown"][number]["quantity"], ForecastReport["unknown"][number]["why"]>>;
}

/** The computed cells of every row. */
class Figures {
	readonly #rows: ReadonlyMap<number, ForecastReport["rows"][number]>;
	readonly #why = new Map<number | null, ForecastBasis["why"]>();
	readonly #numbers: ReadonlyMap<string, number>;
	readonly #readable: readonly Step[];
	readonly #unit: FilmUnit;
	readonly #language: Language;
	readonly #say: Say<typeof words>;

	constructor(
		{ report, readable }: SheetState,
		steps: readonly Step[],
		unit: FilmUnit,
		language: Language,
		say: Say<typeof words>,
	) {
		this.#rows = new Map(report.rows.map((row) => [row.row, row]));
		for (const { row, quantity, why } of report.unknown) {
			const known = this.#why.get(row) ?? {};
			known[quantity] ??= why;
			this.#why.set(row, known);
		}
		this.#numbers = new Map(steps.map(({ id }, at) => [id, at + 1]));
		this.#readable = readable.steps ?? [];
		this.#unit = unit;
		this.#language = language;
		this.#say = say;
	}

	/** @param at place among the rows that rules and forecast read; -1 for a row they do not */
	basisOf(at: number): ForecastBasis {
		const row = this.#rows.get(at + 1) ?? null;
		const from = row?.scratchFromRow ? this.#readable[row.scratchFromRow - 1]?.id : undefined;
		return {
			row,
			scratchFrom: from === undefined ? null : (this.#numbers.get(from) ?? null),
			why: { ...this.#why.get(null), ...this.#why.get(at + 1) },
		};
	}

	of(basis: ForecastBasis): Record<FigureColumn, CellView> {
		const film = (um: number) => formatFilm(um, this.#unit, this.#language);
		const minutes = (value: number) => formatNumber(value, this.#language, value < 10 ? 1 : 0);
		const scratch = this.#figure("scratchUm", film, basis);
		const { scratchFrom } = basis;
		return {
			scratchUm:
				scratchFrom === null
					? scratch
					: {
							...scratch,
							aside: this.#say("from-row", { interval: scratch.aside, row: scratchFrom }).trim(),
						},
			removedUm: this.#figure("removedUm", film, basis),
			minutes: this.#figure("minutes", minutes, basis),
			filmLeftUm: this.#figure("filmLeftUm", film, basis),
		};
	}

	#figure(quantity: FigureColumn, format: (value: number) => string, { row, why }: ForecastBasis): CellView {
		const estimate: WorstEstimate | null = row?.[quantity] ?? null;
		if (estimate === null) {
			const reason = why[quantity];
			return {
				...emptyCell,
				text: this.#say("unknown"),
				detail: reason === undefined ? "" : whyInWords(reason, this.#language),
			};
		}
		const { mid, low, high, situation } = estimate;
		const [from, to] = [low, high].map((value) => format(value).replace(/ .*$/, ""));
		const worst = situation === undefined ? "" : situationInWords(situation, this.#language);
		return {
			...emptyCell,
			text: format(mid),
			aside: from === to ? "" : `${from}–${to}`,
			detail: worst === "" ? "" : this.#say("worst", { situation: worst }),
		};
	}
}

function sameCell(a: CellView, b: CellView): boolean {
	return (
		a === b ||
		(a.text === b.text &&
			a.aside === b.aside &&
			a.unread === b.unread &&
			a.conflict === b.conflict &&
			a.detail === b.detail &&
			same(a.findings, b.findings))
	);
}
