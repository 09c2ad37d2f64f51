import type { CellFocusedEvent, ColDef, ColGroupDef, GridApi, RowDragEndEvent } from "ag-grid-community";
import { html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { blockOut } from "../../exchange/block-out.ts";
import { doorOf, editForText } from "../../exchange/cell-in.ts";
import { applyEdit, type Edit, isEmpty, joinEdits } from "../../model/edits.ts";
import { headerOf, isStepField } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";
import type { Level } from "../../model/finding.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { newRowId } from "../../model/ids.ts";
import { sayProblem } from "../../model/problem.ts";
import { same } from "../../model/same.ts";
import { stockItem } from "../../model/shop.ts";
import type { Language } from "../../model/units.ts";
import { label } from "../../model/words.ts";
import { sayer } from "../../rules/sayer.ts";
import { columnOf, type GridColumn, gridColumns } from "../store/columns.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import type { CellPlace, Gesture, Selection, SheetState } from "../store/state.ts";
import { levelMarks } from "../style/marks.ts";
import { controls } from "../style/tokens.ts";
import { type Say, saying } from "../words.ts";
import { CellEditor, type Offer, type Onward } from "./cell-editor.ts";
import { Cell, type CellsContext } from "./cell-renderer.ts";
import { gridStyle } from "./grid-style.ts";
import { commandOf, type GridCommand } from "./keys.ts";
import { headerHeightPx, openGrid, rowHeightPx } from "./library.ts";
import {
	type CellView,
	columnsInUse,
	emptyCell,
	type FigureColumn,
	figureColumns,
	newRow,
	numberColumn,
	readingsOf,
	type RowView,
	RowViews,
} from "./row-views.ts";
import { duplicateRows, editsInTurn, fillCells, insertRows, moveRows, oneFurther, removeRows } from "./row-edits.ts";
import { type ColumnChoice, keepChoice, readChoice, shownColumns } from "./shown-columns.ts";
import { suggestionsFor } from "./suggestions.ts";
import words from "./words.json" with { type: "json" };

/** A cell on screen, of any column and of the new row too. */
interface At {
	row: string;
	column: string;
}

/** What the selection covers: rows of the procedure, and columns a person writes in. */
interface Block {
	rows: string[];
	columns: GridColumn[];
	/** Every column of the rows. */
	whole: boolean;
}

/** What this grid last put on the clipboard: comes the same text back, its cells are known. */
interface Copied {
	text: string;
	columns: readonly GridColumn[];
	cells: string[][];
}

/**
 * The rows of a procedure, to read and to write. Everything a person does becomes one edit of the store.
 *
 * @fires gw-paste a block that did not come from here: `{ text, at }`
 */
@customElement("gw-grid")
export class GwGrid extends LitElement {
	static override styles = [controls, gridStyle];

	@property({ attribute: false }) store: SheetStore | null = null;
	@property() language: Language = "en";

	/** Sentence of what was just done, said politely. */
	@state() protected told = "";
	/** What there is to say of the cell that has the focus. */
	@state() protected about = "";
	@state() protected choice: ColumnChoice = readChoice(localStorage);
	@query(".rows") protected rowsElement!: HTMLElement;
	@query(".offers") protected offersElement!: HTMLElement;
	@query(".menu") protected menuElement!: HTMLElement;
	@query(".columns") protected columnsElement!: HTMLElement;

	#api: GridApi<RowView> | null = null;
	#unsubscribe: (() => void) | null = null;
	#followed: SheetStore | null = null;
	readonly #views = new RowViews();
	/** Every row as it is now, and as the grid last had it. */
	#rows: RowView[] = [];
	#shown: RowView[] = [];
	/** Ids of the columns on screen, from the left. */
	#columns: string[] = [];
	#columnsFor: unknown[] = [];
	#inUse = new Set<StepField>();
	#anchor: At | null = null;
	#head: At | null = null;
	/** The selection as the store was last told. */
	#stored: Selection | null = null;
	#editor: { editor: CellEditor; at: CellPlace; opened: string } | null = null;
	#copied: Copied | null = null;
	/** The grid has moved rows about by itself, and must be given their order again. */
	#isOrderLoose = false;
	#isLeaving = false;
	/** The finger is on a cell that was selected already: the next tap edits it. */
	#isSecondTap = false;
	#isDragging = false;
	#menuRow: string | null = null;
	readonly #cells = new Set<Cell>();
	readonly #keepText = () => this.#editor?.editor.keep();

	/** Brings a cell into view and gives it the focus; its column is shown from now on where it was hidden. With no field, the row. */
	goTo(row: string, field: string | null): void {
		if (this.#isOpening(() => this.goTo(row, field))) return;
		if (!this.#rows.some(({ id }) => id === row)) return;
		const column = field !== null && isStepField(field) ? columnOf(field).id : numberColumn;
		if (!this.#columns.includes(column)) {
			this.#choose({ [column]: true });
			this.#sync();
		}
		const at = { row, column };
		this.#select(at, at);
	}

	/** Gives the focus to the selected cell, or to the first. */
	override focus(): void {
		if (this.#isOpening(() => this.focus())) return;
		const head = this.#head ?? this.#firstCell();
		this.#select(this.#anchor ?? head, head);
	}

	override connectedCallback(): void {
		super.connectedCallback();
		globalThis.addEventListener("pagehide", this.#keepText);
		this.addEventListener("copy", this.#copy);
		this.addEventListener("cut", this.#copy);
		this.addEventListener("paste", this.#paste);
		this.requestUpdate();
	}

	override disconnectedCallback(): void {
		super.disconnectedCallback();
		this.#keepText();
		globalThis.removeEventListener("pagehide", this.#keepText);
		this.removeEventListener("copy", this.#copy);
		this.removeEventListener("cut", this.#copy);
		this.removeEventListener("paste", this.#paste);
		this.#unsubscribe?.();
		this.#unsubscribe = null;
		this.#followed = null;
		this.#api?.destroy();
		this.#api = null;
	}

	protected override willUpdate(changed: PropertyValues<this>): void {
		if (this.store === null || !this.isConnected) return;
		if (this.store !== this.#followed) {
			this.#unsubscribe?.();
			this.#followed = this.store;
			this.#unsubscribe = this.store.subscribe(() => this.#sync());
			this.#stored = null;
			this.#anchor = null;
			this.#head = null;
		}
		if (this.#api === null || changed.has("store") || changed.has("language")) {
			this.#read();
			this.#tellAbout();
		}
	}

	protected override updated(changed: PropertyValues<this>): void {
		if (this.store === null || !this.isConnected) return;
		if (this.#api === null) this.#open();
		else if (changed.has("store") || changed.has("language")) this.#show();
	}

	protected override render() {
		if (this.store === null) return nothing;
		const say = this.#say;
		const button = (command: GridCommand, text: keyof typeof words, sign: string) => html`
			<button type="button" @click=${() => this.#press(command)}>
				<span aria-hidden="true">${sign}</span>${say(text)}
			</button>
		`;
		const hidden = gridColumns.filter(({ id }) => this.#inUse.has(id) && this.choice[id] === false);
		return html`
			<section aria-label=${say("rows")}>
				<div class="bar" role="group" aria-label=${say("row-tools")}>
					${button("insert-below", "insert", "+")} ${button("duplicate", "duplicate", "2×")}
					${button("move-up", "move-up", "↑")} ${button("move-down", "move-down", "↓")}
					${button("fill", "fill", "⤓")} ${button("delete", "delete", "✕")}
					<button type="button" class="apart" aria-haspopup="dialog" @click=${this.#openColumns}>${say("columns")}…</button>
				</div>
				${
					hidden.length === 0
						? nothing
						: html`<p class="hidden-columns">
								${say("hidden-columns", { columns: hidden.map((column) => this.#header(column)).join(", ") })}
							</p>`
				}
				<div
					class="rows"
					@keydown=${{ handleEvent: this.#key, capture: true }}
					@pointerdown=${this.#point}
					@pointermove=${this.#pull}
					@pointerup=${this.#release}
					@click=${this.#tap}
					@dblclick=${this.#doubleClick}
					@contextmenu=${this.#contextMenu}
				></div>
				<div class="foot">
					<p>${this.about === "" && this.#rows.length === 1 ? say("no-rows") : this.about}</p>
					<p role="status">${this.told}</p>
				</div>
				<ul class="offers" id="offers" role="listbox" popover="manual" aria-label=${say("suggestions")}></ul>
				<div class="menu" role="menu" popover="auto" aria-label=${say("row-tools")} @keydown=${this.#menuKey} @toggle=${this.#menuToggled}>
					${menuCommands.map(
						(command) => html`
							<button type="button" role="menuitem" tabindex="-1" @click=${() => this.#pressInMenu(command)}>
								${say(command)}
							</button>
						`,
					)}
				</div>
				<div class="columns" role="dialog" aria-label=${say("columns-shown")} popover="auto">
					<fieldset>
						<legend>${say("columns-shown")}</legend>
						${gridColumns.map((column) => this.#columnChoice(column))}
					</fieldset>
				</div>
			</section>
		`;
	}

	get #say(): Say<typeof words> {
		return saying(words, this.language);
	}

	get #state(): SheetState {
		if (this.store === null) throw new RangeError("the grid has no store yet");
		return this.store.state;
	}

	#header({ fields }: GridColumn): string {
		return fields.map((field) => headerOf(field, this.language)).join(" / ");
	}

	#columnChoice(column: GridColumn) {
		const isShown = this.#columns.includes(column.id);
		return html`
			<label>
				<input
					type="checkbox"
					.checked=${isShown}
					@change=${(event: Event) => {
						this.#choose({ [column.id]: (event.target as HTMLInputElement).checked });
						this.#sync();
					}}
				/>
				<span>
					${this.#header(column)}
					${this.#inUse.has(column.id) ? html`<small>(${this.#say("holds-text")})</small>` : nothing}
				</span>
			</label>
		`;
	}

	#choose(some: ColumnChoice): void {
		this.choice = { ...this.choice, ...some };
		keepChoice(localStorage, this.choice);
	}

	/** Whether the rows are yet to come; what was asked for is done then. */
	#isOpening(then: () => void): boolean {
		if (this.#api !== null) return false;
		if (this.store !== null && this.isConnected) void this.updateComplete.then(then);
		return true;
	}

	// What is shown

	#open(): void {
		this.#fitHeight();
		this.#shown = this.#rows;
		this.#columnsFor = [this.language, ...this.#columns];
		this.#api = openGrid(this.rowsElement, {
			context: this.#context,
			columnDefs: this.#columnDefs(),
			rowData: this.#rows,
			getRowId: ({ data }) => data.id,
			rowDragText: ({ rowNode }) => `${this.#say("row")} ${rowNode?.data?.cells[numberColumn]?.text ?? ""}`,
			tabToNextCell: () => false,
			focusGridInnerElement: () => {
				this.focus();
				return true;
			},
			onCellFocused: this.#focused,
			onRowDragEnd: this.#dropped,
			onRowDragCancel: () => this.#takeOrderBack(),
			onRowDragLeave: () => this.#takeOrderBack(),
			onBodyScroll: () => this.#editor?.editor.hideOffers(),
			defaultColDef: {
				sortable: false,
				resizable: true,
				cellDataType: false,
				cellRenderer: Cell,
				equals: (a: unknown, b: unknown) => a === b,
				suppressKeyboardEvent: ({ event }) => event.target instanceof HTMLInputElement,
			},
		});
		const grid = this.rowsElement.querySelector("[role=grid], [role=treegrid]");
		grid?.setAttribute("aria-label", this.#say("rows"));
		grid?.setAttribute("aria-multiselectable", "true");
		this.#takeSelection(this.#state.selection);
		// What was typed there is the first thing to happen on the new page, not a part of showing it.
		void this.updateComplete.then(() => this.#takeUp());
	}

	/** Opens the editor again that was open when the page closed. */
	#takeUp(): void {
		const open = this.store?.openCell ?? null;
		if (open === null || this.#editor !== null || !this.#rows.some(({ id }) => id === open.row)) return;
		if (!this.#columns.includes(open.column)) {
			this.#choose({ [open.column]: true });
			this.#sync();
		}
		this.#select(open, open);
		this.#edit(open, open.text);
	}

	/** Brings the screen to the state of the store, in one pass: rows and cells that did not change are left alone. */
	#sync(): void {
		if (this.store === null || this.#api === null) return;
		this.#read();
		this.#show();
		this.#tellAbout();
		this.requestUpdate();
	}

	#read(): void {
		const state = this.#state;
		this.#inUse = columnsInUse(state);
		this.#rows = this.#views.of(state, this.language);
		this.#columns = [numberColumn, ...shownColumns(this.choice, this.#inUse).map(({ id }) => id), ...figureColumns];
	}

	#show(): void {
		this.#showColumns();
		this.#showRows();
		this.#takeSelection(this.#state.selection);
	}

	#showColumns(): void {
		const columnsFor = [this.language, ...this.#columns];
		if (this.#api === null || same(columnsFor, this.#columnsFor)) return;
		this.#columnsFor = columnsFor;
		this.#api.setGridOption("columnDefs", this.#columnDefs());
	}

	#showRows(): void {
		const rows = this.#rows;
		const shown = this.#shown;
		this.#fitHeight();
		const isSameOrder =
			!this.#isOrderLoose && rows.length === shown.length && rows.every(({ id }, at) => id === shown[at]?.id);
		this.#isOrderLoose = false;
		this.#shown = rows;
		if (!isSameOrder) this.#api?.setGridOption("rowData", rows);
		else for (const [at, row] of rows.entries()) if (row !== shown[at]) this.#api?.getRowNode(row.id)?.updateData(row);
	}

	/** As high as the rows need, as far as the screen has room. */
	#fitHeight(): void {
		const height = this.#rows.length * rowHeightPx + headerHeightPx + groupAndScrollPx;
		this.rowsElement.style.setProperty("--rows-height", `${height}px`);
	}

	#columnDefs(): (ColDef<RowView> | ColGroupDef<RowView>)[] {
		const say = this.#say;
		const view = (id: string): ColDef<RowView> => ({
			colId: id,
			valueGetter: ({ data }) => data?.cells[id] ?? emptyCell,
		});
		const written = gridColumns
			.filter(({ id }) => this.#columns.includes(id))
			.map(
				(column): ColDef<RowView> => ({
					...view(column.id),
					headerName: this.#header(column),
					initialWidth: widths[column.id] ?? 140,
					wrapHeaderText: true,
				}),
			);
		return [
			{ ...view(numberColumn), headerName: say("row"), pinned: "left", width: 112, resizable: false },
			...written,
			{
				headerName: say("forecast"),
				marryChildren: true,
				children: figureColumns.map(
					(id): ColDef<RowView> => ({
						...view(id),
						headerName: say(id),
						initialWidth: figureWidths[id],
						wrapHeaderText: true,
						// What protects the car stays in sight.
						...(id === "filmLeftUm"
							? { pinned: this.clientWidth >= leastForPinnedPx ? ("right" as const) : null }
							: {}),
					}),
				),
			},
		];
	}

	readonly #context: CellsContext = {
		describe: (view) => this.#describe(view),
		say: (key, values) => this.#say(key, values),
		level: (level) => this.#level(level),
		cells: this.#cells,
		isPicked: ({ row, column }) => this.#isPicked(row, this.#columns.indexOf(column)),
		openMenu: (row, button) => this.#openMenu(row, button),
		leaving: ({ row, column }) => {
			const at = this.#editor?.at;
			if (at?.row === row && at.column === column) this.#keepText();
		},
	};

	#level(level: Level): string {
		return capitalised(label("level", level, this.language));
	}

	/** Everything there is to say of a cell in one text, gravest first. */
	#describe({ findings, unread, conflict, detail }: CellView): string {
		const say = this.#say;
		const found = sayer(this.language, this.#state.shop.book.units ?? "um");
		return [
			conflict ? `⇄ ${capitalised(say("conflict"))}.` : "",
			...findings.map((finding) => {
				const { level, accepted } = finding;
				const word = this.#level(level);
				const quiet = accepted === null ? "" : ` (${say("accepted")})`;
				return `${levelMarks[level]} ${word}${quiet}: ${found(finding).found}`;
			}),
			unread ? say("unread-detail") : "",
			detail,
		]
			.filter((one) => one !== "")
			.join("\n");
	}

	#tellAbout(): void {
		const head = this.#head;
		const view = this.#rows.find(({ id }) => id === head?.row)?.cells[head?.column ?? ""];
		this.about = view === undefined ? "" : this.#describe(view);
	}

	// What is selected

	#firstCell(): At {
		return { row: this.#rows[0]?.id ?? newRow, column: this.#columns[1] ?? numberColumn };
	}

	/** Selects from one cell to another; the other has the focus. */
	#select(anchor: At, head: At, focus = true): void {
		this.#anchor = anchor;
		this.#head = head;
		this.#stored = this.#storable(anchor, head);
		this.store?.select(this.#stored);
		this.#paint();
		this.#tellAbout();
		if (focus) this.#focusHead();
	}

	#focusHead(): void {
		if (this.#head === null || this.#api === null) return;
		const at = this.#rows.findIndex(({ id }) => id === this.#head?.row);
		if (at < 0) return;
		this.#api.ensureIndexVisible(at);
		this.#api.ensureColumnVisible(this.#head.column);
		this.#api.setFocusedCell(at, this.#head.column);
	}

	/** What the store keeps: rows that exist, and columns that are written in. */
	#storable(anchor: At, head: At): Selection | null {
		if (anchor.row === newRow || head.row === newRow) return null;
		const written = this.#columns.filter(isStepField);
		const [first, last] = [written[0], written.at(-1)];
		if (first === undefined || last === undefined) return null;
		const isWhole = anchor.column === numberColumn || head.column === numberColumn;
		const nearest = (column: string) => (isStepField(column) ? column : column === numberColumn ? first : last);
		return {
			anchor: { row: anchor.row, column: isWhole ? first : nearest(anchor.column) },
			head: { row: head.row, column: isWhole ? last : nearest(head.column) },
		};
	}

	/** Follows a selection that undo or another view has set. */
	#takeSelection(selection: Selection | null): void {
		if (same(selection, this.#stored)) {
			// A row that is gone takes the selection with it.
			if (this.#head !== null && !this.#rows.some(({ id }) => id === this.#head?.row)) {
				this.#anchor = null;
				this.#head = null;
			}
			this.#paint();
			return;
		}
		this.#stored = selection;
		this.#anchor = selection?.anchor ?? null;
		this.#head = selection?.head ?? null;
		if (this.#head !== null && !this.#columns.includes(this.#head.column)) this.#choose({ [this.#head.column]: true });
		this.#paint();
		const at = this.#rows.findIndex(({ id }) => id === this.#head?.row);
		if (at >= 0) this.#api?.ensureIndexVisible(at);
	}

	#corners(): { rows: [number, number]; columns: [number, number] } | null {
		if (this.#anchor === null || this.#head === null) return null;
		const ends = [this.#anchor, this.#head];
		const rows = ends.map(({ row }) => this.#rows.findIndex(({ id }) => id === row));
		const columns = ends.map(({ column }) => this.#columns.indexOf(column));
		if (rows.includes(-1) || columns.includes(-1)) return null;
		const whole = columns.includes(0);
		return {
			rows: [Math.min(...rows), Math.max(...rows)],
			columns: whole ? [0, this.#columns.length - 1] : [Math.min(...columns), Math.max(...columns)],
		};
	}

	#isPicked: (row: string, column: number) => boolean = () => false;

	#paint(): void {
		const corners = this.#corners();
		if (corners === null) this.#isPicked = () => false;
		else {
			const [top, bottom] = corners.rows;
			const [left, right] = corners.columns;
			const rows = new Set(this.#rows.slice(top, bottom + 1).map(({ id }) => id));
			this.#isPicked = (row, column) => rows.has(row) && column >= left && column <= right;
		}
		for (const cell of this.#cells) cell.paint();
	}

	#block(): Block {
		const corners = this.#corners();
		if (corners === null) return { rows: [], columns: [], whole: false };
		const [top, bottom] = corners.rows;
		const [left, right] = corners.columns;
		const ids = this.#columns.slice(left, right + 1);
		const columns = gridColumns.filter(({ id }) => ids.includes(id));
		const rows = this.#rows.slice(top, bottom + 1).flatMap(({ id }) => (id === newRow ? [] : [id]));
		return { rows, columns, whole: columns.length === this.#columns.filter(isStepField).length };
	}

	readonly #focused = ({ rowIndex, column }: CellFocusedEvent<RowView>) => {
		if (rowIndex === null || column === null || typeof column === "string") return;
		const row = this.#rows[rowIndex]?.id;
		if (row === undefined) return;
		const at = { row, column: column.getColId() };
		if (same(at, this.#head)) return;
		this.#select(at, at, false);
	};

	// Pointers

	#cellAt(event: MouseEvent): At | null {
		const under = (this.renderRoot as ShadowRoot).elementFromPoint(event.clientX, event.clientY);
		const cell = under?.closest<HTMLElement>(".ag-cell");
		const row = cell?.closest(".ag-row")?.getAttribute("row-id");
		const column = cell?.getAttribute("col-id");
		return row && column ? { row, column } : null;
	}

	#isHandle(event: Event): boolean {
		return (event.target as Element).closest(".handle") !== null;
	}

	#point(event: PointerEvent): void {
		if (event.button !== 0) return;
		const at = this.#cellAt(event);
		if (at === null) return;
		this.#isLeaving = false;
		this.#isSecondTap = event.pointerType !== "mouse" && same(at, this.#tapped);
		this.#tapped = at;
		this.#select(event.shiftKey ? (this.#anchor ?? at) : at, at);
		this.#isDragging = event.pointerType === "mouse" && !this.#isHandle(event);
	}

	#tapped: At | null = null;

	#pull(event: PointerEvent): void {
		if (!this.#isDragging || event.buttons !== 1) return;
		const at = this.#cellAt(event);
		if (at !== null && !same(at, this.#head)) this.#select(this.#anchor ?? at, at);
	}

	#release(): void {
		this.#isDragging = false;
	}

	#tap(event: MouseEvent): void {
		if (!this.#isSecondTap || this.#isHandle(event)) return;
		this.#isSecondTap = false;
		this.#editHead(null);
	}

	#doubleClick(event: MouseEvent): void {
		if (!this.#isHandle(event) && this.#cellAt(event) !== null) this.#editHead(null);
	}

	/** The key for it opens the menu of the row; the mouse gets the browser's own. */
	#contextMenu(event: MouseEvent): void {
		if (event.button !== 2) event.preventDefault();
	}

	// Keys

	readonly #key = (event: KeyboardEvent): void => {
		if (event.defaultPrevented || event.target instanceof HTMLInputElement) return;
		if (!(event.target as Element).closest(".ag-cell")) return;
		const isLeaving = this.#isLeaving;
		this.#isLeaving = false;
		const asked = commandOf(event);
		if (asked !== null) {
			if (isLeaving && (asked.command === "next" || asked.command === "previous")) return;
			if (this.#do(asked.command, asked.extend)) {
				event.preventDefault();
				event.stopPropagation();
			}
			return;
		}
		// No cell begins with a question mark: it asks for the sheet of keys.
		if (event.ctrlKey || event.metaKey || event.altKey || event.key === "?") return;
		const isComposing = event.isComposing || event.key === "Dead" || event.key === "Process";
		if (!isComposing && event.key.length !== 1) return;
		if (!isComposing) event.preventDefault();
		this.#editHead(isComposing ? "" : event.key);
	};

	/** @returns whether it did anything, so that the key is used up */
	#do(command: GridCommand, extend = false): boolean {
		switch (command) {
			case "left":
				return this.#step(0, -1, extend);
			case "right":
				return this.#step(0, 1, extend);
			case "up":
				return this.#step(-1, 0, extend);
			case "down":
				return this.#step(1, 0, extend);
			case "row-start":
				return this.#step(0, Number.NEGATIVE_INFINITY, extend);
			case "row-end":
				return this.#step(0, Number.POSITIVE_INFINITY, extend);
			case "first":
				return this.#step(Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY, extend);
			case "last":
				return this.#step(Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, extend);
			case "next":
				return this.#stepOn(1);
			case "previous":
				return this.#stepOn(-1);
			case "leave":
				this.#isLeaving = true;
				this.told = this.#say("leave-hint");
				return true;
			case "all":
				return this.#selectAll();
			case "edit":
				this.#editHead(null);
				return true;
			case "undo":
				this.store?.undo();
				this.#focusHead();
				return true;
			case "redo":
				this.store?.redo();
				this.#focusHead();
				return true;
			case "menu":
				if (this.#head !== null && this.#head.row !== newRow) this.#openMenu(this.#head.row, this.#headElement());
				return true;
			default:
				this.#press(command);
				return true;
		}
	}

	#step(rows: number, columns: number, extend: boolean): boolean {
		const head = this.#head ?? this.#firstCell();
		const row = this.#rows.findIndex(({ id }) => id === head.row);
		const to = {
			row: this.#rows[clamp(row + rows, this.#rows.length)]?.id ?? newRow,
			column: this.#columns[clamp(this.#columns.indexOf(head.column) + columns, this.#columns.length)] ?? numberColumn,
		};
		this.#select(extend ? (this.#anchor ?? head) : to, to);
		return true;
	}

	/** The next cell, or the one before, over the ends of rows; false past the last, where the key leaves the rows. */
	#stepOn(by: 1 | -1): boolean {
		const to = this.#cellBeside(this.#head ?? this.#firstCell(), by);
		if (to === null) return false;
		this.#select(to, to);
		return true;
	}

	#cellBeside({ row, column }: At, by: 1 | -1): At | null {
		const width = this.#columns.length;
		const place = this.#rows.findIndex(({ id }) => id === row) * width + this.#columns.indexOf(column) + by;
		const next = this.#rows[Math.floor(place / width)];
		const beside = this.#columns[((place % width) + width) % width];
		return next === undefined || beside === undefined ? null : { row: next.id, column: beside };
	}

	#selectAll(): boolean {
		const first = this.#rows[0];
		const last = this.#rows.at(-2) ?? first;
		const written = this.#columns.filter(isStepField);
		if (first === undefined || last === undefined || written.length === 0) return true;
		this.#select({ row: first.id, column: written[0] ?? "" }, { row: last.id, column: written.at(-1) ?? "" });
		return true;
	}

	// Rows

	#press(command: GridCommand): void {
		const { procedure } = this.#state;
		const { rows, columns } = this.#block();
		const column = this.#head?.column ?? this.#firstCell().column;
		switch (command) {
			case "insert-above":
			case "insert-below": {
				const step = { id: newRowId(Math.random) };
				const order = (procedure.steps ?? []).map(({ id }) => id);
				const first = rows[0];
				const above = first === undefined ? order.length : order.indexOf(first);
				const after = command === "insert-above" ? order[above - 1] : (rows.at(-1) ?? order.at(-1));
				this.#change(insertRows([step], after ?? null), "insert", { row: step.id, column });
				return;
			}
			case "duplicate": {
				if (rows.length === 0) return;
				const edit = duplicateRows(procedure, rows, () => newRowId(Math.random));
				const first = edit[0];
				if (first?.op === "insert") this.#change(edit, "duplicate", { row: first.step.id, column });
				return;
			}
			case "delete": {
				if (rows.length === 0) return;
				const order = this.#rows.map(({ id }) => id);
				const next = order[order.indexOf(rows.at(-1) ?? "") + 1] ?? newRow;
				if (this.#change(removeRows(procedure, rows), "delete", { row: next, column }))
					this.told = this.#say("deleted", { count: rows.length });
				return;
			}
			case "move-up":
			case "move-down": {
				if (rows.length === 0) return;
				const after = oneFurther(procedure, rows, command === "move-up" ? "up" : "down");
				if (after === undefined) this.told = this.#say("at-end");
				else this.#move(rows, after);
				return;
			}
			case "fill": {
				const order = (procedure.steps ?? []).map(({ id }) => id);
				const source = rows.length === 1 ? order[order.indexOf(rows[0] ?? "") - 1] : rows[0];
				const into = rows.length === 1 ? rows : rows.slice(1);
				if (source === undefined) return;
				if (this.#change(fillCells(procedure, into, columns, source), "fill"))
					this.told = this.#say("filled", { count: into.length });
				return;
			}
			case "clear":
				this.#change(fillCells(procedure, rows, columns, null), "clear");
				return;
			default:
				throw new RangeError(`${command} is nothing that a button does`);
		}
	}

	#move(rows: readonly string[], after: string | null): void {
		if (!this.#change(moveRows(this.#state.procedure, rows, after), "move")) return;
		const at = this.#rows.findIndex(({ id }) => id === rows[0]);
		this.told = this.#say("moved", { row: at + 1 });
	}

	/** One gesture. Where it leads elsewhere, the focus goes there. @returns whether it went well */
	#change(edit: Edit, gesture: Gesture, to?: At): boolean {
		if (this.store === null || isEmpty(edit)) return false;
		const after = to === undefined ? this.#stored : this.#storable(to, to);
		const problem = this.store.change(edit, gesture, after);
		this.told = problem === null ? "" : sayProblem(problem, this.language);
		if (problem !== null) return false;
		if (to === undefined) this.#focusHead();
		else this.#select(to, to);
		return true;
	}

	readonly #dropped = ({ node }: RowDragEndEvent<RowView>) => {
		const moved = node.data?.id;
		this.#isOrderLoose = true;
		if (moved === undefined || moved === newRow) return this.#takeOrderBack();
		const order: string[] = [];
		for (let at = 0; at < this.#rows.length; at++) {
			const id = this.#api?.getDisplayedRowAtIndex(at)?.data?.id;
			if (id !== undefined && id !== newRow) order.push(id);
		}
		const { rows } = this.#block();
		const moving = rows.includes(moved) ? rows : [moved];
		const after = order.slice(0, order.indexOf(moved)).findLast((id) => !moving.includes(id)) ?? null;
		this.#move(moving, after);
		// Where nothing moved, the grid alone has another order.
		if (this.#isOrderLoose) this.#takeOrderBack();
	};

	#takeOrderBack(): void {
		this.#isOrderLoose = true;
		this.#sync();
	}

	// The menu of a row, and the list of columns

	#openMenu(row: string, beside: HTMLElement | null): void {
		if (!this.#block().rows.includes(row)) this.#select({ row, column: numberColumn }, { row, column: numberColumn });
		this.#menuRow = row;
		const menu = this.menuElement;
		this.#place(menu, beside ?? this.rowsElement);
		menu.showPopover();
		menu.querySelector("button")?.focus();
	}

	#place(popover: HTMLElement, beside: HTMLElement): void {
		const { left, bottom, top } = beside.getBoundingClientRect();
		const isBelow = window.innerHeight - bottom > 320 || bottom < window.innerHeight / 2;
		popover.style.setProperty("left", `${Math.max(8, Math.min(left, window.innerWidth - 240))}px`);
		popover.style.setProperty("top", isBelow ? `${bottom}px` : "auto");
		popover.style.setProperty("bottom", isBelow ? "auto" : `${window.innerHeight - top}px`);
	}

	#menuKey(event: KeyboardEvent): void {
		const items = [...this.menuElement.querySelectorAll("button")];
		const at = items.indexOf((this.renderRoot as ShadowRoot).activeElement as HTMLButtonElement);
		const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: items.length - 1 }[event.key];
		if (event.key === "Tab") this.menuElement.hidePopover();
		else if (to === undefined) return;
		event.preventDefault();
		if (to !== undefined) items[(to + items.length) % items.length]?.focus();
	}

	#menuToggled(event: Event): void {
		if ((event as ToggleEvent).newState !== "closed" || this.#menuRow === null) return;
		this.#menuRow = null;
		const { activeElement } = this.renderRoot as ShadowRoot;
		if (activeElement === null || this.menuElement.contains(activeElement)) this.#focusHead();
	}

	#pressInMenu(command: GridCommand): void {
		this.#menuRow = null;
		this.menuElement.hidePopover();
		this.#press(command);
		this.#focusHead();
	}

	#openColumns(event: Event): void {
		const button = event.currentTarget as HTMLElement;
		const { bottom, right } = button.getBoundingClientRect();
		const { style } = this.columnsElement;
		style.setProperty("top", `${bottom + 4}px`);
		style.setProperty("right", `${Math.max(8, window.innerWidth - right)}px`);
		style.setProperty("max-height", `${Math.max(200, window.innerHeight - bottom - 16)}px`);
		this.columnsElement.showPopover();
		this.columnsElement.querySelector("input")?.focus();
	}

	// Editing

	#headElement(): HTMLElement | null {
		const head = this.#head;
		for (const { row, column, element } of this.#cells) if (row === head?.row && column === head.column) return element;
		return null;
	}

	/** @param typed what was typed over the cell; null to go on with the text that is there */
	#editHead(typed: string | null): void {
		const head = this.#head;
		if (head === null || !isStepField(head.column)) return;
		this.#edit({ row: head.row, column: head.column }, typed);
	}

	#edit(at: CellPlace, typed: string | null): void {
		this.#keepText();
		const cell = this.#headElement();
		if (cell === null) return;
		const row = this.#rows.findIndex(({ id }) => id === at.row);
		const opened = this.#rows[row]?.cells[at.column]?.text ?? "";
		const column = columnOf(at.column);
		const name = this.#header(column);
		const text = typed ?? opened;
		const say = this.#say;
		const editor = new CellEditor({
			label: at.row === newRow ? say("editor-new", { column: name }) : say("editor", { column: name, row: row + 1 }),
			text,
			selected: false,
			list: this.offersElement,
			offers: (now) => this.#offers(column, now === opened ? "" : now, now, at.row),
			input: (now) => this.store?.typing({ ...at, text: now }),
			done: (now, chosen, onward) => this.#done(at, now, chosen, onward),
		});
		this.#editor = { editor, at, opened };
		cell.append(editor.element);
		this.store?.typing({ ...at, text });
		editor.open();
	}

	/** What the text could mean where it reads several ways, then what the stock holds, then the kinds. */
	#offers({ fields }: GridColumn, wanted: string, text: string, row: string): Offer[] {
		const { procedure, shop } = this.#state;
		const say = this.#say;
		const step = procedure.steps?.find(({ id }) => id === row) ?? null;
		const readings = readingsOf(text, fields, doorOf(procedure, step, shop, this.language));
		return [
			...readings.map((reading) => ({ text: reading, aside: say("from-reading") })),
			...suggestionsFor(fields, wanted, shop.stock, this.language).map(({ text, from, aside }) => ({
				text,
				aside: [aside, from === "stock" ? say("from-stock") : ""].filter((one) => one !== "").join(" · "),
			})),
		];
	}

	#done(at: CellPlace, text: string | null, chosen: boolean, onward: Onward): void {
		const opened = this.#editor?.opened;
		this.#editor = null;
		const isKept = text === null || text === opened || this.#write(at, text, chosen, onward);
		this.store?.typing(null);
		if (!isKept && text !== null) return this.#reopen(at, text);
		if (text !== null && text !== opened) return;
		if (onward !== "elsewhere") this.#goOn(at, at.row, onward);
	}

	/** The text did not become an edit: it stays in its editor, and the reason is told. */
	#reopen(at: CellPlace, text: string): void {
		const { told } = this;
		if (!this.isConnected || this.#api === null) return;
		this.#select(at, at);
		this.#edit(at, text);
		this.told = told;
	}

	#goOn(at: CellPlace, row: string, onward: Onward): void {
		const to = this.#onwardFrom({ row, column: at.column }, onward);
		this.#select(to, to);
	}

	#onwardFrom(at: At, onward: Onward): At {
		if (onward === "next" || onward === "previous") return this.#cellBeside(at, onward === "next" ? 1 : -1) ?? at;
		if (onward === "stay" || onward === "elsewhere") return at;
		const row = this.#rows.findIndex(({ id }) => id === at.row) + (onward === "down" ? 1 : -1);
		return { row: this.#rows[clamp(row, this.#rows.length)]?.id ?? newRow, column: at.column };
	}

	/** Text typed into a cell becomes one edit. @returns whether the store took it */
	#write(at: CellPlace, text: string, chosen: boolean, onward: Onward): boolean {
		if (this.store === null) return false;
		const isNew = at.row === newRow;
		if (isNew && text.trim() === "") return true;
		const { procedure } = this.#state;
		const row = isNew ? newRowId(Math.random) : at.row;
		const insert = isNew ? insertRows([{ id: row }], procedure.steps?.at(-1)?.id ?? null) : [];
		const typed = this.#typed(applied(procedure, insert), row, columnOf(at.column), text);
		const edit = joinEdits(insert, typed.edit);
		if (isEmpty(edit)) {
			if (onward !== "elsewhere") this.#goOn(at, row, onward);
			return true;
		}
		// Where the selection goes is known only once the row is there; what undo restores is where the text was typed.
		const isHere = onward === "elsewhere";
		const after = isHere ? this.#stored : { anchor: { row, column: at.column }, head: { row, column: at.column } };
		const problem = this.store.change(edit, chosen ? "choose" : "type", after);
		if (problem !== null) {
			this.told = sayProblem(problem, this.language);
			return false;
		}
		this.told = this.#alsoTold(row, columnOf(at.column), typed.also);
		if (!isHere) this.#goOn(at, row, onward);
		return true;
	}

	#typed(procedure: Procedure, row: string, { fields }: GridColumn, text: string) {
		return editForText({ procedure, row, fields, text, shop: this.#state.shop, language: this.language });
	}

	/** What else the text has filled, and from where. */
	#alsoTold(row: string, { fields }: GridColumn, also: readonly StepField[]): string {
		if (also.length === 0) return "";
		const { procedure, shop } = this.#state;
		const step = procedure.steps?.find(({ id }) => id === row);
		const names = also.map((field) => headerOf(field, this.language)).join(", ");
		const lists = ["tools", "abrasives", "backings", "pads", "liquids"] as const;
		for (const field of fields) {
			const value = step?.[field];
			if (typeof value !== "string") continue;
			const item = lists.map((list) => stockItem(shop.stock, list, value)).find((one) => one !== undefined);
			if (item !== undefined) return this.#say("from-sheet", { fields: names, item: item.name });
		}
		return this.#say("from-text", { fields: names });
	}

	// Clipboard

	readonly #copy = (event: ClipboardEvent): void => {
		if (this.#isElsewhere(event) || event.clipboardData === null) return;
		const { procedure, shop } = this.#state;
		const block = this.#block();
		if (block.rows.length === 0) return;
		// Whole rows are copied whole: with the columns that are hidden and hold text.
		const columns = block.whole
			? gridColumns.filter(({ id }) => this.#columns.includes(id) || this.#inUse.has(id))
			: block.columns;
		if (columns.length === 0) return;
		event.preventDefault();
		const fields = columns.map((column) => column.fields);
		const { language } = this;
		const text = blockOut({ procedure, rows: block.rows, columns: fields, shop, language, header: block.whole });
		const cells = block.rows.map((row) => {
			const view = this.#rows.find(({ id }) => id === row);
			return columns.map(({ id }) => view?.cells[id]?.text ?? "");
		});
		const header = block.whole ? columns.map((column) => this.#header(column)) : null;
		event.clipboardData.setData("text/plain", text);
		event.clipboardData.setData("text/html", tableOf(header, cells));
		this.#copied = { text: normal(text), columns, cells };
		if (event.type === "cut") this.#change(fillCells(procedure, block.rows, columns, null), "clear");
		this.told = this.#say("copied", { rows: block.rows.length, columns: columns.length });
	};

	readonly #paste = (event: ClipboardEvent): void => {
		if (this.#isElsewhere(event) || event.clipboardData === null) return;
		const text = event.clipboardData.getData("text/plain");
		if (text.trim() === "" || this.#head === null) return;
		event.preventDefault();
		const own = this.#copied !== null && normal(text) === this.#copied.text ? this.#copied : null;
		const one = onlyCell(normal(text));
		if (own !== null && own.cells.flat().length > 1) this.#pasteOwn(own);
		else if (one !== null) this.#pasteText(own?.cells[0]?.[0] ?? one);
		else {
			const { row, column } = this.#head;
			const at = row === newRow || !isStepField(column) ? null : { row, column };
			this.dispatchEvent(new CustomEvent("gw-paste", { detail: { text, at }, bubbles: true, composed: true }));
		}
	};

	#isElsewhere(event: Event): boolean {
		const target = event.composedPath()[0];
		return !(target instanceof Element) || target.closest(".rows") === null || target instanceof HTMLInputElement;
	}

	/** One text into every selected cell. */
	#pasteText(text: string): void {
		const { rows, columns } = this.#block();
		if (this.#head?.row === newRow && isStepField(this.#head.column)) {
			this.#write({ row: newRow, column: this.#head.column }, text, false, "stay");
			return;
		}
		const cells = rows.flatMap((row) => columns.map((column) => ({ row, column, text })));
		this.#pasteCells([], cells);
	}

	/** What was copied here comes back cell by cell: into its own columns, from the first selected row on. */
	#pasteOwn({ columns, cells }: Copied): void {
		const { procedure } = this.#state;
		const order = (procedure.steps ?? []).map(({ id }) => id);
		const first = this.#block().rows[0];
		const from = first === undefined ? order.length : order.indexOf(first);
		const missing = Math.max(0, from + cells.length - order.length);
		const added = Array.from({ length: missing }, () => ({ id: newRowId(Math.random) }));
		const ids = [...order, ...added.map(({ id }) => id)];
		this.#pasteCells(
			insertRows(added, order.at(-1) ?? null),
			cells.flatMap((line, at) =>
				columns.map((column, index) => ({ row: ids[from + at] ?? "", column, text: line[index] ?? "" })),
			),
		);
	}

	#pasteCells(insert: Edit, cells: readonly { row: string; column: GridColumn; text: string }[]): void {
		const edit = editsInTurn(this.#state.procedure, [
			() => insert,
			...cells.map(
				({ row, column, text }) =>
					(at: Procedure) =>
						this.#typed(at, row, column, text).edit,
			),
		]);
		if (this.#change(edit, "paste")) this.told = this.#say("pasted", { count: cells.length });
	}
}

const menuCommands = ["insert-above", "insert-below", "duplicate", "move-up", "move-down", "delete"] as const;

/** The line over the figures, borders, and room for a bar to scroll sideways. */
const groupAndScrollPx = 50;

/** Widths of the columns first seen, px, so that they stand on a small screen; others take the common one. */
const widths: Partial<Record<StepField, number>> = {
	stage: 128,
	abrasive: 155,
	backing: 155,
	liquid: 155,
	tool: 160,
	speed: 112,
	work: 112,
	instruction: 260,
	check: 220,
	note: 260,
};
const figureWidths: Record<FigureColumn, number> = { filmLeftUm: 150, scratchUm: 165, removedUm: 145, minutes: 120 };
const leastForPinnedPx = 700;

function applied(procedure: Procedure, edit: Edit): Procedure {
	const after = applyEdit(procedure, edit);
	if ("problem" in after) throw new RangeError(`a new row does not go in: ${after.problem.message}`);
	return after.procedure;
}

function clamp(at: number, length: number): number {
	return Math.min(Math.max(at, 0), length - 1);
}

function capitalised(text: string): string {
	return text.charAt(0).toUpperCase() + text.slice(1);
}

/** The same text whatever line ends a clipboard gives it. */
function normal(text: string): string {
	return text.replace(/\r\n?/g, "\n").replace(/\n$/, "");
}

/** The text of a clipboard that holds one cell, out of the quotes that a cell of several lines comes in; null for a block. */
function onlyCell(text: string): string | null {
	if (!/[\t\n]/.test(text)) return text;
	return /^"(?:[^"]|"")*"$/.test(text) ? text.slice(1, -1).replaceAll('""', '"') : null;
}

function tableOf(header: readonly string[] | null, cells: readonly (readonly string[])[]): string {
	const line = (texts: readonly string[], tag: "td" | "th") =>
		`<tr>${texts.map((text) => `<${tag}>${escaped(text)}</${tag}>`).join("")}</tr>`;
	return `<table>${header === null ? "" : line(header, "th")}${cells.map((texts) => line(texts, "td")).join("")}</table>`;
}

function escaped(text: string): string {
	return text
		.replaceAll("&", "&amp;")
		.replaceAll("<", "&lt;")
		.replaceAll(">", "&gt;")
		.replaceAll('"', "&quot;")
		.replaceAll("\n", "<br>");
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-grid": GwGrid;
	}
}
