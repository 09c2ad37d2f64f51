import type { GridColumn } from "../store/columns.ts";

/** A cell on screen, of any column and of the new row too. */
export interface At {
	row: string;
	column: string;
}

/** The corners of a selection; the head is the one that moves and has the focus. */
export interface Ends {
	anchor: At;
	head: At;
}

/** What the selection covers: rows of the procedure, and columns a person writes in. */
export interface Block {
	rows: string[];
	columns: GridColumn[];
	/** Every column of the rows. */
	whole: boolean;
}
