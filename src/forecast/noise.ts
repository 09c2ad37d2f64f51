import type { Estimate, ToolItem } from "../model/generated/types.ts";
import { coefficient } from "./coefficients.ts";
import criteria from "./data/noise-criteria.json" with { type: "json" };
import { type CarsOfDay, type ToolTime, toolTimes, untold } from "./day.ts";
import type { DayUnknown } from "./day-unknown.ts";
import { independentSum, propagated, roundedEstimate } from "./spread.ts";

/** How a regulator counts noise. */
export interface NoiseCriterion {
	/** `osha` or `niosh`. */
	id: string;
	/** Level, dB(A), that makes a dose of 100 % in 8 hours. */
	criterionDb: number;
	/** Rise of the level, dB, that halves the time allowed. */
	exchangeDb: number;
	/** Levels below this, dB(A), do not count. */
	thresholdDb: number;
	/** Rise of the time-weighted average, dB, for ten times the dose: 16.61 (5/lg 2, as the regulation rounds it) or 10. */
	dbPerTenfoldDose: number;
	/** Dose, %, from which action is due. */
	actionDosePercent: number;
	source: string;
}

/** Both criteria of the United States, the regulation and the stricter recommendation. */
export const noiseCriteria: readonly NoiseCriterion[] = criteria;

/** Noise at one technician's ear from the tools of a day. */
export interface Noise {
	/** By each criterion; they differ. */
	by: NoiseBy[];
	tools: ToolNoise[];
	unknown: DayUnknown[];
}

export interface NoiseBy {
	criterion: NoiseCriterion;
	/** Null where a tool's level or time is not known. */
	dosePercent: Estimate | null;
	/** Time-weighted average level over 8 hours, dB(A). Null where the dose is not known or nothing; its low end is at least 0. */
	averageDb: Estimate | null;
	/** Dose of the tools whose level is stated, over the time that is known: the day has at least this. */
	doseAtLeastPercent: Estimate;
}

/** What one driven tool adds to a day's noise. */
export interface ToolNoise extends Pick<ToolTime, "kind" | "item" | "rows"> {
	/** Level at the ear, dB(A); null where the stock states none. */
	noiseDb: Estimate | null;
	/** Null where the time of a row is not known. */
	minutes: Estimate | null;
}

/**
 * Noise of a day at the ear of the one technician who holds every tool: dose and time-weighted average by each criterion.
 *
 * D = 100·Σ C/T over the driven tools, C the time with one and T the time allowed at its level, the level as the stock
 * declares it ± its uncertainty K (3 dB where none is stated: common practice, no source). Other noise of the shop, air
 * lines and extraction are left out, so that a real day has more. Levels are without hearing protection. A driven tool
 * without a stated level leaves the dose unknown, never nothing.
 *
 * Source: 29 CFR 1910.95 Appendix A; NIOSH 98-126. 95 dB(A) for 4 h and 90 for 4 h: 150 %, 92.9 dB(A) by the first;
 * 663 %, 93.2 dB(A) by the second. By 29 CFR 1910.95 every level from 80 dB(A) is counted, as for its action level; for
 * the limit of 100 % lower levels may be left out, so that this dose is on the safe side.
 */
export function noiseOf(day: CarsOfDay): Noise {
	const times = toolTimes(day);
	const unknown = untold("noise", times);
	for (const { item, rows } of times.tools) {
		if (item?.noiseDb !== undefined) continue;
		for (const row of rows)
			unknown.push({ row, quantity: "noise", why: "noise-not-stated", measure: "fill-the-noise" });
	}
	return {
		by: noiseCriteria.map((criterion): NoiseBy => {
			const doses = times.tools.flatMap(({ item, minutes }) => {
				const levelDb = item && statedLevel(item);
				if (levelDb === null) return [];
				const dose = (db: number, min: number) => noiseDosePercent([{ db, minutes: min }], criterion);
				return [propagated(dose, [levelDb, minutes], "ratio")];
			});
			const known = independentSum(doses) ?? nothing;
			const dosePercent = unknown.length === 0 ? known : null;
			return {
				criterion,
				dosePercent: dosePercent && roundedEstimate(dosePercent),
				averageDb: dosePercent && averageOf(dosePercent, criterion),
				doseAtLeastPercent: roundedEstimate(known),
			};
		}),
		tools: times.tools.map(({ kind, item, rows, minutes, untimed }) => ({
			kind,
			item,
			rows,
			noiseDb: item && statedLevel(item),
			minutes: untimed.length === 0 ? roundedEstimate(minutes) : null,
		})),
		unknown,
	};
}

/**
 * Noise dose, %: D = 100·Σ C/T, levels below the threshold left out. Source: 29 CFR 1910.95 Appendix A; NIOSH 98-126.
 * 92 dB(A) for 480 min: 131.95 % by the first (131 with its rounded table), 504 % by the second.
 */
export function noiseDosePercent(
	periods: readonly { db: number; minutes: number }[],
	criterion: NoiseCriterion,
): number {
	return periods
		.filter(({ db }) => db >= criterion.thresholdDb)
		.reduce((sum, { db, minutes }) => sum + (100 * minutes) / allowedMinutes(db, criterion), 0);
}

/**
 * Minutes at a level that make a dose of 100 %: T = 480/2^((L − Lc)/q), Lc the criterion, q the exchange rate.
 * Source: 29 CFR 1910.95 Appendix A, Table G-16a; NIOSH 98-126. 95 dB(A): 240 min by the first, 47.6 by the second.
 */
export function allowedMinutes(db: number, { criterionDb, exchangeDb }: NoiseCriterion): number {
	return 480 / 2 ** ((db - criterionDb) / exchangeDb);
}

/**
 * Time-weighted average level over 8 hours, dB(A): 16.61·lg(D/100) + 90 by 29 CFR 1910.95 Appendix A, 10·lg(D/100) + 85
 * by NIOSH 98-126. D above 0. A dose of 150 %: 92.9 dB(A) by the first.
 */
export function timeWeightedAverageDb(dosePercent: number, { criterionDb, dbPerTenfoldDose }: NoiseCriterion): number {
	return dbPerTenfoldDose * Math.log10(dosePercent / 100) + criterionDb;
}

const nothing: Estimate = { mid: 0, low: 0, high: 0 };

function statedLevel({ noiseDb, noiseKDb }: ToolItem): Estimate | null {
	if (noiseDb === undefined) return null;
	const k = noiseKDb ?? coefficient("declared", "noiseKDb").value;
	return { mid: noiseDb, low: noiseDb - k, high: noiseDb + k };
}

function averageOf({ mid, low, high }: Estimate, criterion: NoiseCriterion): Estimate | null {
	if (mid === 0) return null;
	const average = (dose: number) => timeWeightedAverageDb(dose, criterion);
	return roundedEstimate({ mid: average(mid), low: Math.max(0, average(low)), high: average(high) });
}
