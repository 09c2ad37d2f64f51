import type { Forecast, RowOutcome } from "../forecast/outcome.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { RuleInput } from "./rule.ts";

/** Film taken off, at middle coefficients and the upper end of `work`: what the limits judge. */
export interface Taken {
	um: number;
	/** False where a row of which it is not known takes off more on top. */
	whole: boolean;
}

/** Film taken off at the worst point by all rows together; by those of which it is known, where not by all. */
export function takenByAll({ rows, totals }: Forecast): Taken {
	if (totals.removedUpperUm !== null) return { um: totals.removedUpperUm, whole: true };
	return { um: rows.reduce((sum, one) => sum + takenAtWorst(one), 0), whole: false };
}

/** Film that one row takes off at the worst point; nothing where it is not known, or the row works an edge strip. */
export function takenAtWorst({ row, removedUm, removedUpperUm }: RowOutcome): number {
	// Of work until flush only a bound from above is known, which is no reason to speak.
	return row.place === "edge-strip" || removedUm === null ? 0 : (removedUpperUm ?? 0);
}

/** Whether a row sands or cuts with a blade. */
export function isSandingOrBlade({ kind }: ResolvedRow): boolean {
	return kind === "abrasive" || kind === "blade";
}

/**
 * Whether a procedure takes enough off for film to be a question: a blade or abrasive row cuts, or more comes off than
 * the house asks readings for. On matt clear it is not: nothing at all may come off, and another rule says so.
 */
export function isFilmAtStake({
	rows,
	situation,
	forecast,
	shop,
}: Pick<RuleInput, "rows" | "situation" | "forecast" | "shop">): boolean {
	if (situation.clearCoat === "matt") return false;
	return rows.some(isSandingOrBlade) || takenByAll(forecast).um > shop.limits.readingNeededAboveUm;
}
