import { readNumber } from "../units.ts";
import type { Language } from "../words.ts";
import { plainText } from "./reading.ts";

/** A number or a range; one end alone for "at least 2" or "up to 3". */
export interface Span {
	low?: number;
	high?: number;
}

/** A text with one number or two: what stands before and after them, and every way the numbers can be meant. */
export interface SpanText {
	/** Words before the number: `dial` in "dial 4". */
	lead: string;
	/** Words after it: `rpm` in "1200-1500 rpm". */
	unit: string;
	spans: Span[];
}

/**
 * Reads "3", "1200-1500 rpm", "2 a 3 pasadas", "dial 4", "3x", "up to 4", "2+", "1.5k rpm".
 * Ends in the wrong order are turned round. Null where there is no number, more than a range, or two different units.
 */
export function readSpan(text: string): SpanText | null {
	if (text.length > longestSpan) return null;
	const parts = spanForm.exec(plainText(text).replace(/(^|\s)([.,]\d)/g, "$10$2"));
	if (!parts || parts[1]?.trim().endsWith("-")) return null;
	const [, before = "", first = "", middle = "", second, after = ""] = parts;
	const single = second === undefined;
	const unitOfFirst = single ? middle : rangeWord.exec(middle.trim())?.[1];
	if (unitOfFirst === undefined) return null;
	const opened = openEnd(before.trim(), (single ? middle : after).trim());
	const [lowThousands, lowUnit] = takeThousands(single ? opened.unit : unitOfFirst.trim());
	const [highThousands, highUnit] = single ? [lowThousands, lowUnit] : takeThousands(opened.unit);
	if (lowUnit !== "" && lowUnit.toLowerCase() !== highUnit.toLowerCase()) return null;
	const lows = readNumber(first)?.map((number) => number * (lowThousands || highThousands ? 1000 : 1));
	const highs = single ? lows : readNumber(second)?.map((number) => number * (highThousands ? 1000 : 1));
	if (!lows || !highs) return null;
	if (opened.end !== undefined) {
		if (!single) return null;
		return { lead: opened.lead, unit: highUnit, spans: lows.map((number) => ({ [opened.end as string]: number })) };
	}
	const lead = single ? opened.lead : opened.lead.replace(/^(?:from|between|entre|de)\b\s*/i, "");
	return {
		lead,
		unit: highUnit,
		spans: single ? lows.map((number) => ({ low: number, high: number })) : pairs(lows, highs),
	};
}

/** "3", "2–3", "2+", "up to 3"; reads back as the same span. */
export function writeSpan({ low, high }: Span, language: Language): string {
	if (low !== undefined && high !== undefined)
		return low === high ? writeNumber(low, language) : `${writeNumber(low, language)}–${writeNumber(high, language)}`;
	if (low !== undefined) return `${writeNumber(low, language)}+`;
	return high === undefined ? "" : `${language === "es" ? "hasta" : "up to"} ${writeNumber(high, language)}`;
}

/** A number in full precision, in the reader's language, so that it reads back as the same number and no other. */
export function writeNumber(value: number, language: Language): string {
	let text = withoutExponent(String(value));
	// Three decimals after one to three digits could part the thousands; a fourth cannot.
	if (/^[1-9]\d{0,2}\.\d{3}$/.test(text)) text += "0";
	return language === "es" ? text.replace(".", ",") : text;
}

const longestSpan = 120;
const number = String.raw`\d{1,3}(?:[ '.,]\d{3})+(?!\d)(?:[.,]\d+)?|\d+(?:[.,]\d+)?`;
const spanForm = new RegExp(`^(\\D*?)(${number})(\\D*?)(?:(${number})(\\D*))?$`);
const rangeWord = /^(.*?)\s*(?:-|~|\.\.\.?|…|(?<![\p{L}])(?:to|a|or|o|y|and))$/iu;
const lowLead = /(?:^|\s)(?:at least|min(?:imum)?\.?|m[ií]n(?:imo)?\.?|al menos|por lo menos|≥|>=?)$/iu;
const highLead =
	/(?:^|\s)(?:up to|at most|no more than|max(?:imum)?\.?|m[aá]x(?:imo)?\.?|hasta|como m[aá]ximo|≤|<=?)$/iu;
const lowTail = /^\s*\+|\s*(?:or more|o m[aá]s|minimum|m[ií]nimo)$/iu;
const highTail = /\s*(?:or less|max(?:imum)?\.?|m[aá]x(?:imo)?\.?)$/iu;
const about = /^(?:~|≈|ca\.?|approx\.?|approximately|about|aprox\.?|unos|unas)\s*/iu;

/** Which end "at least" or "up to" leaves open, and what stands around the number without these words. */
function openEnd(lead: string, unit: string): { lead: string; unit: string; end?: "low" | "high" } {
	const plain = lead.replace(about, "");
	if (lowLead.test(plain)) return { lead: plain.replace(lowLead, "").trim(), unit, end: "low" };
	if (highLead.test(plain)) return { lead: plain.replace(highLead, "").trim(), unit, end: "high" };
	if (lowTail.test(unit)) return { lead: plain, unit: unit.replace(lowTail, "").trim(), end: "low" };
	if (highTail.test(unit)) return { lead: plain, unit: unit.replace(highTail, "").trim(), end: "high" };
	return { lead: plain, unit };
}

function takeThousands(unit: string): [thousands: boolean, unit: string] {
	const parts = /^k(?:\s+(.*))?$/i.exec(unit);
	return parts ? [true, parts[1] ?? ""] : [false, unit];
}

function pairs(lows: number[], highs: number[]): Span[] {
	// Both ends are written the same way: either both separators part the thousands, or neither does.
	const both = lows.length === 2 && highs.length === 2;
	const found = lows.flatMap((low, index) =>
		both ? [[low, highs[index] as number]] : highs.map((high) => [low, high]),
	);
	return found.map(([one = 0, other = 0]) => ({ low: Math.min(one, other), high: Math.max(one, other) }));
}

function withoutExponent(text: string): string {
	const parts = /^(\d)(?:\.(\d+))?e([+-]\d+)$/.exec(text);
	if (!parts) return text;
	const [, head = "", tail = "", exponent = "0"] = parts;
	const shift = Number(exponent);
	if (shift < 0) return `0.${"0".repeat(-shift - 1)}${head}${tail}`;
	return `${head}${tail}`.padEnd(shift + 1, "0");
}
