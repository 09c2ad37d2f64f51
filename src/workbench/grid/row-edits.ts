import { applyEdit, type Edit, type EditOperation, joinEdits } from "../../model/edits.ts";
import type { StepField } from "../../model/fields/reading.ts";
import type { Procedure, Step } from "../../model/generated/types.ts";
import { same, withMember } from "../../model/same.ts";
import type { GridColumn } from "../store/columns.ts";

/** Puts rows in behind the row `after`; null: at the top. */
export function insertRows(steps: readonly Step[], after: string | null): Edit {
	let behind = after;
	return steps.map((step): EditOperation => {
		const operation = { op: "insert" as const, step, after: behind };
		behind = step.id;
		return operation;
	});
}

/** Takes rows out. */
export function removeRows({ steps = [] }: Procedure, ids: readonly string[]): Edit {
	const order = [...steps];
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
export function duplicateRows({ steps = [] }: Procedure, ids: readonly string[], newId: () => string): Edit {
	const originals = steps.filter(({ id }) => ids.includes(id));
	return insertRows(
		originals.map((step) => ({ ...step, id: newId() })),
		originals.at(-1)?.id ?? null,
	);
}

/** Puts rows, together and in their order, behind the row `after`; null: at the top. Empty where they stand so already. */
export function moveRows({ steps = [] }: Procedure, ids: readonly string[], after: string | null): Edit {
	const order = steps.map(({ id }) => id);
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
	{ steps = [] }: Procedure,
	ids: readonly string[],
	way: "up" | "down",
): string | null | undefined {
	const order = steps.map(({ id }) => id);
	const places = ids.map((id) => order.indexOf(id));
	if (way === "down") return order[Math.max(...places) + 1];
	const first = Math.min(...places);
	return first <= 0 ? undefined : (order[first - 2] ?? null);
}

/** Gives cells of rows what the same cells of another row hold; `source` null empties them. */
export function fillCells(
	{ steps = [] }: Procedure,
	rows: readonly string[],
	columns: readonly GridColumn[],
	source: string | null,
): Edit {
	const from = steps.find(({ id }) => id === source);
	const fields = columns.flatMap((column) => column.fields);
	return rows.flatMap((row): EditOperation[] => {
		const step = steps.find(({ id }) => id === row);
		if (step === undefined) return [];
		const values = fields.flatMap((field): EditOperation[] => set(step, field, from?.[field]));
		return [...values, ...set(step, "asTyped", typedAfter(step, from, fields))];
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

function set(step: Step, field: StepField | "asTyped", to: unknown): EditOperation[] {
	const from: unknown = step[field];
	if (same(from, to)) return [];
	return [
		{
			op: "set",
			row: step.id,
			field,
			...(from === undefined ? {} : { from }),
			...(to === undefined ? {} : { to }),
		},
	];
}

function typedAfter(step: Step, from: Step | undefined, fields: readonly StepField[]): Step["asTyped"] {
	let typed: Record<string, string> = step.asTyped ?? {};
	for (const field of fields) typed = withMember(typed, field, from?.asTyped?.[field]);
	return Object.keys(typed).length === 0 ? undefined : typed;
}
