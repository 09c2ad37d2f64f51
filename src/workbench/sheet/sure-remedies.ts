import { applyEdit, type Edit, joinEdits } from "../../model/edits.ts";
import type { Procedure } from "../../model/generated/types.ts";
import validator from "../../model/generated/validators/procedure.js";
import { validated } from "../../model/validated.ts";
import { type Case, judge, remediesFor } from "../../rules/judge.ts";
import { inFile } from "../store/in-file.ts";

/** What sure remedies have changed so far: their edits joined, and how many there were. */
export interface Remedied {
	edit: Edit;
	count: number;
}

/**
 * Carries out what has a sure remedy, one row at most once, each on what the one before left. Yields after each remedy
 * and after each look at a finding, so that the caller can rest in between or stop; the last value holds everything.
 *
 * @param whole the procedure as it is saved, with parts that cannot be read; a remedy that does not fit it is left out
 */
export function* sureRemedies(whole: Procedure, setting: Pick<Case, "shop" | "today">): Generator<Remedied, Remedied> {
	let remedied: Remedied = { edit: [], count: 0 };
	let procedure = whole;
	const touched = new Set<string>();
	const passedOver = new Set<string>();
	for (;;) {
		const next = yield* firstSure(procedure, setting, touched, passedOver, remedied);
		if (next === null) return remedied;
		({ procedure } = next);
		for (const place of placesOf(next.edit)) touched.add(place);
		remedied = { edit: joinEdits(remedied.edit, next.edit), count: remedied.count + 1 };
		yield remedied;
	}
}

function* firstSure(
	procedure: Procedure,
	setting: Pick<Case, "shop" | "today">,
	touched: ReadonlySet<string>,
	passedOver: Set<string>,
	sofar: Remedied,
): Generator<Remedied, { edit: Edit; procedure: Procedure } | null> {
	const checked = validated("procedure", procedure as unknown as Record<string, unknown>, validator);
	const at: Case = { ...setting, procedure: checked.readable, problems: checked.problems };
	for (const finding of judge(at)) {
		const key = `${finding.rule} ${finding.rowId} ${finding.field} ${finding.pointer}`;
		if (finding.accepted !== null || passedOver.has(key)) continue;
		const remedy = remediesFor(finding, at).find(({ kind }) => kind === "sure");
		if (remedy !== undefined) {
			const edit = inFile(remedy.edit, procedure, checked);
			const applied = applyEdit(procedure, edit);
			if (!("problem" in applied) && !placesOf(edit).some((place) => touched.has(place)))
				return { edit, procedure: applied.procedure };
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
