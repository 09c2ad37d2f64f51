import type { Procedure } from "../../model/generated/types.ts";
import { newRowId } from "../../model/ids.ts";
import { isRecord } from "../../model/pointer.ts";

/**
 * The procedure with an id for every row that has none of its own: none at all, one of another form, or that of an
 * earlier row. What refers to an id of another form follows it; anything in the list that is no row stays as it is.
 *
 * @returns also how many ids are new; with none the procedure is the one given
 */
export function withOwnIds(procedure: Procedure, random: () => number): { procedure: Procedure; count: number } {
	const given: unknown = procedure.steps;
	const none = { procedure, count: 0 };
	if (!Array.isArray(given)) return none;
	const seen = new Set<unknown>();
	const renamed = new Map<unknown, string>();
	let count = 0;
	const steps = given.map((step: unknown) => {
		if (!isRecord(step)) return step;
		const isOwn = typeof step.id === "string" && rowIdForm.test(step.id) && !seen.has(step.id);
		seen.add(step.id);
		if (isOwn) return step;
		count += 1;
		const id = newRowId(random);
		if (!rowIdForm.test(String(step.id)) && !renamed.has(step.id)) renamed.set(step.id, id);
		return { ...step, id };
	});
	if (count === 0) return none;
	const follow = (id: unknown) => renamed.get(id) ?? id;
	const withBack = steps.map((step: unknown) =>
		isRecord(step) && isRecord(step.ifNot) && renamed.has(step.ifNot.back)
			? { ...step, ifNot: { ...step.ifNot, back: follow(step.ifNot.back) } }
			: step,
	);
	const exceptions: unknown = procedure.exceptions;
	const following = Array.isArray(exceptions)
		? {
				exceptions: exceptions.map((one: unknown) =>
					isRecord(one) && renamed.has(one.step) ? { ...one, step: follow(one.step) } : one,
				),
			}
		: {};
	return { procedure: { ...procedure, steps: withBack, ...following } as Procedure, count };
}

const rowIdForm = /^[a-z]{10}$/;
