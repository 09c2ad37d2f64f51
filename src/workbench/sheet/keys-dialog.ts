import { css, html, LitElement } from "lit";
import { customElement, property, query } from "lit/decorators.js";
import type { Language } from "../../model/words.ts";
import { gridKeysInWords } from "../grid/keys.ts";
import { dialogStyle } from "../shell/dialog.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import { sheetKeysInWords } from "./sheet-keys.ts";
import words from "./words.json" with { type: "json" };

/** Every key of the Sheet and its grid, made from the tables that the keys run by. */
@customElement("gw-keys")
export class KeysDialog extends LitElement {
	static override styles = [
		controls,
		dialogStyle,
		css`
			table {
				border-collapse: collapse;
				width: 100%;
			}
			caption {
				text-align: left;
				font-weight: 700;
				padding: 0.6rem 0 0.2rem;
			}
			th,
			td {
				text-align: left;
				padding: 0.3rem 0.75rem 0.3rem 0;
				border-top: 1px solid var(--line);
				font-weight: normal;
				vertical-align: top;
			}
			kbd {
				font: 0.9rem var(--figures);
				background: var(--raised);
				border: 1px solid var(--strong-line);
				border-radius: var(--radius);
				padding: 0.05rem 0.35rem;
				white-space: nowrap;
			}
		`,
	];

	@property() language: Language = "en";
	@query("dialog") private dialog!: HTMLDialogElement;

	/** Opens it, from its first line on. */
	show(): void {
		if (this.dialog.open) return;
		this.dialog.showModal();
		this.dialog.scrollTop = 0;
	}

	override render() {
		const say = saying(words, this.language);
		const table = (caption: string, keys: ReturnType<typeof sheetKeysInWords>) => html`<table>
			<caption>
				${caption}
			</caption>
			<tbody>
				${keys.map(
					(one) => html`<tr>
						<th scope="row">${one.does}</th>
						<td>${one.keys.map((key, index) => html`${index > 0 ? " · " : ""}<kbd>${key}</kbd>`)}</td>
					</tr>`,
				)}
			</tbody>
		</table>`;
		return html`<dialog aria-labelledby="heading">
			<h2 id="heading" tabindex="-1" autofocus>${say("keysTitle")}</h2>
			${table(say("keysIn-sheet"), sheetKeysInWords(this.language))}
			${table(say("keysIn-grid"), gridKeysInWords(this.language))}
			<div class="buttons"><button type="button" class="main" @click=${() => this.dialog.close()}>${say("close")}</button></div>
		</dialog>`;
	}
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-keys": KeysDialog;
	}
}
