import type { ClearCoat, Estimate, Procedure } from "../model/generated/types.ts";
import type { HouseLimits } from "../model/limits.ts";
import type { ReadingRow, ResolvedRow } from "../model/resolve.ts";
import type { Forecast, Unknown } from "./outcome.ts";
import type { PreparedRows } from "./prepare-rows.ts";
import type { RowTerms } from "./row-terms.ts";
import type { Hardness } from "./removal.ts";
import { type Taken, takenUm } from "./removal-sum.ts";
import { rounded } from "./spread.ts";

interface FilmInput {
	procedure: Pick<Procedure, "film">;
	clearCoat: ClearCoat | undefined;
	limits: HouseLimits;
	prepared: PreparedRows;
}

/**
 * Clear before the first row, µm, with its 95 % interval: an example reading with the gauge's error where the clear is
 * read before the first cut, else what the procedure assumes for the clear coat, else what the house assumes. Where no
 * clear coat is named, what the procedure assumes counts if it is the same for all.
 *
 * @returns a word for why, where nothing says it
 */
export function startFilm({
	procedure,
	clearCoat,
	limits,
	prepared,
}: FilmInput): Estimate | Pick<Unknown, "why" | "measure"> {
	const film = procedure.film ?? {};
	const reading = readingBeforeCut(prepared.terms);
	const readsClear = reading?.gauge ? reading.gauge.layer === "clear" : film.known === "clear-reading";
	if (film.startReadingUm !== undefined && reading !== null && readsClear) {
		const error = gaugeErrorUm(reading, limits);
		return {
			mid: film.startReadingUm,
			low: Math.max(0, film.startReadingUm - error),
			high: film.startReadingUm + error,
		};
	}
	if (clearCoat === undefined)
		return agreed(Object.values(film.assumed ?? {})) ?? { why: "unknown-clear-coat", measure: "name-the-clear-coat" };
	const assumed = film.assumed?.[clearCoat] ?? limits.assumedClearUm[clearCoat];
	if (assumed) return assumed;
	return clearCoat === "matt"
		? { why: "matt-clear", measure: "take-matt-out" }
		: { why: "no-assumed-clear", measure: "read-clear-before" };
}

/**
 * Film left: start less removal. The two intervals are combined in quadrature, and film is never less than nothing:
 * 45 (35–55) less 10 (5–20) leaves 35 (20.9–46.2).
 */
export function filmLeft(start: Estimate, removed: Estimate): Estimate {
	const mid = start.mid - removed.mid;
	return {
		mid: Math.max(0, mid),
		low: Math.max(0, mid - Math.hypot(start.mid - start.low, removed.high - removed.mid)),
		high: Math.max(0, mid + Math.hypot(start.high - start.mid, removed.mid - removed.low)),
	};
}

/** Least clear to be left in the field, µm: what the procedure states where that is more than the house limit. */
export function leastLeft({
	procedure,
	clearCoat,
	limits,
}: Omit<FilmInput, "prepared">): Pick<Forecast, "leastLeftUm" | "leastLeftFrom"> {
	const stated = procedure.film?.leastLeftUm;
	const house = clearCoat === undefined ? undefined : limits.leastLeftUm[clearCoat];
	if (stated !== undefined && (house === undefined || stated > house))
		return { leastLeftUm: stated, leastLeftFrom: "procedure" };
	return house === undefined
		? { leastLeftUm: null, leastLeftFrom: null }
		: { leastLeftUm: house, leastLeftFrom: "house" };
}

/**
 * Readings to start and to stop by, in whole µm, rounded up. Start: least left + 97.5 % point of all removal at the
 * worst point (upper end of `work`, no repeat) + gauge error. Stop, at each reading row: the same with the rows still
 * to come. A reading of the total must cover the most that may lie under the clear, so the upper end of that is added:
 * with its middle, half of the cars that just pass would have less clear than asked for.
 *
 * Work until flush that the forecast cannot tell counts with its bound. A figure that an incomplete row leaves open is left out.
 */
export function startAndStop(
	{ procedure, limits, prepared }: Omit<FilmInput, "clearCoat">,
	leastLeftUm: number | null,
	hardness: Hardness,
): Pick<Forecast, "start" | "stop"> {
	if (leastLeftUm === null) return { start: null, stop: [] };
	const underUm = procedure.film?.underUm?.high;
	const readings = (toCome: Taken, reading: ReadingRow | null): { clear: number; total: number | null } => {
		const least = leastLeftUm + takenUm(toCome, hardness).high + gaugeErrorUm(reading, limits);
		return { clear: wholeUp(least), total: underUm === undefined ? null : wholeUp(least + underUm) };
	};
	const stop: Forecast["stop"] = [];
	for (const [index, { row }] of prepared.terms.entries()) {
		const toCome = prepared.atMostAfter[index];
		if (row.kind !== "reading" || !toCome) continue;
		const { clear, total } = readings(toCome, row);
		stop.push({ row, clearBelowUm: clear, totalBelowUm: total });
	}
	if (prepared.atMost === null) return { start: null, stop };
	const { clear, total } = readings(prepared.atMost, readingBeforeCut(prepared.terms));
	return { start: { clearAtLeastUm: clear, totalAtLeastUm: total }, stop };
}

/** The first reading before anything is taken off. */
function readingBeforeCut(terms: readonly RowTerms[]): ReadingRow | null {
	for (const { row, cuts } of terms) {
		if (isReading(row)) return row;
		if (cuts) return null;
	}
	return null;
}

function isReading(row: ResolvedRow): row is ReadingRow {
	return row.kind === "reading";
}

/** Error (95 %) of the gauge that a row names, else of the house, µm. */
function gaugeErrorUm(reading: ReadingRow | null, { gaugeErrorUm }: HouseLimits): number {
	return reading?.gauge?.accuracyUm ?? gaugeErrorUm;
}

function agreed([first, ...others]: readonly Estimate[]): Estimate | null {
	if (first === undefined) return null;
	const same = others.every(({ mid, low, high }) => mid === first.mid && low === first.low && high === first.high);
	return same ? first : null;
}

function wholeUp(um: number): number {
	return Math.ceil(rounded(um));
}
