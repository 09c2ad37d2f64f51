import { shapes } from "../generated/shape.ts";
import { label, type Language } from "../words.ts";
import type { StepField } from "./reading.ts";

/** The fields of a row that a person fills, in the order of the columns, which is that of the schema. */
export const stepFields: readonly StepField[] = Object.keys(shapes.procedure.keys?.steps?.items?.keys ?? {}).filter(
	isStepField,
);

/** Whether a name is a field of a row that a person fills. */
export function isStepField(name: string): name is StepField {
	return name !== "id" && name !== "asTyped" && Object.hasOwn(shapes.procedure.keys?.steps?.items?.keys ?? {}, name);
}

/** The header of a column, or the name of a part of the procedure; a name that is neither comes back as it is. */
export function headerOf(field: string, language: Language): string {
	const header = label("field", field, language);
	return header === field ? label("part", field, language) : header;
}
