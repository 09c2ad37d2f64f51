import { readFigure, readFilmFigures, type FilmSubject } from "../../exchange/film-figures.ts";
import { minutesPer, quantity } from "../../model/fields/quantity.ts";
import { readSpan, writeNumber } from "../../model/fields/span.ts";
import type { Estimate } from "../../model/generated/types.ts";
import { isSlug } from "../../model/ids.ts";
import { isRecord } from "../../model/pointer.ts";
import { fahrenheitToCelsius, filmFigure, type FilmUnit, formatFilm } from "../../model/units.ts";
import { label, type Language } from "../../model/words.ts";

/** What a typed text says: a value, or why it says none, as a key of the sentences of this view. */
export type Typed = { value: unknown } | { why: WhyUnread };

/** Why a text gave no value. */
export type WhyUnread =
	| "unread-film"
	| "unread-one-figure"
	| "unread-unit"
	| "unread-hours"
	| "unread-minutes"
	| "unread-degrees"
	| "unread-count"
	| "unread-revision"
	| "unread-date"
	| "unread-name";

/**
 * A film with its interval, in µm, as people type it: "100 ± 10", "4 mil", "90-110 µm", "45 (35–55)". A bare number
 * is in the reader's unit.
 *
 * @param spread the house's own figure for the same film: its relative interval goes to a figure typed alone, which
 * says nothing of its spread; without one, the figure counts as exact
 */
export function readEstimate(text: string, subject: FilmSubject, film: FilmUnit, spread?: Estimate): Typed {
	const found = readFilmFigures(text, subject, label("filmUnit", film, "en"), film);
	if (found === "unit-unknown" || isDoubtfulUnit(text, film)) return { why: "unread-unit" };
	const figures = found === null ? [] : [...found.clear.map(({ um }) => um), ...(found.under ? [found.under] : [])];
	const [figure] = figures;
	if (found === null || figure === undefined || figures.length > 1) return { why: "unread-film" };
	if (found.rest.length > 0 || found.total !== undefined || found.leasts.length > 0) return { why: "unread-film" };
	const { mid, low, high, single } = figure;
	if (!single || spread === undefined || spread.mid === 0) return { value: { mid, low, high } };
	const share = mid / spread.mid;
	return { value: { mid, low: rounded(spread.low * share), high: rounded(spread.high * share) } };
}

/** One film figure in µm: "40", "1.6 mil". An interval is refused: which end is meant is not known. */
export function readOneFilm(text: string, film: FilmUnit): Typed {
	const found = readFilmFigures(text, "film", label("filmUnit", film, "en"), film);
	const figure = readFigure(text, label("filmUnit", film, "en"), film);
	if (isDoubtfulUnit(text, film) || figure === "unit-unknown") return { why: "unread-unit" };
	if (found === null || found === "unit-unknown" || found.rest.length > 0 || figure === null)
		return { why: "unread-film" };
	// A hyphen is read as that of a range elsewhere.
	if (/^\s*[-\u2212\u2013]/.test(text)) return { why: "unread-film" };
	return figure.single ? { value: figure.mid } : { why: "unread-one-figure" };
}

/** "45 (35–55) µm", "45 µm" where both ends are the middle; a value of another form as it stands in the file. */
export function writeEstimate(value: unknown, film: FilmUnit, language: Language): string {
	if (!isEstimate(value)) return writeRaw(value);
	if (value.low === value.high) return formatFilm(value.mid, film, language);
	const [mid, low, high] = [value.mid, value.low, value.high].map((um) => filmFigure(um, film, language));
	return `${mid} (${low}–${high}) ${label("filmUnit", film, language)}`;
}

/** "40 µm"; a value of another form as it stands in the file. */
export function writeOneFilm(value: unknown, film: FilmUnit, language: Language): string {
	return typeof value === "number" ? formatFilm(value, film, language) : writeRaw(value);
}

/** Hours, from "24", "24 h", "2 days", "90 min". */
export function readHours(text: string, most = 10_000): Typed {
	const hoursPer = Object.fromEntries(Object.entries(minutesPer).map(([unit, minutes]) => [unit, minutes / 60]));
	return only(quantity({ symbol: "h", least: 0, most, units: hoursPer }).read(text, plain), "unread-hours");
}

/** Minutes, from "35", "35 min", "1 h". */
export function readMinutes(text: string): Typed {
	return only(quantity({ symbol: "min", least: 0, most: 1000, units: minutesPer }).read(text, plain), "unread-minutes");
}

/** Degrees Celsius, from "60", "60 °C", "140 °F", "140 F"; a bare number is Celsius. */
export function readCelsius(text: string, least: number, most: number): Typed {
	const [, sign = "", rest = ""] = /^\s*([-−–]?)(.*)$/.exec(text) ?? [];
	const found = readSpan(rest);
	const unit = /^°?\s*([cf])?(?:elsius|ahrenheit)?$/i.exec(found?.unit.trim() ?? "?");
	const span = found?.spans[0];
	if (!found || found.lead !== "" || !unit || span?.low === undefined || span.low !== span.high)
		return { why: "unread-degrees" };
	const degrees = sign === "" ? span.low : -span.low;
	const celsius = unit[1]?.toLowerCase() === "f" ? Number(fahrenheitToCelsius(degrees).toFixed(1)) : degrees;
	return celsius >= least && celsius <= most ? { value: celsius } : { why: "unread-degrees" };
}

/** A whole number from `least` up. */
export function readCount(text: string, least: number, why: WhyUnread): Typed {
	const plainText = text.trim();
	return /^\d{1,9}$/.test(plainText) && Number(plainText) >= least ? { value: Number(plainText) } : { why };
}

/**
 * A calendar date as kept, year-month-day, from "2026-05-12", "12.5.2026", "12 May 2026". With slashes the day comes
 * first in Spanish; in English such a date is read only where it can mean one day.
 */
export function readDay(text: string, language: Language): Typed {
	const words = text.trim().toLowerCase().normalize("NFD").replace(/\p{M}/gu, "");
	const iso = /^(\d{4})[-./](\d{1,2})[-./](\d{1,2})$/.exec(words);
	if (iso) return dayOf(iso[1], iso[2], iso[3]);
	const named = /^(\d{1,2})\.?\s*(?:de |of )?([a-z]{3})[a-z]*\.?,?\s*(?:de |del )?(\d{4})$/.exec(words);
	if (named) return dayOf(named[3], monthOf(named[2]), named[1]);
	const figures = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/.exec(words);
	if (!figures) return { why: "unread-date" };
	const [, first = "", separator, second = "", year] = figures;
	const isDayFirst = separator === "." || language === "es" || Number(first) > 12 || first === second;
	if (isDayFirst) return dayOf(year, second, first);
	return Number(second) > 12 ? dayOf(year, first, second) : { why: "unread-date" };
}

/** The id of another procedure: lower-case letters, digits and single hyphens. */
export function readId(text: string): Typed {
	const id = text.trim();
	return isSlug(id) ? { value: id } : { why: "unread-name" };
}

/** A number in the reader's language with its unit behind it; a value of another form as it stands in the file. */
export function writeAmount(value: unknown, unit: string, language: Language): string {
	return typeof value === "number" ? `${writeNumber(value, language)}${unit && ` ${unit}`}` : writeRaw(value);
}

/** Text as it is; nothing for an absent value; what is neither, as it stands in the file. */
export function writeRaw(value: unknown): string {
	if (value === undefined) return "";
	return typeof value === "string" ? value : JSON.stringify(value);
}

/** Whether a value has the form of an uncertain one. */
function isEstimate(value: unknown): value is Estimate {
	return isRecord(value) && ["mid", "low", "high"].every((key) => typeof value[key] === "number");
}

const plain = { language: "en" as const };
/** No film of paint is as thick in mil, so that a bare number above is more likely meant in µm. */
const mostBareMil = 15;
const months = ["jan ene", "feb", "mar", "apr abr", "may", "jun", "jul", "aug ago", "sep set", "oct", "nov", "dec dic"];

function isDoubtfulUnit(text: string, film: FilmUnit): boolean {
	if (film !== "mil" || /[a-zµμ]/i.test(text)) return false;
	const [first = "0"] = /\d+(?:[.,]\d+)?/.exec(text) ?? [];
	return Number(first.replace(",", ".")) > mostBareMil;
}

function only(reading: { value: number } | { between: number[] } | { unread: string }, why: WhyUnread): Typed {
	return "value" in reading ? { value: reading.value } : { why };
}

function rounded(value: number): number {
	return Number(value.toFixed(1));
}

function monthOf(name = ""): string {
	return String(months.findIndex((names) => names.split(" ").includes(name)) + 1);
}

function dayOf(year = "", month = "", day = ""): Typed {
	const text = `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;
	const date = new Date(`${text}T00:00:00Z`);
	const isDay = !Number.isNaN(date.getTime()) && date.toISOString().startsWith(text);
	return isDay ? { value: text } : { why: "unread-date" };
}
