import type { Work } from "../generated/types.ts";
import { findWord, label } from "../words.ts";
import { withFigures } from "./number-words.ts";
import { minutesPer, quantities, quantity } from "./quantity.ts";
import { type FieldContext, isBlank, oneOf, plainText, type Reading, type Sort } from "./reading.ts";
import { readSpan, type Span, writeSpan } from "./span.ts";

/**
 * Reader and writer of how much is done: "3", "3x", "2 a 3 pasadas", "three passes", "8–10 strokes", "5 min", "until flush",
 * "until flush, up to 40". A bare number counts passes.
 */
export const work: Sort<Work> = { read: readWork, write: writeWork };

/** What a count can be at all; an absurd one below that is for a rule to say. */
const most: Record<Work["unit"], number> = { passes: 1000, strokes: 10_000, "until-flush": 10_000, minutes: 1440 };

const wait = quantity(quantities.waitMinutes);

function readWork(text: string, context: FieldContext): Reading<Work> {
	if (isBlank(text)) return { unread: "empty" };
	const plain = withFigures(plainText(text));
	const flush = readUntilFlush(plain);
	if (flush) return flush;
	const found = readSpan(plain);
	if (!found) return readDuration(plain, context) ?? { unread: "not-a-number" };
	const names = [found.lead, found.unit].map((one) => one.replace(/[:.]+$/, "").trim()).filter((one) => one !== "");
	if (names.length > 1) return { unread: "unknown-unit" };
	const name = names[0] ?? "";
	const unit = name === "" ? "passes" : findWord("workUnit", name);
	if (unit === "passes" || unit === "strokes" || unit === "minutes") return bounded(unit, found.spans);
	const perUnit = minutesPer[name.toLowerCase()];
	if (perUnit === undefined) return readDuration(plain, context) ?? { unread: "unknown-unit" };
	return bounded(
		"minutes",
		found.spans.map((span) => scaled(span, perUnit)),
	);
}

function writeWork({ unit, low, high }: Work, { language }: FieldContext): string {
	const span = writeSpan({ low, high }, language);
	const words = label("workUnit", unit, language, low ?? high);
	if (unit === "until-flush") return span === "" ? words : `${words}, ${span}`;
	const counted = low === high ? words : label("workUnit", unit, language);
	return span === "" ? counted : `${span} ${counted}`;
}

/** "until flush", and how many strokes it may take: "until flush, up to 40", "hasta enrasar (8-10)". */
function readUntilFlush(text: string): Reading<Work> | null {
	const [, words = "", rest = ""] = /^([^,;(\d]+)(?:[,;(]\s*(.*?)\)?)?$/.exec(text) ?? [];
	if (findWord("workUnit", words) !== "until-flush") return null;
	if (rest.trim() === "") return { value: { unit: "until-flush" } };
	const found = readSpan(rest);
	if (!found || found.lead !== "") return { unread: "not-a-number" };
	if (found.unit !== "" && findWord("workUnit", found.unit) !== "strokes") return { unread: "unknown-unit" };
	return bounded("until-flush", found.spans);
}

function readDuration(text: string, context: FieldContext): Reading<Work> | null {
	const minutes = wait.read(text, context);
	return "value" in minutes ? { value: { unit: "minutes", low: minutes.value, high: minutes.value } } : null;
}

function bounded(unit: Work["unit"], spans: Span[]): Reading<Work> {
	const values = spans.filter(({ low = 0, high = 0 }) => low <= most[unit] && high <= most[unit]);
	return oneOf(
		values.map((span) => ({ unit, ...span })),
		"out-of-range",
	);
}

function scaled({ low, high }: Span, factor: number): Span {
	const times = (value: number) => Number((value * factor).toPrecision(13));
	return { ...(low === undefined ? {} : { low: times(low) }), ...(high === undefined ? {} : { high: times(high) }) };
}
