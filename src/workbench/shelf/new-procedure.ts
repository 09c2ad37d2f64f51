import type { Procedure } from "../../model/generated/types.ts";
import { newRowId, withRowIds } from "../../model/ids.ts";
import type { Language } from "../../model/words.ts";
import { formatOf } from "../../model/upgrades.ts";

/** What a person says of a new procedure before its first row. */
export interface Naming {
	/** Stable short name, free in the book. */
	id: string;
	title: string;
	/** Language of the title. */
	language: Language;
	/** Who writes; null where nobody said. */
	writtenBy: string | null;
	/** A source of numbers from 0 up to, but not including, 1: for the ids of rows. */
	random: () => number;
}

/** A procedure with nothing but its name, the defects it is to serve and a few empty rows to type in. */
export function blankProcedure(
	{ id, title, language, writtenBy, random }: Naming,
	defects: readonly string[],
): Procedure {
	const named: Procedure = { format: formatOf("procedure"), id, title: { [language]: title }, state: "draft" };
	if (defects.length > 0) named.scope = { defects: defects.map((defect) => ({ defect })) };
	named.steps = Array.from({ length: emptyRows }, () => ({ id: newRowId(random) }));
	return withWriter(named, writtenBy);
}

/**
 * A variant of another procedure: all it says, under new row ids that its own references follow. It starts as a draft
 * without revision, and without accepted findings: whoever accepted them did so for the rows they saw.
 */
export function variantOf(original: Procedure, { id, title, language, writtenBy, random }: Naming): Procedure {
	const { exceptions, revision, revisionDate, methodChanged, reviewBy, chooseWhen, ...said } = original;
	// As its file holds it: what stands there may be no list.
	const steps = Array.isArray(original.steps) ? original.steps : [];
	return {
		...withWriter(said, writtenBy),
		...withRowIds({ steps }, new Map(steps.map((_, place) => [place, newRowId(random)]))),
		id,
		title: { [language]: title },
		variantOf: original.id,
		state: "draft",
	};
}

/** A pasted sheet's procedure under the name that the person gave it. */
export function namedProcedure(read: Procedure, { id, title, language, writtenBy }: Naming): Procedure {
	return {
		...withWriter(read, writtenBy),
		id,
		title: { ...read.title, [language]: title },
		state: "draft",
	};
}

const emptyRows = 3;

/** Whoever starts a procedure wrote it, not whoever wrote what it was made from. */
function withWriter({ writtenBy: before, ...rest }: Procedure, writtenBy: string | null): Procedure {
	return writtenBy === null ? rest : { ...rest, writtenBy };
}
