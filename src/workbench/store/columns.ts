import { stepFields } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";

/** A column of the grid that a person writes in; most hold one field of the row, some join several that exclude each other. */
export interface GridColumn {
	/** The first of its fields. */
	id: StepField;
	fields: readonly StepField[];
}

/** Fields that stand in one column: what carries the work, and what wets or wipes it. */
const joined: readonly (readonly StepField[])[] = [
	["backing", "pad"],
	["liquid", "wetness", "wipe"],
];

/** The columns first seen, in reading order; the rest come on demand. */
export const firstColumns: readonly StepField[] = ["stage", "abrasive", "backing", "liquid", "tool", "speed", "work"];

/** Every column a person writes in: those first seen, then the rest in the order of the schema. */
export const gridColumns: readonly GridColumn[] = [
	...firstColumns,
	...stepFields.filter((field) => !firstColumns.includes(field) && !joined.some((fields) => fields.includes(field))),
].map((id) => ({ id, fields: joined.find(([first]) => first === id) ?? [id] }));

/** The column in which a field is written. */
export function columnOf(field: StepField): GridColumn {
	const column = gridColumns.find(({ fields }) => fields.includes(field));
	if (column === undefined) throw new RangeError(`no column holds the field ${field}`);
	return column;
}
