import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { editBetween } from "../../model/edits.ts";
import type { Language } from "../../model/words.ts";
import type { Draft } from "../store/draft.ts";
import { controls } from "../style/tokens.ts";
import { inLanguage, type Say, saying } from "../words.ts";
import sentences from "./words.json" with { type: "json" };

/** What the person wants done with a draft. */
export interface DraftWish {
	draft: Draft;
	wish: "restore" | "discard";
}

/**
 * Drafts of tabs that are gone, offered. Whoever shows it does what the event says and takes the draft from the list.
 *
 * Event: `gw-draft` (detail {@link DraftWish}); `discard` only after the person has said so twice.
 */
@customElement("gw-drafts")
export class Drafts extends LitElement {
	@property({ attribute: false }) drafts: readonly Draft[] = [];
	/** How many more there are that another version of the program wrote. */
	@property({ type: Number }) unknown = 0;
	@property() language: Language = "en";
	/** The draft about to be thrown away. */
	@state() private doubted: Draft | null = null;

	static override styles = [controls, offerStyle()];

	override render(): TemplateResult | typeof nothing {
		if (this.drafts.length === 0 && this.unknown === 0) return nothing;
		const say = saying(sentences, this.language);
		return html`
			<section aria-labelledby="title">
				<h2 id="title" tabindex="-1">${say("draftTitle")}</h2>
				${this.drafts.length === 0 ? nothing : html`<p>${say("draftIntro")}</p>`}
				<ul>
					${this.drafts.map((draft) => this.#draft(draft, say))}
				</ul>
				${
					this.unknown === 0
						? nothing
						: html`<p>${say(this.unknown === 1 ? "unknownOne" : "unknown", { count: this.unknown })}</p>`
				}
			</section>
		`;
	}

	#draft(draft: Draft, say: Say<typeof sentences>): TemplateResult {
		const person = draft.person || say("nobody");
		const time = new Date(draft.time).toLocaleString(this.language === "es" ? "es-ES" : "en-GB", {
			dateStyle: "long",
			timeStyle: "short",
		});
		const { openCell, isNew, base, procedure } = draft;
		const texts = Object.values(draft.partTexts).map((text) => `“${text}”`);
		const count = editBetween(base, procedure).length;
		return html`
			<li>
				<p class="who">${say("draftBy", { person, time })}</p>
				<p>
					${isNew ? html`${say("newProcedure", { title: inLanguage(procedure.title, this.language) })}. ` : nothing}
					${count === 0 && (isNew || texts.length > 0) ? nothing : html`${say(count === 1 ? "changesOne" : "changes", { count })}. `}
					${openCell === null ? nothing : html`${say("openText", { text: openCell.text })}. `}
					${texts.length === 0 ? nothing : html`${say("partTexts", { texts: texts.join(", ") })}.`}
				</p>
				${this.doubted === draft ? this.#doubt(draft, { person, time }, say) : this.#choice(draft, say)}
			</li>
		`;
	}

	#choice(draft: Draft, say: Say<typeof sentences>): TemplateResult {
		return html`
			<p class="choice">
				<button class="main" @click=${() => this.#wish(draft, "restore")}>${say("restore")}</button>
				<button class="discard" @click=${() => this.#ask(draft)}>${say("discard")}</button>
			</p>
		`;
	}

	#doubt(draft: Draft, values: { person: string; time: string }, say: Say<typeof sentences>): TemplateResult {
		return html`
			<div role="group" aria-labelledby="sure" @keydown=${(event: KeyboardEvent) => this.#onKey(event)}>
				<p id="sure">${say("sure", values)}</p>
				<p class="choice">
					<button class="keep" @click=${() => this.#keep()}>${say("keep")}</button>
					<button @click=${() => this.#wish(draft, "discard")}>${say("discardSure")}</button>
				</p>
			</div>
		`;
	}

	#ask(draft: Draft): void {
		this.doubted = draft;
		void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>(".keep")?.focus());
	}

	#keep(): void {
		const index = this.drafts.indexOf(this.doubted as Draft);
		this.doubted = null;
		void this.updateComplete.then(() => this.renderRoot.querySelectorAll<HTMLElement>(".discard")[index]?.focus());
	}

	#onKey(event: KeyboardEvent): void {
		if (event.key !== "Escape") return;
		event.stopPropagation();
		this.#keep();
	}

	#wish(draft: Draft, wish: DraftWish["wish"]): void {
		this.doubted = null;
		const detail: DraftWish = { draft, wish };
		this.dispatchEvent(new CustomEvent("gw-draft", { detail, bubbles: true, composed: true }));
		// Where others are left, the focus stays here; the button it was on is gone.
		void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>("h2")?.focus());
	}
}

function offerStyle() {
	return css`
		:host {
			display: block;
		}
		section {
			border: 2px solid var(--accent);
			border-radius: var(--radius);
			background: var(--sheet);
			color: var(--ink);
			padding: var(--gap);
		}
		h2 {
			margin: 0;
			font-size: 1.1rem;
		}
		p {
			margin: 0.3rem 0;
			max-width: 75ch;
			overflow-wrap: anywhere;
		}
		ul {
			margin: 0;
			padding: 0;
			list-style: none;
		}
		li {
			border-top: 1px solid var(--line);
			margin-top: 0.5rem;
			padding-top: 0.5rem;
		}
		.who {
			font-weight: 600;
		}
		.choice {
			display: flex;
			flex-wrap: wrap;
			gap: 0.5rem;
		}
		.choice button {
			min-height: 2.75rem;
		}
	`;
}
