import type { Step } from "./generated/types.ts";
import { isRecord } from "./pointer.ts";
import { withMember } from "./same.ts";

/** What a cell of a row holds: its value, or the text that could not be read as one. A file may have both, or neither. */
export interface Cell {
	value?: unknown;
	asTyped?: unknown;
}

/** What a row holds in one field. */
export function cellOf(step: Step, field: string): Cell {
	const texts: unknown = step.asTyped;
	return {
		value: (step as unknown as Record<string, unknown>)[field],
		asTyped: isRecord(texts) ? texts[field] : undefined,
	};
}

/**
 * The row with one cell as given, in place of all that the cell held; with neither value nor text it is empty. Where a
 * file has something else in the place of the unread texts, that stays.
 */
export function withCell(step: Step, field: string, { value, asTyped }: Cell): Step {
	const row = withMember(step, field, value);
	const texts: unknown = row.asTyped;
	if (field === "asTyped" || (texts === undefined && asTyped === undefined)) return row;
	if (texts !== undefined && !isRecord(texts)) return row;
	const left = withMember(texts ?? {}, field, asTyped);
	return withMember(row, "asTyped", Object.keys(left).length === 0 ? undefined : left);
}
