import numbers from "./data/number-words.json" with { type: "json" };

/**
 * A text with its small numbers in words, English or Spanish, as figures: "two to three passes" → "2 to 3 passes".
 * "Once" stays, since it is one time to one reader and eleven to another.
 */
export function withFigures(text: string): string {
	return text.replace(/\p{L}+/gu, (word) => String(figures.get(word.toLowerCase()) ?? word));
}

const figures = new Map<string, number>(Object.entries(numbers));
