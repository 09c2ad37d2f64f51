import type { FieldContext, FieldValue, Sort, StepField } from "./reading.ts";
import { sorts } from "./sorts.ts";

/** Value of a field → text of its cell in the reader's language, such that {@link read} gives the same value back. */
export function write<Field extends StepField>(
	value: FieldValue<Field>,
	{ field, ...context }: FieldContext & { field: Field },
): string {
	return (sorts[field] as Sort<FieldValue<Field>>).write(value, context);
}
