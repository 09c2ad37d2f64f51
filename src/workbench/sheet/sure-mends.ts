import { applyEdit, type Edit, joinEdits } from "../../model/edits.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { type Case, judge, remediesFor } from "../../rules/judge.ts";

/** How far mending has come: the joined edit of all mends so far. */
export interface Mended {
	edit: Edit;
	count: number;
}

/**
 * Mends what has a sure remedy, one row at most once, each on what the one before left. Yields after each mend and
 * after each look at a finding, so that the caller can rest in between or stop; the last value holds everything.
 *
 * @param whole the procedure as it is saved, with parts that cannot be read; a remedy that does not fit it is left out
 */
export function* sureMends(whole: Procedure, one: Case): Generator<Mended, Mended> {
	let mended: Mended = { edit: [], count: 0 };
	const touched = new Set<string>();
	let saved = whole;
	let procedure = one.procedure;
	const passedOver = new Set<string>();
	for (;;) {
		const at: Case = { ...one, procedure };
		const next = yield* firstSure(at, saved, touched, passedOver, mended);
		if (next === null) return mended;
		({ procedure, saved } = next);
		for (const place of placesOf(next.edit)) touched.add(place);
		mended = { edit: joinEdits(mended.edit, next.edit), count: mended.count + 1 };
		yield mended;
	}
}

interface Next {
	edit: Edit;
	procedure: Procedure;
	saved: Procedure;
}

function* firstSure(
	at: Case,
	saved: Procedure,
	touched: ReadonlySet<string>,
	passedOver: Set<string>,
	sofar: Mended,
): Generator<Mended, Next | null> {
	for (const finding of judge(at)) {
		const key = `${finding.rule} ${finding.rowId} ${finding.field} ${finding.pointer}`;
		if (finding.accepted !== null || passedOver.has(key)) continue;
		const remedy = remediesFor(finding, at).find(({ kind }) => kind === "sure");
		if (remedy !== undefined && !placesOf(remedy.edit).some((place) => touched.has(place))) {
			const here = applyEdit(at.procedure, remedy.edit);
			const there = applyEdit(saved, remedy.edit);
			if (!("problem" in here) && !("problem" in there))
				return { edit: remedy.edit, procedure: here.procedure, saved: there.procedure };
		}
		passedOver.add(key);
		yield sofar;
	}
	return null;
}

/** The rows, by id, and the parts outside them that an edit changes or rests on. */
function placesOf(edit: Edit): string[] {
	return edit.flatMap((operation) => {
		switch (operation.op) {
			case "set":
				return [operation.row];
			case "setPart":
				return [operation.pointer];
			case "move":
				return [operation.row];
			default:
				return [operation.step.id];
		}
	});
}
