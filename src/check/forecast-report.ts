import type { CarWork } from "../forecast/car-work.ts";
import { Forecasts } from "../forecast/forecasts.ts";
import { glossOf, hazeRatioAt, leavesTrail } from "../forecast/gloss.ts";
import { noiseCriteria } from "../forecast/noise.ts";
import type { Forecast, RowOutcome, Unknown } from "../forecast/outcome.ts";
import { hazeAfter } from "../forecast/panel-gloss.ts";
import type { PanelHeat, RowHottest } from "../forecast/panel-heat.ts";
import { carsToReach } from "../forecast/vibration.ts";
import type { Box, ClearCoat, Estimate, Procedure, Stage } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { axes, boxHolds, projections, type Situation, situationsOf } from "../model/situations.ts";

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
		/** Height of the defect still proud, or depth still there, µm; null too where the scope names none. */
		defectLeftUm: WorstEstimate | null;
		minutes: WorstEstimate | null;
		/** Highest surface temperature in this row, °C, in the field and at an edge that the row works. */
		hottestC: WorstEstimate | null;
		edgeHottestC: WorstEstimate | null;
		/** Gloss at 20° after this row, GU, wiped clean; show "matt" where it says so. */
		gloss20Gu: WorstEstimate | null;
		isMatt: boolean;
		/** Scattered over returned light after this row; null too where the scope names no tone. */
		haze: WorstEstimate | null;
	}[];
	totals: Record<Total, WorstEstimate | null>;
	/** Clear before the first row, µm. */
	startUm: WorstEstimate | null;
	/** For each clear coat asked for: least clear to be left and most taken in one repair, µm; null where there is none. */
	limits: { clearCoat: ClearCoat | null; leastLeftUm: number | null; mostTakenUm: number | null }[];
	/** Start only if the reading is at least this, µm. */
	start: { clearCoat: ClearCoat | null; clearAtLeastUm: number; totalAtLeastUm: number | null }[];
	/** Stop if the reading of this row is below this, µm. */
	stop: { clearCoat: ClearCoat | null; row: number; clearBelowUm: number; totalBelowUm: number | null }[];
	/** Of film, scratches, defect and minutes. */
	unknown: ReportedUnknown[];
	/** Of heat. */
	heatUnknown: ReportedUnknown[];
	/** What one car of the procedure costs the one who works on it, and the shop. */
	work: WorkReport;
}

export interface ReportedUnknown {
	/** From 1; null for the whole procedure. */
	row: number | null;
	quantity: Unknown["quantity"];
	why: Unknown["why"];
	measure: Unknown["measure"];
}

/** Vibration, noise and cost of one car, each in its own worst situation. Null is unknown, never nothing. */
export interface WorkReport {
	/** Hand-arm vibration of a day of one car, A(8) in m/s². */
	vibrationMs2: WorstEstimate | null;
	/** Of the tools whose vibration is stated: there is at least this. */
	vibrationAtLeastMs2: WorstEstimate | null;
	/** On how many cars a day the action and the limit value are reached, in fractions of a car. */
	carsToAction: Estimate | null;
	carsToLimit: Estimate | null;
	/** Each driven tool of the worst situation: m/s², minutes in the hand, rows from 1. */
	tools: { tool: string; vibrationMs2: Estimate | null; minutes: Estimate | null; rows: number[] }[];
	/** By each criterion: dose in % and time-weighted average in dB(A). */
	noise: { criterion: string; dosePercent: WorstEstimate | null; averageDb: Estimate | null }[];
	/** In the currency of the book. */
	cost: WorstEstimate | null;
	currency: string | null;
	unknown: ReportedUnknown[];
}

type Total =
	| "removedUm"
	| "filmLeftUm"
	| "scratchUm"
	| "defectLeftUm"
	| "minutes"
	| "hottestC"
	| "edgeHottestC"
	| "gloss20Gu"
	| "haze";

/** Totals that a forecast itself has. */
type OwnTotal = keyof Forecast["totals"] & Total;

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

/**
 * The same from forecasts that another reader shares. Heat, gloss, haze and work are computed when they are first
 * read: whoever shows film alone does not wait for them.
 */
export function reportOf(forecasts: Forecasts, asked: Situation): ForecastReport {
	const { rows } = forecasts;
	const situations = agreeing(forecasts, asked);
	const seen = seenIn(forecasts, situations);
	const several = seen.length > 1;
	const outcomes = seen.map(({ forecast }) => outcomesAfter(rows, forecast));
	const heats = once(() => heatsIn(forecasts, situations));
	const heatRows = once(() => heats().map(({ heat }) => rowsOfHeat(rows, heat)));
	const hottest = (hotAt: (at: number) => Hottest | undefined) =>
		worstOf(heats(), heats().length > 1, false, (at) => hotAt(at)?.hottestC);
	// Where no row works an edge there is none to be hot.
	const edgeHottest = (hotAt: (at: number) => Hottest | undefined) =>
		worstOf(heats(), heats().length > 1, false, (at) => {
			const hot = hotAt(at);
			return hot?.hottestC === null ? null : (hot?.edgeHottestC ?? undefined);
		});
	const hazes = once(() =>
		hazeSeenIn(forecasts, situations).map((one) => ({ ...one, after: outcomesAfter(rows, one.forecast) })),
	);
	const hazeAt = (index: number) => worstHaze(hazes(), (at) => hazes()[at]?.after[index], forecasts.shop);
	const scratchTotal = worstTotal(seen, "scratchUm", several);
	const work = once(() => workReport(forecasts, seen, several));
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
			const hotAt = (at: number) => heatRows()[at]?.[index];
			const gloss = once(() => glossFrom(scratchUm));
			return {
				row: row.index + 1,
				stage: row.stage,
				removedUm: worst(({ removedUm }) => removedUm, "this row"),
				filmLeftUm: worst(({ filmLeftUm }) => filmLeftUm, "until now", true),
				scratchUm,
				scratchFromRow: deepest ? deepest.index + 1 : null,
				defectLeftUm: worst((outcome) => outcome.defectLeftUm, "until now"),
				minutes: worst(({ minutes }) => minutes, "this row"),
				get hottestC() {
					return hottest(hotAt);
				},
				get edgeHottestC() {
					return edgeHottest(hotAt);
				},
				get gloss20Gu() {
					return gloss().gloss20Gu;
				},
				get isMatt() {
					return gloss().isMatt;
				},
				get haze() {
					return hazeAt(index);
				},
			};
		}),
		totals: {
			removedUm: worstTotal(seen, "removedUm", several),
			filmLeftUm: worstTotal(seen, "filmLeftUm", several, true),
			scratchUm: scratchTotal,
			defectLeftUm: worstTotal(seen, "defectLeftUm", several),
			minutes: worstTotal(seen, "minutes", several),
			get hottestC() {
				return hottest((at) => heats()[at]?.heat);
			},
			get edgeHottestC() {
				return edgeHottest((at) => heats()[at]?.heat);
			},
			get gloss20Gu() {
				return glossFrom(scratchTotal).gloss20Gu;
			},
			get haze() {
				return rows.length === 0 ? null : hazeAt(rows.length - 1);
			},
		},
		startUm: worstOf(seen, several, true, (at) => seen[at]?.forecast.startUm),
		limits: limitsOf(seen),
		...readings(seen),
		unknown: reported(seen.flatMap(({ forecast }) => forecast.unknown)),
		get heatUnknown() {
			return reported(heats().flatMap(({ heat }) => heat.unknown));
		},
		get work() {
			return work();
		},
	};
}

type Hottest = Pick<PanelHeat, "hottestC" | "edgeHottestC">;

/** The value when it is first asked for, the same ever after. */
function once<Value>(make: () => Value): () => Value {
	let made: { value: Value } | null = null;
	return () => (made ??= { value: make() }).value;
}

/** The distinct forecasts of the situations that agree with what is asked for. */
function seenIn(forecasts: Forecasts, situations: readonly Situation[], onto = forecasts.axes): Seen[] {
	return projections(situations, onto).map((situation) => ({
		situation,
		forecast: forecasts.in(situation),
	}));
}

/** The same, each tone apart; none where the scope names no tone. */
function hazeSeenIn(forecasts: Forecasts, situations: readonly Situation[]): Seen[] {
	const onto = axes.filter((axis) => axis === "tone" || forecasts.axes.includes(axis));
	return seenIn(forecasts, situations, onto).filter(({ situation }) => situation.tone !== undefined);
}

function heatsIn(forecasts: Forecasts, situations: readonly Situation[]): { situation: Situation; heat: PanelHeat }[] {
	const onto = axes.filter((axis) => axis === "substrate" || forecasts.whenAxes.includes(axis));
	return projections(situations, onto).map((situation) => ({
		situation,
		heat: forecasts.heatIn(situation),
	}));
}

function agreeing({ procedure }: Forecasts, asked: Situation): Situation[] {
	const box = Object.fromEntries(Object.entries(asked).map(([axis, value]) => [axis, [value]])) as Box;
	return situationsOf(procedure.scope).filter((one) => boxHolds(box, one));
}

/** The heat of each row of the procedure; undefined for one that does not apply. */
function rowsOfHeat(rows: readonly ResolvedRow[], { rows: applying }: PanelHeat): (RowHottest | undefined)[] {
	let at = 0;
	return rows.map((row) => {
		const here = applying[at];
		if (here?.row !== row) return undefined;
		at += 1;
		return here;
	});
}

/** Gloss turns on the deepest scratch alone, so that the worst scratch has the worst gloss. */
function glossFrom(scratchUm: WorstEstimate | null): { gloss20Gu: WorstEstimate | null; isMatt: boolean } {
	if (scratchUm === null) return { gloss20Gu: null, isMatt: false };
	const { at20Gu, matt } = glossOf(scratchUm);
	const { situation } = scratchUm;
	return { gloss20Gu: situation === undefined ? at20Gu : { ...at20Gu, situation }, isMatt: matt };
}

/** Which situation is worst is told by the upper end of the scratch at middle coefficients; its interval is then made. */
function worstHaze(
	seen: readonly Seen[],
	outcomeAt: (at: number) => RowOutcome | undefined,
	{ limits }: Shop,
): WorstEstimate | null {
	let most = -1;
	let worst: { outcome: RowOutcome; situation: Situation } | null = null;
	for (let at = 0; at < seen.length; at += 1) {
		const outcome = outcomeAt(at);
		if (outcome === undefined) continue;
		const { situation } = seen[at] as Seen;
		if (outcome.scratchUm === null || situation.tone === undefined) return null;
		const { scratchUm, scratchFrom } = outcome;
		const ratio = hazeRatioAt(scratchUm.high, leavesTrail(scratchFrom), situation.tone);
		if (ratio <= most) continue;
		most = ratio;
		worst = { outcome, situation };
	}
	if (worst === null) return null;
	const { outcome, situation } = worst;
	const haze = hazeAfter(outcome, situation.tone, limits);
	return haze && (seen.length > 1 ? { ...haze.ratio, situation } : haze.ratio);
}

function workReport(forecasts: Forecasts, seen: readonly Seen[], several: boolean): WorkReport {
	const works = seen.map(({ forecast }) => forecasts.workOf(forecast));
	const worst = (value: (work: CarWork) => Estimate | null) =>
		worstOf(seen, several, false, (at) => {
			const work = works[at];
			return work === undefined ? undefined : value(work);
		});
	const worstWork = works.reduce<CarWork | null>(
		(most, one) => (most === null || one.vibration.a8AtLeastMs2.high > most.vibration.a8AtLeastMs2.high ? one : most),
		null,
	);
	const { vibrationActionMs2, vibrationLimitMs2 } = forecasts.shop.limits;
	const vibrationMs2 = worst(({ vibration }) => vibration.a8Ms2);
	const carsTo = (ms2: number) =>
		vibrationMs2 === null || worstWork === null ? null : carsToReach(ms2, worstWork.vibration);
	return {
		vibrationMs2,
		vibrationAtLeastMs2: worst(({ vibration }) => vibration.a8AtLeastMs2),
		carsToAction: carsTo(vibrationActionMs2),
		carsToLimit: carsTo(vibrationLimitMs2),
		tools: (worstWork?.vibration.tools ?? []).map(({ kind, item, vibrationMs2: ms2, minutes, rows }) => ({
			tool: item?.name ?? kind,
			vibrationMs2: ms2,
			minutes,
			rows: rows.map(({ index }) => index + 1),
		})),
		noise: noiseCriteria.map(({ id }, index) => ({
			criterion: id,
			dosePercent: worst(({ noise }) => noise.by[index]?.dosePercent ?? null),
			averageDb: worst(({ noise }) => noise.by[index]?.averageDb ?? null),
		})),
		cost: worst(({ cost }) => cost.total),
		currency: forecasts.shop.book.currency ?? null,
		unknown: reported([...new Set(works)].flatMap(({ unknown }) => unknown)),
	};
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
	seen: readonly Pick<Seen, "situation">[],
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
	return { ...worst, situation: (seen[worstAt] as Pick<Seen, "situation">).situation };
}

function worstTotal(seen: readonly Seen[], quantity: OwnTotal, several: boolean, least = false): WorstEstimate | null {
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

function reported(unknown: readonly Unknown[]): ReportedUnknown[] {
	const distinct = new Map<string, ReportedUnknown>();
	for (const { row, quantity, why, measure } of unknown) {
		const entry = { row: row === null ? null : row.index + 1, quantity, why, measure };
		distinct.set(`${entry.row}|${quantity}|${why}|${measure}`, entry);
	}
	return [...distinct.values()];
}
