import { nearestWords } from "../nearest-words.ts";
import { foldedWords, foldText, type WordKind, wordKinds } from "../words.ts";
import { type FieldContext, type FieldValue, plainText, type StepField } from "./reading.ts";
import { read } from "./read.ts";
import { readSpan, writeNumber } from "./span.ts";
import { foldedItems } from "./stock-item.ts";

/**
 * The values a text that gives none may have been meant as: those of the nearest words of the field and items of the
 * stock, "rotery" → rotary; of a speed with one end only, that end. Never taken for what was said: a person chooses.
 */
export function nearReadings(text: string, context: FieldContext & { field: StepField }): FieldValue[] {
	const { field, stock } = context;
	const reading = read(text, context);
	if (!("unread" in reading)) return [];
	if (reading.unread === "open-range") return field === "speed" ? statedEnd(text, context) : [];
	if (reading.unread !== "unknown-word" && reading.unread !== "not-a-grade") return [];
	const named = new Map<string, readonly string[]>(isWordKind(field) ? foldedWords(field) : []);
	for (const [name, id] of foldedItems(field, stock)) named.set(name, [...(named.get(name) ?? []), id]);
	const near = nearestWords(foldText(text), named.keys());
	return [...new Set(near.flatMap((word) => named.get(word) ?? []))] as FieldValue[];
}

/** "1500 rpm max" → 1500 rpm: a setting has both ends, where a count of passes may leave one open. */
function statedEnd(text: string, context: FieldContext & { field: StepField }): FieldValue[] {
	const found = readSpan(plainText(text));
	if (found === null) return [];
	return found.spans.flatMap(({ low, high }) => {
		const end = writeNumber(low ?? high ?? 0, context.language);
		const again = read(`${found.lead} ${end} ${found.unit}`, context);
		return "value" in again ? [again.value] : "between" in again ? again.between : [];
	});
}

function isWordKind(field: string): field is WordKind {
	return (wordKinds as string[]).includes(field);
}
