import type { Procedure } from "../../model/generated/types.ts";
import { isRowId, newRowId, withRowIds } from "../../model/ids.ts";
import { isRecord } from "../../model/pointer.ts";

/**
 * The procedure with an id for every row that has none of its own: none at all, one of another form, or that of an
 * earlier row. What refers to an id of another form follows it; anything in the list that is no row stays as it is.
 *
 * @returns also how many ids are new; with none the procedure is the one given
 */
export function withOwnIds(procedure: Procedure, random: () => number): { procedure: Procedure; count: number } {
	const given: unknown = procedure.steps;
	const seen = new Set<unknown>();
	const newIds = new Map<number, string>();
	for (const [place, step] of Array.isArray(given) ? given.entries() : []) {
		if (!isRecord(step)) continue;
		if (!isRowId(step.id) || seen.has(step.id)) newIds.set(place, newRowId(random));
		seen.add(step.id);
	}
	return { procedure: newIds.size === 0 ? procedure : withRowIds(procedure, newIds), count: newIds.size };
}
