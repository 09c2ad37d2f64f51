import type { Step, Stock } from "../generated/types.ts";
import type { BareScale } from "../grades.ts";
import type { Language, WordValue } from "../words.ts";

/** A field of a row that a person fills: every key of a step but its id and what is kept as typed. */
export type StepField = Exclude<keyof Step, "id" | "asTyped">;

/** What stands in a field of a step. */
export type FieldValue<Field extends StepField = StepField> = NonNullable<Step[Field]>;

/**
 * Why a text gives no value; the vocabulary has the words for each.
 *
 * - `empty`: nothing was said; the field stays absent and nothing is kept as typed.
 * - `unknown-word`: no word of the vocabulary, and no item of the stock where one was allowed.
 * - `not-a-grade`, `not-a-number`, `not-a-list`: the text has another form than the field.
 * - `unknown-unit`: a number with a unit that does not measure this.
 * - `out-of-range`: a number the field cannot hold.
 * - `open-range`: "at least", "up to", where both ends are needed.
 * - `unknown-row`: a row that the procedure does not have.
 */
export type UnreadCode = WordValue<"unread">;

/** What a text says: one value, several that fit equally well, or none. */
export type Reading<Value = FieldValue> = { value: Value } | { between: Value[] } | { unread: UnreadCode };

/** What a reader or writer may need to know beside the text. */
export interface FieldContext {
	/** Language of the reader; own words are kept under it, and values are written in it. Both are always read. */
	language: Language;
	/** Scale of a bare grade, as the book sets it; absent: the number is kept bare, so that a rule can speak. */
	gradeScale?: BareScale;
	/** Tool of the row, kind or stock item: it decides the unit of a bare speed. */
	tool?: string;
	/** What the shop stocks: items are found before kinds. */
	stock?: Stock;
	/** Ids of the rows in order, so that "row 3" can be read and written. */
	rows?: readonly string[];
}

/** One sort of value: how it is read, and how it is written so that it reads back the same. */
export interface Sort<Value> {
	read(text: string, context: FieldContext): Reading<Value>;
	write(value: Value, context: FieldContext): string;
}

/** One value, several or none, as a reading; duplicates count once. */
export function oneOf<Value>(values: readonly Value[], unread: UnreadCode): Reading<Value> {
	const distinct = [...new Map(values.map((value) => [JSON.stringify(value), value])).values()];
	if (distinct.length === 0) return { unread };
	return distinct.length === 1 ? { value: distinct[0] as Value } : { between: distinct };
}

/** The same text with plain hyphens, spaces and multiplication signs, so that readers need to know only one of each. */
export function plainText(text: string): string {
	return text
		.replace(/[\u2010-\u2015\u2212]/g, "-")
		.replaceAll("×", "x")
		.replace(/\s+/g, " ")
		.trim();
}

/** Whether a cell says that nothing is meant: a dash, "n/a", "none". */
export function isBlank(text: string): boolean {
	return /^(?:[-./]*|n\/?a|none|nil|ningun[oa]|no aplica|not applicable)$/i.test(plainText(text));
}
