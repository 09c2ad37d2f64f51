import type { Estimate } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Curves } from "./contact.ts";
import type { DayUnknown } from "./day-unknown.ts";

/**
 * What a procedure does to the panel in one situation, row by row.
 *
 * Every estimate is a middle with its 95 % interval: middle coefficients and the middle of `work`; the interval
 * spans the spread of the coefficients and the range of `work`. Null is unknown, never nothing: `unknown` says
 * why, and which measurement would tell.
 */
export interface Forecast {
	/** One entry a row that applies in the situation, in order. */
	rows: RowOutcome[];
	/** Clear before the first row, µm. Null where nothing says it. */
	startUm: Estimate | null;
	/** Height or depth of the defect before the first row, µm; null where no defect is named, or nothing says it. */
	defectUm: Estimate | null;
	/** Film that must come off to reach the bottom of a recessed or optical defect, µm; null for any other. */
	toBottomUm: Estimate | null;
	/** Least clear to be left in the field, µm, and whose limit that is. Null where the clear coat is not known. */
	leastLeftUm: number | null;
	leastLeftFrom: "procedure" | "house" | null;
	/** Most taken off in one repair, µm. */
	mostTakenUm: number | null;
	totals: {
		/** Taken off at the worst point of the field, µm. */
		removedUm: Estimate | null;
		/** The same at middle coefficients and the upper end of `work`: what the limits judge. */
		removedUpperUm: number | null;
		filmLeftUm: Estimate | null;
		/** Film left at middle coefficients and the upper end of `work`: what `film-below-limit` judges. */
		filmLeftLeastUm: number | null;
		/** Film left away from the spots; the same as `filmLeftUm` where no row works a spot. */
		fieldLeftUm: Estimate | null;
		/** Film left at an edge at middle coefficients and the upper end of `work`; null where no row works edges freely or an edge strip. */
		edgeLeftLeastUm: number | null;
		scratchUm: Estimate | null;
		/** As that of the last row. */
		defectLeftUm: Estimate | null;
		minutes: Estimate | null;
	};
	/** Start only if the clear reads at least this, µm, rounded up; null where unknown. `total` adds the most that may lie under it. */
	start: { clearAtLeastUm: number; totalAtLeastUm: number | null } | null;
	/** Stop if the clear reads below this, µm: at each reading row after which the removal still to come is known or bounded. */
	stop: { row: ResolvedRow; clearBelowUm: number; totalBelowUm: number | null }[];
	unknown: Unknown[];
}

export interface RowOutcome {
	row: ResolvedRow;
	/** It takes film off, or would if it were complete. */
	cuts: boolean;
	/** Taken off by this row at the worst point of its place, around the defect, µm. 0 for rows that do not cut. */
	removedUm: Estimate | null;
	/** The same at middle coefficients and the upper end of `work`; a bound from above where work until flush is not known. */
	removedUpperUm: number | null;
	/** The same at an edge worked freely, shown too where nothing is said of edges; null where the row keeps off, works a spot or does not cut. */
	edgeRemovedUm: Estimate | null;
	/** Clear left after this row at the worst point of the field, µm. */
	filmLeftUm: Estimate | null;
	/** Deepest scratch after this row, µm. */
	scratchUm: Estimate | null;
	/** Depth of the scratch this row itself leaves, µm; null for rows that leave none or are unknown. A blade's marks are not forecast. */
	ownScratchUm: Estimate | null;
	/** Row that left the deepest scratch; null where it is the defect itself, or there is none. */
	scratchFrom: ResolvedRow | null;
	/**
	 * Probability, 0 to 1, that the scratches from before this row are, after it, deeper than counts as cleared: the
	 * house limit, or the row's own scratch if that is deeper. Null where the row does not cut or it is unknown.
	 */
	notClearedChance: number | null;
	/** Height of the defect still proud after this row, or depth still there, µm; null where no defect is named or it is unknown. */
	defectLeftUm: Estimate | null;
	/** Contact on a gentle curve and on a body line; null for rows that do not cut or are unknown. */
	curves: Curves | null;
	minutes: Estimate | null;
}

/** What a row does in a forecast; undefined where it does not apply there. */
export function outcomeOf(row: ResolvedRow, { rows }: Forecast): RowOutcome | undefined {
	// A row stands no later in the list than its place in the whole procedure.
	for (let at = Math.min(row.index, rows.length - 1); at >= 0; at -= 1) if (rows[at]?.row === row) return rows[at];
	return undefined;
}

/** Something the forecast cannot tell. */
export interface Unknown {
	/** The row; null for the whole procedure. */
	row: ResolvedRow | null;
	quantity: "removedUm" | "filmLeftUm" | "scratchUm" | "defectLeftUm" | "minutes" | "hottestC" | DayUnknown["quantity"];
	/** A word for why. */
	why:
		| "incomplete-row"
		| "no-assumed-clear"
		| "dial-not-in-table"
		| "until-flush"
		| "matt-clear"
		| "unknown-clear-coat"
		| "wait-without-minutes"
		| "defect-without-depth"
		| "defect-without-width"
		| "no-substrate"
		| DayUnknown["why"];
	/** What would tell: a reading, or the figure to fill in; for matt, which no reading helps, what to do. */
	measure:
		| "read-clear-before"
		| "read-clear-after-row"
		| "fill-the-row"
		| "name-the-clear-coat"
		| "fill-dial-table"
		| "time-one-row"
		| "fill-the-depth"
		| "fill-the-width"
		| "take-matt-out"
		| "name-the-substrate"
		| DayUnknown["measure"];
}
