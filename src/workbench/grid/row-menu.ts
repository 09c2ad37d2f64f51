import { html, type LitElement, type TemplateResult } from "lit";
import type { Say } from "../words.ts";
import { placePopover } from "./place-popover.ts";
import type words from "./words.json";

/** What can be done with a row, or with all that are selected. */
export type RowMenuCommand = (typeof menuCommands)[number];

interface RowMenuOptions {
	say(): Say<typeof words>;
	press(command: RowMenuCommand): void;
	/** The focus comes back to the rows. */
	focus(): void;
}

/** The menu of a row: everything that keys do, for a finger too. */
export class RowMenu {
	readonly #host: LitElement;
	readonly #options: RowMenuOptions;
	#isOpen = false;

	constructor(host: LitElement, options: RowMenuOptions) {
		this.#host = host;
		this.#options = options;
	}

	open(beside: HTMLElement): void {
		const menu = this.#element;
		this.#isOpen = true;
		menu.showPopover();
		placePopover(menu, beside.getBoundingClientRect(), { widthPx: menu.offsetWidth, wantedPx: menu.scrollHeight + 4 });
		menu.querySelector("button")?.focus();
	}

	render(): TemplateResult {
		const say = this.#options.say();
		return html`<div
			class="menu"
			role="menu"
			popover="auto"
			aria-label=${say("row-tools")}
			@keydown=${this.#key}
			@toggle=${this.#toggled}
		>
			${menuCommands.map(
				(command) => html`
					<button type="button" role="menuitem" tabindex="-1" @click=${() => this.#press(command)}>${say(command)}</button>
				`,
			)}
		</div>`;
	}

	get #element(): HTMLElement {
		return this.#host.renderRoot.querySelector(".menu") as HTMLElement;
	}

	readonly #key = (event: KeyboardEvent): void => {
		const menu = this.#element;
		const items = [...menu.querySelectorAll("button")];
		const at = items.indexOf((this.#host.renderRoot as ShadowRoot).activeElement as HTMLButtonElement);
		const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: items.length - 1 }[event.key];
		if (event.key === "Tab") menu.hidePopover();
		else if (to === undefined) return;
		event.preventDefault();
		if (to !== undefined) items[(to + items.length) % items.length]?.focus();
	};

	readonly #toggled = (event: Event): void => {
		if ((event as ToggleEvent).newState !== "closed" || !this.#isOpen) return;
		this.#isOpen = false;
		const { activeElement } = this.#host.renderRoot as ShadowRoot;
		if (activeElement === null || this.#element.contains(activeElement)) this.#options.focus();
	};

	#press(command: RowMenuCommand): void {
		this.#isOpen = false;
		this.#element.hidePopover();
		this.#options.press(command);
	}
}

const menuCommands = [
	"insert-above",
	"insert-below",
	"duplicate",
	"move-up",
	"move-down",
	"copy",
	"paste",
	"select-from",
	"delete",
] as const;
