import { findWord, label } from "../words.ts";
import { isBlank, oneOf, plainText, type Reading, type Sort } from "./reading.ts";

/** Reader and writer of a list of fields by their headers: "Speed, Work". */
export const fieldList: Sort<string[]> = {
	read: readFields,
	write: (fields, { language }) => fields.map((field) => label("field", field, language)).join(", "),
};

const longestList = 1000;
/** More ways to read one cell than a person would look through. */
const mostReadings = 12;

function readFields(text: string): Reading<string[]> {
	if (isBlank(text)) return { unread: "empty" };
	if (text.length > longestList) return { unread: "not-a-list" };
	let readings: string[][] = [[]];
	for (const item of plainText(text).split(/[,;]/)) {
		if (item.trim() === "") continue;
		const found = findWord("field", item);
		if (found === null) return { unread: "unknown-word" };
		const fields = typeof found === "string" ? [found] : found.between;
		readings = readings.flatMap((before) =>
			fields.map((field) => (before.includes(field) ? before : [...before, field])),
		);
		if (readings.length > mostReadings) return { unread: "unknown-word" };
	}
	return oneOf(
		readings.filter((fields) => fields.length > 0),
		"not-a-list",
	);
}
