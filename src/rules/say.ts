import { headerOf } from "../model/fields/columns.ts";
import { type FilmUnit, formatFilm, formatNumber } from "../model/units.ts";
import { label, type Language, type WordKind } from "../model/words.ts";

/** The tools a rule makes its sentences with: numbers, film and words in the reader's language and units. */
export interface Say {
	language: Language;
	/** Film or depth, from µm: "3.5 µm", "0.14 mil". */
	um(value: number): string;
	number(value: number, digits?: number): string;
	/** "8 %", from a share 0 to 1. */
	percent(share: number): string;
	/** The trade's word for a value: `label("stage", "refine")`. */
	label(kind: WordKind, value: string): string;
	/** Words joined by commas and, before the last, "and" or "or". */
	list(words: readonly string[], last?: "and" | "or"): string;
	/** Text as it was typed, in quotation marks; a long one is cut short. */
	quote(text: string): string;
	/** The column header of a field. */
	field(name: string): string;
}

const longestQuote = 60;

/** The tools of one language and one unit of film. */
export function sayTools(language: Language, film: FilmUnit): Say {
	const joint = { en: { and: "and", or: "or" }, es: { and: "y", or: "o" } }[language];
	return {
		language,
		um: (value) => formatFilm(value, film, language),
		number: (value, digits = 2) => formatNumber(value, language, digits),
		percent: (share) => `${formatNumber(share * 100, language, 0)} %`,
		label: (kind, value) => label(kind, value, language),
		list: (words, last = "and") =>
			words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${joint[last]} ${words.at(-1)}`,
		quote: (text) => {
			const short = text.length > longestQuote ? `${text.slice(0, longestQuote)}…` : text;
			return language === "es" ? `«${short}»` : `“${short}”`;
		},
		field: (name) => headerOf(name, language),
	};
}
