import type { Box } from "../generated/types.ts";
import { isSlug } from "../ids.ts";
import { axes, type Axis } from "../situations.ts";
import { findWord, label } from "../words.ts";
import { type FieldContext, isBlank, oneOf, plainText, type Reading, type Sort } from "./reading.ts";

/**
 * Reader and writer of the situations a row applies to: "dark", "dark, steel", "tone: dark, mid; substrate: steel".
 * Words without an axis find their own; boxes are parted by "|". "Always" is the box that holds everything.
 */
export const when: Sort<Box[]> = { read: readWhen, write: writeWhen };

const always = { en: "always", es: "siempre" };
const longestText = 2000;
/** More ways to read one cell than a person would look through. */
const mostReadings = 12;

type Found = Record<Axis, string[]>;

function readWhen(text: string): Reading<Box[]> {
	if (isBlank(text)) return { unread: "empty" };
	if (text.length > longestText) return { unread: "unknown-word" };
	let readings: Box[][] = [[]];
	for (const part of plainText(text).split("|")) {
		const boxes = boxesOfPart(part.trim());
		if (boxes.length === 0 || boxes.length * readings.length > mostReadings) return { unread: "unknown-word" };
		readings = readings.flatMap((before) => boxes.map((box) => [...before, box]));
	}
	return oneOf(readings, "unknown-word");
}

/** Every box that a text without "|" can mean; none where a word of it is unknown. */
function boxesOfPart(text: string): Box[] {
	if (/^(?:always|all|every|siempre|todo|todos|todas)$/i.test(text)) return [{}];
	let found: Found[] = [{ defect: [], substrate: [], clearCoat: [], tone: [] }];
	for (const clause of text.split(";")) {
		const [, axisWord, listed = ""] = /^(?:([^:]*):)?(.*)$/.exec(clause.trim()) ?? [];
		const axis = axisWord === undefined ? undefined : axisOf(axisWord);
		if (axis === null) return [];
		for (const item of itemsOf(listed, axis)) {
			const hits = (axis ? [axis] : axes).flatMap((one) =>
				valuesIn(one, item, axis !== undefined).map((value) => ({ one, value })),
			);
			if (hits.length * found.length > mostReadings) return [];
			found = found.flatMap((before) => hits.map(({ one, value }) => withValue(before, one, value)));
		}
	}
	return found.map(boxOf).filter((box) => Object.keys(box).length > 0);
}

function withValue(found: Found, axis: Axis, value: string): Found {
	return found[axis].includes(value) ? found : { ...found, [axis]: [...found[axis], value] };
}

function writeWhen(boxes: Box[], { language }: FieldContext): string {
	return boxes
		.map((box) => {
			const clauses = axes.flatMap((axis) => {
				const values = box[axis];
				return values === undefined
					? []
					: [`${label("axis", axis, language)}: ${values.map((value) => label(axis, value, language)).join(", ")}`];
			});
			return clauses.length === 0 ? always[language] : clauses.join("; ");
		})
		.join(" | ");
}

function axisOf(text: string): Axis | null {
	const axis = findWord("axis", text);
	return typeof axis === "string" ? axis : null;
}

/** Items between commas; "dark or mid" is two unless the whole is a label ("dark metallic or pearl"). */
function itemsOf(text: string, axis: Axis | undefined): string[] {
	const items = text
		.split(",")
		.map((item) => item.trim().replace(/^(?:on|only|en|sólo|solo)\s+|\s+(?:only|solo|sólo)$/gi, ""));
	return items
		.filter((item) => item !== "")
		.flatMap((item) => {
			const whole = (axis ? [axis] : axes).some((one) => valuesIn(one, item, false).length > 0);
			return whole ? [item] : item.split(/\s+(?:or|and|on|o|y|en)\s+|\s*\/\s*/i);
		});
}

/** Values of an axis that a word means; a defect of the shop's own is taken by its id where the axis is named. */
function valuesIn(axis: Axis, text: string, named: boolean): string[] {
	const found = findWord(axis, text);
	if (found === null) return named && axis === "defect" && isSlug(text) ? [text] : [];
	return typeof found === "string" ? [found] : found.between;
}

function boxOf(found: Found): Box {
	return Object.fromEntries(axes.filter((axis) => found[axis].length > 0).map((axis) => [axis, found[axis]])) as Box;
}
