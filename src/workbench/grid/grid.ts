import type { CellFocusedEvent, GridApi, RowDragEndEvent, RowDragEnterEvent } from "ag-grid-community";
import { html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { doorOf, editForText } from "../../exchange/cell-in.ts";
import { applyEdit, type Edit, isEmpty, joinEdits } from "../../model/edits.ts";
import { headerOf, isStepField } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";
import type { Level } from "../../model/finding.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { newRowId } from "../../model/ids.ts";
import { sayProblem } from "../../model/problem.ts";
import { same } from "../../model/same.ts";
import { capitalised } from "../../model/sentence.ts";
import { filmUnitOf, stockItem } from "../../model/shop.ts";
import { label, type Language } from "../../model/words.ts";
import { sayer } from "../../rules/sayer.ts";
import { columnOf, type GridColumn, gridColumns } from "../store/columns.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import type { CellPlace, Gesture, Selection, SheetState } from "../store/state.ts";
import { levelMarks } from "../style/marks.ts";
import { controls } from "../style/tokens.ts";
import { type Say, saying } from "../words.ts";
import { browserStorage } from "../browser-storage.ts";
import { sameParts } from "../store/store-controller.ts";
import { CellEditor, type Offer, type Onward } from "./cell-editor.ts";
import { Cell, type CellsContext } from "./cell-renderer.ts";
import { GridClipboard } from "./clipboard.ts";
import { ColumnChooser, columnHeader } from "./column-choice.ts";
import { columnDefs, figuresInSight } from "./column-defs.ts";
import { isNotRow, rowsOf, withRowsOnly } from "./entries.ts";
import { gridStyle } from "./grid-style.ts";
import { commandOf, type GridCommand, keysInWords } from "./keys.ts";
import { groupHeaderHeightPx, headerHeightPx, openGrid, rowHeightPx } from "./library.ts";
import { RowMenu, type RowMenuCommand } from "./row-menu.ts";
import {
	type CellView,
	columnsInUse,
	figureColumns,
	newRow,
	numberColumn,
	readingsOf,
	type RowView,
	RowViews,
} from "./row-views.ts";
import { duplicateRows, fillCells, insertRows, moveRows, oneFurther, removeRows } from "./row-edits.ts";
import { type ColumnChoice, keepChoice, readChoice, shownColumns } from "./shown-columns.ts";
import { suggestionsFor } from "./suggestions.ts";
import type { At, Block, Ends } from "./selected.ts";
import { counted } from "./counted.ts";
import words from "./words.json" with { type: "json" };

/**
 * The rows of a procedure, to read and to write. Everything a person does becomes one edit of the store.
 *
 * What stands inside it is shown beside the buttons that work on rows.
 *
 * @fires gw-paste a block that did not come from here: `{ text, at }`
 */
@customElement("gw-grid")
export class Grid extends LitElement {
	static override styles = [controls, gridStyle];

	@property({ attribute: false }) store: SheetStore | null = null;
	@property() language: Language = "en";

	/** Sentence of what was just done, said politely. */
	@state() protected told = "";
	/** What there is to say of the cell that has the focus. */
	@state() protected about = "";
	@state() protected choice: ColumnChoice = readChoice(browserStorage());
	@query(".rows") protected rowsElement!: HTMLElement;
	@query(".offers") protected offersElement!: HTMLElement;

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
	/** The grid has moved rows about by itself, and must be given their order again. */
	#isOrderLoose = false;
	#isLeaving = false;
	/** Where the finger went down, and whether that cell had the focus already. */
	#pressed: { at: At; hadFocus: boolean } | null = null;
	/** The cell that was tapped last: another tap edits it. */
	#tapped: At | null = null;
	/** The first of several rows to select; the next one chosen is the last. */
	#from: string | null = null;
	#isDragging = false;
	/** Where the mouse went down on one of several whole rows: they stay selected, for they may be about to be dragged. */
	#held: At | null = null;
	/** The rows that are being dragged. */
	#dragged: string[] | null = null;
	#parts: readonly unknown[] = [];
	readonly #menu = new RowMenu(this, {
		say: () => this.#say,
		press: (command) => this.#pressInMenu(command),
		focus: () => this.#focusHead(),
	});
	readonly #clipboard = new GridClipboard(this.#clipboardHost());
	readonly #chooser = new ColumnChooser(this, {
		shown: () => this.#columns,
		inUse: () => this.#inUse,
		choose: (column, isShown) => {
			this.#choose({ [column]: isShown });
			this.#sync();
		},
	});
	readonly #cells = new Set<Cell>();
	readonly #keepText = () => this.#editor?.editor.keep();
	/** One frame later: what a new width sets must not be measured in the same turn. */
	readonly #size = new ResizeObserver(() => requestAnimationFrame(() => this.#showColumns()));

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
		this.addEventListener("copy", this.#clipboard.copy);
		this.addEventListener("cut", this.#clipboard.copy);
		this.addEventListener("paste", this.#clipboard.paste);
		this.#size.observe(this);
		this.requestUpdate();
	}

	override disconnectedCallback(): void {
		super.disconnectedCallback();
		this.#keepText();
		globalThis.removeEventListener("pagehide", this.#keepText);
		this.removeEventListener("copy", this.#clipboard.copy);
		this.removeEventListener("cut", this.#clipboard.copy);
		this.removeEventListener("paste", this.#clipboard.paste);
		this.#size.disconnect();
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
			this.#unsubscribe = this.store.subscribe(() => this.#follow());
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
			<button type="button" title=${say(text)} aria-label=${say(text)} @click=${() => this.#press(command)}>
				<span aria-hidden="true">${sign}</span><span class="word">${say(`short-${text}` as keyof typeof words)}</span>
			</button>
		`;
		const hidden = gridColumns.filter(({ id }) => this.#inUse.has(id) && this.choice[id] === false);
		return html`
			<section aria-label=${say("rows")}>
				<div class="bar">
				<slot></slot>
				<div class="tools" role="group" aria-label=${say("row-tools")}>
					${button("insert-below", "insert", "+")} ${button("duplicate", "duplicate", "❐")}
					${button("move-up", "move-up", "↑")} ${button("move-down", "move-down", "↓")}
					${button("fill", "fill", "⤓")} ${button("delete", "delete", "✕")}
					${this.#chooser.renderButton()}
				</div>
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
					@pointercancel=${this.#release}
					@click=${this.#tap}
					@dblclick=${this.#doubleClick}
					@contextmenu=${this.#contextMenu}
				></div>
				<div class="foot">
					<p>${this.about === "" && this.#rows.length === 1 ? say("no-rows") : this.about}</p>
					<p role="status">${this.told}</p>
				</div>
				<ul class="offers" id="offers" role="listbox" popover="manual" aria-label=${say("suggestions")}></ul>
				${this.#menu.render()} ${this.#chooser.render()}
			</section>
		`;
	}

	#clipboardHost() {
		// oxlint-disable-next-line typescript/no-this-alias -- the getters below have a `this` of their own
		const grid = this;
		return {
			get state() {
				return grid.#state;
			},
			get language() {
				return grid.language;
			},
			get rows() {
				return grid.#rows;
			},
			get columns() {
				return grid.#columns;
			},
			get inUse() {
				return grid.#inUse;
			},
			get head() {
				return grid.#head;
			},
			get say() {
				return grid.#say;
			},
			tell: (sentence: string) => {
				this.told = sentence;
			},
			block: () => this.#block(),
			remove: (ids: readonly string[]) => this.#remove(ids),
			change: (edit: Edit, gesture: Gesture, to?: Ends) => this.#change(edit, gesture, to),
			isReadOnly: () => this.#isReadOnly(),
			openEditor: (column: StepField) => this.#openEditor(column),
			write: (at: CellPlace, text: string) => {
				this.#write(at, text, false, "stay");
			},
			typed: (procedure: Procedure, row: string, column: GridColumn, text: string) =>
				this.#typed(procedure, row, column, text).edit,
			fire: (detail: { text: string; at: CellPlace | null }) => {
				this.dispatchEvent(new CustomEvent("gw-paste", { detail, bubbles: true, composed: true }));
			},
		};
	}

	get #say(): Say<typeof words> {
		return saying(words, this.language);
	}

	get #state(): SheetState {
		if (this.store === null) throw new RangeError("the grid has no store yet");
		return this.store.state;
	}

	#header({ fields }: GridColumn): string {
		return columnHeader(fields, this.language);
	}

	#choose(some: ColumnChoice): void {
		this.choice = { ...this.choice, ...some };
		keepChoice(browserStorage(), this.choice);
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
		this.#columnsFor = this.#shownFor();
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
			onRowDragEnter: this.#drags,
			onRowDragEnd: this.#dropped,
			onRowDragCancel: () => this.#giveUpDrag(),
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

	/** A selection leaves the rows as they are. */
	#follow(): void {
		if (!sameParts(shownOf(this.#state), this.#parts)) this.#sync();
		else if (!same(this.#state.selection, this.#stored)) {
			this.#takeSelection(this.#state.selection);
			this.#tellAbout();
		}
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
		this.#parts = shownOf(state);
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
		const columnsFor = this.#shownFor();
		if (this.#api === null || same(columnsFor, this.#columnsFor)) return;
		this.#columnsFor = columnsFor;
		this.#api.setGridOption("columnDefs", this.#columnDefs());
	}

	/** Everything that decides how the columns stand. */
	#shownFor(): unknown[] {
		return [this.language, figuresInSight(this.clientWidth), ...this.#columns];
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

	#columnDefs() {
		return columnDefs(this.#columns, this.clientWidth, this.language);
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
		const found = sayer(this.language, filmUnitOf(this.#state.shop));
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
		this.#held = null;
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
		if ([anchor.row, head.row].some((row) => row === newRow || isNotRow(row))) return null;
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

	/**
	 * Whole rows are selected by their numbers, as they were before the store kept them. Of several rows that were not
	 * selected here the first has the focus: the view stays where they begin.
	 */
	#endsOf({ anchor, head }: Selection): Ends {
		const written = this.#columns.filter(isStepField);
		const isWhole = anchor.column === written[0] && head.column === written.at(-1) && written.length > 1;
		const ends = isWhole ? wholeRows(anchor.row, head.row) : { anchor, head };
		const place = ({ row }: At) => this.#rows.findIndex(({ id }) => id === row);
		return place(ends.anchor) < place(ends.head) ? { anchor: ends.head, head: ends.anchor } : ends;
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
		const ends = selection === null ? null : this.#endsOf(selection);
		this.#anchor = ends?.anchor ?? null;
		this.#head = ends?.head ?? null;
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
		const inside = this.#columns.slice(left, right + 1);
		const columns = gridColumns.filter(({ id }) => inside.includes(id));
		const ids = this.#rows.slice(top, bottom + 1).map(({ id }) => id);
		const rows = ids.filter((id) => id !== newRow && !isNotRow(id));
		return { rows, columns, whole: columns.length === this.#columns.filter(isStepField).length };
	}

	readonly #focused = ({ rowIndex, column }: CellFocusedEvent<RowView>) => {
		if (rowIndex === null || column === null || typeof column === "string") return;
		// What is pressed or dragged is known here already, and the library counts rows as they are shown during a drag.
		if (this.#held !== null || this.#dragged !== null) return;
		// The library tells late: the focus, or the rows, may have gone on meanwhile.
		if (this.#api?.getFocusedCell()?.rowIndex !== rowIndex) return;
		const row = this.#rows[rowIndex]?.id;
		if (row === undefined || row !== this.#api.getDisplayedRowAtIndex(rowIndex)?.data?.id) return;
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
		this.#pressed = null;
		this.#held = null;
		if (event.button !== 0) return;
		const at = this.#cellAt(event);
		if (at === null) return;
		this.#isLeaving = false;
		// A finger may be about to scroll: what it means is known when it has tapped.
		if (event.pointerType === "mouse" && !event.shiftKey && this.#isOneOfSeveral(at)) this.#held = at;
		else if (event.pointerType === "mouse") this.#choosePointed(at, event.shiftKey);
		else this.#pressed = { at, hadFocus: same(at, this.#head) };
		this.#isDragging = event.pointerType === "mouse" && !this.#isHandle(event);
	}

	/** Whether it is the number of a row that is selected together with others, whole. */
	#isOneOfSeveral({ row, column }: At): boolean {
		const { rows, whole } = this.#block();
		return this.#from === null && column === numberColumn && whole && rows.length > 1 && rows.includes(row);
	}

	#choosePointed(at: At, extend: boolean): void {
		const from = this.#from;
		this.#from = null;
		if (from !== null && this.#rows.some(({ id }) => id === from) && at.row !== newRow)
			this.#select({ row: from, column: numberColumn }, { row: at.row, column: numberColumn });
		else this.#select(extend ? (this.#anchor ?? at) : at, at);
	}

	#pull(event: PointerEvent): void {
		if (!this.#isDragging || event.buttons !== 1) return;
		const at = this.#cellAt(event);
		if (at === null || same(at, this.#held ?? this.#head)) return;
		this.#select(this.#held ?? this.#anchor ?? at, at);
	}

	#release(event: PointerEvent): void {
		this.#isDragging = false;
		const held = this.#held;
		this.#held = null;
		if (held !== null && this.#dragged === null && event.type === "pointerup") this.#choosePointed(held, false);
	}

	#tap(event: MouseEvent): void {
		const pressed = this.#pressed;
		this.#pressed = null;
		if (pressed === null || this.#isHandle(event) || !same(pressed.at, this.#cellAt(event))) return;
		const isSecond = this.#from === null && pressed.hadFocus && same(pressed.at, this.#tapped);
		this.#tapped = pressed.at;
		if (isSecond) this.#editHead(null);
		else this.#choosePointed(pressed.at, false);
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
				this.told = "";
				this.store?.undo();
				this.#focusHead();
				return true;
			case "redo":
				this.told = "";
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
		const { rows, columns, whole } = this.#block();
		const column = this.#head?.column ?? this.#firstCell().column;
		switch (command) {
			case "insert-above":
			case "insert-below": {
				const step = { id: newRowId(Math.random) };
				const order = rowsOf(procedure).map(({ id }) => id);
				const first = rows[0];
				const above = first === undefined ? order.length : order.indexOf(first);
				const after = command === "insert-above" ? order[above - 1] : (rows.at(-1) ?? order.at(-1));
				this.#change(insertRows([step], after ?? null), "insert", only({ row: step.id, column }));
				return;
			}
			case "duplicate": {
				if (rows.length === 0) return;
				const edit = duplicateRows(procedure, rows, () => newRowId(Math.random));
				const copies = edit.flatMap((one) => (one.op === "insert" ? [one.step.id] : []));
				const [first = "", last = ""] = [copies[0], copies.at(-1)];
				const anchor = { row: first, column: this.#anchor?.column ?? column };
				this.#change(edit, "duplicate", { anchor, head: { row: last, column } });
				return;
			}
			case "delete": {
				const [top, bottom] = this.#corners()?.rows ?? [0, -1];
				const ids = this.#rows.slice(top, bottom + 1).flatMap(({ id }) => (id === newRow ? [] : [id]));
				if (ids.length > 0) this.#remove(ids);
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
				const order = rowsOf(procedure).map(({ id }) => id);
				const source = rows.length === 1 ? order[order.indexOf(rows[0] ?? "") - 1] : rows[0];
				const into = rows.length === 1 ? rows : rows.slice(1);
				if (source === undefined) return;
				const edit = fillCells(procedure, into, columns, source);
				if (isEmpty(edit)) this.told = this.#say("nothing-filled");
				else if (this.#change(edit, "fill")) this.told = this.#counted("filled", rowsIn(edit));
				return;
			}
			case "clear": {
				const isDone = this.#change(fillCells(procedure, rows, columns, null), "clear");
				if (isDone && whole) this.told = this.#say("cleared-rows", { keys: keysInWords("delete", this.language) });
				return;
			}
			default:
				throw new RangeError(`${command} is nothing that a button does`);
		}
	}

	/** Takes rows out; the row below them has the focus then. */
	#remove(ids: readonly string[]): boolean {
		const order = this.#rows.map(({ id }) => id);
		const next = order.slice(order.indexOf(ids.at(-1) ?? "") + 1).find((id) => !isNotRow(id)) ?? newRow;
		const column = this.#head?.column ?? this.#firstCell().column;
		if (!this.#change(removeRows(this.#state.procedure, ids), "delete", only({ row: next, column }))) return false;
		this.told = this.#counted("deleted", ids.length);
		return true;
	}

	#move(rows: readonly string[], after: string | null): void {
		if (!this.#change(moveRows(this.#state.procedure, rows, after), "move")) return;
		const first = rowsOf(this.#state.procedure).findIndex(({ id }) => id === rows[0]) + 1;
		this.told = this.#counted("moved", rows.length, { row: first, last: first + rows.length - 1 });
	}

	#counted(key: Parameters<typeof counted>[1], count: number, values: Record<string, string | number> = {}): string {
		return counted(this.#say, key, count, values);
	}

	/** One gesture. Where it leads elsewhere, the focus goes there. @returns whether it went well */
	#change(edit: Edit, gesture: Gesture, to?: Ends): boolean {
		this.told = "";
		if (this.store === null || isEmpty(edit)) return false;
		const after = to === undefined ? this.#stored : this.#storable(to.anchor, to.head);
		const problem = this.store.change(edit, gesture, after);
		if (problem !== null) this.told = sayProblem(problem, this.language);
		if (problem !== null) return false;
		if (to === undefined) this.#focusHead();
		else this.#select(to.anchor, to.head);
		return true;
	}

	/** Begins a drag, with every selected row where the row is one of them. */
	readonly #drags = ({ node }: RowDragEnterEvent<RowView>) => {
		const row = node.data?.id;
		if (this.#dragged !== null || row === undefined || row === newRow || isNotRow(row)) return;
		const { rows, whole } = this.#block();
		this.#dragged = whole && rows.includes(row) ? rows : [row];
		this.#held = null;
	};

	readonly #dropped = ({ node }: RowDragEndEvent<RowView>) => {
		const moved = node.data?.id;
		const moving = this.#dragged;
		this.#isOrderLoose = true;
		if (moved === undefined || moving === null) return this.#giveUpDrag();
		const order: string[] = [];
		for (let at = 0; at < this.#rows.length; at++) {
			const id = this.#api?.getDisplayedRowAtIndex(at)?.data?.id;
			if (id !== undefined && id !== newRow) order.push(id);
		}
		const after = order.slice(0, order.indexOf(moved)).findLast((id) => !moving.includes(id)) ?? null;
		const { anchor, head } = wholeRows(moving[0] ?? moved, moving.at(-1) ?? moved);
		this.#select(anchor, head, false);
		this.#move(moving, after);
		// Where nothing moved, the grid alone has another order.
		if (this.#isOrderLoose) this.#takeOrderBack();
		this.#dragged = null;
		this.#focusHead();
	};

	#giveUpDrag(): void {
		this.#takeOrderBack();
		this.#dragged = null;
		this.#focusHead();
	}

	#takeOrderBack(): void {
		this.#isOrderLoose = true;
		this.#sync();
	}

	// The menu of a row, and the list of columns

	#openMenu(row: string, beside: HTMLElement | null): void {
		if (!this.#block().rows.includes(row)) this.#select({ row, column: numberColumn }, { row, column: numberColumn });
		this.#menu.open(beside ?? this.rowsElement);
	}

	#pressInMenu(command: RowMenuCommand): void {
		switch (command) {
			case "copy":
				this.#clipboard.copyRows();
				break;
			case "paste":
				this.#focusHead();
				void this.#clipboard.pasteFromMenu();
				return;
			case "select-from":
				this.#from = this.#block().rows[0] ?? null;
				this.told = this.#say("select-to");
				break;
			default:
				this.#press(command);
		}
		this.#focusHead();
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

	/** Opens the editor of a column in the row with the focus. @returns whether it is open */
	#openEditor(column: StepField): boolean {
		if (!this.isConnected || this.#head === null) return false;
		const at = { row: this.#head.row, column };
		this.#select(at, at);
		this.#edit(at, null);
		return this.#editor !== null;
	}

	#edit(at: CellPlace, typed: string | null): void {
		if (this.#isReadOnly()) return;
		if (isNotRow(at.row)) {
			this.told = this.#say("not-row");
			return;
		}
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
			label:
				at.row === newRow
					? say("editor-new", { column: name })
					: say("editor", { column: name, row: this.#rows[row]?.cells[numberColumn]?.text ?? "" }),
			text,
			list: this.offersElement,
			offers: (now) => this.#offers(column, now === opened ? "" : now, now, at.row),
			input: (now) => this.store?.typing({ ...at, text: now }),
			block: (block) => {
				this.#editor?.editor.keep("stay");
				// What was typed before may not be taken: then it stays open, and nothing is pasted over it.
				if (this.#editor === null) this.#clipboard.take(block);
			},
			done: (now, chosen, onward) => this.#done(at, now, chosen, onward),
		});
		this.#editor = { editor, at, opened };
		cell.append(editor.element);
		this.store?.typing({ ...at, text });
		editor.open();
	}

	/** A file that must not be written opens no editor, and says why. */
	#isReadOnly(): boolean {
		const [loss] = this.#state.readOnly;
		if (loss !== undefined) this.told = sayProblem(loss, this.language);
		return loss !== undefined;
	}

	/** What the text could mean where it reads several ways, then what the stock holds, then the kinds. */
	#offers({ fields }: GridColumn, wanted: string, text: string, row: string): Offer[] {
		const { shop } = this.#state;
		const procedure = withRowsOnly(this.#state.procedure);
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
		const insert = isNew ? insertRows([{ id: row }], rowsOf(procedure).at(-1)?.id ?? null) : [];
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
		const { shop } = this.#state;
		return editForText({ procedure: withRowsOnly(procedure), row, fields, text, shop, language: this.language });
	}

	/** What else the text has filled, and from where. */
	#alsoTold(row: string, { fields }: GridColumn, also: readonly StepField[]): string {
		if (also.length === 0) return "";
		const { procedure, shop } = this.#state;
		const step = rowsOf(procedure).find(({ id }) => id === row);
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
}

/** Everything of the state that the rows show. */
function shownOf({ procedure, readable, findings, report, shop, conflicts, readOnly }: SheetState): unknown[] {
	return [procedure, readable, findings, report, shop, conflicts, readOnly];
}

/** The line over the figures, borders, and room for a bar to scroll sideways. */
const groupAndScrollPx = groupHeaderHeightPx + 20;

function applied(procedure: Procedure, edit: Edit): Procedure {
	const after = applyEdit(procedure, edit);
	if ("problem" in after) throw new RangeError(`a new row does not go in: ${after.problem.message}`);
	return after.procedure;
}

function only(at: At): Ends {
	return { anchor: at, head: at };
}

function wholeRows(first: string, last: string): Ends {
	return { anchor: { row: first, column: numberColumn }, head: { row: last, column: numberColumn } };
}

/** How many rows an edit of cells changes. */
function rowsIn(edit: Edit): number {
	return new Set(edit.flatMap((one) => ("row" in one ? [one.row] : []))).size;
}

function clamp(at: number, length: number): number {
	return Math.min(Math.max(at, 0), length - 1);
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-grid": Grid;
	}
}
