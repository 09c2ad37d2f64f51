import { levels, type Level } from "../model/finding.ts";
import type { Language } from "../model/words.ts";
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
