import { findWord, label, type WordKind, type WordValue } from "../words.ts";
import { isBlank, plainText, type Reading, type Sort } from "./reading.ts";

/** Reader and writer of one value out of an enumeration, by the vocabulary of both languages. */
export function word<Kind extends WordKind>(kind: Kind): Sort<WordValue<Kind>> {
	return {
		read: (text) => readWord(kind, text),
		write: (value, { language }) => label(kind, value, language),
	};
}

/** A word of the vocabulary as a reading. */
export function readWord<Kind extends WordKind>(kind: Kind, text: string): Reading<WordValue<Kind>> {
	const found = findWord(kind, plainText(text));
	if (typeof found === "string") return { value: found };
	return found ?? { unread: isBlank(text) ? "empty" : "unknown-word" };
}
