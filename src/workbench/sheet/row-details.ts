import { css, html, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import type { WorstEstimate } from "../../check/forecast-report.ts";
import { situationInWords } from "../../check/situation-words.ts";
import { measureInWords, whyInWords } from "../../check/unknown-words.ts";
import { editForText } from "../../exchange/cell-in.ts";
import type { Edit } from "../../model/edits.ts";
import { headerOf } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";
import { write } from "../../model/fields/write.ts";
import type { Finding } from "../../model/finding.ts";
import type { Step } from "../../model/generated/types.ts";
import { instructionOf } from "../../model/instruction.ts";
import type { Problem } from "../../model/problem.ts";
import { type ResolvedRow, resolveRows } from "../../model/resolve.ts";
import { filmUnitOf } from "../../model/shop.ts";
import { formatFilm, formatNumber } from "../../model/units.ts";
import { label, type Language, languages } from "../../model/words.ts";
import { sayer } from "../../rules/sayer.ts";
import { suggestionsFor } from "../grid/suggestions.ts";
import { columnOf } from "../store/columns.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { levelMarks } from "../style/marks.ts";
import { controls, levelColours, panel } from "../style/tokens.ts";
import { saying } from "../words.ts";
import { AfterPaint } from "./after-paint.ts";
import { type RowDefault, rowDefaults } from "./row-defaults.ts";
import groups from "./row-groups.json" with { type: "json" };
import { whyRow } from "./why-row.ts";
import words from "./words.json" with { type: "json" };

type Group = keyof typeof groups;

/** Everything about the row that has the focus: why it is there, what it is told, what it does, and every field as a form. */
@customElement("gw-row-details")
export class RowDetails extends AfterPaint {
	static override styles = [
		controls,
		panel,
		levelColours,
		css`
			p {
				margin: 0.2rem 0 0.5rem;
			}
			.instruction {
				font-size: 1.125rem;
				border-left: 3px solid var(--accent);
				padding-left: 0.6rem;
			}
			dl {
				display: grid;
				grid-template-columns: auto 1fr;
				gap: 0.1rem 0.75rem;
				margin: 0 0 0.5rem;
			}
			dt {
				color: var(--quiet);
			}
			dd {
				margin: 0;
			}
			.figure {
				font-family: var(--figures);
			}
			details {
				border-top: 1px solid var(--line);
			}
			summary {
				cursor: pointer;
				padding: 0.5rem 0;
			}
			.fields {
				display: grid;
				grid-template-columns: repeat(auto-fill, minmax(min(100%, 10rem), 1fr));
				gap: 0.6rem var(--gap);
				padding: 0.2rem 0 0.9rem;
			}
			.field {
				display: grid;
				align-content: start;
				gap: 0.1rem;
			}
			.wide {
				grid-column: 1 / -1;
			}
			input,
			textarea {
				width: 100%;
			}
			input::placeholder {
				color: var(--quiet);
				font-style: italic;
				opacity: 1;
			}
			[aria-invalid="true"] {
				border-color: var(--unread);
				border-width: 2px;
			}
			.fields p {
				margin: 0;
			}
			.unread {
				color: var(--unread);
				font-size: 0.875rem;
			}
			li strong {
				color: var(--edge);
			}
		`,
	];

	@property({ attribute: false }) store!: SheetStore;
	@property() language: Language = "en";
	/** What else the last typed text filled, in words. */
	@state() private also = "";
	/** Groups of fields that are unfolded; the same for every row. */
	@state() private opened: ReadonlySet<Group | "own"> = new Set(["hold"]);
	#row: string | null = null;

	constructor() {
		super();
		new StoreController(this, () => this.store);
	}

	override render() {
		const say = saying(words, this.language);
		const { readable, shop, selection } = this.store.state;
		const row = resolveRows(readable, shop).find(({ step }) => step.id === selection?.head.row);
		if (row?.step.id !== this.#row) this.#begin(row?.step.id ?? null);
		if (row === undefined)
			return html`<h2>${say("rowTitle")}</h2>
				<p class="quiet">${say((readable.steps?.length ?? 0) === 0 ? "noRowsYet" : "noRowPicked")}</p>`;
		const { report } = this.store.state;
		const stage = row.stage === null ? "" : ` · ${label("stage", row.stage, this.language)}`;
		return html`
			<h2>${say("row", { row: row.index + 1 })}${stage}</h2>
			<p class="instruction">${this.#instruction(row.step) || say("saysNothing")}</p>
			<h3>${say("whyThisRow")}</h3>
			<p>${whyRow(row, report, filmUnitOf(shop), this.language)}</p>
			${this.#figures(row)} ${this.#findings(row)} ${this.#form(row)}
			<p class="quiet" role="status">${this.also}</p>
		`;
	}

	/** Another row: own words that a closed page left behind there must not stay out of sight. */
	#begin(row: string | null): void {
		this.#row = row;
		this.also = "";
		const isLeft = row !== null && languages.some((one) => this.store.partTexts[ownWordsAt(row, one)] !== undefined);
		if (isLeft) this.opened = new Set([...this.opened, "own" as const]);
	}

	#instruction(step: Step): string {
		const own = step.instruction?.[this.language];
		return own ?? instructionOf(step, this.language, this.store.state.shop.stock);
	}

	#figures(row: ResolvedRow) {
		const say = saying(words, this.language);
		const { report, shop } = this.store.state;
		const outcome = report.rows[row.index];
		if (outcome === undefined) return nothing;
		const film = (um: number) => formatFilm(um, filmUnitOf(shop), this.language);
		const minutes = (value: number) => `${formatNumber(value, this.language, 1)} min`;
		const unknown = report.unknown.filter((one) => one.row === null || one.row <= row.index + 1);
		const figure = (
			quantity: "removedUm" | "filmLeftUm" | "scratchUm" | "minutes",
			value: WorstEstimate | null,
			write: (one: number) => string,
		) => {
			// What is not known of an earlier row is not known of any after it.
			const why = unknown.findLast((one) => one.quantity === quantity) ?? unknown.at(-1);
			const of =
				why === undefined || why.row === null || why.row === row.index + 1 ? "" : `${say("row", { row: why.row })}: `;
			return html`<dt>${say(`figure-${quantity}`)}</dt>
				<dd>
					${
						value === null
							? html`${say("unknown")}${why === undefined ? nothing : html` <span class="quiet">${of}${whyInWords(why.why, this.language)} ${measureInWords(why.measure, this.language)}</span>`}`
							: html`<span class="figure">${write(value.mid)}</span>
									<span class="quiet">${say("interval", { low: write(value.low), high: write(value.high) })}${
										value.situation === undefined ? nothing : ` · ${situationInWords(value.situation, this.language)}`
									}</span>`
					}
				</dd>`;
		};
		return html`<h3>${say("figuresTitle")}</h3>
			<dl>
				${figure("removedUm", outcome.removedUm, film)} ${figure("filmLeftUm", outcome.filmLeftUm, film)}
				${figure("scratchUm", outcome.scratchUm, film)} ${figure("minutes", outcome.minutes, minutes)}
			</dl>
			<p class="quiet">${say("estimate")}</p>`;
	}

	#findings({ step }: ResolvedRow) {
		const say = saying(words, this.language);
		const { findings, shop } = this.store.state;
		const here = findings.filter(({ rowId, accepted }) => rowId === step.id && accepted === null);
		if (here.length === 0) return nothing;
		const inWords = sayer(this.language, filmUnitOf(shop));
		return html`<h3>${say("findingsHere")}</h3>
			<ul>
				${here.map(
					(finding) => html`<li>
						<strong class=${finding.level}>
							<span aria-hidden="true">${levelMarks[finding.level]}</span> ${label("level", finding.level, this.language)}
						</strong>
						${finding.field === null ? nothing : `${headerOf(finding.field, this.language)}: `}${inWords(finding).found}
					</li>`,
				)}
			</ul>`;
	}

	#form(row: ResolvedRow) {
		const say = saying(words, this.language);
		const { shop, findings } = this.store.state;
		const defaults = rowDefaults(row, shop, this.language);
		const unread = findings.filter(({ rowId, rule }) => rowId === row.step.id && rule === "unread-cell");
		return html`<h3>${say("everyField")}</h3>
			${(Object.keys(groups) as Group[]).map((group) => {
				const fields = groups[group] as StepField[];
				const filled = fields.filter(
					(field) => row.step[field] !== undefined || row.step.asTyped?.[field] !== undefined,
				);
				const title = html`${say(`group-${group}`)} <span class="quiet">${say("filled", { count: filled.length, of: fields.length })}</span>`;
				return this.#fold(group, title, () =>
					fields.map((field) => this.#field(row.step, field, defaults[field], unread)),
				);
			})}
			${this.#fold("own", say("ownWords"), () => [
				html`<p class="quiet wide">${say("ownWordsHint")}</p>`,
				...languages.map((language) => this.#ownWords(row.step, language)),
			])}`;
	}

	#fold(group: Group | "own", title: unknown, content: () => TemplateResult[]) {
		const isOpen = this.opened.has(group);
		return html`<details ?open=${isOpen} @toggle=${(event: Event) => this.#toggled(group, event)}>
			<summary>${title}</summary>
			${isOpen ? html`<div class="fields">${content()}</div>` : nothing}
		</details>`;
	}

	#toggled(group: Group | "own", event: Event): void {
		const { open } = event.target as HTMLDetailsElement;
		const opened = new Set(this.opened);
		if (open) opened.add(group);
		else opened.delete(group);
		this.opened = opened;
	}

	#field(step: Step, field: StepField, usual: RowDefault | undefined, unread: readonly Finding[]) {
		const say = saying(words, this.language);
		const { shop, readOnly } = this.store.state;
		const value = step[field];
		const typed = step.asTyped?.[field];
		const text = this.#textOf(step, field);
		const offers = suggestionsFor([field], "", shop.stock, this.language);
		const finding = typed === undefined ? undefined : unread.find((one) => one.field === field);
		const isLong = field === "note" || field === "check" || field === "padCare" || field === "light";
		const from =
			usual === undefined
				? nothing
				: html`<span class="quiet" id="${field}-from">${value === undefined ? say("countsAs", { text: usual.text, from: usual.from }) : `${usual.text}, ${usual.from}`}</span>`;
		return html`<div class="field ${isLong ? "wide" : ""}">
			<label for=${field}>${headerOf(field, this.language)}</label>
			<input
				id=${field}
				autocomplete="off"
				placeholder=${value === undefined && typed === undefined ? (usual?.text ?? nothing) : nothing}
				aria-describedby=${`${field}-from ${field}-unread`}
				aria-invalid=${typed === undefined ? nothing : "true"}
				?readonly=${readOnly.length > 0}
				list=${offers.length === 0 ? nothing : `${field}-offers`}
				.value=${text}
				@input=${(event: Event) => this.#typing(step, field, event)}
				@blur=${() => this.store.typing(null)}
				@change=${(event: Event) => this.#type(step, field, event.target as HTMLInputElement)}
			/>
			${
				offers.length === 0
					? nothing
					: html`<datalist id="${field}-offers">${offers.map((offer) => html`<option value=${offer.text}>${offer.aside}</option>`)}</datalist>`
			}
			${from}
			${typed === undefined ? nothing : html`<span class="unread" id="${field}-unread">${finding === undefined ? say("unread") : sayer(this.language, filmUnitOf(shop))(finding).found}</span>`}
		</div>`;
	}

	#ownWords(step: Step, language: Language) {
		const { readOnly, shop } = this.store.state;
		const pointer = ownWordsAt(step.id, language);
		const own = this.store.partTexts[pointer] ?? step.instruction?.[language] ?? "";
		return html`<div class="field wide">
			<label for="own-${language}">${label("language", language, this.language)}</label>
			<textarea
				id="own-${language}"
				lang=${language}
				rows="2"
				placeholder=${instructionOf(step, language, shop.stock)}
				?readonly=${readOnly.length > 0}
				.value=${live(own)}
				@input=${(event: Event) => this.store.typingPart(pointer, (event.target as HTMLTextAreaElement).value)}
				@blur=${() => this.#sayOwn(step.id, language)}
			></textarea>
		</div>`;
	}

	/** What stands in a field, as text: as typed where it could not be read. */
	#textOf(step: Step, field: StepField): string {
		const { readable, shop } = this.store.state;
		const rows = (readable.steps ?? []).map(({ id }) => id);
		const value = step[field];
		const written = () =>
			value === undefined ? "" : write(value, { field, language: this.language, stock: shop.stock, rows });
		return step.asTyped?.[field] ?? written();
	}

	/** Kept on every input, as the text of the cell that it is: a crash loses nothing. */
	#typing({ id: row }: Step, field: StepField, event: Event): void {
		const { value: text } = event.target as HTMLInputElement | HTMLTextAreaElement;
		this.store.typing({ row, column: columnOf(field).id, text });
	}

	#type(step: Step, field: StepField, input: HTMLInputElement): void {
		const { procedure, shop } = this.store.state;
		const text = input.value;
		const { edit, also } = editForText({
			procedure,
			row: step.id,
			fields: [field],
			text,
			shop,
			language: this.language,
		});
		const filled = also.map((one) => headerOf(one, this.language)).join(", ");
		this.#change(edit, text.trim() === "" ? "clear" : "type");
		// The same value may have been typed in other words.
		const now = this.store.state.readable.steps?.find(({ id }) => id === step.id);
		if (now !== undefined) input.value = this.#textOf(now, field);
		this.also = filled === "" ? "" : saying(words, this.language)("alsoFilled", { fields: filled });
	}

	/** Own words in one language, where any were typed; emptied, the made instruction stands. */
	#sayOwn(id: string, language: Language): void {
		const pointer = ownWordsAt(id, language);
		const text = this.store.partTexts[pointer];
		const step = this.store.state.procedure.steps?.find((one) => one.id === id);
		if (text === undefined || step === undefined) return;
		const { instruction } = step;
		const { [language]: _before, ...others } = instruction ?? {};
		const to = text.trim() === "" ? others : { ...instruction, [language]: text.trim() };
		const isEmpty = Object.keys(to).length === 0;
		const problem = this.#change(
			[
				{
					op: "set",
					row: id,
					field: "instruction",
					...(instruction === undefined ? {} : { from: instruction }),
					...(isEmpty ? {} : { to }),
				},
			],
			isEmpty ? "clear" : "type",
		);
		if (problem === null) this.store.typingPart(pointer, null);
		this.requestUpdate();
	}

	#change(edit: Edit, gesture: "type" | "clear"): Problem | null {
		const problem = edit.length > 0 ? this.store.change(edit, gesture) : null;
		this.requestUpdate();
		return problem;
	}
}

/** Where the store keeps own words of a row that are being typed: by the row's id, which stays when rows move. */
function ownWordsAt(row: string, language: Language): string {
	return `/steps/${row}/instruction/${language}`;
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-row-details": RowDetails;
	}
}
