import type { Procedure } from "../../model/generated/types.ts";
import { newRowId } from "../../model/ids.ts";
import type { Language } from "../../model/units.ts";
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
	const before = Array.isArray(original.steps) ? original.steps : [];
	const steps = before.map((step) => ({ ...step, id: newRowId(random) }));
	const newIdOf = (row: string) => steps[before.findIndex((step) => step.id === row)]?.id ?? row;
	return {
		...withWriter(said, writtenBy),
		id,
		title: { [language]: title },
		variantOf: original.id,
		state: "draft",
		steps: steps.map((step) =>
			step.ifNot?.back === undefined ? step : { ...step, ifNot: { ...step.ifNot, back: newIdOf(step.ifNot.back) } },
		),
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

/** A stable short name made from a title: lower-case letters and digits with single hyphens, at most 60. */
export function slugOf(title: string): string {
	return title
		.normalize("NFKD")
		.replace(/\p{M}/gu, "")
		.toLowerCase()
		.replace(/[^a-z0-9]+/g, "-")
		.slice(0, 60)
		.replace(/^-|-$/g, "");
}

/** Whether a text may be the id of a procedure. */
export function isSlug(text: string): boolean {
	return /^[a-z0-9]+(?:-[a-z0-9]+)*$/.test(text) && text.length <= 80;
}

/** The id, or with the first number behind it that is not taken. */
export function freeId(id: string, taken: ReadonlySet<string>): string {
	const wanted = id === "" ? "procedure" : id;
	for (let number = 2, free = wanted; ; number += 1) {
		if (!taken.has(free)) return free;
		free = `${wanted}-${number}`;
	}
}

const emptyRows = 3;

/** Whoever starts a procedure wrote it, not whoever wrote what it was made from. */
function withWriter({ writtenBy: before, ...rest }: Procedure, writtenBy: string | null): Procedure {
	return writtenBy === null ? rest : { ...rest, writtenBy };
}
