import { css, html, LitElement, nothing } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { routes } from "../../api/routes.ts";
import { countFindings } from "../../check/check.ts";
import { capitalised } from "../../model/sentence.ts";
import { label, type Language, languages } from "../../model/words.ts";
import { card } from "../../print/card.ts";
import { browserStorage } from "../browser-storage.ts";
import { todayHere } from "../sheet/today.ts";
import { dialogStyle } from "../shell/dialog.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import { fitToPaper } from "./fit-to-paper.ts";
import { keepPaperChoice, type PaperChoice, paperChoice, papers } from "./paper-choice.ts";
import words from "./words.json" with { type: "json" };

/**
 * The bench card of the procedure as it stands, saved or not: preview, paper, and the browser's own print dialog.
 *
 * The card brings its own style, which the workbench's page forbids; so it is laid out in an empty page of the same
 * server that allows styles and nothing else. Sends `gw-closed` when it was left.
 */
@customElement("gw-print")
export class PrintDialog extends LitElement {
	static override styles = [
		controls,
		dialogStyle,
		css`
			dialog {
				width: min(60rem, calc(100vw - 2rem));
			}
			.choices {
				display: flex;
				flex-wrap: wrap;
				gap: 0 var(--gap);
				align-items: center;
			}
			.choices fieldset {
				display: flex;
				flex-wrap: wrap;
				gap: 0 var(--gap);
			}
			iframe {
				display: block;
				width: 100%;
				height: max(14rem, calc(100dvh - 24rem));
				border: 1px solid var(--strong-line);
				background: #fff;
			}
		`,
	];

	@property({ attribute: false }) store!: SheetStore;
	@property() language: Language = "en";
	/** Address of the empty page; another one in tests. */
	@property({ attribute: false }) page = routes.paper();
	@state() private choice: PaperChoice = paperChoice(browserStorage(), navigator.language);
	@state() private paperState: "loading" | "ready" | "missing" = "loading";
	@query("dialog") private dialog!: HTMLDialogElement;
	@query("iframe") private frame!: HTMLIFrameElement;

	constructor() {
		super();
		new StoreController(this, () => this.store);
	}

	override firstUpdated(): void {
		this.dialog.showModal();
	}

	override updated(): void {
		if (this.paperState === "ready") this.#layOut();
	}

	override render() {
		const say = saying(words, this.language);
		const { changed, isNew, findings } = this.store.state;
		const { stop } = countFindings([{ findings }]);
		return html`<dialog aria-labelledby="heading" @close=${this.#closed}>
			<h2 id="heading">${say("printTitle")}</h2>
			${stop > 0 ? html`<p class="wrong">${say("held", { count: stop })}</p>` : nothing}
			${changed || isNew ? html`<p class="hint">${say("unsaved")}</p>` : nothing}
			<div class="choices">
				<fieldset>
					<legend>${say("paper")}</legend>
					${papers.map(
						(paper) => html`<label class="choice">
							<input
								type="radio"
								name="paper"
								?autofocus=${this.choice.paper === paper}
								.checked=${this.choice.paper === paper}
								@change=${() => this.#choose({ paper })}
							/>
							${say(paper)}
						</label>`,
					)}
				</fieldset>
				<fieldset>
					<legend>${say("cardLanguage")}</legend>
					${languages.map(
						(language) => html`<label class="choice">
							<input
								type="radio"
								name="language"
								.checked=${this.#cardLanguage === language}
								@change=${() => this.#choose({ language })}
							/>
							${capitalised(label("language", language, this.language))}
						</label>`,
					)}
				</fieldset>
				<label class="choice">
					<input
						type="checkbox"
						.checked=${this.choice.withDrawing}
						@change=${(event: Event) => this.#choose({ withDrawing: (event.target as HTMLInputElement).checked })}
					/>
					${say("withDrawing")}
				</label>
			</div>
			<iframe title=${say("preview")} src=${this.page} @load=${this.#loaded}></iframe>
			<div role="status">${this.paperState === "missing" ? html`<p class="wrong">${say("noPaper")}</p>` : nothing}</div>
			<div class="buttons">
				<button type="button" @click=${() => this.dialog.close()}>${say("close")}</button>
				${
					this.paperState === "missing"
						? html`<button type="button" class="main" @click=${this.#reload}>${say("tryAgain")}</button>`
						: html`<button
								type="button"
								class="main"
								?disabled=${this.paperState !== "ready"}
								@click=${() => this.frame.contentWindow?.print()}
							>
								${say("print")}
							</button>`
				}
			</div>
		</dialog>`;
	}

	/** The card is for whoever works in the shop, not for whoever prints it. */
	get #cardLanguage(): Language {
		return this.choice.language ?? this.store.state.shop.book.language ?? "en";
	}

	/** The browser's own page about a server that does not answer is of another origin, and shows no document. */
	#loaded(): void {
		this.paperState = this.frame.contentDocument === null ? "missing" : "ready";
	}

	#reload(): void {
		this.paperState = "loading";
		this.frame.src = this.page;
	}

	#layOut(): void {
		const { contentDocument: paper, contentWindow } = this.frame;
		if (paper === null || contentWindow === null) return;
		const { readable, shop, findings, changed, isNew } = this.store.state;
		const text = card({
			procedure: readable,
			shop,
			language: this.#cardLanguage,
			today: todayHere(),
			counts: countFindings([{ findings }]),
			isUnsaved: changed || isNew,
			withDrawing: this.choice.withDrawing,
		});
		// The frame's own parser: what it parses comes under the rules of its page, where styles are allowed.
		const { DOMParser: Parser } = contentWindow as Window & typeof globalThis;
		const page = new Parser().parseFromString(text, "text/html").documentElement;
		paper.replaceChild(paper.adoptNode(page), paper.documentElement);
		fitToPaper(paper, this.choice.paper);
	}

	#choose(some: Partial<PaperChoice>): void {
		this.choice = { ...this.choice, ...some };
		keepPaperChoice(browserStorage(), this.choice);
	}

	#closed(): void {
		this.dispatchEvent(new CustomEvent("gw-closed", { bubbles: true, composed: true }));
	}
}
