import { levels, type Level } from "../model/finding.ts";
import type { Language } from "../model/units.ts";
import { WrongUse } from "./command-file.ts";

/** One of the allowed words of an option, else a sentence that names them. */
export function oneOf<T extends string>(option: string, given: string | undefined, allowed: readonly T[], usual: T): T {
	if (given === undefined) return usual;
	const found = allowed.find((word) => word === given);
	if (found === undefined) throw new WrongUse(`${option} takes ${allowed.join(", ")}; "${given}" is none of them.`);
	return found;
}

/** The language asked for; where none is asked for, the usual one. */
export function languageOf(given: string | undefined, usual: Language = "en"): Language {
	return oneOf("--language", given, ["en", "es"], usual);
}

export function levelOf(given: string | undefined): Level {
	return oneOf("--level", given, levels, "caution");
}

/** A date as year-month-day that the calendar has, else a sentence. */
export function dateOf(given: string | undefined, today: string): string {
	if (given === undefined) return today;
	const parsed = /^\d{4}-\d{2}-\d{2}$/.test(given) ? new Date(`${given}T00:00:00Z`) : undefined;
	if (parsed === undefined || Number.isNaN(parsed.getTime()) || parsed.toISOString().slice(0, 10) !== given)
		throw new WrongUse(`--today takes a date like 2026-03-02; "${given}" is none.`);
	return given;
}

/** The words that share the most pairs of letters with what was typed, best first; none where nothing is near. */
export function nearestWords(typed: string, words: readonly string[]): string[] {
	const wanted = pairsOf(typed.toLowerCase());
	return words
		.map((word) => {
			const own = pairsOf(word);
			const shared = [...wanted].filter((pair) => own.has(pair)).length;
			return { word, likeness: (2 * shared) / (wanted.size + own.size || 1) };
		})
		.filter(({ likeness }) => likeness > 0.4)
		.toSorted((a, b) => b.likeness - a.likeness)
		.slice(0, 3)
		.map(({ word }) => word);
}

function pairsOf(word: string): Set<string> {
	return new Set(Array.from({ length: Math.max(word.length - 1, 0) }, (_, index) => word.slice(index, index + 2)));
}
