import { html, type TemplateResult } from "lit";
import { views } from "../../api/routes.ts";
import type { BookListed } from "../../api/types.ts";
import type { Language } from "../../model/words.ts";
import { saying } from "../words.ts";
import sentences from "./words.json" with { type: "json" };

/** While a view loads. */
export function loadingPage(words: string): TemplateResult {
	return html`<h1 tabindex="-1" class="loading" role="status">${words}</h1>`;
}

/** Where there is no book: how to get one. */
export function noBook(again: () => void, language: Language): TemplateResult {
	const say = saying(sentences, language);
	return html`<div class="page">
		<h1 tabindex="-1">${say("noBook")}</h1>
		<p>${say("noBookNext")}</p>
		<button @click=${again}>${say("again")}</button>
	</div>`;
}

/** An address of nothing. */
export function unknownPage(address: string, books: readonly BookListed[], language: Language): TemplateResult {
	const say = saying(sentences, language);
	return nothingHere(say("unknownPage"), say("unknownPageNext", { address }), books);
}

/** A book that is not there. */
export function noSuchBook(book: string, books: readonly BookListed[], language: Language): TemplateResult {
	const say = saying(sentences, language);
	return nothingHere(say("noSuchBook", { book }), say("noSuchBookNext"), books);
}

/** Leads on to the Shelf of every book. */
function nothingHere(heading: string, why: string, books: readonly BookListed[]): TemplateResult {
	return html`<div class="page">
		<h1 tabindex="-1">${heading}</h1>
		<p>${why}</p>
		<ul>
			${books.map(({ id, name }) => html`<li><a href=${views.shelf(id)}>${name}</a></li>`)}
		</ul>
	</div>`;
}
