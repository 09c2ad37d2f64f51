import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { problemDetails, sayProblemDetails } from "../api/problems.ts";
import { views } from "../api/routes.ts";
import type { BookOpened, ProblemDetails } from "../api/types.ts";
import type { Procedure } from "../model/generated/types.ts";
import { type Shop, shopOf } from "../model/shop.ts";
import type { FilmUnit } from "../model/units.ts";
import type { Language } from "../model/words.ts";
import "./conflicts/drafts.ts";
import type { DraftWish } from "./conflicts/drafts.ts";
import type { Answer, Server } from "./server.ts";
import type { Settings } from "./settings.ts";
import "./sheet/sheet.ts";
import { todayHere } from "./sheet/today.ts";
import { type Failure, failureNote, failureStyle } from "./shell/failure.ts";
import sentences from "./shell/words.json" with { type: "json" };
import type { Draft, DraftKeeper } from "./store/draft.ts";
import { type Opening, type Refused, type Services, SheetStore } from "./store/sheet-store.ts";
import { controls } from "./style/tokens.ts";
import { inLanguage, saying } from "./words.ts";

/** What stands in the way of the Sheet, or the Sheet. */
type Stage =
	| { stage: "loading" }
	| { stage: "failed"; failure: Failure }
	/** `opening`: the file as it is saved; null where it is gone. */
	| { stage: "drafts"; opening: Opening | null; offered: Offered }
	| { stage: "open"; store: SheetStore; unknown: number };

/** Drafts of tabs that are gone, and how many more another version of the program wrote. */
type Offered = Awaited<ReturnType<DraftKeeper["unclaimed"]>>;

/**
 * Opens a procedure: reads what it is judged by and the procedure, offers what was left unsaved, and shows the Sheet.
 *
 * Events: `gw-title` (detail `{ title }`), `gw-shown` when the Sheet stands, `gw-saved-first` (detail `{ id }`) when a
 * procedure without a file got one, `gw-server-gone` when a save found no server.
 */
@customElement("gw-open-sheet")
export class OpenSheet extends LitElement {
	/** Id of the book. */
	@property() book = "";
	/** Id of the procedure; null for one without a file. */
	@property() procedure: string | null = null;
	/** Id of the draft of a procedure without a file; null for one that has a file. */
	@property() draft: string | null = null;
	/** That procedure as it was started, where this page started it. */
	@property({ attribute: false }) fresh: Procedure | null = null;
	@property({ attribute: false }) server!: Pick<Server, "book" | "procedure" | "save">;
	@property({ attribute: false }) drafts!: DraftKeeper;
	@property() language: Language = "en";
	@property() filmUnit: FilmUnit = "um";
	@property({ attribute: false }) settings: Settings | null = null;
	/** Who writes; empty where nobody said. */
	@property() person = "";
	@state() private stage: Stage = { stage: "loading" };
	#parts: BookOpened | null = null;
	#left = false;
	#isGranting = false;

	static override styles = [controls, failureStyle];

	override connectedCallback(): void {
		super.connectedCallback();
		void this.#open();
	}

	override disconnectedCallback(): void {
		super.disconnectedCallback();
		void this.leave();
	}

	/** Whether it shows why it did not open. */
	get failed(): boolean {
		return this.stage.stage === "failed";
	}

	/** Gives the focus to the cell to begin with, and says what opened. */
	start(): void {
		void this.renderRoot.querySelector("gw-sheet")?.start();
	}

	/** Ends with the draft kept. */
	async leave(): Promise<void> {
		this.#left = true;
		await this.#close();
	}

	override willUpdate(changed: PropertyValues<this>): void {
		if (changed.has("filmUnit") && this.stage.stage === "open") this.stage.store.useShop(this.#shop());
	}

	override render(): TemplateResult {
		const { stage } = this;
		const say = saying(sentences, this.language);
		const heading = (words: string) => html`<h1 tabindex="-1">${words}</h1>`;
		if (stage.stage === "loading")
			return html`<h1 tabindex="-1" role="status">${say("opening", { name: this.#name })}</h1>`;
		if (stage.stage === "failed") {
			return html`${heading(this.#name)} ${failureNote(stage.failure, this.language, () => void this.#open())}
				${this.#wayToShelf()}`;
		}
		if (stage.stage === "drafts") {
			const { opening, offered } = stage;
			const name = inLanguage((opening ?? offered.drafts[0])?.procedure.title, this.language) || this.#name;
			return html`
				${heading(say("unfinished", { name }))}
				${opening === null ? html`<p>${say("fileGone", { name: this.#name })}</p>` : nothing}
				<gw-drafts
					.drafts=${offered.drafts}
					.unknown=${offered.unknown}
					.language=${this.language}
					@gw-draft=${({ detail }: CustomEvent<DraftWish>) => void this.#grant(detail, opening, offered)}
				></gw-drafts>
				${
					opening === null
						? nothing
						: html`<p><button @click=${() => void this.#show(opening, offered.unknown)}>${say("openSaved")}</button></p>`
				}
				${this.#wayToShelf()}
			`;
		}
		return html`
			${
				stage.unknown === 0
					? nothing
					: html`<gw-drafts .unknown=${stage.unknown} .language=${this.language}></gw-drafts>`
			}
			<gw-sheet
				.store=${stage.store}
				.language=${this.language}
				.settings=${this.settings}
			></gw-sheet>
		`;
	}

	#wayToShelf(): TemplateResult {
		return html`<p><a class="button" href=${views.shelf(this.book)}>${saying(sentences, this.language)("toShelf")}</a></p>`;
	}

	get #name(): string {
		return (
			this.procedure ?? (inLanguage(this.fresh?.title, this.language) || saying(sentences, this.language)("newName"))
		);
	}

	async #open(): Promise<void> {
		this.stage = { stage: "loading" };
		try {
			const [parts, opening] = await Promise.all([this.server.book(this.book), this.#opening()]);
			if (this.#left) return;
			if ("problem" in parts) {
				this.#fail(saying(sentences, this.language)("partsFailed", { book: this.book }), parts.problem);
				return;
			}
			this.#parts = parts;
			if (opening === null) return;
			const whole = { ...opening, shop: this.#shop() };
			const offered = opening.draft ? { drafts: [], unknown: 0 } : await this.#unclaimed();
			if (this.#left) return;
			if (offered.drafts.length === 0) await this.#show(whole, offered.unknown);
			else this.stage = { stage: "drafts", opening: whole, offered };
		} catch (error) {
			console.error(error);
			const message = error instanceof Error ? error.message : String(error);
			const say = saying(sentences, this.language);
			const failure = { what: say("procedureFailed", { name: this.#name }), why: say("openFailed", { message }) };
			this.stage = { stage: "failed", failure };
		}
	}

	/** The procedure and what this tab left of it; null where it did not open, which is shown. */
	async #opening(): Promise<Omit<Opening, "shop"> | null> {
		const { book } = this;
		if (this.procedure === null) return this.#openingOfDraft(this.draft ?? "");
		const id = this.procedure;
		const [answer, draft] = await Promise.all([this.server.procedure(book, id), this.drafts.own(book, id)]);
		if (!("problem" in answer)) {
			const { value, etag, readOnly } = answer;
			return { book, id, procedure: value, etag, readOnly, draft };
		}
		if (answer.problem.code !== "no-such-procedure") this.#failProcedure(answer.problem);
		else if (draft !== null) return openingOfGone(draft);
		else {
			const offered = await this.#unclaimed();
			if (this.#left) return null;
			if (offered.drafts.length === 0) this.#failProcedure(answer.problem);
			else this.stage = { stage: "drafts", opening: null, offered };
		}
		return null;
	}

	/** A procedure without a file is in a draft: this tab's, or one whose tab is gone, which then becomes this tab's. */
	async #openingOfDraft(id: string): Promise<Omit<Opening, "shop"> | null> {
		const { book, drafts, fresh } = this;
		const own = await drafts.own(book, id);
		const left = own === null ? (await drafts.unclaimed(book, id)).drafts[0] : undefined;
		const draft = own ?? (left === undefined ? null : await drafts.claim(left));
		const procedure = draft?.base ?? fresh;
		if (procedure !== null) return { book, id, procedure, etag: null, readOnly: [], draft };
		const say = saying(sentences, this.language);
		if (!this.#left) this.stage = { stage: "failed", failure: { what: say("noDraft"), why: say("noDraftNext") } };
		return null;
	}

	async #unclaimed(): Promise<Offered> {
		return this.procedure === null ? { drafts: [], unknown: 0 } : this.drafts.unclaimed(this.book, this.procedure);
	}

	/** Does with a draft what the person wants, one wish at a time; the Sheet opens once none is left to decide. */
	async #grant({ draft, wish }: DraftWish, opening: Opening | null, { drafts, unknown }: Offered): Promise<void> {
		if (this.#isGranting) return;
		this.#isGranting = true;
		try {
			if (wish === "discard") await this.drafts.discard(draft);
			// Null where another tab was faster: then it is there.
			const claimed = wish === "restore" ? await this.drafts.claim(draft) : null;
			if (this.#left) return;
			const left = drafts.filter((one) => one !== draft);
			if (claimed !== null)
				await this.#show(
					{ ...(opening ?? { ...openingOfGone(claimed), shop: this.#shop() }), draft: claimed },
					unknown,
				);
			else if (left.length > 0) this.stage = { stage: "drafts", opening, offered: { drafts: left, unknown } };
			else if (opening !== null) await this.#show(opening, unknown);
			else this.#failProcedure(problemDetails("no-such-procedure"));
		} finally {
			this.#isGranting = false;
		}
	}

	#failProcedure(problem: ProblemDetails): void {
		this.#fail(saying(sentences, this.language)("procedureFailed", { name: this.#name }), problem);
	}

	#fail(what: string, problem: ProblemDetails): void {
		if (this.#left) return;
		if (problem.code === "no-answer") this.#tell("gw-server-gone");
		this.stage = { stage: "failed", failure: { what, why: sayProblemDetails(problem, this.language) } };
	}

	/** The shop as the book has it, film in the unit that the reader prefers. */
	#shop(): Shop {
		if (this.#parts === null) throw new TypeError(`the book ${this.book} is not open`);
		const { book, stock, limits } = this.#parts;
		return shopOf({ ...book, units: this.filmUnit }, stock, limits);
	}

	async #close(): Promise<void> {
		if (this.stage.stage === "open") await this.stage.store.close();
	}

	async #show(opening: Opening, unknown: number): Promise<void> {
		await this.#close();
		if (this.#left) return;
		const store = new SheetStore(opening, {
			server: procedureServer(this.server, () => this.#tell("gw-server-gone")),
			drafts: this.drafts,
			today: todayHere,
			person: () => this.person,
			random: Math.random,
		});
		let { isNew } = store.state;
		const tellTitle = () => {
			const title = inLanguage(store.state.readable.title, this.language);
			this.#tell("gw-title", { title: title || saying(sentences, this.language)("untitled") });
		};
		store.subscribe(() => {
			const { state } = store;
			if (isNew && !state.isNew) this.#tell("gw-saved-first", { id: state.procedure.id });
			isNew = state.isNew;
			tellTitle();
		});
		this.stage = { stage: "open", store, unknown };
		tellTitle();
		void this.updateComplete.then(() => this.#tell("gw-shown"));
	}

	#tell(name: string, detail: unknown = null): void {
		this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
	}
}

/** A procedure whose file is gone, as a draft has it. */
function openingOfGone(draft: Draft): Omit<Opening, "shop"> {
	return { book: draft.book, id: draft.id, procedure: draft.base, etag: null, readOnly: [], draft };
}

/** The server as the store asks it; `gone` hears of every answer that never came. */
function procedureServer(server: Pick<Server, "procedure" | "save">, gone: () => void): Services["server"] {
	const told = <T extends object>(answer: Answer<T>): T | Refused => {
		if (!("problem" in answer)) return answer;
		const refused = answer.problem as ProblemDetails;
		if (refused.code === "no-answer") gone();
		return { refused };
	};
	return {
		async procedure(book, id) {
			const answer = told(await server.procedure(book, id));
			return "refused" in answer ? answer : { ...answer, procedure: answer.value };
		},
		async save(book, id, procedure, etag) {
			return told(await server.save(book, id, procedure, etag === null ? "new" : { etag }));
		},
	};
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-open-sheet": OpenSheet;
	}
}
