import type { ProblemDetails } from "../../api/types.ts";
import type { ForecastReport } from "../../check/forecast-report.ts";
import type { Edit } from "../../model/edits.ts";
import type { StepField } from "../../model/fields/reading.ts";
import type { Finding } from "../../model/finding.ts";
import type { Procedure } from "../../model/generated/types.ts";
import type { Conflict } from "../../model/merge.ts";
import type { Loss, Problem, SchemaProblem } from "../../model/problem.ts";
import type { Shop } from "../../model/shop.ts";
import type { Situation } from "../../model/situations.ts";

/** A cell of the grid: the id of its row, and the column, named by the first of its fields (see `columns.ts`). */
export interface CellPlace {
	row: string;
	column: StepField;
}

/** What is selected: every cell between two corners; `head` is the one that moves and has the focus. */
export interface Selection {
	anchor: CellPlace;
	head: CellPlace;
}

/** The editor that is open, with the text in it as it stands. */
export interface OpenCell extends CellPlace {
	text: string;
}

/** What the person did, as a word: one gesture is one undo, named on the button. */
export type Gesture =
	| "type"
	| "choose"
	| "clear"
	| "paste"
	| "fill"
	| "insert"
	| "duplicate"
	| "delete"
	| "move"
	| "part"
	| "remedy"
	| "accept"
	| "merge"
	| "new-ids";

/** One change in the history: the edit, what it was, and what was selected before and after. */
export interface Change {
	edit: Edit;
	gesture: Gesture;
	before: Selection | null;
	after: Selection | null;
	/** Of a change that joined what stood on disk, or decided a conflict, until it is saved: what goes with it. */
	joining?: { before: Joining; after: Joining };
}

/** What the procedure rests on, and the places left to decide. */
export interface Joining {
	/** As opened, last saved or last joined, and its ETag; null where there is no file. */
	base: Procedure;
	etag: string | null;
	conflicts: readonly Conflict[];
}

/** Why nothing was saved; `sayRefusal` says it. `message` is English, for logs. */
export type Refusal = Problem | (ProblemDetails & { message: string });

/**
 * How saving stands. `refused` says why the server, or the file, did not take it; everything typed is still here and
 * in the draft. `conflict`: joined with what stood on disk meanwhile, and places are left to decide.
 */
export type Saving =
	| { state: "saved" | "unsaved" | "saving" }
	| { state: "refused"; problem: Refusal }
	| { state: "conflict" };

/** Everything a Sheet shows, in one immutable piece; a new one after every change. */
export interface SheetState {
	/** Goes up with every change of the document. */
	version: number;
	/** Id of the book. */
	book: string;
	/** What the procedure is judged by, the film unit as the reader prefers it. */
	shop: Shop;
	/** As edited, with everything unknown or invalid still in it: what is saved. */
	procedure: Procedure;
	/** The same without its invalid parts: what rules and forecast read. */
	readable: Procedure;
	problems: readonly SchemaProblem[];
	findings: readonly Finding[];
	/** In the situation asked for, worst over the axes it leaves open. */
	report: ForecastReport;
	/** Asked for by the person; empty: the worst of all. */
	situation: Situation;
	selection: Selection | null;
	/** Gestures that undo and redo would take back; null where there is none. */
	undo: Gesture | null;
	redo: Gesture | null;
	/** Whether anything differs from what was opened or last saved. */
	changed: boolean;
	saving: Saving;
	/** Places both sides changed, left to decide; the procedure has mine. */
	conflicts: readonly Conflict[];
	/** Why the file must not be written; empty for nearly every file. */
	readOnly: readonly Loss[];
	/** True where the procedure has no file yet. */
	isNew: boolean;
	/** What the last gesture could not do, to be told once; null where all went well. */
	notice: { problem: Problem } | { skipped: Gesture } | { newIds: number } | null;
}
