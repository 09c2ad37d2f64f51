import type { Book } from "../../model/generated/types.ts";
import type { FilmUnit } from "../../model/units.ts";
import { type Language, languages } from "../../model/words.ts";

/** What holds where the person sets nothing. */
export interface Unset {
	language: Language;
	languageOf: "browser" | "book";
	filmUnit: FilmUnit;
}

/**
 * What holds in a book where the person sets nothing: a reader's language is the browser's, where it is one of ours.
 *
 * @param tags languages of the browser, the most welcome first
 */
export function unsetIn(book: Book | undefined, tags: readonly string[]): Unset {
	const ofBrowser = tags
		.map((tag) => languages.find((one) => new RegExp(`^${one}\\b`, "i").test(tag)))
		.find((one) => one !== undefined);
	return {
		language: ofBrowser ?? book?.language ?? "en",
		languageOf: ofBrowser === undefined ? "book" : "browser",
		filmUnit: book?.units ?? "um",
	};
}
