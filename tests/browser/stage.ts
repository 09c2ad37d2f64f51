import "axe-core/axe.min.js";
import { css, html, LitElement } from "lit";
import book from "../../procedures/quillfeather/book.json" with { type: "json" };
import limits from "../../procedures/quillfeather/limits.json" with { type: "json" };
import stock from "../../procedures/quillfeather/stock.json" with { type: "json" };
import type { Book, Limits, Stock } from "../../src/model/generated/types.ts";
import { type Shop, shopOf } from "../../src/model/shop.ts";
import type { FilmUnit } from "../../src/model/units.ts";
import type { DraftKeeper } from "../../src/workbench/store/draft.ts";
import { controls, tokens } from "../../src/workbench/style/tokens.ts";

export const themes = ["light", "dark"] as const;

/** Paper with the colours of the workbench; what is appended to it shows on it. Its `theme` is light or dark. */
class Stage extends LitElement {
	static override styles = [
		tokens,
		controls,
		css`
			:host {
				display: block;
				background: var(--paper);
				color: var(--ink);
				font: var(--body);
			}
		`,
	];

	override render() {
		return html`<slot></slot>`;
	}
}
customElements.define("test-stage", Stage);

/** A stage at the end of the page. */
export function stage(theme: (typeof themes)[number] = "light"): HTMLElement {
	const element = document.createElement("test-stage");
	element.setAttribute("theme", theme);
	document.body.append(element);
	return element;
}

/** The shop that comes with the workbench. */
export function demoShop(units: FilmUnit = "um"): Shop {
	return shopOf({ ...(book as unknown as Book), units }, stock as unknown as Stock, limits as unknown as Limits);
}

/** Drafts that go nowhere. */
export const noDrafts: DraftKeeper = {
	keep: async () => null,
	keepOpenCell: async () => null,
	remove: async () => undefined,
	own: async () => null,
	ownIn: async () => [],
	unclaimed: async () => ({ drafts: [], unknown: 0 }),
	claim: async () => null,
	discard: async () => undefined,
};
