import type { Text } from "../generated/types.ts";
import type { FieldContext, Sort } from "./reading.ts";

/**
 * Reader and writer of the shop's own words in one language. Text of another language is not in the cell:
 * whoever writes the value back keeps it. Where the words exist in another language only, those are shown.
 */
export const ownWords: Sort<Text> = {
	read: (text, { language }) => (text.trim() === "" ? { unread: "empty" } : { value: { [language]: text.trim() } }),
	write: (value, { language }: FieldContext) => value[language] ?? value.en ?? value.es ?? "",
};

/** Reader and writer of free text. */
export const freeText: Sort<string> = {
	read: (text) => (text.trim() === "" ? { unread: "empty" } : { value: text.trim() }),
	write: (value) => value,
};
