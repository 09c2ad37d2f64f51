import type { Speed, ToolKind } from "../generated/types.ts";
import { label } from "../words.ts";
import { type FieldContext, isBlank, oneOf, type Reading, type Sort } from "./reading.ts";
import { readSpan, type Span, writeSpan } from "./span.ts";
import { stockItem } from "./stock-item.ts";
import { readWord } from "./word.ts";

type SpeedUnit = Speed["unit"];

/**
 * Reader and writer of a tool speed: "1200-1500 rpm", "dial 4", "nivel 4-5", "#4", "8000 opm".
 *
 * A number without a unit: up to 10 it is the mark of a dial; above, the tool of the row decides (rotary: rpm; orbital:
 * opm; block: spm). Without a tool, up to 3,500 it may be revolutions or orbits; no rotary runs faster, so above that it is orbits.
 */
export const speed: Sort<Speed> = { read: readSpeed, write: writeSpeed };

/** What a setting can be at all, so that a slip of the keys is caught; what the tool can run is for a rule to say. */
const range: Record<SpeedUnit, { least: number; most: number }> = {
	rpm: { least: 50, most: 30_000 },
	opm: { least: 50, most: 30_000 },
	spm: { least: 1, most: 30_000 },
	dial: { least: 0, most: 10 },
};
const mostOfRotaryRpm = 3500;

const unitOfTool: Partial<Record<ToolKind, SpeedUnit>> = {
	rotary: "rpm",
	"random-orbital": "opm",
	"gear-orbital": "opm",
	block: "spm",
	"bare-hand": "spm",
	"nib-file": "spm",
	"nib-blade": "spm",
};

function readSpeed(text: string, context: FieldContext): Reading<Speed> {
	if (isBlank(text)) return { unread: "empty" };
	const found = readSpan(text);
	if (!found) return { unread: "not-a-number" };
	const named = [found.lead, found.unit]
		.map((one) => one.replace(/[():.]+$|^[():]+/g, "").trim())
		.filter((one) => one !== "");
	const words = named.map((one) => readWord("speedUnit", one));
	if (words.length > 1 && !isSpeedWord(found.lead)) return { unread: "unknown-unit" };
	const word = words.at(-1);
	if (word !== undefined && !("value" in word)) return { unread: "unknown-unit" };
	if (found.spans.some(({ low, high }) => low === undefined || high === undefined)) return { unread: "open-range" };
	// "Speed 1500" names the column, not the dial: only a small number can be its mark.
	const unit = word?.value === "dial" && isSpeedWord(found.lead) ? undefined : word?.value;
	// Nobody writes a mark of a dial with three decimals: where a separator could part the thousands, it does.
	const large = found.spans.filter(({ high = 0 }) => high > range.dial.most);
	const spans = unit === undefined && large.length > 0 ? large : found.spans;
	const values = spans.flatMap((span) => (unit ? [unit] : unitsOf(span, context)).map((one) => speedOf(one, span)));
	return oneOf(values.filter(isPossible), "out-of-range");
}

function writeSpeed(value: Speed, { language }: FieldContext): string {
	const span = writeSpan(value, language);
	const unit = label("speedUnit", value.unit, language);
	return value.unit === "dial" ? `${unit} ${span}` : `${span} ${unit}`;
}

function isSpeedWord(lead: string): boolean {
	return /^(?:speed|velocidad|vel)\b[.:]?$/i.test(lead);
}

function unitsOf({ high = 0 }: Span, { tool, stock, language }: FieldContext): SpeedUnit[] {
	if (high <= range.dial.most) return ["dial"];
	const unit = unitOf(tool, { stock, language });
	if (unit) return [unit];
	return high > mostOfRotaryRpm ? ["opm"] : ["rpm", "opm"];
}

/** The unit a tool is set in: as its sheet says, else as its kind is. */
function unitOf(tool: string | undefined, context: FieldContext): SpeedUnit | undefined {
	if (tool === undefined) return undefined;
	const found = stockItem("tool").read(tool, context);
	if (!("value" in found)) return undefined;
	const item = context.stock?.tools?.find(({ id }) => id === found.value);
	const stated = item?.speed?.unit;
	return stated !== undefined && stated !== "dial" ? stated : unitOfTool[(item?.kind ?? found.value) as ToolKind];
}

function speedOf(unit: SpeedUnit, { low = 0, high = 0 }: Span): Speed {
	return { unit, low, high };
}

function isPossible({ unit, low, high }: Speed): boolean {
	return low >= range[unit].least && high <= range[unit].most;
}
