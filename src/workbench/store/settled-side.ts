import { withCell } from "../../model/cells.ts";
import { applyEdit } from "../../model/edits.ts";
import type { Procedure, Step } from "../../model/generated/types.ts";
import type { Conflict } from "../../model/merge.ts";
import { pointerParts, valueAt } from "../../model/pointer.ts";
import { type Problem, problemOf } from "../../model/problem.ts";

/**
 * The procedure with their side of one conflict.
 *
 * @param theirs the whole of their procedure: where a row that comes back stood in it
 */
export function withSide(
	procedure: Procedure,
	conflict: Conflict,
	theirs: Procedure,
): { procedure: Procedure } | { problem: Problem } {
	const { code, row, field, pointer } = conflict;
	if (code === "order") return withOrder(procedure, conflict.theirs.value as string[]);
	if (pointer !== null) {
		const from = valueAt(procedure, pointerParts(pointer));
		return applyEdit(procedure, [{ op: "setPart", pointer, from, to: conflict.theirs.value }]);
	}
	const steps = procedure.steps ?? [];
	const index = steps.findIndex((step) => step.id === row);
	const step = steps[index];
	if (field === null) return withRow(procedure, index, conflict.theirs.value as Step | undefined, theirs);
	if (step === undefined) return { problem: problemOf("edit-stale", { row: row ?? "", field }) };
	return { procedure: { ...procedure, steps: steps.with(index, withCell(step, field, conflict.theirs)) } };
}

/** Takes a row out, or puts it back behind the nearest row before it that still stands. */
function withRow(procedure: Procedure, index: number, step: Step | undefined, theirs: Procedure) {
	const steps = procedure.steps ?? [];
	if (step === undefined)
		return { procedure: index === -1 ? procedure : { ...procedure, steps: steps.toSpliced(index, 1) } };
	if (index !== -1) return { procedure: { ...procedure, steps: steps.with(index, step) } };
	const order = (theirs.steps ?? []).map(({ id }) => id);
	const before = new Set(order.slice(0, order.indexOf(step.id)));
	const place = steps.findLastIndex(({ id }) => before.has(id)) + 1;
	return { procedure: { ...procedure, steps: steps.toSpliced(place, 0, step) } };
}

/** The rows that both sides have, in their order; the others keep their places. */
function withOrder(procedure: Procedure, order: readonly string[]) {
	const steps = procedure.steps ?? [];
	const byId = new Map(steps.map((step) => [step.id, step]));
	const next = order.flatMap((id) => byId.get(id) ?? []);
	const shared = new Set(order);
	return {
		procedure: { ...procedure, steps: steps.map((step) => (shared.has(step.id) ? (next.shift() as Step) : step)) },
	};
}
