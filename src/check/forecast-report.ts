import { Forecasts } from "../forecast/forecasts.ts";
import type { Forecast, RowOutcome, Unknown } from "../forecast/outcome.ts";
import type { Box, ClearCoat, Estimate, Procedure, Stage } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { boxHolds, projections, type Situation, situationsOf } from "../model/situations.ts";

/** A quantity over the situations asked for: its worst estimate, and the situation that is worst where there are several. */
export type WorstEstimate = Estimate & { situation?: Situation };

/** What a procedure does to the panel, worst first over the situations asked for. Null is unknown. */
export interface ForecastReport {
	/** Situations asked for; an absent axis means the worst over it. */
	situation: Situation;
	rows: {
		/** From 1. */
		row: number;
		stage: Stage | null;
		/** Of this row, µm. */
		removedUm: WorstEstimate | null;
		/** After this row, µm. */
		filmLeftUm: WorstEstimate | null;
		scratchUm: WorstEstimate | null;
		/** Row that left the deepest scratch, from 1; null where it is the defect itself, or nothing. */
		scratchFromRow: number | null;
		minutes: WorstEstimate | null;
	}[];
	totals: Record<"removedUm" | "filmLeftUm" | "scratchUm" | "minutes", WorstEstimate | null>;
	/** Clear before the first row, µm. */
	startUm: WorstEstimate | null;
	/** For each clear coat asked for: least clear to be left and most taken in one repair, µm; null where there is none. */
	limits: { clearCoat: ClearCoat | null; leastLeftUm: number | null; mostTakenUm: number | null }[];
	/** Start only if the reading is at least this, µm. */
	start: { clearCoat: ClearCoat | null; clearAtLeastUm: number; totalAtLeastUm: number | null }[];
	/** Stop if the reading of this row is below this, µm. */
	stop: { clearCoat: ClearCoat | null; row: number; clearBelowUm: number; totalBelowUm: number | null }[];
	unknown: { row: number | null; quantity: Unknown["quantity"]; why: Unknown["why"]; measure: Unknown["measure"] }[];
}

/** Whether a quantity is of a row itself, where it applies, or of the panel after it. */
type Which = "this row" | "until now";

interface Seen {
	situation: Situation;
	forecast: Forecast;
}

/**
 * The forecast of a procedure over every situation of its scope that agrees with `asked`, worst per quantity.
 *
 * @param asked values on some axes; the caller has made sure that the scope has them
 */
export function forecastReport(procedure: Procedure, shop: Shop, asked: Situation = {}): ForecastReport {
	return reportOf(new Forecasts(procedure, shop), asked);
}

/** The same from forecasts that another reader shares. */
export function reportOf(forecasts: Forecasts, asked: Situation): ForecastReport {
	const { rows } = forecasts;
	const seen = seenIn(forecasts, asked);
	const several = seen.length > 1;
	const outcomes = seen.map(({ forecast }) => outcomesAfter(rows, forecast));
	return {
		situation: asked,
		rows: rows.map((row, index) => {
			const worst = (pick: (outcome: RowOutcome) => Estimate | null, which: Which, least = false) =>
				worstOf(seen, several, least, (at) => {
					const outcome = outcomes[at]?.[index];
					return outcome === undefined || (which === "this row" && outcome.row !== row) ? undefined : pick(outcome);
				});
			const scratchUm = worst((outcome) => outcome.scratchUm, "until now");
			const deepest =
				scratchUm && outcomes.find((after) => after[index]?.scratchUm?.high === scratchUm.high)?.[index]?.scratchFrom;
			return {
				row: row.index + 1,
				stage: row.stage,
				removedUm: worst(({ removedUm }) => removedUm, "this row"),
				filmLeftUm: worst(({ filmLeftUm }) => filmLeftUm, "until now", true),
				scratchUm,
				scratchFromRow: deepest ? deepest.index + 1 : null,
				minutes: worst(({ minutes }) => minutes, "this row"),
			};
		}),
		totals: {
			removedUm: worstTotal(seen, "removedUm", several),
			filmLeftUm: worstTotal(seen, "filmLeftUm", several, true),
			scratchUm: worstTotal(seen, "scratchUm", several),
			minutes: worstTotal(seen, "minutes", several),
		},
		startUm: worstOf(seen, several, true, (at) => seen[at]?.forecast.startUm),
		limits: limitsOf(seen),
		...readings(seen),
		unknown: unknowns(seen),
	};
}

/** The distinct forecasts of the situations that agree with what is asked for. */
function seenIn(forecasts: Forecasts, asked: Situation): Seen[] {
	const box = Object.fromEntries(Object.entries(asked).map(([axis, value]) => [axis, [value]])) as Box;
	const situations = situationsOf(forecasts.procedure.scope).filter((one) => boxHolds(box, one));
	return projections(situations, forecasts.axes).map((situation) => ({
		situation,
		forecast: forecasts.in(situation),
	}));
}

/** The panel after each row of the procedure: a row that does not apply leaves it as the row before it left it. */
function outcomesAfter(rows: readonly ResolvedRow[], { rows: applying }: Forecast): (RowOutcome | undefined)[] {
	let at = -1;
	return rows.map((row) => {
		if (applying[at + 1]?.row === row) at += 1;
		return applying[at];
	});
}

/**
 * The largest upper end (of film left, the smallest lower end); unknown anywhere is unknown.
 *
 * @param valueAt of the situation at that place; undefined where there is none to count
 */
function worstOf(
	seen: readonly Seen[],
	several: boolean,
	least: boolean,
	valueAt: (at: number) => Estimate | null | undefined,
): WorstEstimate | null {
	let worst: Estimate | null = null;
	let worstAt = 0;
	for (let at = 0; at < seen.length; at += 1) {
		const value = valueAt(at);
		if (value === null) return null;
		if (value === undefined) continue;
		if (worst === null || (least ? value.low < worst.low : value.high > worst.high)) {
			worst = value;
			worstAt = at;
		}
	}
	if (worst === null || !several) return worst;
	return { ...worst, situation: (seen[worstAt] as Seen).situation };
}

function worstTotal(
	seen: readonly Seen[],
	quantity: "removedUm" | "filmLeftUm" | "scratchUm" | "minutes",
	several: boolean,
	least = false,
): WorstEstimate | null {
	return worstOf(seen, several, least, (at) => seen[at]?.forecast.totals[quantity]);
}

function limitsOf(seen: readonly Seen[]): ForecastReport["limits"] {
	const byClearCoat = new Map<ClearCoat | null, ForecastReport["limits"][number]>();
	for (const { situation, forecast } of seen) {
		const { clearCoat = null } = situation;
		const { leastLeftUm, mostTakenUm } = forecast;
		byClearCoat.set(clearCoat, { clearCoat, leastLeftUm, mostTakenUm });
	}
	return [...byClearCoat.values()];
}

/** Start and stop readings for each clear coat: the strictest over its situations; none where one is unknown. */
function readings(seen: readonly Seen[]): Pick<ForecastReport, "start" | "stop"> {
	const byClearCoat = new Map<ClearCoat | null, Forecast[]>();
	for (const { situation, forecast } of seen) {
		const clearCoat = situation.clearCoat ?? null;
		byClearCoat.set(clearCoat, [...(byClearCoat.get(clearCoat) ?? []), forecast]);
	}
	const start: ForecastReport["start"] = [];
	const stop: ForecastReport["stop"] = [];
	for (const [clearCoat, group] of byClearCoat) {
		const starts = group.map((forecast) => forecast.start);
		const strictest = starts.includes(null) ? null : starts.reduce(stricter, null);
		if (strictest !== null) start.push({ clearCoat, ...strictest });
		const byRow = new Map<number, { clearBelowUm: number; totalBelowUm: number | null }>();
		for (const { row, clearBelowUm, totalBelowUm } of group.flatMap((forecast) => forecast.stop)) {
			const known = byRow.get(row.index);
			if (known === undefined || clearBelowUm > known.clearBelowUm)
				byRow.set(row.index, { clearBelowUm, totalBelowUm });
		}
		for (const [index, figures] of byRow) stop.push({ clearCoat, row: index + 1, ...figures });
	}
	return { start, stop };
}

function stricter(a: Forecast["start"], b: Forecast["start"]): Forecast["start"] {
	if (a === null || b === null) return a ?? b;
	return b.clearAtLeastUm > a.clearAtLeastUm ? b : a;
}

function unknowns(seen: readonly Seen[]): ForecastReport["unknown"] {
	const distinct = new Map<string, ForecastReport["unknown"][number]>();
	for (const { row, quantity, why, measure } of seen.flatMap(({ forecast }) => forecast.unknown)) {
		const entry = { row: row === null ? null : row.index + 1, quantity, why, measure };
		distinct.set(JSON.stringify(entry), entry);
	}
	return [...distinct.values()];
}
