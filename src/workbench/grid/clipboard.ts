import { blockOut } from "../../exchange/block-out.ts";
import { type Edit, isEmpty } from "../../model/edits.ts";
import { isStepField } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";
import type { Procedure, Step } from "../../model/generated/types.ts";
import { newRowId } from "../../model/ids.ts";
import type { Language } from "../../model/words.ts";
import { columnOf, firstColumns, type GridColumn, gridColumns } from "../store/columns.ts";
import type { CellPlace, Gesture, SheetState } from "../store/state.ts";
import type { Say } from "../words.ts";
import { normal, onlyCell, tableOf } from "./clipboard-text.ts";
import { columnHeader } from "./column-choice.ts";
import { copyOut } from "./copy-out.ts";
import { counted } from "./counted.ts";
import { rowsOf, withRowsOnly } from "./entries.ts";
import { editsInTurn, fillCells, insertRows } from "./row-edits.ts";
import { newRow, numberColumn, type RowView } from "./row-views.ts";
import type { At, Block, Ends } from "./selected.ts";
import type words from "./words.json";

/** What copying and pasting need of the grid. */
interface ClipboardHost {
	readonly state: SheetState;
	readonly language: Language;
	readonly rows: readonly RowView[];
	/** Ids of the columns on screen. */
	readonly columns: readonly string[];
	readonly inUse: ReadonlySet<StepField>;
	/** The cell with the focus. */
	readonly head: At | null;
	say: Say<typeof words>;
	tell(sentence: string): void;
	block(): Block;
	/** @returns whether it went well; else the reason is told */
	change(edit: Edit, gesture: Gesture, to?: Ends): boolean;
	/** @returns whether the rows are gone; else the reason is told */
	remove(rows: readonly string[]): boolean;
	/** Whether the file must not be written; then the reason is told. */
	isReadOnly(): boolean;
	/** @returns whether there is one now */
	openEditor(column: StepField): boolean;
	write(at: CellPlace, text: string): void;
	/** What a text in a cell means. */
	typed(procedure: Procedure, row: string, column: GridColumn, text: string): Edit;
	/** A block that did not come from here. */
	fire(pasted: { text: string; at: CellPlace | null }): void;
}

/** What this grid last put on the clipboard: comes the same text back, its cells are known. */
interface Copied {
	text: string;
	columns: readonly GridColumn[];
	cells: string[][];
	/** Of whole rows: everything in them, and the procedure they are of. */
	whole: { steps: readonly Step[]; procedure: string } | null;
}

/** Copying, cutting and pasting of cells, by keys and by the menu of a row. */
export class GridClipboard {
	readonly #host: ClipboardHost;
	#copied: Copied | null = null;

	constructor(host: ClipboardHost) {
		this.#host = host;
	}

	readonly copy = (event: ClipboardEvent): void => {
		if (this.#isElsewhere(event) || event.clipboardData === null) return;
		const block = this.#host.block();
		const copied = this.#copyOf(block);
		if (copied === null) return;
		event.preventDefault();
		event.clipboardData.setData("text/plain", copied.text);
		event.clipboardData.setData("text/html", copied.table);
		if (event.type === "copy") this.#tellCopied("copied", copied);
		else if (copied.whole === null) {
			const emptied = fillCells(this.#host.state.procedure, block.rows, copied.columns, null);
			if (isEmpty(emptied) || this.#host.change(emptied, "clear")) this.#tellCopied("cut", copied);
		} else if (this.#host.remove(block.rows)) this.#tell("cut-rows", block.rows.length);
	};

	/** The rows of the selection, whole, where no key says so. */
	copyRows(): void {
		const copied = this.#copyOf({ ...this.#host.block(), whole: true });
		if (copied === null) return;
		copyOut(copied.text, copied.table).then(
			() => this.#tellCopied("copied", copied),
			() => {
				this.#host.tell(this.#host.say("not-copied"));
			},
		);
	}

	#tellCopied(how: "copied" | "cut", { cells, columns }: Copied): void {
		const { say } = this.#host;
		const rows = counted(say, "row-count", cells.length);
		this.#host.tell(say(how, { rows, columns: counted(say, "column-count", columns.length) }));
	}

	#tell(key: Parameters<typeof counted>[1], count: number): void {
		this.#host.tell(counted(this.#host.say, key, count));
	}

	/** Whole rows are copied whole: with the columns that are hidden and hold text. Null where nothing is selected. */
	#copyOf(block: Block): (Copied & { table: string }) | null {
		const { shop } = this.#host.state;
		const procedure = withRowsOnly(this.#host.state.procedure);
		const { language } = this.#host;
		const { rows, whole: header } = block;
		const columns = header
			? gridColumns.filter(({ id }) => this.#host.columns.includes(id) || this.#host.inUse.has(id))
			: block.columns;
		if (rows.length === 0 || columns.length === 0) return null;
		const fields = columns.map((column) => column.fields);
		const text = blockOut({ procedure, rows, columns: fields, shop, language, header });
		const cells = rows.map((row) => {
			const view = this.#host.rows.find(({ id }) => id === row);
			return columns.map(({ id }) => view?.cells[id]?.text ?? "");
		});
		const table = tableOf(header ? columns.map((column) => columnHeader(column.fields, language)) : null, cells);
		const steps = rowsOf(procedure).filter(({ id }) => rows.includes(id));
		const whole = header ? { steps, procedure: procedure.id } : null;
		this.#copied = { text: normal(text), columns, cells, whole };
		return { text, columns, cells, whole, table };
	}

	readonly paste = (event: ClipboardEvent): void => {
		if (this.#isElsewhere(event) || event.clipboardData === null) return;
		const text = event.clipboardData.getData("text/plain");
		if (text.trim() === "" || this.#host.head === null) return;
		event.preventDefault();
		this.take(text);
	};

	/** Where a page may not read what was copied, an open field takes it: that is what browsers offer a finger. */
	async pasteFromMenu(): Promise<void> {
		const readText = (globalThis.navigator as Partial<Navigator>).clipboard?.readText;
		const text = await Promise.resolve(readText?.call(navigator.clipboard)).catch(() => undefined);
		if (this.#host.head === null) return;
		if (text !== undefined && text.trim() !== "") this.take(text);
		else if (this.#host.openEditor(this.#writtenColumn())) this.#host.tell(this.#host.say("paste-here"));
	}

	take(text: string): void {
		if (this.#host.head === null || this.#host.isReadOnly()) return;
		const own = this.#copied !== null && normal(text) === this.#copied.text ? this.#copied : null;
		const one = onlyCell(text);
		if (own?.whole && this.#isByRow()) this.#pasteRows(own, own.whole);
		else if (own !== null && own.cells.flat().length > 1) this.#pasteOwn(own);
		else if (one !== null) this.#pasteText(own?.cells[0]?.[0] ?? one);
		else {
			const { row } = this.#host.head;
			const at = row === newRow ? null : { row, column: this.#writtenColumn() };
			this.#host.fire({ text, at });
		}
	}

	/** The column with the focus; where nothing is written in it, the first. */
	#writtenColumn(): StepField {
		const column = this.#host.head?.column ?? "";
		return isStepField(column) ? column : (this.#host.columns.find(isStepField) ?? firstColumns[0] ?? "stage");
	}

	#isElsewhere(event: Event): boolean {
		const target = event.composedPath()[0];
		return !(target instanceof Element) || target.closest(".rows") === null || target instanceof HTMLInputElement;
	}

	/** One text into every selected cell. */
	#pasteText(text: string): void {
		const { rows, columns: selected } = this.#host.block();
		// A whole row is no place for one text.
		const isByNumber = this.#host.head?.column === numberColumn;
		const columns = isByNumber ? [columnOf(this.#writtenColumn())] : selected;
		if (this.#host.head?.row === newRow && isStepField(this.#host.head.column)) {
			this.#host.write({ row: newRow, column: this.#host.head.column }, text);
			return;
		}
		const cells = rows.flatMap((row) => columns.map((column) => ({ row, column, text })));
		if (this.#pasteCells([], cells)) this.#tell("pasted", cells.length);
	}

	/** Whether what is selected is rows, and not cells to write over. */
	#isByRow(): boolean {
		const { head } = this.#host;
		return head?.column === numberColumn || head?.row === newRow || this.#host.block().whole;
	}

	/** Whole rows come back as new ones, after the selected ones. Rows that were cut are the same rows again: what refers to them still does. */
	#pasteRows({ columns, cells }: Copied, { steps, procedure: from }: NonNullable<Copied["whole"]>): void {
		const { procedure } = this.#host.state;
		const order = rowsOf(procedure).map(({ id }) => id);
		const after = this.#host.block().rows.at(-1) ?? order.at(-1) ?? null;
		const freeId = (id: string) => (order.includes(id) ? newRowId(Math.random) : id);
		const added =
			from === procedure.id
				? steps.map((step) => ({ ...step, id: freeId(step.id) }))
				: cells.map(() => ({ id: newRowId(Math.random) }));
		const ids = added.map(({ id }) => id);
		const texts = from === procedure.id ? [] : cellsInto(ids, columns, cells);
		if (this.#pasteCells(insertRows(added, after), texts, firstOf(ids, numberColumn, numberColumn)))
			this.#tell("pasted-rows", ids.length);
	}

	/** What was copied here comes back cell by cell: into its own columns, from the first selected row on. */
	#pasteOwn({ columns, cells }: Copied): void {
		const { procedure } = this.#host.state;
		const order = rowsOf(procedure).map(({ id }) => id);
		const first = this.#host.block().rows[0];
		const from = first === undefined ? order.length : order.indexOf(first);
		const missing = Math.max(0, from + cells.length - order.length);
		const added = Array.from({ length: missing }, () => ({ id: newRowId(Math.random) }));
		const ids = [...order, ...added.map(({ id }) => id)].slice(from, from + cells.length);
		const written = cellsInto(ids, columns, cells);
		const to = firstOf(ids, columns[0]?.id ?? numberColumn, columns.at(-1)?.id ?? numberColumn);
		if (this.#pasteCells(insertRows(added, order.at(-1) ?? null), written, to)) this.#tell("pasted", written.length);
	}

	/** @returns whether it went well */
	#pasteCells(insert: Edit, cells: readonly Written[], to?: Ends): boolean {
		const edit = editsInTurn(this.#host.state.procedure, [
			() => insert,
			...cells.map(
				({ row, column, text }) =>
					(at: Procedure) =>
						this.#host.typed(at, row, column, text),
			),
		]);
		return this.#host.change(edit, "paste", to);
	}
}

/** A text and the cell it goes into. */
interface Written {
	row: string;
	column: GridColumn;
	text: string;
}

function cellsInto(rows: readonly string[], columns: readonly GridColumn[], cells: readonly string[][]): Written[] {
	return cells.flatMap((line, at) =>
		columns.map((column, index) => ({ row: rows[at] ?? "", column, text: line[index] ?? "" })),
	);
}

/** Rows from the last to the first, which has the focus: the view stays where they begin. */
function firstOf(rows: readonly string[], first: string, last: string): Ends {
	return { anchor: { row: rows.at(-1) ?? "", column: last }, head: { row: rows[0] ?? "", column: first } };
}
