import { html, LitElement, type TemplateResult } from "lit";
import { customElement, property, query } from "lit/decorators.js";
import { label, type Language, languages, valuesOf } from "../../model/words.ts";
import type { Settings } from "../settings.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import { dialogStyle } from "./dialog.ts";
import type { Unset } from "./unset.ts";
import sentences from "./words.json" with { type: "json" };

/** What a person sets for this browser. Event: `gw-settings` (detail: the settings that change), at once. */
@customElement("gw-settings")
export class SettingsDialog extends LitElement {
	@property({ attribute: false }) settings!: Settings;
	@property() language: Language = "en";
	@property({ attribute: false }) unset: Unset = { language: "en", languageOf: "book", filmUnit: "um" };
	@query("dialog") private dialog!: HTMLDialogElement;

	static override styles = [controls, dialogStyle];

	show(): void {
		this.dialog.showModal();
	}

	close(): void {
		this.dialog.close();
	}

	override render(): TemplateResult {
		const say = saying(sentences, this.language);
		const { unset } = this;
		return html`
			<dialog aria-labelledby="heading">
				<h2 id="heading">${say("settings")}</h2>
				${this.#choice("language", say("language"), this.settings.language, [
					[
						"",
						say(unset.languageOf === "browser" ? "ofBrowser" : "ofBook", {
							value: label("language", unset.language, this.language),
						}),
					] as const,
					...languages.map((one) => [one, label("language", one, this.language)] as const),
				])}
				${this.#choice("filmUnit", say("filmUnit"), this.settings.filmUnit, [
					["", say("ofBook", { value: label("filmUnit", unset.filmUnit, this.language) })] as const,
					...valuesOf("filmUnit").map((one) => [one, label("filmUnit", one, this.language)] as const),
				])}
				${this.#choice("theme", say("theme"), this.settings.theme, [
					["", say("theme-system")],
					["light", say("theme-light")],
					["dark", say("theme-dark")],
				])}
				<p class="hint">${say("settingsHere")}</p>
				<div class="buttons">
					<button class="main" @click=${() => this.dialog.close()}>${say("close")}</button>
				</div>
			</dialog>
		`;
	}

	#choice(
		name: keyof Settings,
		words: string,
		chosen: string | null,
		options: readonly (readonly [value: string, words: string])[],
	): TemplateResult {
		const onChange = ({ target }: Event) => {
			const detail = { [name]: (target as HTMLSelectElement).value || null };
			this.dispatchEvent(new CustomEvent("gw-settings", { detail, bubbles: true, composed: true }));
		};
		return html`<label class="field">
			${words}
			<select name=${name} @change=${onChange}>
				${options.map(
					([value, shown]) => html`<option value=${value} ?selected=${value === (chosen ?? "")}>${shown}</option>`,
				)}
			</select>
		</label>`;
	}
}
