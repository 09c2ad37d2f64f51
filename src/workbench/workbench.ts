import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { keyed } from "lit/directives/keyed.js";
import { sayProblemDetails } from "../api/problems.ts";
import { views } from "../api/routes.ts";
import type { BookListed, BookOpened, ProblemDetails, ProceduresListed } from "../api/types.ts";
import type { Procedure } from "../model/generated/types.ts";
import { newRowId } from "../model/ids.ts";
import { type Problem, sayProblem } from "../model/problem.ts";
import type { FilmUnit, Language } from "../model/units.ts";
import { type Place, readAddress } from "./address.ts";
import "./shelf/shelf.ts";
import { type Failure, failureNote, failureStyle } from "./shell/failure.ts";
import "./shell/person-dialog.ts";
import type { PersonDialog } from "./shell/person-dialog.ts";
import "./shell/settings-dialog.ts";
import type { SettingsDialog } from "./shell/settings-dialog.ts";
import sentences from "./shell/words.json" with { type: "json" };
import type { Settings, SettingsKeeper } from "./settings.ts";
import type { Draft, DraftKeeper } from "./store/draft.ts";
import type { Answer, Server } from "./server.ts";
import { controls, tokens } from "./style/tokens.ts";
import { type Say, saying } from "./words.ts";

/** What the workbench works with; tests hand in their own. */
export interface Surroundings {
	server: Pick<Server, "books" | "book" | "procedures" | "procedure" | "save">;
	settings: SettingsKeeper;
	/** Where drafts are kept; loaded when first asked for. */
	drafts: () => Promise<DraftKeeper>;
	/** Loads the Sheet and all of the core that it needs: defines `<gw-open-sheet>`. */
	loadSheet: () => Promise<unknown>;
	/** Loads the dialog that starts a procedure: defines `<gw-new-procedure>`. */
	loadNew: () => Promise<unknown>;
	/** Milliseconds between two questions to a server that is gone. */
	askAgainMs: number;
}

/** The places where a Sheet opens. */
type SheetPlace = Extract<Place, { view: "sheet" | "newSheet" }>;

/** What `<gw-open-sheet>`, which is loaded later, promises. */
interface OpenedSheet extends HTMLElement {
	/** Whether it shows why it did not open. */
	readonly failed: boolean;
	/** Ends with the draft kept. */
	leave(): Promise<void>;
}

/**
 * The shell: which view an address shows, in which language, unit and colours, for whom; and what a person reads when
 * something did not load.
 */
@customElement("gw-workbench")
export class Workbench extends LitElement {
	@property({ attribute: false }) surroundings!: Surroundings;
	@property({ reflect: true }) theme: "light" | "dark" = "light";
	@state() private place: Place = { view: "first" };
	@state() private search = "";
	@state() private books: BookListed[] | null = null;
	@state() private opened: { id: string; parts: BookOpened } | null = null;
	@state() private listed: { id: string; procedures: ProceduresListed } | null = null;
	@state() private drafts: readonly Draft[] = [];
	@state() private failure: Failure | null = null;
	@state() private missing: "page" | "book" | null = null;
	/** Where drafts are kept, once the Sheet is loaded. */
	@state() private keeper: DraftKeeper | null = null;
	@state() private newOpen = false;
	@state() private serverGone = false;
	@state() private notice: string | null = null;
	/** New procedures of this page, in case that the browser keeps no drafts. */
	readonly #fresh = new Map<string, Procedure>();
	/** The query with which the Shelf of a book was last seen. */
	readonly #searches = new Map<string, string>();
	/** Goes up with every navigation, so that late answers are dropped. */
	#turn = 0;
	#endings: (() => void)[] = [];
	#askTimer: ReturnType<typeof setTimeout> | null = null;
	@query("main") private main!: HTMLElement;
	@query("gw-settings") private settingsDialog!: SettingsDialog;
	@query("gw-person") private personDialog!: PersonDialog;

	static override styles = [tokens, controls, failureStyle, shellStyle()];

	override connectedCallback(): void {
		super.connectedCallback();
		const { settings } = this.surroundings;
		const dark = matchMedia("(prefers-color-scheme: dark)");
		const seen = () => {
			this.theme = settings.settings.theme ?? (dark.matches ? "dark" : "light");
			this.requestUpdate();
		};
		seen();
		this.#endings = [
			settings.subscribe(seen),
			heard(dark, "change", seen),
			heard(globalThis, "storage", () => settings.refresh()),
			heard(globalThis, "popstate", () => void this.#show(false)),
			heard(globalThis, "error", (event) => this.#tellOwnFailure((event as ErrorEvent).error)),
			heard(globalThis, "unhandledrejection", (event) => this.#tellOwnFailure((event as PromiseRejectionEvent).reason)),
		];
		void this.#show(true);
	}

	override disconnectedCallback(): void {
		super.disconnectedCallback();
		for (const end of this.#endings) end();
		if (this.#askTimer !== null) clearTimeout(this.#askTimer);
		this.#turn += 1;
	}

	/** Goes to an address of the workbench, as a link does. */
	async goTo(href: string): Promise<void> {
		history.pushState(null, "", href);
		await this.#show(false);
	}

	override willUpdate(): void {
		document.documentElement.lang = this.language;
	}

	override render(): TemplateResult {
		const say = saying(sentences, this.language);
		return html`
			${this.#header(say)}
			<div class="banners" aria-live="polite">
				${this.serverGone ? html`<p class="banner">${say("serverGone")}</p>` : nothing}
				${this.notice === null ? nothing : this.#noticeBanner(this.notice, say)}
			</div>
			<main
				id="main"
				tabindex="-1"
				@click=${this.#onClick}
				@gw-open=${({ detail }: CustomEvent<{ href: string }>) => void this.goTo(detail.href)}
				@gw-filter=${this.#onFilter}
				@gw-new=${this.#onNew}
				@gw-start=${this.#onStart}
				@gw-discard=${this.#onDiscard}
				@gw-again=${() => void this.#show(false)}
				@gw-title=${({ detail }: CustomEvent<{ title: string }>) => this.#title(detail.title)}
				@gw-shown=${this.#onShown}
				@gw-saved-first=${this.#onSavedFirst}
				@gw-person=${this.#onPerson}
				@gw-ask-person=${() => this.personDialog.show()}
				@gw-server-gone=${() => this.#watchServer()}
			>
				${this.#view(say)}
			</main>
			${this.#dialogs()}
		`;
	}

	get language(): Language {
		const { language } = this.surroundings.settings.settings;
		return language ?? this.#ofBook.language;
	}

	get filmUnit(): FilmUnit {
		const { filmUnit } = this.surroundings.settings.settings;
		return filmUnit ?? this.#ofBook.filmUnit;
	}

	get #ofBook(): { language: Language; filmUnit: FilmUnit } {
		const book = this.opened?.parts.book;
		const ofBrowser = navigator.language.startsWith("es") ? "es" : "en";
		return { language: book ? (book.language ?? "en") : ofBrowser, filmUnit: book?.units ?? "um" };
	}

	get #book(): string | null {
		return "book" in this.place ? this.place.book : null;
	}

	get #person(): string {
		const { people } = this.surroundings.settings.settings;
		return people[this.#book ?? ""] ?? "";
	}

	#header(say: Say<typeof sentences>): TemplateResult {
		const book = this.#book;
		const known = book !== null && this.missing === null;
		return html`<header>
			<button class="skip" @click=${() => this.main.focus()}>${say("skip")}</button>
			<a class="product" href="/" @click=${this.#onClick}>Gritwright</a>
			${known ? this.#bookChoice(book, say) : nothing}
			<span class="space"></span>
			${
				known
					? html`<button @click=${() => this.personDialog.show()}>
							${this.#person === "" ? say("whoWrites") : say("writes", { person: this.#person })}
						</button>`
					: nothing
			}
			<button @click=${() => this.settingsDialog.show()}>${say("settings")}</button>
		</header>`;
	}

	#bookChoice(book: string, say: Say<typeof sentences>): TemplateResult {
		const books = this.books ?? [];
		if (books.length < 2)
			return html`<span class="book">${books[0]?.name ?? this.opened?.parts.book.name ?? book}</span>`;
		const onChange = ({ target }: Event) => void this.goTo(this.#shelfAddress((target as HTMLSelectElement).value));
		return html`<label class="book">
			${say("book")}
			<select @change=${onChange}>
				${books.map(({ id, name }) => html`<option value=${id} ?selected=${id === book}>${name}</option>`)}
			</select>
		</label>`;
	}

	#noticeBanner(notice: string, say: Say<typeof sentences>): TemplateResult {
		return html`<p class="banner">
			${notice} <button @click=${() => (this.notice = null)}>${say("close")}</button>
		</p>`;
	}

	#view(say: Say<typeof sentences>): TemplateResult {
		if (this.missing !== null) return this.#missingView(this.missing, say);
		const { place } = this;
		if (place.view === "shelf") return this.#shelf(place.book);
		if (this.failure !== null) {
			return html`<h1 tabindex="-1" class="hidden-text">Gritwright</h1>
				${failureNote(this.failure, this.language, () => void this.#show(false))}`;
		}
		if (place.view === "first") return this.#firstView(say);
		if (place.view === "unknown" || this.keeper === null)
			return html`<h1 tabindex="-1" class="loading" role="status">${say("openingSheet")}</h1>`;
		// A new element with every navigation: one that was left has closed its store.
		return html`${keyed(this.#turn, this.#sheet(place, this.keeper))}`;
	}

	#shelf(book: string): TemplateResult {
		return html`<gw-shelf
			.book=${book}
			.opened=${this.opened?.id === book ? this.opened.parts : null}
			.listed=${this.listed?.id === book ? this.listed.procedures : null}
			.failure=${this.failure}
			.drafts=${this.drafts}
			.language=${this.language}
			.filmUnit=${this.filmUnit}
			.query=${this.search}
		></gw-shelf>`;
	}

	#sheet(place: SheetPlace, keeper: DraftKeeper): TemplateResult {
		const { server, settings } = this.surroundings;
		const isNew = place.view === "newSheet";
		return html`<gw-open-sheet
			.book=${place.book}
			.procedure=${isNew ? null : place.id}
			.draft=${isNew ? place.draft : null}
			.fresh=${isNew ? (this.#fresh.get(place.draft) ?? null) : null}
			.server=${server}
			.drafts=${keeper}
			.language=${this.language}
			.filmUnit=${this.filmUnit}
			.settings=${settings.settings}
			.person=${this.#person}
		></gw-open-sheet>`;
	}

	#firstView(say: Say<typeof sentences>): TemplateResult {
		if (this.books === null) return html`<h1 tabindex="-1" class="loading" role="status">${say("looking")}</h1>`;
		return html`<div class="page">
			<h1 tabindex="-1">${say("noBook")}</h1>
			<p>${say("noBookNext")}</p>
			<button @click=${() => void this.#show(false)}>${say("again")}</button>
		</div>`;
	}

	#missingView(missing: "page" | "book", say: Say<typeof sentences>): TemplateResult {
		const page = missing === "page";
		return html`<div class="page">
			<h1 tabindex="-1">${page ? say("unknownPage") : say("noSuchBook", { book: this.#book ?? "" })}</h1>
			<p>${page ? say("unknownPageNext", { address: location.pathname }) : say("noSuchBookNext")}</p>
			<ul>
				${(this.books ?? []).map(({ id, name }) => html`<li><a href=${views.shelf(id)}>${name}</a></li>`)}
			</ul>
		</div>`;
	}

	#dialogs(): TemplateResult {
		const { settings } = this.surroundings;
		return html`
			<gw-settings
				.settings=${settings.settings}
				.language=${this.language}
				.ofBook=${this.#ofBook}
				@gw-settings=${({ detail }: CustomEvent<Partial<Settings>>) => settings.change(detail)}
			></gw-settings>
			<gw-person
				.people=${this.opened?.parts.book.people ?? []}
				.person=${this.#person}
				.language=${this.language}
				@gw-person=${this.#onPerson}
			></gw-person>
			${
				this.newOpen && this.#book !== null
					? html`<gw-new-procedure
							.book=${this.#book}
							.opened=${this.opened?.parts ?? null}
							.listed=${this.listed?.procedures.procedures ?? []}
							.server=${this.surroundings.server}
							.language=${this.language}
							.filmUnit=${this.filmUnit}
							.person=${this.#person}
							@gw-start=${this.#onStart}
							@gw-closed=${() => (this.newOpen = false)}
						></gw-new-procedure>`
					: nothing
			}
		`;
	}

	/**
	 * Shows what the address names.
	 *
	 * @param first nobody asked for it here: the focus stays where it is
	 */
	async #show(first: boolean): Promise<void> {
		this.#turn += 1;
		const turn = this.#turn;
		const stale = () => turn !== this.#turn;
		// The draft is kept before the Shelf lists the drafts.
		await this.renderRoot.querySelector<OpenedSheet>("gw-open-sheet")?.leave?.();
		if (stale()) return;
		const place = readAddress(location.pathname);
		this.place = place;
		this.search = location.search;
		this.failure = null;
		this.newOpen = false;
		if (!first) this.notice = null;
		this.missing = place.view === "unknown" ? "page" : null;
		this.#title(null);
		if (!first) void this.updateComplete.then(() => this.#focusHeading());
		const wanted = place.view === "shelf" ? this.#loadShelf(place.book, stale) : this.#loadSheet(place, stale);
		await Promise.all([this.#loadBooks(place, first, stale), wanted]);
	}

	async #loadBooks(place: Place, first: boolean, stale: () => boolean): Promise<void> {
		const answer = await this.#ask(this.surroundings.server.books());
		if (stale()) return;
		if ("problem" in answer) {
			if (place.view === "first") this.#fail("booksFailed", answer.problem);
			return;
		}
		this.books = answer;
		if (place.view !== "first") return;
		const book = answer.find(({ id }) => id === this.surroundings.settings.settings.lastBook) ?? answer[0];
		if (book === undefined) return;
		history.replaceState(null, "", views.shelf(book.id));
		await this.#show(first);
	}

	async #loadShelf(book: string, stale: () => boolean): Promise<void> {
		const { server, settings, loadSheet } = this.surroundings;
		this.#searches.set(book, this.search);
		void this.#loadDrafts(book, stale);
		const parts = this.#loadParts(book, stale);
		const [listed] = await Promise.all([this.#ask(server.procedures(book)), parts]);
		if (stale() || this.missing !== null) return;
		if ("problem" in listed) {
			this.#fail("bookFailed", listed.problem);
			return;
		}
		this.listed = { id: book, procedures: listed };
		settings.change({ lastBook: book });
		// The Sheet will be wanted next; where it does not load, whoever opens one is told.
		whenIdle(() => void loadSheet().catch(() => undefined));
	}

	/** Drafts are shown when they are there; the procedures do not wait for them. */
	async #loadDrafts(book: string, stale: () => boolean): Promise<void> {
		this.drafts = [];
		const keeper = await this.surroundings.drafts().catch(() => null);
		const own = (await keeper?.ownIn(book)) ?? [];
		const left = (await keeper?.unclaimed(book, null))?.drafts ?? [];
		if (stale()) return;
		this.drafts = [...new Map([...left, ...own].map((one) => [one.id, one])).values()];
	}

	async #loadSheet(place: Place, stale: () => boolean): Promise<void> {
		if (place.view !== "sheet" && place.view !== "newSheet") return;
		// Its own opener reads the parts that it judges by; these are for language, unit and people.
		const parts = this.#loadParts(place.book, stale);
		try {
			const [keeper] = await Promise.all([this.surroundings.drafts(), this.surroundings.loadSheet()]);
			if (stale()) return;
			this.keeper = keeper;
		} catch {
			if (stale()) return;
			const say = saying(sentences, this.language);
			this.failure = { what: say("sheetFailed"), why: say("sheetFailedWhy") };
		}
		await parts;
	}

	async #loadParts(book: string, stale: () => boolean): Promise<void> {
		if (this.opened !== null && this.opened.id !== book) this.opened = null;
		const answer = await this.#ask(this.surroundings.server.book(book));
		if (stale()) return;
		if (!("problem" in answer)) {
			this.opened = { id: book, parts: answer };
			this.#title(null);
		} else if (answer.problem.code === "no-such-book") this.missing = "book";
		else this.#fail("bookFailed", answer.problem);
	}

	/** What the server answers; one that is gone is watched for. */
	async #ask<T extends object>(question: Promise<Answer<T>>): Promise<Answer<T>> {
		const answer = await question;
		if (isGone(answer)) this.#watchServer();
		return answer;
	}

	#fail(what: "booksFailed" | "bookFailed", problem: ProblemDetails): void {
		const say = saying(sentences, this.language);
		this.failure = { what: say(what, { book: this.#book ?? "" }), why: sayProblemDetails(problem, this.language) };
	}

	/** Says that the server is gone, and asks until it answers; then what failed is loaded again. */
	#watchServer(): void {
		this.serverGone = true;
		this.#askTimer ??= setTimeout(() => void this.#askAgain(), this.surroundings.askAgainMs);
	}

	async #askAgain(): Promise<void> {
		this.#askTimer = null;
		const answer = await this.#ask(this.surroundings.server.books());
		if (!this.isConnected || isGone(answer)) return;
		this.serverGone = false;
		this.notice = saying(sentences, this.language)("serverBack");
		const sheet = this.renderRoot.querySelector<OpenedSheet>("gw-open-sheet");
		if (this.failure !== null || sheet?.failed) await this.#show(true);
	}

	#shelfAddress(book: string): string {
		return views.shelf(book) + (this.#searches.get(book) ?? "");
	}

	/** The title of the page: what the view calls itself, else the book, and the product. */
	#title(title: string | null): void {
		const own = title ?? this.opened?.parts.book.name ?? null;
		document.title = own === null ? "Gritwright" : `${own} · Gritwright`;
	}

	#focusHeading(): void {
		headingIn(this.main)?.focus();
	}

	#tellOwnFailure(reason: unknown): void {
		// Browsers report a layout that took two frames as an error, without one; nothing failed.
		if (!(reason instanceof Error)) return;
		this.notice = saying(sentences, this.language)("ownFailure", { message: reason.message });
	}

	/** The Sheet stands: the focus goes on from the heading that stood for it, or stays where the person went meanwhile. */
	readonly #onShown = (): void => {
		const at = this.shadowRoot?.activeElement ?? null;
		if (at === null || this.main.contains(at)) this.#focusHeading();
	};

	/** A plain click on a link to a view stays in the page; what asks for another tab or window gets it. */
	readonly #onClick = (event: MouseEvent): void => {
		if (
			event.defaultPrevented ||
			event.button !== 0 ||
			event.ctrlKey ||
			event.metaKey ||
			event.shiftKey ||
			event.altKey
		)
			return;
		const link = event.composedPath().find((one) => one instanceof HTMLAnchorElement);
		if (link === undefined || link.target !== "" || link.hasAttribute("download") || link.origin !== location.origin)
			return;
		event.preventDefault();
		const { pathname, search } = link;
		const to = readAddress(pathname);
		// Back on a Shelf, the filter is as it was left.
		void this.goTo(to.view === "shelf" && search === "" ? this.#shelfAddress(to.book) : pathname + search);
	};

	readonly #onFilter = ({ detail }: CustomEvent<{ query: string }>): void => {
		const { place } = this;
		if (place.view !== "shelf") return;
		this.search = detail.query;
		this.#searches.set(place.book, detail.query);
		history.replaceState(null, "", views.shelf(place.book) + detail.query);
	};

	readonly #onNew = async (): Promise<void> => {
		try {
			await this.surroundings.loadNew();
			this.newOpen = true;
		} catch {
			const say = saying(sentences, this.language);
			this.notice = `${say("sheetFailed")} ${say("sheetFailedWhy")}`;
		}
	};

	/** A procedure that was just started becomes a draft, and its Sheet opens. */
	readonly #onStart = async ({
		detail,
	}: CustomEvent<{ procedure: Procedure; notes: readonly string[] }>): Promise<void> => {
		const book = this.#book;
		if (book === null) return;
		const { procedure, notes } = detail;
		const draft = newRowId(Math.random);
		this.#fresh.set(draft, procedure);
		const keeper = await this.surroundings.drafts();
		const problem = await keeper.keep({
			book,
			id: draft,
			isNew: true,
			person: this.#person,
			// Nothing is on disk: title and defects as given are changes already, and not lost where no row follows.
			base: { format: procedure.format, id: procedure.id, title: {} },
			etag: null,
			procedure,
			undo: [],
			redo: [],
			conflicts: [],
			selection: null,
			situation: {},
			openCell: null,
			partTexts: {},
		});
		await this.goTo(views.newSheet(book, draft));
		this.notice = [...notes, ...(problem === null ? [] : [this.#notKept(problem)])].join(" ") || null;
	};

	readonly #onDiscard = async ({ detail }: CustomEvent<{ draft: Draft }>): Promise<void> => {
		const { draft } = detail;
		await (await this.surroundings.drafts()).discard(draft);
		this.#fresh.delete(draft.id);
		this.drafts = this.drafts.filter((one) => one !== draft);
		this.#focusHeading();
	};

	#notKept(problem: Problem): string {
		return saying(sentences, this.language)("draftNotKept", { why: sayProblem(problem, this.language) });
	}

	/** The first save gave the procedure a file: from now on the address is that of the file. */
	readonly #onSavedFirst = ({ detail }: CustomEvent<{ id: string }>): void => {
		const { place } = this;
		if (place.view !== "newSheet") return;
		this.#fresh.delete(place.draft);
		history.replaceState(null, "", views.sheet(place.book, detail.id));
	};

	readonly #onPerson = ({ detail }: CustomEvent<{ name: string }>): void => {
		const { settings } = this.surroundings;
		settings.change({ people: { ...settings.settings.people, [this.#book ?? ""]: detail.name } });
	};
}

function isGone(answer: Answer<object>): boolean {
	return "problem" in answer && (answer.problem as ProblemDetails).code === "no-answer";
}

/** @returns the function that ends the listening */
function heard(target: EventTarget, name: string, listener: (event: Event) => void): () => void {
	target.addEventListener(name, listener);
	return () => target.removeEventListener(name, listener);
}

/** The first heading of the first level, through open shadow roots. */
function headingIn(root: ParentNode): HTMLElement | null {
	const own = root.querySelector<HTMLElement>("h1");
	if (own !== null) return own;
	for (const { shadowRoot } of root.querySelectorAll("*")) {
		const found = shadowRoot === null ? null : headingIn(shadowRoot);
		if (found !== null) return found;
	}
	return null;
}

function whenIdle(work: () => void): void {
	if ("requestIdleCallback" in globalThis) requestIdleCallback(work, { timeout: 3000 });
	else setTimeout(work, 1000);
}

function shellStyle() {
	return css`
		:host {
			display: block;
			min-height: 100vh;
			background: var(--paper);
			color: var(--ink);
			font: var(--body);
		}
		.skip:not(:focus) {
			position: absolute;
			inset-block-start: -4rem;
		}
		header {
			display: flex;
			flex-wrap: wrap;
			align-items: center;
			gap: 0.5rem var(--gap);
			padding: 0.5rem 1.25rem;
			background: var(--sheet);
			border-block-end: 2px solid var(--line);
		}
		.product {
			font-weight: 700;
			font-size: 1.2rem;
			letter-spacing: 0.01em;
			color: var(--ink);
			text-decoration: none;
			line-height: 2.25rem;
			padding-inline: 0.25rem;
		}
		.book {
			max-width: 100%;
			display: inline-flex;
			align-items: center;
			gap: 0.5rem;
		}
		.book select {
			min-width: 0;
			max-width: 100%;
		}
		.space {
			flex: 1;
		}
		.banner {
			margin: 0;
			padding: 0.5rem 1.25rem;
			background: var(--caution-ground);
			color: var(--ink);
			border-block-end: 1px solid var(--line);
		}
		main {
			padding: 1.25rem;
		}
		main:focus,
		h1:focus {
			outline: none;
		}
		.page {
			max-width: 50rem;
			margin-inline: auto;
		}
		.page a {
			color: var(--accent);
			line-height: 2.25rem;
		}
		.loading {
			font-size: 1.2rem;
			font-weight: 400;
			color: var(--quiet);
		}
		@media print {
			header,
			.banners {
				display: none;
			}
			main {
				padding: 0;
			}
		}
	`;
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-workbench": Workbench;
	}
}
