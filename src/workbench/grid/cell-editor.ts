import { onlyCell } from "./clipboard-text.ts";
import { placePopover } from "./place-popover.ts";

/** Where the selection goes when an editor closes. */
export type Onward = "stay" | "down" | "up" | "next" | "previous" | "elsewhere";

/** What is offered under an editor. */
export interface Offer {
	text: string;
	aside: string;
}

interface CellEditorOptions {
	/** Name of the field, for screen readers. */
	label: string;
	text: string;
	/** The list shared by every editor of the grid. */
	list: HTMLElement;
	offers(text: string): readonly Offer[];
	input(text: string): void;
	/** A block of cells was pasted where one text goes: the editor stays out of it. */
	block(text: string): void;
	/** The person is done: with the text, or without. */
	done(text: string | null, chosen: boolean, onward: Onward): void;
}

/**
 * The editor of a cell: a text field, and under it what the stock holds. Whatever is typed is taken; a choice is only a
 * quicker way to type. Enter, Tab, a click elsewhere or leaving the page keep the text, Escape gives it up.
 */
export class CellEditor {
	readonly element = document.createElement("span");
	readonly #input = document.createElement("input");
	readonly #options: CellEditorOptions;
	#offers: readonly Offer[] = [];
	#active = -1;
	#isDone = false;

	constructor(options: CellEditorOptions) {
		this.#options = options;
		const { list } = options;
		this.element.className = "editor";
		const input = this.#input;
		input.type = "text";
		input.value = options.text;
		input.autocomplete = "off";
		input.spellcheck = false;
		for (const [name, value] of Object.entries({
			role: "combobox",
			"aria-label": options.label,
			"aria-autocomplete": "list",
			"aria-haspopup": "listbox",
			"aria-expanded": "false",
			"aria-controls": list.id,
		}))
			input.setAttribute(name, value);
		this.element.append(input);
		input.addEventListener("input", () => {
			options.input(input.value);
			this.#suggest();
		});
		input.addEventListener("keydown", this.#key);
		input.addEventListener("blur", this.#blur);
		input.addEventListener("paste", this.#paste);
		// The grid would take these for its own.
		for (const name of ["pointerdown", "mousedown", "click", "dblclick", "copy", "cut", "paste"])
			this.element.addEventListener(name, (event) => event.stopPropagation());
		list.addEventListener("mousedown", this.#hold);
		list.addEventListener("click", this.#press);
		globalThis.addEventListener("scroll", this.#moved, { capture: true, passive: true });
		visualViewport?.addEventListener("resize", this.#moved);
		visualViewport?.addEventListener("scroll", this.#moved);
	}

	/** The text as it stands. */
	get text(): string {
		return this.#input.value;
	}

	/** Takes the focus; the element is in its cell by now. */
	open(): void {
		this.#input.focus({ preventScroll: true });
		this.#input.setSelectionRange(this.text.length, this.text.length);
		this.#suggest();
	}

	/** Ends with the text, wherever the focus is. */
	keep(onward: Onward = "elsewhere", chosen = false): void {
		this.#end(this.text, chosen, onward);
	}

	hideOffers(): void {
		const { list } = this.#options;
		this.#active = -1;
		this.#input.setAttribute("aria-expanded", "false");
		this.#input.removeAttribute("aria-activedescendant");
		if (list.matches(":popover-open")) list.hidePopover();
	}

	#end(text: string | null, chosen: boolean, onward: Onward): void {
		if (this.#isDone) return;
		this.#isDone = true;
		this.hideOffers();
		const { list } = this.#options;
		list.removeEventListener("mousedown", this.#hold);
		list.removeEventListener("click", this.#press);
		globalThis.removeEventListener("scroll", this.#moved, { capture: true });
		visualViewport?.removeEventListener("resize", this.#moved);
		visualViewport?.removeEventListener("scroll", this.#moved);
		list.replaceChildren();
		this.#options.done(text, chosen, onward);
		this.element.remove();
	}

	readonly #blur = () => this.keep();

	/** The field keeps the focus, or leaving it would keep the text as typed before the choice. */
	readonly #hold = (event: Event) => event.preventDefault();

	/** A click, not a press: a finger that scrolls the list chooses nothing. */
	readonly #press = (event: Event) => {
		const option = (event.target as Element).closest<HTMLElement>("[role=option]");
		if (option === null) return;
		this.#choose(Number(option.dataset.at));
		this.keep("stay", true);
	};

	/** The page moved under the list, or a screen keyboard came up. */
	readonly #moved = () => {
		if (this.#options.list.matches(":popover-open") && !this.#placeOffers()) this.hideOffers();
	};

	readonly #paste = (event: ClipboardEvent) => {
		const text = event.clipboardData?.getData("text/plain") ?? "";
		if (text === "" || onlyCell(text) !== null) return;
		event.preventDefault();
		this.#options.block(text);
	};

	readonly #key = (event: KeyboardEvent) => {
		if (event.isComposing) return;
		const onward = onwardOf(event);
		if (event.key === "Escape") {
			event.preventDefault();
			event.stopPropagation();
			this.#end(null, false, "stay");
		} else if (onward !== null) {
			event.preventDefault();
			event.stopPropagation();
			const chosen = this.#active >= 0;
			if (chosen) this.#choose(this.#active);
			this.keep(onward, chosen);
		} else if ((event.key === "ArrowDown" || event.key === "ArrowUp") && !event.altKey) {
			event.preventDefault();
			this.#step(event.key === "ArrowDown" ? 1 : -1);
		}
	};

	#choose(at: number): void {
		const offer = this.#offers[at];
		if (offer !== undefined) this.#input.value = offer.text;
	}

	#step(by: number): void {
		const { list } = this.#options;
		if (this.#offers.length === 0) return;
		if (!list.matches(":popover-open")) this.#showOffers();
		// One place more than there are offers: the text as typed.
		const places = this.#offers.length + 1;
		this.#active = ((this.#active + 1 + by + places) % places) - 1;
		for (const [at, option] of [...list.children].entries())
			option.setAttribute("aria-selected", String(at === this.#active));
		const option = list.children[this.#active];
		option?.scrollIntoView({ block: "nearest" });
		if (option === undefined) this.#input.removeAttribute("aria-activedescendant");
		else this.#input.setAttribute("aria-activedescendant", option.id);
	}

	#suggest(): void {
		const { list, offers } = this.#options;
		this.#offers = offers(this.text);
		this.#active = -1;
		this.#input.removeAttribute("aria-activedescendant");
		list.replaceChildren(
			...this.#offers.map(({ text, aside }, at) => {
				const option = document.createElement("li");
				option.id = `${list.id}-${at}`;
				option.dataset.at = String(at);
				option.setAttribute("role", "option");
				option.setAttribute("aria-selected", "false");
				const note = document.createElement("small");
				note.textContent = aside;
				option.append(text, note);
				return option;
			}),
		);
		if (this.#offers.length === 0) this.hideOffers();
		else this.#showOffers();
	}

	#showOffers(): void {
		const { list } = this.#options;
		this.#placeOffers();
		if (!list.matches(":popover-open")) list.showPopover();
		this.#input.setAttribute("aria-expanded", "true");
	}

	/** @returns whether the cell is in sight */
	#placeOffers(): boolean {
		const { list } = this.#options;
		const cell = this.element.getBoundingClientRect();
		list.style.setProperty("min-width", `${cell.width}px`);
		return placePopover(list, cell, { widthPx: cell.width, wantedPx: 320 });
	}
}

function onwardOf({ key, shiftKey, ctrlKey, metaKey, altKey }: KeyboardEvent): Onward | null {
	if (ctrlKey || metaKey || altKey) return null;
	if (key === "Enter") return shiftKey ? "up" : "down";
	if (key === "Tab") return shiftKey ? "previous" : "next";
	return null;
}
