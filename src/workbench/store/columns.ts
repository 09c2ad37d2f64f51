import { stepFields } from "../../model/fields/columns.ts";
import type { StepField } from "../../model/fields/reading.ts";

/** A column of the grid that a person writes in; most hold one field of the row, some join several that exclude each other. */
export interface GridColumn {
	/** The first of its fields. */
	id: StepField;
	fields: readonly StepField[];
	/** Those that its header on the screen names; the rest is in the header's title. */
	named: readonly StepField[];
}

/** Fields that stand in one column, and how many its header names: what carries the work, what wets or wipes it, how much is done or waited. */
const joined: readonly { fields: readonly StepField[]; named: number }[] = [
	{ fields: ["backing", "pad"], named: 2 },
	{ fields: ["liquid", "wetness", "wipe"], named: 1 },
	{ fields: ["work", "waitMinutes"], named: 1 },
];

/** The columns first seen, in reading order; the rest come on demand. */
export const firstColumns: readonly StepField[] = ["stage", "abrasive", "backing", "liquid", "tool", "speed", "work"];

/** Every column a person writes in: those first seen, then the rest in the order of the schema. */
export const gridColumns: readonly GridColumn[] = [
	...firstColumns,
	...stepFields.filter(
		(field) => !firstColumns.includes(field) && !joined.some(({ fields }) => fields.includes(field)),
	),
].map((id) => {
	const { fields, named } = joined.find(({ fields: [first] }) => first === id) ?? { fields: [id], named: 1 };
	return { id, fields, named: fields.slice(0, named) };
});

/** The column in which a field is written. */
export function columnOf(field: StepField): GridColumn {
	const column = gridColumns.find(({ fields }) => fields.includes(field));
	if (column === undefined) throw new RangeError(`no column holds the field ${field}`);
	return column;
}
