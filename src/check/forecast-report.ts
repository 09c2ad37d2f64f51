import { forecastOf } from "../forecast/forecast.ts";
import type { Forecast, RowOutcome, Unknown } from "../forecast/outcome.ts";
import type { Box, ClearCoat, Estimate, Procedure, Stage } from "../model/generated/types.ts";
import { type ResolvedRow, resolveRows } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { type Axis, axes, boxHolds, projections, type Situation, situationsOf } from "../model/situations.ts";

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
	/** Start only if the reading is at least this, µm. */
	start: { clearCoat: ClearCoat | null; clearAtLeastUm: number; totalAtLeastUm: number | null }[];
	/** Stop if the reading of this row is below this, µm. */
	stop: { clearCoat: ClearCoat | null; row: number; clearBelowUm: number; totalBelowUm: number | null }[];
	unknown: { row: number | null; quantity: Unknown["quantity"]; why: Unknown["why"]; measure: Unknown["measure"] }[];
}

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
	const rows = resolveRows(procedure, shop);
	const seen = forecasts(procedure, shop, rows, asked);
	const several = seen.length > 1;
	const outcomes = rows.map((row) =>
		seen.flatMap(({ situation, forecast }) => {
			// A row that does not apply leaves the panel as the row before it left it.
			const outcome = forecast.rows.findLast((one) => one.row.index <= row.index);
			return outcome === undefined ? [] : [{ situation, outcome, applies: outcome.row.index === row.index }];
		}),
	);
	return {
		situation: asked,
		rows: rows.map((row, index) => {
			const here = outcomes[index] ?? [];
			const values = (some: typeof here, pick: (outcome: RowOutcome) => Estimate | null) =>
				some.map(({ situation, outcome }) => ({ situation, value: pick(outcome) }));
			const applying = here.filter(({ applies }) => applies);
			const ofRow = (pick: (outcome: RowOutcome) => Estimate | null) => worstOf(values(applying, pick), several, false);
			const after = (pick: (outcome: RowOutcome) => Estimate | null, least: boolean) =>
				worstOf(values(here, pick), several, least);
			const scratchUm = after(({ scratchUm }) => scratchUm, false);
			const deepest = here.find(({ outcome }) => outcome.scratchUm?.high === scratchUm?.high)?.outcome;
			return {
				row: row.index + 1,
				stage: row.stage,
				removedUm: ofRow(({ removedUm }) => removedUm),
				filmLeftUm: after(({ filmLeftUm }) => filmLeftUm, true),
				scratchUm,
				scratchFromRow: scratchUm === null || !deepest?.scratchFrom ? null : deepest.scratchFrom.index + 1,
				minutes: ofRow(({ minutes }) => minutes),
			};
		}),
		totals: {
			removedUm: worstTotal(seen, "removedUm", several),
			filmLeftUm: worstTotal(seen, "filmLeftUm", several, true),
			scratchUm: worstTotal(seen, "scratchUm", several),
			minutes: worstTotal(seen, "minutes", several),
		},
		...readings(seen),
		unknown: unknowns(seen),
	};
}

/** The distinct forecasts: they turn on the defect, the clear coat and the axes of conditions only. */
function forecasts(procedure: Procedure, shop: Shop, rows: readonly ResolvedRow[], asked: Situation): Seen[] {
	const conditions = rows.flatMap((row) => row.when ?? []);
	const read = axes.filter(
		(axis: Axis) => axis === "defect" || axis === "clearCoat" || conditions.some((box) => axis in box),
	);
	const box = Object.fromEntries(Object.entries(asked).map(([axis, value]) => [axis, [value]])) as Box;
	const situations = situationsOf(procedure.scope).filter((one) => boxHolds(box, one));
	return projections(situations, read).map((situation) => ({
		situation,
		forecast: forecastOf({
			procedure,
			rows: rows.filter(({ when }) => when === null || when.some((one) => boxHolds(one, situation))),
			situation,
			shop,
		}),
	}));
}

/** The largest upper end (of film left, the smallest lower end); unknown anywhere is unknown. */
function worstOf(
	values: readonly { situation: Situation; value: Estimate | null }[],
	several: boolean,
	least: boolean,
): WorstEstimate | null {
	let worst: { situation: Situation; value: Estimate } | null = null;
	for (const { situation, value } of values) {
		if (value === null) return null;
		if (worst === null || (least ? value.low < worst.value.low : value.high > worst.value.high))
			worst = { situation, value };
	}
	if (worst === null) return null;
	return several ? { ...worst.value, situation: worst.situation } : worst.value;
}

function worstTotal(
	seen: readonly Seen[],
	quantity: "removedUm" | "filmLeftUm" | "scratchUm" | "minutes",
	several: boolean,
	least = false,
): WorstEstimate | null {
	return worstOf(
		seen.map(({ situation, forecast }) => ({ situation, value: forecast.totals[quantity] })),
		several,
		least,
	);
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
