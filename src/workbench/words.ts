import { fillIn } from "../model/sentence.ts";
import type { Text } from "../model/generated/types.ts";
import type { Language } from "../model/words.ts";

/** Sentences of one view: key → language → sentence with `{names}` of values. */
export type Sentences = Record<string, Record<Language, string>>;

/** A view's sentences in one language: `say("rows", { count: 3 })`. A name without a value stays as it is. */
export type Say<Table extends Sentences> = (
	key: keyof Table & string,
	values?: Record<string, string | number>,
) => string;

/** Binds the sentences of a view to the reader's language. */
export function saying<Table extends Sentences>(table: Table, language: Language): Say<Table> {
	return (key, values = {}) =>
		fillIn(table[key]?.[language] ?? key, (name) => (values[name] === undefined ? undefined : String(values[name])));
}

/** Words written by the shop, in the reader's language, else in the other; empty where there are none. */
export function inLanguage(text: Text | null | undefined, language: Language): string {
	return text?.[language] ?? text?.[language === "en" ? "es" : "en"] ?? "";
}

/** A date of a file as people say it: `12 May 2026`; anything but a calendar date comes back as it is. */
export function sayDate(date: string, language: Language): string {
	const day = /^\d{4}-\d{2}-\d{2}$/.test(date) ? new Date(`${date}T00:00:00Z`) : null;
	if (day === null || Number.isNaN(day.getTime())) return date;
	return day.toLocaleDateString(language === "es" ? "es-ES" : "en-GB", {
		day: "numeric",
		month: "long",
		year: "numeric",
		timeZone: "UTC",
	});
}
