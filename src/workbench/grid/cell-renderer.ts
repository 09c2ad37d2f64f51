import type { ICellRendererComp, ICellRendererParams } from "ag-grid-community";
import type { Level } from "../../model/finding.ts";
import { levelMarks } from "../style/marks.ts";
import type { Say } from "../words.ts";
import { type CellView, figureColumns, newRow, numberColumn, type RowView } from "./row-views.ts";
import type words from "./words.json";

/** What the cells of one grid need of it. */
export interface CellsContext {
	/** Everything there is to say of a cell: its findings, why it is not read, what a figure rests on. */
	describe(view: CellView): string;
	say: Say<typeof words>;
	level(level: Level): string;
	/** Cells on screen, so that the selection can be painted without a refresh. */
	readonly cells: Set<Cell>;
	isPicked(cell: Cell): boolean;
	openMenu(row: string, button: HTMLElement): void;
	/** A cell is about to leave the screen. */
	leaving(cell: Cell): void;
}

/** A cell: mark, text and what stands beside it. Refreshed in place. */
export class Cell implements ICellRendererComp<RowView> {
	row = "";
	column = "";
	/** The element of the grid around it, which holds role and focus. */
	element!: HTMLElement;
	readonly #gui = document.createElement("span");
	readonly #content = document.createElement("span");
	#context!: CellsContext;

	init(params: ICellRendererParams<RowView, CellView, CellsContext>): void {
		this.#context = params.context;
		this.element = params.eGridCell;
		this.column = params.column?.getColId() ?? "";
		this.row = params.data?.id ?? "";
		this.#gui.className = "cell";
		this.#gui.append(this.#content);
		this.#content.className = "content";
		if (this.column === numberColumn && this.row !== newRow) this.#addHandles(params);
		this.element.classList.toggle("figure", (figureColumns as readonly string[]).includes(this.column));
		this.#context.cells.add(this);
		this.#show(params.value ?? undefined);
		this.paint();
	}

	getGui(): HTMLElement {
		return this.#gui;
	}

	refresh({ value }: ICellRendererParams<RowView, CellView>): boolean {
		this.#show(value ?? undefined);
		return true;
	}

	destroy(): void {
		this.#context.leaving(this);
		this.#context.cells.delete(this);
	}

	/** Shows whether it is selected. */
	paint(): void {
		const picked = this.#context.isPicked(this);
		this.element.classList.toggle("picked", picked);
		this.element.setAttribute("aria-selected", String(picked));
	}

	#show(view: CellView | undefined): void {
		if (view === undefined) return;
		const { say, level } = this.#context;
		const [gravest] = view.findings;
		const open = gravest !== undefined && gravest.accepted === null;
		const { classList } = this.element;
		for (const one of Object.keys(levelMarks) as Level[]) classList.toggle(one, open && gravest.level === one);
		classList.toggle("unread", view.unread);
		classList.toggle("conflict", view.conflict);
		const parts: (Node | string)[] = [];
		if (view.conflict) parts.push(mark("conflict-mark", "⇄", say("conflict")));
		if (gravest !== undefined) {
			const word = level(gravest.level);
			parts.push(
				open
					? mark(`mark ${gravest.level}`, levelMarks[gravest.level], word)
					: mark("mark accepted", levelMarks[gravest.level], `${word}, ${say("accepted")}`),
			);
		} else if (view.unread) parts.push(mark("mark unread-mark", "?", say("unread")));
		if (this.row === newRow && this.element.getAttribute("aria-colindex") === "2")
			parts.push(part("type-here", say("type-here")));
		if (view.text !== "") parts.push(part("text", view.text));
		if (view.aside !== "") parts.push(" ", part("aside", view.aside));
		this.#content.replaceChildren(...parts);
		const description = this.#context.describe(view);
		if (description === "") this.element.removeAttribute("title");
		else this.element.title = description;
	}

	#addHandles({ data, value, registerRowDragger }: ICellRendererParams<RowView, CellView>): void {
		const { say, openMenu } = this.#context;
		const handle = part("handle", "⠿");
		handle.setAttribute("aria-hidden", "true");
		handle.title = say("handle", { row: value?.text ?? "" });
		registerRowDragger(handle, 4);
		const menu = document.createElement("button");
		menu.type = "button";
		menu.tabIndex = -1;
		menu.className = "row-menu";
		menu.textContent = "⋯";
		menu.setAttribute("aria-label", say("menu", { row: value?.text ?? "" }));
		menu.setAttribute("aria-haspopup", "menu");
		// The grid would take these as a choice of this cell alone, and give up the other rows.
		for (const name of ["pointerdown", "mousedown"]) menu.addEventListener(name, (event) => event.stopPropagation());
		menu.addEventListener("mousedown", (event) => event.preventDefault());
		menu.addEventListener("click", () => openMenu(data?.id ?? "", menu));
		this.#gui.prepend(handle);
		this.#gui.append(menu);
	}
}

function part(className: string, text: string): HTMLElement {
	const element = document.createElement("span");
	element.className = className;
	element.textContent = text;
	return element;
}

/** A sign for the eye and its word for a screen reader. */
function mark(className: string, sign: string, word: string): HTMLElement {
	const element = part(className, "");
	const seen = part("", sign);
	seen.setAttribute("aria-hidden", "true");
	element.append(seen, part("hidden-text", `${word}: `));
	return element;
}
