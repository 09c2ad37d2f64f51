import english from "./data/words.en.json" with { type: "json" };
import spanish from "./data/words.es.json" with { type: "json" };
import shared from "./data/words.shared.json" with { type: "json" };
import type { Text } from "./generated/types.ts";

/** A language a person can read in. */
export type Language = keyof Text;

/** A sort of word: the header of a field, a part of a procedure, or the values of one enumeration. */
export type WordKind = keyof typeof english;

/** The values a kind has words for: `rotary`, `random-orbital` … for `tool`. */
export type WordValue<Kind extends WordKind> = Extract<keyof (typeof english)[Kind], string>;

/** The languages every word exists in; English first. */
export const languages: readonly Language[] = ["en", "es"];

/** Every kind of word. */
export const wordKinds = Object.keys(english) as WordKind[];

/** The values of one kind, in the order of the vocabulary, which is that of the schema. */
export function valuesOf<Kind extends WordKind>(kind: Kind): WordValue<Kind>[] {
	return Object.keys(english[kind]) as WordValue<Kind>[];
}

/**
 * What a person sees for a value. A value the vocabulary lacks (a stock item, a defect of the shop's own)
 * comes back as it is. Headers begin with a capital, values do not, so that they stand inside a sentence.
 *
 * @param count where given and 1, the singular of a unit: "pass"
 */
export function label(kind: WordKind, value: string, language: Language, count?: number): string {
	const word = vocabularies[language][kind]?.[value];
	return (count === 1 ? word?.one : undefined) ?? word?.label ?? value;
}

/**
 * The value that a text names, by label or by a spelling of the trade, in **either** language, since shops mix them.
 * Case, accents, hyphens, plurals and the difference of American and British spelling do not matter.
 *
 * @returns null where nothing matches; the candidates where the trade itself uses the word for several ("wool pad")
 */
export function findWord<Kind extends WordKind>(
	kind: Kind,
	text: string,
): WordValue<Kind> | { between: WordValue<Kind>[] } | null {
	const found = indexOf(kind).get(foldText(text));
	if (found === undefined) return null;
	return found.length === 1 ? (found[0] as WordValue<Kind>) : { between: found as WordValue<Kind>[] };
}

/** Every text of a kind as {@link foldText} reduces it, with the values that it names. */
export function foldedWords(kind: WordKind): ReadonlyMap<string, readonly string[]> {
	return indexOf(kind);
}

/** Every spelling under which a value is found, in one language, the label first. */
export function spellingsOf(kind: WordKind, value: string, language: Language): string[] {
	const word = vocabularies[language][kind]?.[value];
	return word ? [word.label, ...(word.one ? [word.one] : []), ...(word.also ?? [])] : [];
}

/**
 * A text reduced to what decides whether two spellings are the same word: no case, accents, spaces, hyphens or
 * plural, and one spelling where American and British English differ. For comparison only, never for show.
 */
export function foldText(text: string): string {
	if (text.length > longestWord) return "";
	return text
		.normalize("NFKD")
		.replace(/\p{M}/gu, "")
		.toLowerCase()
		.replaceAll("&", " and ")
		.replace(/#/g, " number ")
		.replaceAll(" / ", " or ")
		.split(/[^\p{L}\p{N}%]+/u)
		.map(foldToken)
		.join("");
}

interface Word {
	label: string;
	one?: string;
	also?: string[];
}

const longestWord = 200;
const vocabularies: Record<Language, Record<string, Record<string, Word>>> = { en: english, es: spanish };
const sameWord = new Map(Object.entries(shared.sameWord));
const between: Record<string, Record<string, string[]>> = shared.between;
const indexes = new Map<WordKind, Map<string, string[]>>();

function foldToken(token: string): string {
	const word = sameWord.get(token) ?? token;
	if (word.length < 4) return word;
	// English plurals end in -s, Spanish ones in -s or -es: dropping both ends makes "panels" and "paneles" one word.
	const single = word.endsWith("ss") ? word : word.replace(/s$/, "");
	return (sameWord.get(single) ?? single).replace(/e$/, "");
}

function indexOf(kind: WordKind): Map<string, string[]> {
	let index = indexes.get(kind);
	if (!index) {
		index = new Map();
		for (const value of valuesOf(kind)) {
			// The value itself first: whatever else a spelling may mean, what is written in files is read.
			for (const spelling of [value, ...languages.flatMap((one) => spellingsOf(kind, value, one))]) {
				const key = foldText(spelling);
				if (!index.has(key)) index.set(key, [value]);
			}
		}
		for (const [spelling, values] of Object.entries(between[kind] ?? {})) index.set(foldText(spelling), values);
		index.delete("");
		indexes.set(kind, index);
	}
	return index;
}
