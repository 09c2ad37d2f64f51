import type { Box } from "./generated/types.ts";

export const levels = ["stop", "caution", "advice"] as const;
/** `stop`: do not release; `caution`: look at it; `advice`: could be better. */
export type Level = (typeof levels)[number];

/** Values a finding rests on: flat, units in the keys. A list stands for words to be joined when said. */
export type FindingData = Record<string, number | string | boolean | null | readonly string[]>;

/** Whose limit or expectation a finding measures against. */
export interface Basis {
	kind: "house" | "sheet" | "standard" | "law" | "common-practice";
	/** The limit, sheet, standard or law, by name. */
	name: string;
	value: number | string | null;
	unit: string | null;
}

/** Who accepted a finding on purpose, and until when. */
export interface Acceptance {
	by: string;
	on: string;
	until: string | null;
	reason: string;
}

/** What a rule found, as data: sentences are made from it in the reader's language and units. */
export interface Finding {
	rule: string;
	level: Level;
	/** Place of the row among all rows, from 0; null for the whole procedure. */
	row: number | null;
	rowId: string | null;
	/** Schema key of the field; null for the whole row or procedure. */
	field: string | null;
	/** RFC 6901 pointer into the procedure: to the value, or to the row where the value is missing. */
	pointer: string;
	/** Where it holds; `[{}]` in every situation of the scope. */
	situations: Box[];
	data: FindingData;
	basis: Basis;
	accepted: Acceptance | null;
}
