import type { Box } from "../model/generated/types.ts";
import { type Axis, axes, type Situation } from "../model/situations.ts";
import { label, type Language } from "../model/words.ts";

/** "dark · steel; light · plastic" for boxes; empty where it is every situation. */
export function boxesInWords(boxes: readonly Box[], language: Language): string {
	const said = boxes.map((box) =>
		axes.flatMap((axis) => (box[axis] === undefined ? [] : [valuesInWords(axis, box[axis], language)])).join(" · "),
	);
	return said.includes("") ? "" : said.join("; ");
}

/** "dark · on steel" for one situation; empty where no axis is known. */
export function situationInWords(situation: Situation, language: Language): string {
	return axes
		.flatMap((axis) => (situation[axis] === undefined ? [] : [valuesInWords(axis, [situation[axis]], language)]))
		.join(" · ");
}

function valuesInWords(axis: Axis, values: readonly string[], language: Language): string {
	return values.map((value) => label(axis, value, language)).join(", ");
}
