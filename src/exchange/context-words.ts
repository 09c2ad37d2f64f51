import { headerOf } from "../model/fields/columns.ts";
import { label, type Language, wordKinds } from "../model/words.ts";
import words from "./data/context.json" with { type: "json" };
import type { ContextValue } from "./sheet-in.ts";

/** What a sheet says outside its rows, in words: the name of each part and what was read for it; units stand in the names. */
export function contextInWords(
	context: Readonly<Record<string, ContextValue>>,
	language: Language,
): { name: string; values: string }[] {
	return Object.entries(context)
		.filter(([, value]) => !Array.isArray(value) || value.length > 0)
		.map(([key, value]) => {
			const kind = key === "wear" ? "gear" : (wordKinds.find((one) => one === key) ?? null);
			const said = [value].flat().map((one) => (kind === null ? String(one) : label(kind, String(one), language)));
			const name = (words[language] as Record<string, string>)[key] ?? label("axis", key, language);
			return { name: name === key ? headerOf(key, language) : name, values: said.join(", ") };
		});
}
