import type { AbrasiveRow, LiquidRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import { slidingSpeedMs, strokeSlideM } from "./kinematics.ts";

/** What one unit of a row's work (a pass, a stroke, a minute) does to a point of its place. */
export interface Coverage {
	/** Area of disc, pad or block in m². */
	faceM2: number;
	/** Sliding distance over the point, in m, averaged over the place. */
	slidM: number;
	/** Contact time of the point in s, averaged over the place. */
	contactS: number;
	/** Time that the work takes, in s. */
	seconds: number;
}

/**
 * Coverage of a row's place by one unit of its work; `until-flush` counts strokes.
 *
 * Lanes lie w = D·(1 − overlap) apart. One pass over the place S by a driven tool takes t₁ = S/(w·u), and a point is
 * in contact for τ₁ = A/(w·u) on average: 150 mm disc, lanes 75 mm, 0.05 m/s: 4.712 s (single points 3.0 to 5.2 s).
 * By hand a pass is one stroke over every point of each lane: a point slides 2·min(b, L)/(1 − overlap), and the pass
 * takes S/(L·a·(1 − overlap)) strokes, a the face across the stroke. Minutes are passes of t₁.
 * Strokes over a whole place are strokes of every point: by hand as many passes, driven two each, there and back.
 * On a spot (S < A) a pass and a stroke are one second of contact, or one stroke by hand, and minutes are minutes.
 *
 * Source: geometry, end turns ignored; a second per stroke and per pass on a spot is common practice, no source.
 * Null where the tool has no motion that can be told: an unread dial mark, or a cloth.
 */
export function coverageOf(row: AbrasiveRow | LiquidRow): Coverage | null {
	return row.tool.driven ? coverageDriven(row) : coverageByHand(row);
}

function coverageDriven({ tool, speed, hand, work, areaM2 }: AbrasiveRow | LiquidRow): Coverage | null {
	const speedMs = slidingSpeedMs(tool, speed);
	const { diameterMm } = tool;
	if (speedMs === null || diameterMm === null || hand.armSpeedMs === null) return null;
	const diameterM = diameterMm / 1000;
	const faceM2 = (Math.PI / 4) * diameterM ** 2;
	const sweptM2PerS = diameterM * (1 - hand.overlap) * hand.armSpeedMs;
	let contactS: number;
	let seconds: number;
	if (areaM2 < faceM2) {
		seconds = work.unit === "minutes" ? 60 : coefficient("handling", "strokeSeconds").value;
		contactS = seconds;
	} else {
		const passSeconds = areaM2 / sweptM2PerS;
		const passes = work.unit === "minutes" ? 60 / passSeconds : work.unit === "passes" ? 1 : 2;
		seconds = passes * passSeconds;
		contactS = (passes * faceM2) / sweptM2PerS;
	}
	return { faceM2, slidM: contactS * speedMs, contactS, seconds };
}

function coverageByHand({ tool, speed, hand, work, areaM2 }: AbrasiveRow | LiquidRow): Coverage | null {
	const { face } = tool;
	if (face === null) return null;
	const strokeSeconds =
		speed !== null && speed.unit === "spm" && speed.mid > 0
			? 60 / speed.mid
			: coefficient("handling", "strokeSeconds").value;
	const { alongMm, acrossMm, strokeMm } = face;
	const faceM2 = (alongMm * acrossMm) / 1e6;
	const slideM = strokeSlideM(face);
	if (areaM2 < faceM2) {
		const strokes = work.unit === "minutes" ? 60 / strokeSeconds : 1;
		return { faceM2, slidM: strokes * slideM, contactS: strokes * strokeSeconds, seconds: strokes * strokeSeconds };
	}
	const laneStrokes = areaM2 / ((strokeMm / 1000) * (acrossMm / 1000) * (1 - hand.overlap));
	const passSeconds = laneStrokes * strokeSeconds;
	const passes = work.unit === "minutes" ? 60 / passSeconds : 1;
	const seconds = passes * passSeconds;
	return {
		faceM2,
		slidM: (passes * slideM) / (1 - hand.overlap),
		contactS: (seconds * faceM2) / areaM2,
		seconds,
	};
}
