import type { IHeaderComp, IHeaderParams } from "ag-grid-community";

/** What the header of a column shows, and what it is called in full: the rest is for screen readers and the title. */
export interface HeaderText {
	shown: string;
	full: string;
}

/** The header of a column: text alone, since nothing is sorted or filtered here. */
export class ColumnHeader implements IHeaderComp {
	readonly #gui = document.createElement("span");

	init(params: IHeaderParams & HeaderText): void {
		this.#gui.className = "header";
		this.refresh(params);
	}

	getGui(): HTMLElement {
		return this.#gui;
	}

	refresh({ shown, full }: IHeaderParams & HeaderText): boolean {
		const text = document.createElement("span");
		text.textContent = shown;
		this.#gui.replaceChildren(text);
		this.#gui.removeAttribute("title");
		if (full === shown) return true;
		text.setAttribute("aria-hidden", "true");
		const read = document.createElement("span");
		read.className = "hidden-text";
		read.textContent = full;
		this.#gui.append(read);
		this.#gui.title = full;
		return true;
	}
}
