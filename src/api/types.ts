import type { Level } from "../model/finding.ts";
import type { Book, Estimate, Limits, Procedure, Scope, Stock, Text } from "../model/generated/types.ts";
import type { Loss, Problem } from "../model/problem.ts";

/** A book on the server, as it is listed. */
export interface BookListed {
	/** Name of its folder: no two books share one, also where one is a copy of the other. */
	id: string;
	name: string;
	/** How many procedures it holds. */
	procedures: number;
}

/** What a procedure is judged by: the parts of a book as far as they are valid. */
export interface BookOpened {
	book: Book;
	stock: Stock;
	limits: Limits;
	/** Parts that did not open, or hold what their schema does not allow: each with its sentence in English. */
	problems: { name: string; problem: Problem }[];
}

/** A procedure as its card on the Shelf shows it; figures are the worst over every situation of its scope. */
export interface ProcedureListed {
	id: string;
	title: Text;
	purpose: Text | null;
	state: NonNullable<Procedure["state"]>;
	revision: number | null;
	revisionDate: string | null;
	variantOf: string | null;
	chooseWhen: Text | null;
	scope: Scope;
	/** Ten letters as printed on its bench card. */
	code: string;
	rows: number;
	/** Findings by level that nobody has accepted. */
	counts: Record<Level, number>;
	/** Findings accepted on purpose. */
	accepted: number;
	/** Clear taken off at the worst point, µm; null is unknown. */
	takenUm: Estimate | null;
	/** Clear left at the worst point, µm; null is unknown. */
	leftUm: Estimate | null;
	minutes: Estimate | null;
}

/** Every procedure of a book, and the files that did not open; those are left as they are. */
export interface ProceduresListed {
	procedures: ProcedureListed[];
	problems: { name: string; problem: Problem }[];
}

/** A procedure as its file holds it, brought to the format of today; its ETag comes in the header of that name. */
export interface ProcedureOpened {
	/** With everything unknown or invalid still in it. */
	value: Procedure;
	/** Why the file must not be written; empty for nearly every file. */
	readOnly: Loss[];
}

/** What a save answers; the new ETag comes in the header of that name. */
export interface ProcedureSaved {
	id: string;
}

/**
 * What went wrong, as RFC 9457 has it; `code` is the word that programs decide by. The codes, with their status and
 * their sentence, are in `data/problems.json`; `problems.ts` makes and words them.
 */
export interface ProblemDetails {
	type: string;
	title: string;
	status: number;
	code: string;
	/** A sentence in English: what happened, where, and what was kept. */
	detail: string;
	problem?: Problem;
}
