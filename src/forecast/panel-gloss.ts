import type { Tone } from "../model/generated/types.ts";
import type { HouseLimits } from "../model/limits.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import { type Gloss, glossOf, type Haze, hazeOf, leavesTrail } from "./gloss.ts";
import type { Forecast, RowOutcome } from "./outcome.ts";

/** How the panel looks after a row, wiped clean. */
export interface RowGloss extends Gloss {
	row: ResolvedRow;
}

/**
 * Gloss after each row, from its deepest scratch; null where that is not known. Made once for each forecast, when first
 * asked for.
 */
export function glossAfterRows({ rows }: Forecast): readonly (RowGloss | null)[] {
	let gloss = known.get(rows);
	if (gloss === undefined) {
		const bySize = new Map<string, Gloss>();
		gloss = rows.map(({ row, scratchUm }) => {
			if (scratchUm === null) return null;
			// Rows that do not cut leave the gloss as they find it.
			const size = `${scratchUm.mid}|${scratchUm.low}|${scratchUm.high}`;
			const same = bySize.get(size) ?? glossOf(scratchUm);
			bySize.set(size, same);
			return { row, ...same };
		});
		known.set(rows, gloss);
	}
	return gloss;
}

/**
 * Haze after a row on a colour of that tone, the directional marks of a rotary counted as a trail; null where no tone is
 * named or the scratches are not known.
 */
export function hazeAfter(
	outcome: RowOutcome,
	tone: Tone | undefined,
	limits: Pick<HouseLimits, "hazeVisible">,
): Haze | null {
	const { scratchUm, scratchFrom } = outcome;
	if (scratchUm === null || tone === undefined) return null;
	let hazes = knownHazes.get(outcome);
	if (hazes === undefined) {
		hazes = new Map();
		knownHazes.set(outcome, hazes);
	}
	// A metallic or pearl colour returns as much as the plain one.
	const key = `${tone.replace("-effect", "")}|${limits.hazeVisible}`;
	let haze = hazes.get(key);
	if (haze === undefined) {
		haze = hazeOf({ depthUm: scratchUm, isTrail: leavesTrail(scratchFrom), tone }, limits);
		hazes.set(key, haze);
	}
	return haze;
}

const knownHazes = new WeakMap<RowOutcome, Map<string, Haze | null>>();
const known = new WeakMap<readonly RowOutcome[], readonly (RowGloss | null)[]>();
