import { html, nothing, type TemplateResult } from "lit";
import type { BookListed } from "../../api/types.ts";
import type { Language } from "../../model/words.ts";
import { saying } from "../words.ts";
import sentences from "./words.json" with { type: "json" };

/** What the header says. */
export interface HeaderFacts {
	/** Id of the book that is shown; null where there is none. */
	book: string | null;
	/** Its name, once it is open. */
	name: string | null;
	books: readonly BookListed[];
	/** Who writes; empty where nobody said. */
	person: string;
	language: Language;
}

/** What a person does in the header. */
export interface HeaderDeeds {
	skip: () => void;
	/** A click that may be on a link. */
	follow: (event: MouseEvent) => void;
	/** @param book id of the book to go to */
	choose: (book: string) => void;
	askPerson: () => void;
	askSettings: () => void;
}

/** The header of every view: the product, the book with a choice where there are several, who writes, and settings. */
export function header(facts: HeaderFacts, deeds: HeaderDeeds): TemplateResult {
	const { book, person, language } = facts;
	const say = saying(sentences, language);
	return html`<header>
		<button class="skip" @click=${deeds.skip}>${say("skip")}</button>
		<a class="product" href="/" @click=${deeds.follow}>Gritwright</a>
		${book === null ? nothing : bookChoice(book, facts, deeds)}
		<span class="space"></span>
		${
			book === null
				? nothing
				: html`<button @click=${deeds.askPerson}>
						${person === "" ? say("whoWrites") : say("writes", { person })}
					</button>`
		}
		<button @click=${deeds.askSettings}>${say("settings")}</button>
	</header>`;
}

function bookChoice(book: string, { books, name, language }: HeaderFacts, { choose }: HeaderDeeds): TemplateResult {
	if (books.length < 2) return html`<span class="book">${books[0]?.name ?? name ?? book}</span>`;
	return html`<label class="book">
		${saying(sentences, language)("book")}
		<select @change=${({ target }: Event) => choose((target as HTMLSelectElement).value)}>
			${books.map(({ id, name: shown }) => html`<option value=${id} ?selected=${id === book}>${shown}</option>`)}
		</select>
	</label>`;
}
