import { html, type LitElement, nothing, type TemplateResult } from "lit";
import { headerOf } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";
import type { Language } from "../../model/words.ts";
import { type GridColumn, gridColumns } from "../store/columns.ts";
import { saying } from "../words.ts";
import { placePopover } from "./place-popover.ts";
import words from "./words.json" with { type: "json" };

interface ColumnsHost extends LitElement {
	language: Language;
}

interface ColumnChoiceOptions {
	/** Ids of the columns on screen. */
	shown(): readonly string[];
	inUse(): ReadonlySet<StepField>;
	choose(column: StepField, isShown: boolean): void;
}

/** The button and the list with which columns are shown and hidden. */
export class ColumnChooser {
	readonly #host: ColumnsHost;
	readonly #options: ColumnChoiceOptions;

	constructor(host: ColumnsHost, options: ColumnChoiceOptions) {
		this.#host = host;
		this.#options = options;
	}

	renderButton(): TemplateResult {
		const say = saying(words, this.#host.language);
		return html`<button
			type="button"
			id="choose-columns"
			aria-haspopup="dialog"
			aria-label=${say("columns")}
			title=${say("columns")}
			@click=${this.#open}
		>
			${say("short-columns")}…
		</button>`;
	}

	render(): TemplateResult {
		const say = saying(words, this.#host.language);
		return html`<div
			class="columns"
			role="dialog"
			aria-label=${say("columns-shown")}
			popover="auto"
			@toggle=${this.#toggled}
		>
			<fieldset>
				<legend>${say("columns-shown")}</legend>
				${gridColumns.map((column) => this.#column(column))}
			</fieldset>
		</div>`;
	}

	#column({ id, fields }: GridColumn): TemplateResult {
		const { language } = this.#host;
		const { shown, inUse, choose } = this.#options;
		return html`
			<label>
				<input
					type="checkbox"
					.checked=${shown().includes(id)}
					@change=${(event: Event) => choose(id, (event.target as HTMLInputElement).checked)}
				/>
				<span>
					${columnHeader(fields, language)}
					${inUse().has(id) ? html`<small>(${saying(words, language)("holds-text")})</small>` : nothing}
				</span>
			</label>
		`;
	}

	get #button(): HTMLElement {
		return this.#host.renderRoot.querySelector("#choose-columns") as HTMLElement;
	}

	get #list(): HTMLElement {
		return this.#host.renderRoot.querySelector(".columns") as HTMLElement;
	}

	readonly #open = (): void => {
		const list = this.#list;
		list.showPopover();
		const beside = this.#button.getBoundingClientRect();
		placePopover(list, beside, { widthPx: list.offsetWidth, wantedPx: list.scrollHeight + 4 });
		list.querySelector("input")?.focus();
	};

	readonly #toggled = (event: Event): void => {
		if ((event as ToggleEvent).newState !== "closed") return;
		const { activeElement } = this.#host.renderRoot as ShadowRoot;
		const isNowhere = activeElement === null && [document.body, null].includes(document.activeElement as HTMLElement);
		if (isNowhere || this.#list.contains(activeElement)) this.#button.focus();
	};
}

/** Name of a column: its fields, as their headers call them. */
export function columnHeader(fields: readonly StepField[], language: Language): string {
	return fields.map((field) => headerOf(field, language)).join(" / ");
}
