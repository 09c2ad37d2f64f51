import { cellOf, withCell } from "../../model/cells.ts";
import {
	applyEdit,
	type Edit,
	type EditOperation,
	editBetween,
	fieldsBetween,
	joinEdits,
	rowsById,
} from "../../model/edits.ts";
import type { Procedure, Step } from "../../model/generated/types.ts";
import type { GridColumn } from "../store/columns.ts";
import { type Entry, entriesOf, rowsOf } from "./entries.ts";

/** Puts rows in behind the row `after`; null: at the top. */
export function insertRows(steps: readonly Step[], after: string | null): Edit {
	let behind = after;
	return steps.map((step): EditOperation => {
		const operation = { op: "insert" as const, step, after: behind };
		behind = step.id;
		return operation;
	});
}

/** Takes rows out, and what stands in place of a row. */
export function removeRows(procedure: Procedure, ids: readonly string[]): Edit {
	if (rowsById(procedure) === null)
		return asWhole(
			procedure,
			entriesOf(procedure).filter(({ id }) => !ids.includes(id)),
		);
	const order = [...rowsOf(procedure)];
	return ids.map((id): EditOperation => {
		const at = order.findIndex((step) => step.id === id);
		const step = order[at];
		if (step === undefined) throw new RangeError(`row ${id} is not among the ${order.length} rows`);
		const after = order[at - 1]?.id ?? null;
		order.splice(at, 1);
		return { op: "remove", step, after };
	});
}

/**
 * Copies of rows, behind the last of them in the order of the procedure. A copy goes back, where its check fails, to the
 * row that the original goes back to.
 *
 * @param newId gives an id that no row has
 */
export function duplicateRows(procedure: Procedure, ids: readonly string[], newId: () => string): Edit {
	const originals = rowsOf(procedure).filter(({ id }) => ids.includes(id));
	return insertRows(
		originals.map((step) => ({ ...step, id: newId() })),
		originals.at(-1)?.id ?? null,
	);
}

/** Puts rows, together and in their order, behind the row `after`; null: at the top. Empty where they stand so already. */
export function moveRows(procedure: Procedure, ids: readonly string[], after: string | null): Edit {
	if (rowsById(procedure) === null) {
		const entries = entriesOf(procedure);
		const rest = entries.filter(({ id }) => !ids.includes(id));
		const at = rest.findIndex(({ id }) => id === after) + 1;
		return asWhole(procedure, rest.toSpliced(at, 0, ...entries.filter(({ id }) => ids.includes(id))));
	}
	const order = rowsOf(procedure).map(({ id }) => id);
	const moving = order.filter((id) => ids.includes(id));
	const operations: EditOperation[] = [];
	let behind = after;
	for (const id of moving) {
		const at = order.indexOf(id);
		const from = order[at - 1] ?? null;
		if (from !== behind) {
			operations.push({ op: "move", row: id, from, after: behind });
			order.splice(at, 1);
			order.splice(behind === null ? 0 : order.indexOf(behind) + 1, 0, id);
		}
		behind = id;
	}
	return operations;
}

/** The row behind which rows stand after a move by one place; undefined where they are at that end already. */
export function oneFurther(
	procedure: Procedure,
	ids: readonly string[],
	way: "up" | "down",
): string | null | undefined {
	const order = entriesOf(procedure).map(({ id }) => id);
	const places = ids.map((id) => order.indexOf(id));
	if (way === "down") return order[Math.max(...places) + 1];
	const first = Math.min(...places);
	return first <= 0 ? undefined : (order[first - 2] ?? null);
}

/** Gives cells of rows what the same cells of another row hold; `source` null empties them. */
export function fillCells(
	procedure: Procedure,
	rows: readonly string[],
	columns: readonly GridColumn[],
	source: string | null,
): Edit {
	const steps = rowsOf(procedure);
	const from = steps.find(({ id }) => id === source);
	const fields = columns.flatMap((column) => column.fields);
	return rows.flatMap((row) => {
		const step = steps.find(({ id }) => id === row);
		if (step === undefined) return [];
		const filled = fields.reduce(
			(at, field) => withCell(at, field, from === undefined ? {} : cellOf(from, field)),
			step,
		);
		return fieldsBetween(step, filled);
	});
}

/** Several edits as one, each made from the procedure that the ones before it leave. */
export function editsInTurn(procedure: Procedure, edits: readonly ((at: Procedure) => Edit)[]): Edit {
	let at = procedure;
	let joined: Edit = [];
	for (const make of edits) {
		const edit = make(at);
		const applied = applyEdit(at, edit);
		if ("problem" in applied)
			throw new RangeError(`an edit made for a procedure does not apply to it: ${applied.problem.message}`);
		at = applied.procedure;
		joined = joinEdits(joined, edit);
	}
	return joined;
}

/** An operation on a row names the row above it: where something else may stand there, the list is set as a whole. */
function asWhole(procedure: Procedure, entries: readonly Entry[]): Edit {
	if (!Array.isArray(procedure.steps)) return [];
	const steps = entries.map((entry) => (entry.step === null ? entry.found : entry.step)) as Step[];
	return editBetween(procedure, { ...procedure, steps });
}
