import { html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { keyed } from "lit/directives/keyed.js";
import { sayProblemDetails } from "../api/problems.ts";
import { views } from "../api/routes.ts";
import type { ProblemDetails } from "../api/types.ts";
import type { Procedure } from "../model/generated/types.ts";
import { newRowId } from "../model/ids.ts";
import type { FilmUnit } from "../model/units.ts";
import type { Language } from "../model/words.ts";
import { type Place, readAddress } from "./address.ts";
import { BookLoading } from "./shell/book-loading.ts";
import { type Failure, failureNote, failureStyle } from "./shell/failure.ts";
import { followedLink } from "./shell/followed-link.ts";
import { header } from "./shell/header.ts";
import { loadingPage, noBook, noSuchBook, unknownPage } from "./shell/pages.ts";
import "./shell/person-dialog.ts";
import type { PersonDialog } from "./shell/person-dialog.ts";
import { ServerWatch } from "./shell/server-watch.ts";
import "./shell/settings-dialog.ts";
import type { SettingsDialog } from "./shell/settings-dialog.ts";
import { shellStyle } from "./shell/shell-style.ts";
import { type Unset, unsetIn } from "./shell/unset.ts";
import sentences from "./shell/words.json" with { type: "json" };
import type { Settings, SettingsKeeper } from "./settings.ts";
import { type Draft, type DraftKeeper, draftOfNew, noDrafts } from "./store/draft.ts";
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
	/** Loads the Shelf: defines `<gw-shelf>`. A Sheet that is opened by its address does without. */
	loadShelf: () => Promise<unknown>;
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
	/** Gives the focus to the cell to begin with, and says what opened. */
	start(): void;
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
	/** Goes up whenever a place is shown. */
	#placed = 0;
	/** What the view calls itself. */
	#ownTitle: string | null = null;
	#isStarting = false;
	#endings: (() => void)[] = [];
	readonly #loading = new BookLoading(this);
	#watch: ServerWatch | null = null;
	@query("main") private main!: HTMLElement;
	@query("gw-settings") private settingsDialog!: SettingsDialog;
	@query("gw-person") private personDialog!: PersonDialog;

	static override styles = [tokens, controls, failureStyle, shellStyle];

	override connectedCallback(): void {
		super.connectedCallback();
		const { settings } = this.surroundings;
		const dark = matchMedia("(prefers-color-scheme: dark)");
		const seen = () => {
			this.theme = settings.settings.theme ?? (dark.matches ? "dark" : "light");
			this.requestUpdate();
		};
		seen();
		this.#watch = new ServerWatch(
			async () => !isGone(await this.surroundings.server.books()),
			() => this.#onServerBack(),
			this.surroundings.askAgainMs,
		);
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
		this.#watch?.end();
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
			${this.#header()}
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
				@gw-discard=${this.#onDiscard}
				@gw-again=${() => void this.#show(false)}
				@gw-title=${({ detail }: CustomEvent<{ title: string }>) => this.#title(detail.title)}
				@gw-shown=${this.#onShown}
				@gw-saved-first=${this.#onSavedFirst}
				@gw-server-gone=${() => this.#watchServer()}
			>
				${this.#view(say)}
			</main>
			${this.#dialogs()}
		`;
	}

	get language(): Language {
		const { language } = this.surroundings.settings.settings;
		return language ?? this.#unset.language;
	}

	get filmUnit(): FilmUnit {
		const { filmUnit } = this.surroundings.settings.settings;
		return filmUnit ?? this.#unset.filmUnit;
	}

	get #unset(): Unset {
		return unsetIn(this.#loading.opened?.parts.book, navigator.languages);
	}

	get #book(): string | null {
		return "book" in this.place ? this.place.book : null;
	}

	get #person(): string {
		const { people } = this.surroundings.settings.settings;
		return people[this.#book ?? ""] ?? "";
	}

	#header(): TemplateResult {
		const book = this.#book;
		return header(
			{
				book: this.missing === null ? book : null,
				name: this.#loading.opened?.parts.book.name ?? null,
				books: this.#loading.books ?? [],
				person: this.#person,
				language: this.language,
			},
			{
				skip: () => this.main.focus(),
				follow: this.#onClick,
				choose: (id) => void this.goTo(this.#shelfAddress(id)),
				askPerson: () => this.personDialog.show(),
				askSettings: () => this.settingsDialog.show(),
			},
		);
	}

	#noticeBanner(notice: string, say: Say<typeof sentences>): TemplateResult {
		return html`<p class="banner">
			${notice} <button @click=${() => (this.notice = null)}>${say("close")}</button>
		</p>`;
	}

	#view(say: Say<typeof sentences>): TemplateResult {
		const { place, language } = this;
		const { books } = this.#loading;
		if (this.missing === "page") return unknownPage(location.pathname, books ?? [], language);
		if (this.missing === "book") return noSuchBook(this.#book ?? "", books ?? [], language);
		if (place.view === "shelf" && customElements.get("gw-shelf") !== undefined) return this.#shelf(place.book);
		if (this.failure !== null) {
			return html`<h1 tabindex="-1" class="hidden-text">Gritwright</h1>
				${failureNote(this.failure, this.language, () => void this.#show(false))}`;
		}
		if (place.view === "first" && books !== null) return noBook(() => void this.#show(false), language);
		if (place.view === "first") return loadingPage(say("looking"));
		if (place.view === "unknown" || place.view === "shelf" || this.keeper === null)
			return loadingPage(say("openingSheet"));
		// A new element with every place: one that was left has closed its store.
		return html`${keyed(this.#placed, this.#sheet(place, this.keeper))}`;
	}

	#shelf(book: string): TemplateResult {
		return html`<gw-shelf
			.book=${book}
			.opened=${this.#loading.opened?.id === book ? this.#loading.opened.parts : null}
			.listed=${this.#loading.listed?.id === book ? this.#loading.listed.procedures : null}
			.failure=${this.failure}
			.drafts=${this.#loading.drafts}
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

	#dialogs(): TemplateResult {
		const { settings } = this.surroundings;
		return html`
			<gw-settings
				.settings=${settings.settings}
				.language=${this.language}
				.unset=${this.#unset}
				@gw-settings=${({ detail }: CustomEvent<Partial<Settings>>) => settings.change(detail)}
			></gw-settings>
			<gw-person
				.people=${this.#loading.opened?.parts.book.people ?? []}
				.person=${this.#person}
				.language=${this.language}
				@gw-person=${this.#onPerson}
			></gw-person>
			${
				this.newOpen && this.#book !== null
					? html`<gw-new-procedure
							.book=${this.#book}
							.opened=${this.#loading.opened?.parts ?? null}
							.listed=${this.#loading.listed?.procedures.procedures ?? []}
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
		if (!first) {
			this.settingsDialog.close();
			this.personDialog.close();
		}
		// The draft is kept before the Shelf lists the drafts.
		await this.#openedSheet?.leave?.();
		if (stale()) return;
		const place = readAddress(location.pathname);
		const isLoaded = place.view !== "shelf" || (await this.#shelfLoaded());
		if (stale()) return;
		this.place = place;
		this.#placed += 1;
		this.search = location.search;
		this.failure = isLoaded ? null : this.#notLoaded();
		this.newOpen = false;
		if (!first) this.notice = null;
		this.missing = place.view === "unknown" ? "page" : null;
		this.#title(null);
		if (!first) void this.updateComplete.then(() => this.#focusHeading());
		if (!isLoaded) return;
		const wanted = place.view === "shelf" ? this.#showShelf(place.book, stale) : this.#showSheet(place, stale);
		await Promise.all([this.#showBooks(place, first, stale), wanted]);
	}

	#shelfLoaded(): Promise<boolean> {
		return this.surroundings.loadShelf().then(
			() => true,
			() => false,
		);
	}

	#notLoaded(): { what: string; why: string } {
		const say = saying(sentences, this.language);
		return { what: say("sheetFailed"), why: say("sheetFailedWhy") };
	}

	async #showBooks(place: Place, first: boolean, stale: () => boolean): Promise<void> {
		const { server, settings } = this.surroundings;
		const problem = this.#heard(await this.#loading.loadBooks(server, stale));
		if (stale() || place.view !== "first") return;
		if (problem !== null) {
			this.failure = this.#failureOf("booksFailed", problem);
			return;
		}
		const books = this.#loading.books ?? [];
		const book = books.find(({ id }) => id === settings.settings.lastBook) ?? books[0];
		if (book === undefined) return;
		history.replaceState(null, "", views.shelf(book.id));
		await this.#show(first);
	}

	async #showShelf(book: string, stale: () => boolean): Promise<void> {
		const { server, settings, loadSheet } = this.surroundings;
		this.#searches.set(book, this.search);
		// Drafts are shown when they are there; the procedures do not wait for them.
		this.#loading.showDrafts([]);
		void this.#keeper().then((keeper) => this.#loading.loadDrafts(keeper, book, stale));
		const [ofParts, ofListing] = await Promise.all([
			this.#loadParts(book, stale),
			this.#loading.loadListing(server, book, stale),
		]);
		const problem = ofParts ?? this.#heard(ofListing);
		if (stale()) return;
		if (problem?.code === "no-such-book") this.missing = "book";
		else if (problem !== null) this.failure = this.#failureOf("bookFailed", problem);
		else {
			settings.change({ lastBook: book });
			// The Sheet will be wanted next; where it does not load, whoever opens one is told.
			whenIdle(() => void loadSheet().catch(() => undefined));
		}
	}

	async #showSheet(place: Place, stale: () => boolean): Promise<void> {
		if (place.view !== "sheet" && place.view !== "newSheet") return;
		const parts = this.#loadParts(place.book, stale);
		try {
			const [keeper] = await Promise.all([this.#keeper(), this.surroundings.loadSheet()]);
			if (stale()) return;
			this.keeper = keeper;
		} catch {
			if (stale()) return;
			this.failure = this.#notLoaded();
		}
		// Its own opener reads what it judges by; these are for language, unit and people, and no reason to close it.
		const problem = await parts;
		if (stale() || problem === null || problem.code === "no-answer") return;
		const { what, why } = this.#failureOf("bookFailed", problem);
		this.notice = `${what} ${why}`;
	}

	async #loadParts(book: string, stale: () => boolean): Promise<ProblemDetails | null> {
		const problem = this.#heard(await this.#loading.loadParts(this.surroundings.server, book, stale));
		if (!stale()) this.#showTitle();
		return problem;
	}

	/** Where drafts are kept; where they cannot be, one that says so. */
	#keeper(): Promise<DraftKeeper> {
		return this.surroundings.drafts().catch(() => noDrafts);
	}

	/** A server that is gone is watched for. */
	#heard(problem: ProblemDetails | null): ProblemDetails | null {
		if (problem?.code === "no-answer") this.#watchServer();
		return problem;
	}

	#failureOf(what: "booksFailed" | "bookFailed", problem: ProblemDetails): Failure {
		const say = saying(sentences, this.language);
		return { what: say(what, { book: this.#book ?? "" }), why: sayProblemDetails(problem, this.language) };
	}

	/** Says that the server is gone, and asks until it answers. */
	#watchServer(): void {
		if (!this.isConnected) return;
		this.serverGone = true;
		this.#watch?.start();
	}

	/** What failed is loaded again. */
	#onServerBack(): void {
		this.serverGone = false;
		this.notice = saying(sentences, this.language)("serverBack");
		const turn = this.#turn;
		const book = this.#book;
		if (this.failure !== null || this.#openedSheet?.failed) void this.#show(true);
		else if (book !== null && this.#loading.opened === null) void this.#loadParts(book, () => turn !== this.#turn);
	}

	get #openedSheet(): OpenedSheet | null {
		return this.renderRoot.querySelector<OpenedSheet>("gw-open-sheet");
	}

	#shelfAddress(book: string): string {
		return views.shelf(book) + (this.#searches.get(book) ?? "");
	}

	#title(own: string | null): void {
		this.#ownTitle = own;
		this.#showTitle();
	}

	/** The title of the page: what the view calls itself, else the book, and the product. */
	#showTitle(): void {
		const own = this.#ownTitle ?? this.#loading.opened?.parts.book.name ?? null;
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

	/** The Sheet stands: the focus goes on from the heading that stood for it to the rows, or stays where the person went meanwhile. */
	readonly #onShown = (): void => {
		const at = this.shadowRoot?.activeElement ?? null;
		if (at === null || this.main.contains(at)) this.#openedSheet?.start();
	};

	/** A plain click on a link to a view stays in the page. */
	readonly #onClick = (event: MouseEvent): void => {
		const link = followedLink(event);
		if (link === null) return;
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

	/** A procedure that was just started becomes a draft, and its Sheet opens; where none is kept, the Sheet says so. */
	readonly #onStart = async ({
		detail,
	}: CustomEvent<{ procedure: Procedure; notes: readonly string[] }>): Promise<void> => {
		const book = this.#book;
		if (book === null || this.#isStarting) return;
		this.#isStarting = true;
		try {
			const { procedure, notes } = detail;
			const draft = newRowId(Math.random);
			this.#fresh.set(draft, procedure);
			const keeper = await this.#keeper();
			await keeper.keep(draftOfNew(book, draft, procedure, this.#person));
			await this.goTo(views.newSheet(book, draft));
			this.notice = notes.join(" ") || null;
		} finally {
			this.#isStarting = false;
		}
	};

	readonly #onDiscard = async ({ detail }: CustomEvent<{ draft: Draft }>): Promise<void> => {
		const { draft } = detail;
		await (await this.#keeper()).discard(draft);
		this.#fresh.delete(draft.id);
		this.#loading.showDrafts(this.#loading.drafts.filter((one) => one !== draft));
		this.#focusHeading();
	};

	/** The first save gave the procedure a file: from now on the address is that of the file. */
	readonly #onSavedFirst = ({ detail }: CustomEvent<{ id: string }>): void => {
		const { place } = this;
		if (place.view !== "newSheet" && place.view !== "sheet") return;
		if (place.view === "newSheet") this.#fresh.delete(place.draft);
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

declare global {
	interface HTMLElementTagNameMap {
		"gw-workbench": Workbench;
	}
}
