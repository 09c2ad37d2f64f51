import type { Procedure } from "../../model/generated/types.ts";
import type { Conflict } from "../../model/merge.ts";
import { type Problem, problemOf } from "../../model/problem.ts";
import { keysOf, same } from "../../model/same.ts";
import type { Situation } from "../../model/situations.ts";
import type { Change, OpenCell, Selection } from "./state.ts";

/** Shape of the records; raised with every change that an older program could misread. */
export const draftSchema = 1;

/** Everything about an open procedure that is not on disk. */
export interface DraftContent {
	book: string;
	/** Of the procedure's file; where there is none yet, of the draft itself. */
	id: string;
	/** True where the procedure has no file yet. */
	isNew: boolean;
	/** Who wrote it; empty where nobody said. */
	person: string;
	/** As opened or last saved, and its ETag: what the changes rest on. */
	base: Procedure;
	etag: string | null;
	procedure: Procedure;
	/** The history: the last element is the next to be taken back. */
	undo: readonly Change[];
	/** The last element is the next to be made again. */
	redo: readonly Change[];
	conflicts: readonly Conflict[];
	selection: Selection | null;
	situation: Situation;
	/** The editor that was open, with its text. */
	openCell: OpenCell | null;
	/** Fields outside the rows that hold a text which is not in the procedure, by pointer. */
	partTexts: Readonly<Record<string, string>>;
}

/** A draft as it is kept. */
export interface Draft extends DraftContent {
	schema: typeof draftSchema;
	/** Id of the tab it was written in. */
	tab: string;
	/** When it was last written, ms since 1970. */
	time: number;
}

/** Where drafts are kept. Every method is safe to call where nothing can be kept: it then says so, or finds nothing. */
export interface DraftKeeper {
	/** Keeps a draft of this tab in place of the one before; a problem where it could not. */
	keep(content: DraftContent): Promise<Problem | null>;
	/** Keeps the text of the open cell alone, beside the draft that {@link keep} has kept. */
	keepOpenCell(book: string, id: string, cell: OpenCell | null): Promise<Problem | null>;
	/**
	 * Throws away this tab's draft.
	 *
	 * @param saved left out: whatever is in it; else only where nothing is left in it after that save
	 */
	remove(book: string, id: string, saved?: Saved): Promise<void>;
	/** The draft that this tab wrote before it was reloaded. */
	own(book: string, id: string): Promise<Draft | null>;
	/** Every draft of this tab in a book, for its Shelf. */
	ownIn(book: string): Promise<Draft[]>;
	/**
	 * Drafts whose tab is gone, newest first; `unknown` counts those of another program version, which are left alone.
	 *
	 * @param id null for every procedure of the book: drafts of those without a file have nowhere else to be found
	 */
	unclaimed(book: string, id: string | null): Promise<{ drafts: Draft[]; unknown: number }>;
	/**
	 * Makes a draft of a tab that is gone this tab's own; null where another tab was faster. What this tab had for
	 * the same procedure is set aside as a draft of its own.
	 */
	claim(draft: Draft): Promise<Draft | null>;
	/** Throws away a draft of a tab that is gone. */
	discard(draft: Draft): Promise<void>;
}

/** A save that went well: what was written, and the ETag of what it replaced; null where there was no file. */
export interface Saved {
	over: string | null;
	procedure: Procedure;
}

/** Whether a draft holds nothing that the save did not write: it rests on the same file, and nobody went on in it. */
export function isSettled(draft: Draft, { over, procedure }: Saved): boolean {
	const { etag, openCell, partTexts } = draft;
	return etag === over && openCell === null && keysOf(partTexts).length === 0 && same(draft.procedure, procedure);
}

/** The draft of a procedure that was just started, under an id of its own: there is no file yet. */
export function draftOfNew(book: string, id: string, procedure: Procedure, person: string): DraftContent {
	return {
		book,
		id,
		isNew: true,
		person,
		// Nothing is on disk: title and defects as given are changes already, and not lost where no row follows.
		base: { format: procedure.format, id: procedure.id, title: {} },
		etag: null,
		procedure,
		undo: [],
		redo: [],
		conflicts: [],
		selection: null,
		situation: {},
		openCell: null,
		partTexts: {},
	};
}

/** Keeps nothing, says so, and finds nothing: where what keeps drafts did not load. */
export const noDrafts: DraftKeeper = {
	keep: async () => problemOf("drafts-not-kept", null),
	keepOpenCell: async () => problemOf("drafts-not-kept", null),
	remove: async () => undefined,
	own: async () => null,
	ownIn: async () => [],
	unclaimed: async () => ({ drafts: [], unknown: 0 }),
	claim: async () => null,
	discard: async () => undefined,
};
