import type { Estimate } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import type { Coverage } from "./coverage.ts";
import { independentSum, logNormal } from "./spread.ts";

/**
 * Time of a row in minutes: passes over the place for rows that cut, strokes of a second for a blade, the minutes of a
 * wait, a usual time (common practice, no source) for wipes, readings, inspections, masking and sealing. Changing
 * discs, walking and setting up are left out. P1500, three passes of a 150 mm disc over 0.25 m²: 1.39.
 *
 * @param coverage of a row that cuts; null where it cannot be told
 * @returns null where it cannot be told: until flush, a wait with only a reason, an incomplete row
 */
export function minutesOf(row: ResolvedRow, coverage: Coverage | null): Estimate | null {
	switch (row.kind) {
		case "abrasive":
		case "liquid":
			return coverage && worked(row.work, coverage.seconds / 60);
		case "blade":
			return worked(row.work, row.work.unit === "minutes" ? 1 : coefficient("handling", "strokeSeconds").value / 60);
		case "wait":
			return row.minutes === null ? null : { mid: row.minutes, low: row.minutes, high: row.minutes };
		case "wipe":
			return usual(row.wipe);
		case "incomplete":
			return null;
		default:
			return usual(row.kind);
	}
}

/** The sum of independent times. */
export function sumMinutes(times: readonly (Estimate | null)[]): Estimate | null {
	return independentSum(times);
}

function worked(
	{ unit, low, mid, high }: { unit: string; low: number | null; mid: number | null; high: number | null },
	minutesPerUnit: number,
): Estimate | null {
	if (low === null || mid === null || high === null) return null;
	// Work in minutes is its own time, however fast the arm.
	const sigma = unit === "minutes" ? 0 : coefficient("handling", "strokeSeconds").sigma;
	return logNormal(mid * minutesPerUnit, sigma, low * minutesPerUnit, high * minutesPerUnit);
}

function usual(kind: string): Estimate {
	const { value, sigma } = coefficient("minutes", kind);
	return logNormal(value, sigma);
}
