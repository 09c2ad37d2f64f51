import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { views } from "../../api/routes.ts";
import type { BookOpened, ProcedureListed, ProceduresListed } from "../../api/types.ts";
import { defectName } from "../../model/defects.ts";
import { levels } from "../../model/finding.ts";
import { sayProblem } from "../../model/problem.ts";
import { capitalised } from "../../model/sentence.ts";
import type { FilmUnit } from "../../model/units.ts";
import { label, type Language, valuesOf } from "../../model/words.ts";
import { type Failure, failureNote, failureStyle } from "../shell/failure.ts";
import { levelMarks } from "../style/marks.ts";
import { controls } from "../style/tokens.ts";
import type { Draft } from "../store/draft.ts";
import { inLanguage, type Say, saying } from "../words.ts";
import {
	defectsOf,
	type Entry,
	type Filter,
	filterQuery,
	grouped,
	matching,
	noFilter,
	readCode,
	readFilter,
} from "./filter.ts";
import { type CardReader, cardStyle, procedureCard, titleOf } from "./procedure-card.ts";
import sentences from "./words.json" with { type: "json" };

/**
 * The procedures of a book, by defect, with a filter that the address keeps.
 *
 * Events: `gw-filter` (detail `{ query }`) as the filter changes, `gw-new` as the person wants a new procedure,
 * `gw-again` as they ask to load again, `gw-discard`
 * (detail `{ draft }`) as they throw away a draft, said twice.
 */
@customElement("gw-shelf")
export class Shelf extends LitElement {
	/** Id of the book. */
	@property() book = "";
	/** Its parts; null while they load. */
	@property({ attribute: false }) opened: BookOpened | null = null;
	/** Its procedures; null while they load. */
	@property({ attribute: false }) listed: ProceduresListed | null = null;
	/** Why they did not load. */
	@property({ attribute: false }) failure: Failure | null = null;
	@property({ attribute: false }) drafts: readonly Draft[] = [];
	/** The draft about to be thrown away. */
	@state() private doubted: Draft | null = null;
	@property() language: Language = "en";
	@property() filmUnit: FilmUnit = "um";
	/** The query of the address, which holds the filter. */
	@property() query = "";
	@state() private filter: Filter = noFilter;

	static override styles = [controls, cardStyle, failureStyle, shelfStyle()];

	override willUpdate(changed: PropertyValues<this>): void {
		if (changed.has("query") && this.query !== filterQuery(this.filter)) this.filter = readFilter(this.query);
	}

	override render(): TemplateResult {
		const say = saying(sentences, this.language);
		const name = this.opened?.book.name;
		return html`
			<div class="head">
				<h1 tabindex="-1">${name === undefined ? say("headingUnnamed") : say("heading", { book: name })}</h1>
				${
					// An empty Shelf has its own, where it says what to do next.
					this.listed?.procedures.length === 0
						? nothing
						: html`<button class="main" ?disabled=${this.listed === null} @click=${() => this.#tell("gw-new")}>
								${say("new")}
							</button>`
				}
			</div>
			${this.#drafts(say)} ${this.#content(say)}
		`;
	}

	#content(say: Say<typeof sentences>): TemplateResult {
		if (this.failure !== null) return failureNote(this.failure, this.language, () => this.#tell("gw-again"));
		if (this.listed === null) return html`<p class="loading" role="status">${say("loading")}</p>`;
		return html`
			${this.listed.procedures.length === 0 ? this.#empty(say) : this.#procedures(this.listed.procedures, say)}
			${this.#problems(this.listed, say)}
		`;
	}

	#procedures(all: readonly ProcedureListed[], say: Say<typeof sentences>): TemplateResult {
		const names = this.opened?.book;
		const shown = matching(all, this.filter, { language: this.language, book: names });
		const reader: CardReader = { say, language: this.language, filmUnit: this.filmUnit, book: this.book, names };
		return html`
			${this.#filterForm(all, say)}
			<p class="count" role="status">${this.#count(shown, all, say)}</p>
			${
				shown.length === 0
					? html`<div class="empty"><p><strong>${say("nothing")}</strong> ${say("nothingNext")}</p></div>`
					: html`<p class="quiet">${say("estimate")}</p>
						${grouped(shown).map(
							({ defect, entries }) => html`
								<section aria-labelledby=${`group-${defect ?? ""}`}>
									<h2 id=${`group-${defect ?? ""}`}>
										${defect === null ? say("noDefect") : capitalised(defectName(defect, this.language, names))}
									</h2>
									${this.#cards(entries, null, all, reader)}
								</section>
							`,
						)}`
			}
		`;
	}

	#cards(
		entries: readonly Entry[],
		under: string | null,
		all: readonly ProcedureListed[],
		reader: CardReader,
	): TemplateResult {
		const unsaved = new Set(this.drafts.filter(({ isNew }) => !isNew).map(({ id }) => id));
		const varies = ({ variantOf }: ProcedureListed) => {
			if (variantOf === null || variantOf === under) return null;
			const other = all.find(({ id }) => id === variantOf);
			return other === undefined ? variantOf : titleOf(other, reader);
		};
		return html`
			<ul class="cards">
				${entries.map(
					({ procedure, variants }) => html`<li>
						${procedureCard(procedure, { unsaved: unsaved.has(procedure.id), varies: varies(procedure) }, reader)}
						${variants.length === 0 ? nothing : this.#cards(variants, procedure.id, all, reader)}
					</li>`,
				)}
			</ul>
		`;
	}

	#filterForm(all: readonly ProcedureListed[], say: Say<typeof sentences>): TemplateResult {
		const { text, findings, state, defect } = this.filter;
		const { language } = this;
		const named = new Set(all.flatMap(defectsOf));
		const defects = [...named].map((id) => ({ id, name: defectName(id, language, this.opened?.book) }));
		const choice = (value: string, words: string, chosen: string | null) =>
			html`<option value=${value} ?selected=${value === (chosen ?? "")}>${words}</option>`;
		return html`
			<form role="search" aria-label=${say("filter")} @submit=${(event: Event) => event.preventDefault()}>
				<label class="wide">
					${say("text")}
					<input type="search" name="text" autocomplete="off" .value=${text} @input=${this.#onText} />
				</label>
				<label>
					${say("findings")}
					<select name="findings" @change=${this.#onChoice}>
						${choice("", say("anyFindings"), findings)}
						${levels.map((level) =>
							choice(
								level,
								`${levelMarks[level]} ${say("withLevel", { level: label("level", level, language) })}`,
								findings,
							),
						)}
						${choice("none", say("noFindings"), findings)}
					</select>
				</label>
				<label>
					${say("state")}
					<select name="state" @change=${this.#onChoice}>
						${choice("", say("anyState"), state)}
						${valuesOf("state").map((value) => choice(value, label("state", value, language), state))}
					</select>
				</label>
				<label>
					${say("defect")}
					<select name="defect" @change=${this.#onChoice}>
						${choice("", say("anyDefect"), defect)}
						${defects
							.toSorted((a, b) => a.name.localeCompare(b.name, language))
							.map(({ id, name }) => choice(id, name, defect))}
					</select>
				</label>
				<button type="button" ?disabled=${filterQuery(this.filter) === ""} @click=${() => this.#use(noFilter)}>
					${say("showAll")}
				</button>
			</form>
		`;
	}

	#count(shown: readonly ProcedureListed[], all: readonly ProcedureListed[], say: Say<typeof sentences>): string {
		const count =
			shown.length < all.length
				? say("countSome", { shown: shown.length, all: all.length })
				: all.length === 1
					? say("countOne")
					: say("countAll", { all: all.length });
		const code = readCode(this.filter.text);
		if (code === null) return count;
		const found = all.find((one) => one.code === code);
		// Ten letters may also be a word that titles are searched for.
		if (found === undefined) return shown.length > 0 ? count : `${count}. ${say("codeUnknown", { code })}`;
		if (found.state === "withdrawn") return `${count}. ${say("codeWithdrawn", { code })}`;
		if (found.state === "released") return `${count}. ${say("codeCurrent", { code })}`;
		return `${count}. ${say("codeDraft", { code, state: label("state", found.state, this.language) })}`;
	}

	#drafts(say: Say<typeof sentences>): TemplateResult | typeof nothing {
		const { listed } = this;
		const has = (id: string) => listed === null || listed.procedures.some((one) => one.id === id);
		// Also those of procedures that the book no longer lists: nothing else leads to them.
		const alone = this.drafts.filter(({ isNew, id }) => isNew || !has(id));
		if (alone.length === 0) return nothing;
		return html`
			<section aria-labelledby="not-saved">
				<h2 id="not-saved">${say("notSavedYet")}</h2>
				<ul class="plain">
					${alone.map((draft) => this.#draft(draft, say))}
				</ul>
			</section>
		`;
	}

	#draft(draft: Draft, say: Say<typeof sentences>): TemplateResult {
		const title = inLanguage(draft.procedure.title, this.language) || say("untitled");
		const doubt = (doubted: Draft | null, then: string) => () => {
			this.doubted = doubted;
			void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>(`.kept ${then}`)?.focus());
		};
		const choice =
			this.doubted === draft
				? html`<span>${say("discardSure", { title })}</span>
						<button class="keep" @click=${doubt(null, ".discard")}>${say("keepDraft")}</button>
						<button @click=${() => this.#tell("gw-discard", { draft })}>${say("discardNow")}</button>`
				: html`<button class="discard" aria-label=${say("discardIt", { title })} @click=${doubt(draft, ".keep")}>
						${say("discard")}
					</button>`;
		const address = draft.isNew ? views.newSheet : views.sheet;
		return html`<li class="kept"><a href=${address(this.book, draft.id)}>${title}</a> ${choice}</li>`;
	}

	#empty(say: Say<typeof sentences>): TemplateResult {
		return html`<div class="empty">
			<p><strong>${say("empty")}</strong> ${say("emptyNext")}</p>
			<button class="main" @click=${() => this.#tell("gw-new")}>${say("new")}</button>
		</div>`;
	}

	#problems({ problems }: ProceduresListed, say: Say<typeof sentences>): TemplateResult | typeof nothing {
		const all = [...(this.opened?.problems ?? []), ...problems];
		if (all.length === 0) return nothing;
		return html`
			<section aria-labelledby="problems">
				<h2 id="problems">${say("problems")}</h2>
				<ul class="plain">
					${all.map(({ name, problem }) => html`<li><strong>${name}</strong>: ${sayProblem(problem, this.language)}</li>`)}
				</ul>
				<p class="quiet">${say("problemsNext")}</p>
			</section>
		`;
	}

	readonly #onText = (event: Event): void => {
		this.#use({ ...this.filter, text: (event.target as HTMLInputElement).value });
	};

	readonly #onChoice = ({ target }: Event): void => {
		const { name, value } = target as HTMLSelectElement;
		this.#use(readFilter(filterQuery({ ...this.filter, [name]: value || null })));
	};

	#use(filter: Filter): void {
		this.filter = filter;
		this.#tell("gw-filter", { query: filterQuery(filter) });
	}

	#tell(name: string, detail: unknown = null): void {
		this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
	}
}

function shelfStyle() {
	return css`
		:host {
			display: block;
			max-width: 84rem;
			margin-inline: auto;
		}
		.head {
			display: flex;
			flex-wrap: wrap;
			gap: var(--gap);
			align-items: center;
			justify-content: space-between;
		}
		h1 {
			font-size: 1.4rem;
			margin: 0;
		}
		h2 {
			font-size: 1rem;
			margin: 1rem 0 0.4rem;
			padding-block-end: 0.15rem;
			border-block-end: 2px solid var(--line);
		}
		form {
			display: flex;
			flex-wrap: wrap;
			gap: var(--gap);
			align-items: end;
			margin-block: 0.6rem 0;
		}
		form label {
			display: grid;
			gap: 0.15rem;
			font-size: 0.9rem;
			color: var(--quiet);
		}
		form label > * {
			color: var(--ink);
			font-size: 1rem;
			max-width: 100%;
		}
		form .wide {
			flex: 1 1 18rem;
		}
		.count {
			margin-block: var(--gap) 0;
			font-weight: 600;
		}
		.count + .quiet {
			margin-block: 0;
		}
		.cards,
		.plain {
			margin: 0;
			padding: 0;
			list-style: none;
			display: grid;
			gap: 0.5rem;
		}
		.cards .cards {
			margin-block-start: 0.5rem;
			margin-inline-start: 1.5rem;
			padding-inline-start: 0.75rem;
			border-inline-start: 2px solid var(--line);
		}
		.plain a {
			min-width: 0;
			overflow-wrap: anywhere;
			color: var(--accent);
			font-size: 1.1rem;
			line-height: 2.25rem;
		}
		.kept {
			display: flex;
			flex-wrap: wrap;
			align-items: center;
			gap: 0.25rem var(--gap);
		}
		.empty {
			margin-block: 1.5rem;
			padding: 1.5rem;
			border: 2px dashed var(--line);
			border-radius: var(--radius);
		}
		.empty p {
			margin-block-start: 0;
		}
		@media (max-width: 40rem) {
			.cards .cards {
				margin-inline-start: 0.25rem;
			}
		}
	`;
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-shelf": Shelf;
	}
}
