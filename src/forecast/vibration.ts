import type { Estimate, ToolItem } from "../model/generated/types.ts";
import type { HouseLimits } from "../model/limits.ts";
import { coefficient } from "./coefficients.ts";
import { type CarsOfDay, type ToolTime, toolTimes, untold } from "./day.ts";
import type { DayUnknown } from "./day-unknown.ts";
import { independentSum, logNormal, logSigma, propagated, rounded, roundedEstimate } from "./spread.ts";

/** Hand-arm vibration of one technician over a day. */
export interface Vibration {
	/** Daily exposure A(8), m/s². Null where a tool's vibration or time is not known. */
	a8Ms2: Estimate | null;
	/** The same as exposure points. */
	points: Estimate | null;
	/** A(8) of the tools whose vibration is stated, over the time that is known: the day has at least this. */
	a8AtLeastMs2: Estimate;
	tools: ToolVibration[];
	unknown: DayUnknown[];
}

/** What one driven tool adds to a day's vibration. */
export interface ToolVibration extends Pick<ToolTime, "kind" | "item" | "rows"> {
	/** Vibration total value, m/s²; null where the stock states none. */
	vibrationMs2: Estimate | null;
	/** Null where the time of a row is not known. */
	minutes: Estimate | null;
	points: Estimate | null;
	/** Minutes with this tool alone to the action and the limit value; more than 1,440 is more than a day. Null where its vibration is not known or nothing. */
	toActionMinutes: Estimate | null;
	toLimitMinutes: Estimate | null;
}

/**
 * Hand-arm vibration of a day: A(8) = √(Σ a²·T / 8 h) over the driven tools, a the vibration total value in the hand, T
 * the time with it.
 *
 * One car of one procedure is a day of one car. One technician holds every tool; the time is that of the rows' work.
 * Vibration is the figure that the stock declares, and its 95 % interval ends K above it and as many
 * times below; where no K is stated it is ×/÷ 1.4. Declared figures are often below what a hand gets in use. Driven tools named by kind only have no
 * figure: then the exposure is unknown, never nothing. Hand tools count as nothing.
 *
 * Source: ISO 5349-1:2001; Directive 2002/44/EC, Annex A. Sander 3.5 m/s² for 90 min, second sander 6 m/s² for 45 min,
 * polisher 2.5 m/s² for 120 min: A(8) 2.69 m/s², 115.75 points.
 */
export function vibrationOf(
	day: CarsOfDay,
	limits: Pick<HouseLimits, "vibrationActionMs2" | "vibrationLimitMs2">,
): Vibration {
	const times = toolTimes(day);
	const unknown = untold("vibration", times);
	const known: Estimate[] = [];
	const tools = times.tools.map(({ kind, item, rows, minutes, untimed }): ToolVibration => {
		const vibrationMs2 = item && statedVibration(item);
		if (vibrationMs2 === null) {
			for (const row of rows)
				unknown.push({ row, quantity: "vibration", why: "vibration-not-stated", measure: "fill-the-vibration" });
		}
		const points = vibrationMs2 && propagated(exposurePoints, [vibrationMs2, minutes], "ratio");
		if (points) known.push(points);
		return {
			kind,
			item,
			rows,
			vibrationMs2: vibrationMs2 && roundedEstimate(vibrationMs2),
			minutes: untimed.length === 0 ? roundedEstimate(minutes) : null,
			points: untimed.length === 0 && points ? roundedEstimate(points) : null,
			toActionMinutes: minutesWith(vibrationMs2, limits.vibrationActionMs2),
			toLimitMinutes: minutesWith(vibrationMs2, limits.vibrationLimitMs2),
		};
	});
	const knownPoints = independentSum(known) ?? nothing;
	const a8AtLeastMs2 = roundedEstimate(a8Of(knownPoints));
	const isKnown = unknown.length === 0;
	return {
		a8Ms2: isKnown ? a8AtLeastMs2 : null,
		points: isKnown ? roundedEstimate(knownPoints) : null,
		a8AtLeastMs2,
		tools,
		unknown,
	};
}

/**
 * On how many cars a day work of that exposure reaches a daily value, in fractions of a car: a car of 20 points reaches
 * 2.5 m/s² on the fifth. Points add, so n cars have n times those of one.
 *
 * @param points of one car
 * @returns null where they are not known, or may be nothing
 */
export function carsToReach(ms2: number, { points }: Pick<Vibration, "points">): Estimate | null {
	if (points === null || points.low === 0) return null;
	const whole = exposurePoints(ms2, dayMinutes);
	return roundedEstimate({ mid: whole / points.mid, low: whole / points.high, high: whole / points.low });
}

/**
 * Daily vibration exposure of one hand to several tools: A(8) = √(Σ a²·T / T₀), T₀ = 8 h, a = √(ax² + ay² + az²)
 * frequency-weighted, T in minutes.
 *
 * Source: ISO 5349-1:2001; Directive 2002/44/EC, Annex A. 4 m/s² for 150 min, 3 for 60, 20 for 15: 4.316 m/s².
 */
export function dailyExposureMs2(uses: readonly { ms2: number; minutes: number }[]): number {
	return Math.sqrt(uses.reduce((sum, { ms2, minutes }) => sum + ms2 * ms2 * minutes, 0) / dayMinutes);
}

/**
 * Exposure points: (a/2.5 m/s²)²·(T/8 h)·100 = 2·a² an hour. Points of several tools add; 100 are an A(8) of 2.5 m/s²,
 * 400 one of 5. Source: exposure-points system of the UK HSE. 5 m/s² for 180 min: 150 points.
 */
export function exposurePoints(ms2: number, minutes: number): number {
	return (2 * ms2 * ms2 * minutes) / 60;
}

/**
 * Minutes with one tool until its A(8) is that value: T = 8 h·(A/a)². From ISO 5349-1. 5 m/s² reaches 2.5 m/s² in 120
 * min; a tool without vibration never does.
 */
export function minutesToReach(a8Ms2: number, ms2: number): number {
	return dayMinutes * (a8Ms2 / ms2) ** 2;
}

const dayMinutes = 480;
const nothing: Estimate = { mid: 0, low: 0, high: 0 };

function statedVibration({ vibrationMs2, vibrationKMs2 }: ToolItem): Estimate | null {
	if (vibrationMs2 === undefined) return null;
	if (vibrationKMs2 === undefined) return logNormal(vibrationMs2, coefficient("declared", "vibration").sigma);
	if (vibrationMs2 === 0) return { mid: 0, low: 0, high: vibrationKMs2 };
	return logNormal(vibrationMs2, logSigma((vibrationMs2 + vibrationKMs2) / vibrationMs2));
}

function a8Of({ mid, low, high }: Estimate): Estimate {
	const a8 = (points: number) => dailyExposureMs2([{ ms2: Math.sqrt(points / 16), minutes: dayMinutes }]);
	return { mid: a8(mid), low: a8(low), high: a8(high) };
}

function minutesWith(vibrationMs2: Estimate | null, a8Ms2: number): Estimate | null {
	if (vibrationMs2 === null || vibrationMs2.mid === 0) return null;
	const { mid, low, high } = vibrationMs2;
	return {
		mid: rounded(minutesToReach(a8Ms2, mid)),
		low: rounded(minutesToReach(a8Ms2, high)),
		high: rounded(minutesToReach(a8Ms2, low)),
	};
}
