import { fillIn } from "../model/sentence.ts";
import { formatNumber } from "../model/units.ts";
import type { Language } from "../model/words.ts";
import sentences from "./data/sentences.json" with { type: "json" };

export type SentenceCode = keyof typeof sentences;

/** A sentence about an import, in the reader's language. Text of a cell is clipped. */
export function sentence(code: SentenceCode, data: Record<string, string | number>, language: Language): string {
	return fillIn(sentences[code][language], (name) => {
		const value = data[name] ?? "";
		if (typeof value === "number") return formatNumber(value, language, 2);
		return value.length > longest ? `${value.slice(0, longest)}…` : value;
	});
}

const longest = 120;
