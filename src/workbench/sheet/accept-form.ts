import { css, html, LitElement, nothing } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import type { Finding } from "../../model/finding.ts";
import type { Shop } from "../../model/shop.ts";
import type { Language } from "../../model/words.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import { type Acceptance, acceptorsOf } from "./acceptance.ts";
import { todayHere } from "./today.ts";
import words from "./words.json" with { type: "json" };

/** What the person said, in the event `accept`. */
export type AcceptEvent = CustomEvent<Acceptance>;

/**
 * Asks why a finding is accepted, by whom, and until when. Sends `accept` with an {@link Acceptance}, or `cancel`; and
 * `gw-reason` with the reason as it stands, on every input.
 */
@customElement("gw-accept-form")
export class AcceptForm extends LitElement {
	static override styles = [
		controls,
		css`
			form {
				display: grid;
				gap: 0.5rem;
				margin: 0.5rem 0;
				padding-left: 0.6rem;
				border-left: 3px solid var(--line);
			}
			label {
				display: grid;
				gap: 0.15rem;
			}
			textarea {
				min-height: 4rem;
				width: 100%;
			}
			input,
			select {
				max-width: 100%;
			}
			p {
				margin: 0;
			}
			.wrong {
				color: var(--stop);
				font-weight: 600;
			}
			.row {
				display: flex;
				flex-wrap: wrap;
				gap: 0.5rem;
			}
		`,
	];

	@property({ attribute: false }) finding!: Finding;
	@property({ attribute: false }) shop!: Shop;
	@property() language: Language = "en";
	/** Who writes in this book, where that is known. */
	@property() person = "";
	/** The reason to begin with: what was typed before. */
	@property({ attribute: false }) typed = "";
	@state() private missing: "reason" | "by" | null = null;
	@query("textarea") private reason?: HTMLTextAreaElement;
	@query("[name=by]") private by?: HTMLInputElement | HTMLSelectElement;
	@query("[name=until]") private until?: HTMLInputElement;

	override firstUpdated(): void {
		this.reason?.focus();
	}

	override render() {
		const say = saying(words, this.language);
		const names = acceptorsOf(this.finding, this.shop);
		const isStop = this.finding.level === "stop";
		if (isStop && names.length === 0)
			return html`<form @submit=${this.#cancel}>
				<p class="wrong">${say("nobodySigns")}</p>
				<div class="row"><button>${say("cancel")}</button></div>
			</form>`;
		return html`<form novalidate @submit=${this.#accept} @keydown=${this.#key}>
			${isStop ? html`<p>${say("stopNeedsSigner")}</p>` : nothing}
			<label
				>${say("acceptReason")}
				<textarea
					.value=${live(this.typed)}
					@input=${this.#type}
					aria-required="true"
					aria-invalid=${this.missing === "reason"}
					aria-describedby=${this.missing === "reason" ? "missing" : nothing}
				></textarea>
			</label>
			<label
				>${say("acceptBy")}
				${
					isStop
						? html`<select name="by" aria-invalid=${this.missing === "by"}>
								<option value="">${say("choosePerson")}</option>
								${names.map((name) => html`<option .selected=${name === this.person}>${name}</option>`)}
							</select>`
						: html`<input
									name="by"
									list="people"
									aria-required="true"
									autocomplete="off"
									aria-invalid=${this.missing === "by"}
									.value=${this.person}
								/><datalist id="people">${names.map((name) => html`<option value=${name}></option>`)}</datalist>`
				}
			</label>
			<label
				>${say("acceptUntil")}
				<input type="date" name="until" min=${todayHere()} />
			</label>
			${this.missing === null ? nothing : html`<p class="wrong" id="missing" role="alert">${say(this.missing === "reason" ? "reasonMissing" : "byMissing")}</p>`}
			<p>${say("acceptMeans")}</p>
			<div class="row">
				<button class="main">${say("accept")}</button>
				<button type="button" @click=${this.#drop}>${say("cancel")}</button>
			</div>
		</form>`;
	}

	#type(event: Event): void {
		this.typed = (event.target as HTMLTextAreaElement).value;
		this.dispatchEvent(new CustomEvent("gw-reason", { detail: this.typed }));
	}

	#accept(event: Event): void {
		event.preventDefault();
		const reason = this.reason?.value.trim() ?? "";
		const by = this.by?.value.trim() ?? "";
		this.missing = reason === "" ? "reason" : by === "" ? "by" : null;
		if (this.missing !== null) {
			(this.missing === "reason" ? this.reason : this.by)?.focus();
			return;
		}
		const until = this.until?.value ?? "";
		const detail: Acceptance = { reason, by, on: todayHere(), until: until === "" ? null : until };
		this.dispatchEvent(new CustomEvent("accept", { detail }));
	}

	#cancel(event: Event): void {
		event.preventDefault();
		this.dispatchEvent(new CustomEvent("cancel"));
	}

	/** Nothing of what was typed is kept; Escape keeps the reason. */
	#drop(event: Event): void {
		this.typed = "";
		this.dispatchEvent(new CustomEvent("gw-reason", { detail: "" }));
		this.#cancel(event);
	}

	#key(event: KeyboardEvent): void {
		if (event.key !== "Escape") return;
		event.stopPropagation();
		this.#cancel(event);
	}
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-accept-form": AcceptForm;
	}
}
