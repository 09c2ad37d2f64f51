import { html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import type { Person } from "../../model/generated/types.ts";
import type { Language } from "../../model/words.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import { dialogStyle } from "./dialog.ts";
import sentences from "./words.json" with { type: "json" };

/** Who writes in a book: a name of its list, or one typed in. Event: `gw-person` (detail `{ name }`). */
@customElement("gw-person")
export class PersonDialog extends LitElement {
	/** The book's own list. */
	@property({ attribute: false }) people: readonly Person[] = [];
	/** Who writes so far; empty where nobody said. */
	@property() person = "";
	@property() language: Language = "en";
	@state() private chosen = "";
	@state() private typed = "";
	@state() private missing = false;
	@query("dialog") private dialog!: HTMLDialogElement;

	static override styles = [controls, dialogStyle];

	show(): void {
		const listed = this.people.some(({ name }) => name === this.person);
		this.chosen = listed ? this.person : "";
		this.typed = listed ? "" : this.person;
		this.missing = false;
		this.dialog.showModal();
	}

	close(): void {
		this.dialog.close();
	}

	override render(): TemplateResult {
		const say = saying(sentences, this.language);
		const radio = (value: string, words: unknown) => html`<label class="choice">
			<input type="radio" name="person" .checked=${this.chosen === value} @change=${() => (this.chosen = value)} />
			${words}
		</label>`;
		return html`
			<dialog aria-labelledby="heading">
				<form @submit=${this.#onSubmit}>
					<h2 id="heading">${say("whoWrites")}</h2>
					<p class="hint">${say("personWhy")}</p>
					<fieldset aria-labelledby="heading">
						${this.people.map(({ name, signs }) => radio(name, html`${name}${signs ? ` (${say("signs")})` : nothing}`))}
						${radio("", say("otherPerson"))}
						<label class="field">
							${say("otherName")}
							<input
								name="other"
								maxlength="80"
								autocomplete="name"
								.value=${this.typed}
								aria-describedby=${this.missing ? "missing" : nothing}
								aria-invalid=${this.missing ? "true" : nothing}
								@input=${this.#onType}
							/>
						</label>
						${this.missing ? html`<p class="wrong" id="missing" role="alert">${say("nameMissing")}</p>` : nothing}
					</fieldset>
					<div class="buttons">
						<button type="button" @click=${() => this.dialog.close()}>${say("cancel")}</button>
						<button class="main">${say("useName")}</button>
					</div>
				</form>
			</dialog>
		`;
	}

	readonly #onType = ({ target }: Event): void => {
		this.typed = (target as HTMLInputElement).value;
		this.chosen = "";
	};

	readonly #onSubmit = (event: Event): void => {
		event.preventDefault();
		const name = (this.chosen || this.typed).trim();
		this.missing = name === "";
		if (this.missing) return;
		this.dispatchEvent(new CustomEvent("gw-person", { detail: { name }, bubbles: true, composed: true }));
		this.dialog.close();
	};
}
