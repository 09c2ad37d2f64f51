import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import type { BookOpened } from "../../api/types.ts";
import { blockEdit, type ReadBlock } from "../../exchange/block-in.ts";
import { cellText, doorOf } from "../../exchange/cell-in.ts";
import { contextInWords } from "../../exchange/context-words.ts";
import type { PlacedColumn, UnreadText } from "../../exchange/sheet-in.ts";
import { mostRows } from "../../model/most-rows.ts";
import { headerOf } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";
import type { Procedure, Step } from "../../model/generated/types.ts";
import { type Problem, sayProblem } from "../../model/problem.ts";
import { type Shop, shopOf } from "../../model/shop.ts";
import type { Language } from "../../model/words.ts";
import { browserStorage } from "../browser-storage.ts";
import { columnsInUse } from "../grid/row-views.ts";
import { readChoice, shownColumns } from "../grid/shown-columns.ts";
import { dialogStyle } from "../shell/dialog.ts";
import { gridColumns } from "../store/columns.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import type { CellPlace } from "../store/state.ts";
import { controls } from "../style/tokens.ts";
import { type Say, saying } from "../words.ts";
import {
	beyondRoom,
	choices,
	fieldsInWords,
	filledFields,
	type Pasted,
	partsTold,
	type PasteMode,
	readPasted,
	readSheet,
	selectionAfter,
} from "./paste-reading.ts";
import sentences from "./words.json" with { type: "json" };

type Reading = (ReadBlock & { procedure?: Procedure }) | { problem: Problem };

/**
 * Shows what a pasted text becomes before it is taken: each column, the rows, what could not be read.
 *
 * In a Sheet (`store`, `text`, `at`) it is a dialog that opens by itself, pastes in one gesture, and fires `gw-closed`.
 * With `mode="new"` (`opened`, `text`, `name`) it stands inside another dialog, whose buttons come in the slot
 * `buttons`, and fires `gw-mapped`, detail `{ procedure, notes }`.
 */
@customElement("gw-mapping-preview")
export class MappingPreview extends LitElement {
	static override styles = [controls, dialogStyle, previewStyle()];

	@property() mode: "paste" | "new" = "paste";
	@property() language: Language = "en";
	@property({ attribute: false }) text = "";
	/** The Sheet's; in `paste` mode. */
	@property({ attribute: false }) store: Pick<SheetStore, "state" | "change"> | null = null;
	/** The cell pasted on; null: the rows go to the end. */
	@property({ attribute: false }) at: CellPlace | null = null;
	/** The book's parts; in `new` mode. */
	@property({ attribute: false }) opened: Pick<BookOpened, "book" | "stock" | "limits"> | null = null;
	/** Name of the sheet's file; in `new` mode. */
	@property() name = "";
	@state() private overrides: Pasted["overrides"] = new Map();
	@state() private hasHeader: boolean | null = null;
	@state() private way: PasteMode = "over";
	@state() private takeParts = true;
	@state() private refused: Problem | null = null;
	@query("dialog") private dialog!: HTMLDialogElement | null;
	#shop: Shop | null = null;
	/** As found, and as the person says. */
	#found: Reading | null = null;
	#reading: Reading | null = null;

	override willUpdate(changed: PropertyValues): void {
		const isChanged = (...names: string[]) => names.some((name) => changed.has(name));
		if (isChanged("text")) this.overrides = new Map();
		if (isChanged("store", "opened")) this.#shop = this.#shopNow();
		if (this.#shop === null) return;
		const isNew = isChanged("text", "at", "store", "opened", "name", "language", "mode", "hasHeader", "way");
		if (isNew) this.#found = this.#read(new Map());
		if (isNew || isChanged("overrides"))
			this.#reading = this.overrides.size === 0 ? this.#found : this.#read(this.overrides);
	}

	override firstUpdated(): void {
		this.dialog?.showModal();
	}

	override render(): TemplateResult {
		const say = saying(sentences, this.language);
		const reading = this.#reading;
		if (this.mode === "new")
			return html`<section aria-label=${say("newHeading")}>${this.#content(reading, say)}</section>`;
		return html`<dialog aria-labelledby="heading" aria-describedby="summary" @close=${this.#onClose}>
			<h2 id="heading">${say("pasteHeading")}</h2>
			${this.#content(reading, say)}
		</dialog>`;
	}

	#content(reading: Reading | null, say: Say<typeof sentences>): TemplateResult {
		if (reading === null) return html``;
		if ("problem" in reading) return this.#problem(reading.problem, say);
		return html`
			<p id="summary" role="status">${this.#summary(reading, say)}</p>
			${this.mode === "paste" ? this.#where(reading, say) : nothing}
			${this.#columns(reading, say)} ${this.#rows(reading, say)} ${this.#unread(reading.unread, say)}
			${list(say("notesTitle"), "notes", reading.notes, (count) => say("moreNotes", { count }))} ${this.#around(reading, say)}
			${
				this.refused === null
					? nothing
					: html`<p class="wrong" role="alert">${say("notTaken", { why: sayProblem(this.refused, this.language) })}</p>`
			}
			<div class="buttons">
				${this.#cancel(say)}
				<button
					type="button"
					class="main"
					autofocus
					?disabled=${this.#pastable(reading) === 0}
					@click=${() => this.#take(reading)}
				>
					${this.#takeWords(this.#pastable(reading), say)}
				</button>
			</div>
		`;
	}

	#problem(problem: Problem, say: Say<typeof sentences>): TemplateResult {
		return html`
			<p id="summary" role="status">${sayProblem(problem, this.language)}</p>
			<p>${say(this.mode === "new" ? "sheetHint" : "copyHint")}</p>
			${this.hasHeader === true ? this.#headerChoice(true, say) : nothing}
			<div class="buttons">${this.#cancel(say)}</div>
		`;
	}

	/** In `new` mode the dialog around has its own, which stand in the same row. */
	#cancel(say: Say<typeof sentences>): TemplateResult {
		if (this.mode === "new") return html`<slot name="buttons"></slot>`;
		return html`<button type="button" @click=${() => this.dialog?.close()}>${say("cancel")}</button>`;
	}

	#summary({ steps, unread }: ReadBlock, say: Say<typeof sentences>): string {
		const rows = steps.length === 1 ? say("rowReadOne") : say("rowsRead", { count: steps.length });
		const count = unread.length;
		return `${rows} ${count === 0 ? say("allRead") : count === 1 ? say("oneUnread") : say("someUnread", { count })}`;
	}

	#where(reading: ReadBlock, say: Say<typeof sentences>): TemplateResult {
		const row = this.#rowNumber;
		const beyond = this.#beyond(reading);
		return html`
			${
				row === null
					? html`<p>${say("atEnd")}</p>`
					: html`<fieldset>
							<legend>${say("where")}</legend>
							${(["over", "insert"] as const).map(
								(way) => html`<label class="choice">
									<input
										type="radio"
										name="way"
										value=${way}
										.checked=${this.way === way}
										@change=${() => {
											this.way = way;
										}}
									/>
									${say(way, { row })}
								</label>`,
							)}
						</fieldset>`
			}
			${this.#headerChoice(reading.hasHeader, say)}
			${
				beyond === 0
					? nothing
					: html`<p class="wrong">
							${this.#pastable(reading) === 0 ? say("noRoom", { most: mostRows }) : say("tooMany", { most: mostRows, count: beyond })}
						</p>`
			}
		`;
	}

	#headerChoice(checked: boolean, say: Say<typeof sentences>): TemplateResult {
		return html`<label class="choice">
			<input
				type="checkbox"
				id="has-header"
				.checked=${checked}
				@change=${({ target }: Event) => {
					this.hasHeader = (target as HTMLInputElement).checked;
					this.overrides = new Map();
				}}
			/>
			${say("hasHeader")}
		</label>`;
	}

	#columns({ columns }: ReadBlock, say: Say<typeof sentences>): TemplateResult {
		return html`<div class="scroll" tabindex="0" role="group" aria-label=${say("columnsTitle")}>
			<table>
				<caption>
					${say("columnsTitle")}
				</caption>
				<thead>
					<tr>
						<th scope="col">${say("column")}</th>
						<th scope="col">${say("holds")}</th>
						<th scope="col">${say("cells")}</th>
					</tr>
				</thead>
				<tbody>
					${columns.map((column) => this.#column(column, say))}
				</tbody>
			</table>
		</div>`;
	}

	#column(column: PlacedColumn, say: Say<typeof sentences>): TemplateResult {
		const name = column.header || say("columnNumber", { number: column.index + 1 });
		const override = this.overrides.get(column.index);
		const chosen = override === undefined ? "" : override === "out" ? "out" : override.join(" ");
		const option = (value: string, words: string) =>
			html`<option value=${value} ?selected=${value === chosen}>${words}</option>`;
		return html`<tr>
			<th scope="row">${name}</th>
			<td>
				<select
					aria-label=${say("holdsOf", { column: name })}
					data-column=${column.index}
					@change=${({ target }: Event) => this.#place(column.index, (target as HTMLSelectElement).value)}
				>
					${option("", say("asFound", { field: this.#foundWords(column.index, say) }))}
					${choices.map((fields) => option(fields.join(" "), fieldsInWords(fields, this.language)))}
					${option("out", say("leaveOut"))}
				</select>
				${column.guessed ? html`<span class="quiet">${say("guessed")}</span>` : nothing}
			</td>
			<td class="samples">${column.samples.join(" · ")}</td>
		</tr>`;
	}

	/** What a column was taken for before the person said anything. */
	#foundWords(index: number, say: Say<typeof sentences>): string {
		const found = this.#found;
		const column = found === null || "problem" in found ? undefined : found.columns.find((one) => one.index === index);
		if (column?.fields) return fieldsInWords(column.fields, this.language);
		if (column?.field === "id") return say("rowNumber");
		return column?.field ? headerOf(column.field, this.language) : say("notPlaced");
	}

	#rows(reading: ReadBlock, say: Say<typeof sentences>): TemplateResult {
		const { steps } = reading;
		const first = steps.slice(0, rowsShown);
		const fields = filledFields({ steps: first });
		const title =
			steps.length > rowsShown ? say("rowsTitleSome", { shown: rowsShown, count: steps.length }) : say("rowsTitle");
		return html`<div class="scroll" tabindex="0" role="group" aria-label=${title}>
			<table>
				<caption>
					${title}
				</caption>
				<thead>
					<tr>
						<th scope="col">${say("row")}</th>
						${fields.map((field) => html`<th scope="col">${headerOf(field, this.language)}</th>`)}
					</tr>
				</thead>
				<tbody>
					${first.map(
						(step, at) => html`<tr>
							<th scope="row">${at + 1}</th>
							${fields.map((field) => this.#cell(step, field, reading, say))}
						</tr>`,
					)}
				</tbody>
			</table>
		</div>`;
	}

	#cell(step: Step, field: StepField, { steps }: ReadBlock, say: Say<typeof sentences>): TemplateResult {
		if (this.#shop === null) return html`<td></td>`;
		const typed = step[field] === undefined ? step.asTyped?.[field] : undefined;
		if (typed !== undefined) return html`<td class="unread">${typed} <small>${say("asTyped")}</small></td>`;
		const around = this.mode === "new" ? { steps } : this.store?.state.procedure;
		const door = doorOf({ format: 1, id: "", title: {}, ...around }, step, this.#shop, this.language);
		return html`<td>${cellText(step, [field], door)}</td>`;
	}

	#unread(unread: readonly UnreadText[], say: Say<typeof sentences>): TemplateResult | typeof nothing {
		const lines = unread.slice(0, linesShown).map(({ row, column, text, why }) => {
			const name = column ?? say("outsideRows");
			const place =
				row === null
					? say("unreadAround", { column: name, text })
					: say("unreadRow", { row, column: column ?? "", text });
			return `${place.replace(", :", ":")} ${why}`;
		});
		const more = unread.length - lines.length;
		return list(say("unreadTitle"), "not-read", lines, () => say("moreUnread", { count: more }), more);
	}

	#around(reading: ReadBlock, say: Say<typeof sentences>): TemplateResult | typeof nothing {
		const told = contextInWords(reading.context, this.language);
		const procedure = this.mode === "paste" ? this.store?.state.procedure : undefined;
		const { taken, kept } = procedure ? partsTold(reading, procedure, this.language) : { taken: "", kept: "" };
		if (told.length === 0 && taken === "" && kept === "") return nothing;
		return html`
			<h3>${say("aroundTitle")}</h3>
			<dl>${told.map(({ name, values }) => html`<dt>${name}</dt><dd>${values}</dd>`)}</dl>
			${
				taken === ""
					? nothing
					: html`<label class="choice">
							<input
								type="checkbox"
								id="take-parts"
								.checked=${this.takeParts}
								@change=${({ target }: Event) => {
									this.takeParts = (target as HTMLInputElement).checked;
								}}
							/>
							${say("takeParts", { parts: taken })}
						</label>`
			}
			${kept === "" ? nothing : html`<p>${say("keptParts", { parts: kept })}</p>`}
		`;
	}

	#takeWords(count: number, say: Say<typeof sentences>): string {
		if (this.mode === "new") return count === 1 ? say("takeRow") : say("takeRows", { count });
		return count === 1 ? say("pasteRow") : say("pasteRows", { count });
	}

	/** How many of the rows can be taken. */
	#pastable(reading: ReadBlock): number {
		return reading.steps.length - this.#beyond(reading);
	}

	#beyond(reading: ReadBlock): number {
		return this.mode === "new" || this.store === null
			? 0
			: beyondRoom(reading, this.store.state.procedure, this.at, this.way);
	}

	/** Number of the row pasted on; null where there is none. */
	get #rowNumber(): number | null {
		const at = this.store?.state.procedure.steps?.findIndex(({ id }) => id === this.at?.row) ?? -1;
		return at < 0 ? null : at + 1;
	}

	#shopNow(): Shop | null {
		if (this.mode === "paste") return this.store?.state.shop ?? null;
		return this.opened === null ? null : shopOf(this.opened.book, this.opened.stock, this.opened.limits);
	}

	#read(overrides: Pasted["overrides"]): Reading | null {
		if (this.#shop === null) return null;
		const pasted = { text: this.text, overrides, hasHeader: this.hasHeader };
		if (this.mode === "new") return readSheet(pasted, this.name, this.#shop, this.language);
		if (this.store === null) return null;
		const { state } = this.store;
		const shown = shownColumns(readChoice(browserStorage()), columnsInUse(state));
		// What stands behind the columns shown is a place for nothing but what its cells clearly say.
		const columns = [...shown, ...gridColumns.filter((column) => !shown.includes(column))];
		return readPasted(pasted, state.procedure, this.at, this.way, columns, this.#shop, this.language);
	}

	#place(index: number, value: string): void {
		const overrides = new Map(this.overrides);
		if (value === "") overrides.delete(index);
		else overrides.set(index, value === "out" ? "out" : (value.split(" ") as StepField[]));
		this.overrides = overrides;
	}

	#take(reading: ReadBlock & { procedure?: Procedure }): void {
		if (this.mode === "new") {
			const detail = { procedure: reading.procedure, notes: reading.notes };
			this.dispatchEvent(new CustomEvent("gw-mapped", { detail, bubbles: true, composed: true }));
			return;
		}
		if (this.store === null) return;
		const { edit, rows } = blockEdit({
			procedure: this.store.state.procedure,
			block: reading,
			mode: this.way,
			row: this.at?.row ?? null,
			withParts: this.takeParts,
			random: Math.random,
		});
		this.refused = this.store.change(edit, "paste", selectionAfter(rows, this.at, reading));
		if (this.refused === null) this.dialog?.close();
	}

	readonly #onClose = (): void => {
		this.dispatchEvent(new CustomEvent("gw-closed", { bubbles: true, composed: true }));
	};
}

const rowsShown = 8;
const linesShown = 20;

function list(
	title: string,
	id: string,
	lines: readonly string[],
	more: (count: number) => string,
	beyond = Math.max(0, lines.length - linesShown),
): TemplateResult | typeof nothing {
	if (lines.length === 0) return nothing;
	return html`
		<h3 id=${id}>${title}</h3>
		<ul aria-labelledby=${id}>
			${lines.slice(0, linesShown).map((line) => html`<li>${line}</li>`)} ${beyond > 0 ? html`<li>${more(beyond)}</li>` : nothing}
		</ul>
	`;
}

function previewStyle() {
	return css`
		dialog {
			width: min(80rem, calc(100vw - 2rem));
		}
		h3,
		caption {
			font-size: 1rem;
			font-weight: 700;
			text-align: left;
			margin: var(--gap) 0 0.2rem;
			padding: 0;
		}
		.scroll {
			overflow-x: auto;
			margin-block: var(--gap);
		}
		table {
			border-collapse: collapse;
			min-width: 100%;
		}
		th,
		td {
			border-bottom: 1px solid var(--line);
			padding: 0.3rem 0.75rem 0.3rem 0;
			text-align: left;
			vertical-align: top;
			font-weight: normal;
		}
		thead th {
			color: var(--quiet);
		}
		.samples {
			font-family: var(--figures);
			font-size: 0.875rem;
			overflow-wrap: anywhere;
		}
		.unread {
			color: var(--unread);
			text-decoration: underline dotted;
		}
		.unread small {
			color: var(--quiet);
		}
		.quiet {
			color: var(--quiet);
			font-size: 0.875rem;
		}
		ul {
			margin: 0;
			padding-inline-start: 1.25rem;
		}
		dl {
			display: grid;
			grid-template-columns: auto 1fr;
			gap: 0.1rem var(--gap);
			margin: 0;
		}
		dt {
			color: var(--quiet);
		}
		dd {
			margin: 0;
		}
		select {
			max-width: 22rem;
		}
		dialog .buttons,
		section > .buttons {
			position: sticky;
			inset-block-end: -1.25rem;
			background: var(--paper);
			padding-block: 0.75rem;
			margin-block-end: -0.5rem;
		}
		section > .buttons {
			display: flex;
			flex-wrap: wrap;
			gap: var(--gap);
			justify-content: end;
		}
	`;
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-mapping-preview": MappingPreview;
	}
}
