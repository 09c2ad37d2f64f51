import { css, html, type TemplateResult } from "lit";
import type { Language } from "../../model/words.ts";
import { saying } from "../words.ts";
import sentences from "./words.json" with { type: "json" };

/** What did not load, and why, in the reader's language. */
export interface Failure {
	what: string;
	/** What happened and what to do. */
	why: string;
}

/** A failure of loading as every view shows it, with a way to try again. */
export function failureNote({ what, why }: Failure, language: Language, again: () => void): TemplateResult {
	return html`<div class="failure" role="alert">
		<p><strong>${what}</strong></p>
		<p>${why}</p>
		<button @click=${again}>${saying(sentences, language)("again")}</button>
	</div>`;
}

export const failureStyle = css`
	.failure {
		margin-block: 1.5rem;
		padding: 1rem 1.25rem;
		max-width: 50rem;
		background: var(--stop-ground);
		border-inline-start: 0.4rem solid var(--stop);
		border-radius: var(--radius);
	}
	.failure p {
		margin-block: 0 var(--gap);
	}
`;
