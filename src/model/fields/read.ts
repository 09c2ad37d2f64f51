import type { FieldContext, FieldValue, Reading, Sort, StepField } from "./reading.ts";
import { sorts } from "./sorts.ts";

export type { FieldContext, FieldValue, Reading, StepField } from "./reading.ts";

/**
 * Text of a cell → value of a field: the one door for typing, paste, fill, import and the command line.
 * Reads English and Spanish whatever the language set, decimal point and comma, and the units people write.
 *
 * @returns the value; the values that fit equally well, for the person to choose; or the reason why there is none.
 *   Nothing is guessed and nothing dropped: text that gives no value is for the caller to keep as typed, unless it is `empty`.
 */
export function read<Field extends StepField>(
	text: string,
	{ field, ...context }: FieldContext & { field: Field },
): Reading<FieldValue<Field>> {
	return (sorts[field] as Sort<FieldValue<Field>>).read(text, context);
}
