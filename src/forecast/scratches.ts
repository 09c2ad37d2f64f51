import type { Estimate } from "../model/generated/types.ts";
import type { AbrasiveRow, LiquidRow, ResolvedRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import type { Hardness, Removal } from "./removal.ts";
import { RemovalSum, takenSigma, takenUm } from "./removal-sum.ts";
import type { RowTerms } from "./row-terms.ts";
import { logNormal, normalBelow, z95 } from "./spread.ts";

/** The scratches at a point after a row. */
export interface Scratched {
	/** Depth of the deepest in µm; null where it is not known. */
	depthUm: Estimate | null;
	/** Row that left the deepest; null where it is the defect itself, there is none, or it is not known. */
	from: ResolvedRow | null;
	/** Probability that what was there before the row is deeper than cleared after it; null where the row does not cut or it is not known. */
	notClearedChance: number | null;
	/** Depth left of the defect where it is a scratch itself, µm; null where it is none, or it is not known. */
	defectUm: Estimate | null;
}

/**
 * Depth of the scratch that a row itself leaves, in µm: β·d50 for an abrasive, β by what stands behind it; for a liquid
 * its residual × factor of the pad. P1500 on a firm plate: 0.135 × 12.6 = 1.70 µm.
 *
 * Common practice, no source: no neutral source gives a ratio for clear coat.
 */
export function ownScratch(row: AbrasiveRow | LiquidRow): Estimate {
	if (row.kind === "liquid") {
		const { value, sigma } = coefficient("residual", row.liquid.class);
		return logNormal(value * coefficient("residualPad", row.pad.kind).value, sigma);
	}
	const { value, sigma } = coefficient("scratch", behindGrain(row));
	return logNormal(value * row.abrasive.medianUm, sigma);
}

/**
 * The scratches at one point, row by row: after a row max(r, before − h), r its own scratch and h what it takes off.
 *
 * Each scratch is followed from the row that left it, with the interval of its own depth and of all that was taken off
 * since in quadrature, until it cannot be deeper than a newer one any more.
 *
 * @param start depth of the defect where it is a scratch itself; null where it is none, `"unknown"` where nothing says it
 * @param reaches whether a row works this point
 * @param clearedUm house limit of a scratch that counts as cleared; a row cannot do better than its own scratch
 * @param gained share of each row's removal that a wide defect loses in depth; null where all of it
 */
export function walkScratches(
	terms: readonly RowTerms[],
	start: Estimate | "unknown" | null,
	reaches: (row: ResolvedRow) => boolean,
	hardness: Hardness,
	clearedUm: number,
	gained: readonly number[] | null = null,
): Scratched[] {
	const defect = start === null ? null : new Scratch(null, start === "unknown" ? null : start);
	let live: Scratch[] = defect === null ? [] : [defect];
	let state = stateOf(live, null, defect);
	return terms.map(({ row, cuts, removal, own }, index) => {
		if (!cuts || !reaches(row)) {
			return state.notClearedChance === null ? state : { ...state, notClearedChance: null };
		}
		for (const scratch of live) if (scratch !== defect) scratch.work(removal, hardness);
		defect?.work(removal && reaching(removal, gained?.[index] ?? 1), hardness);
		const chance = chanceAbove(Math.max(clearedUm, own?.mid ?? 0), live, hardness);
		const floorUm = own?.low ?? 0;
		live = live.filter(({ mostUm }) => mostUm > floorUm);
		live.push(new Scratch(row, own));
		state = stateOf(live, own === null ? null : chance, defect);
		return state;
	});
}

/** A scratch, from the row that left it on. */
class Scratch {
	readonly from: ResolvedRow | null;
	/** Depth left in µm; null where not known. */
	depthUm: Estimate | null;
	/** It is not deeper than this, in µm. */
	mostUm: number;
	private readonly madeUm: Estimate | null;
	private readonly since = new RemovalSum();

	constructor(from: ResolvedRow | null, madeUm: Estimate | null) {
		this.from = from;
		this.madeUm = madeUm;
		this.depthUm = madeUm;
		this.mostUm = madeUm?.high ?? Number.POSITIVE_INFINITY;
	}

	/** A row works over it; where its removal is not known, the scratch is no deeper than before, and how deep is not known. */
	work(removal: RowTerms["removal"], hardness: Hardness): void {
		const known = removal !== null && this.depthUm !== null;
		if (removal !== null) this.since.add(removal);
		if (this.madeUm === null) return;
		const made = this.madeUm;
		const gone = takenUm(this.since.taken(), hardness);
		const mid = made.mid - gone.mid;
		this.mostUm = mid + Math.hypot(made.high - made.mid, gone.mid - gone.low);
		this.depthUm = known
			? {
					mid: Math.max(0, mid),
					low: Math.max(0, mid - Math.hypot(made.mid - made.low, gone.high - gone.mid)),
					high: Math.max(0, this.mostUm),
				}
			: null;
	}

	/**
	 * Probability that it is deeper than `limitUm`: r > limit + G, both log-normal, the logarithm of the right side
	 * taken to first order.
	 */
	chanceAbove(limitUm: number, hardness: Hardness): number | null {
		if (this.depthUm === null || this.madeUm === null) return null;
		const { mid, high } = this.madeUm;
		if (mid <= 0) return 0;
		const gone = this.since.taken();
		const goneUm = gone.midUm * hardness.factor;
		const madeSigma = Math.log(high / mid) / z95;
		const sigma = Math.hypot(madeSigma, (takenSigma(gone, hardness) * goneUm) / (limitUm + goneUm));
		const distance = Math.log(mid / (limitUm + goneUm));
		return sigma === 0 ? (distance > 0 ? 1 : 0) : normalBelow(distance / sigma);
	}
}

function reaching(removal: Removal, share: number): Removal {
	if (share === 1) return removal;
	const { lowUm, midUm, upperUm } = removal;
	return { ...removal, lowUm: lowUm * share, midUm: midUm * share, upperUm: upperUm * share };
}

function stateOf(live: readonly Scratch[], notClearedChance: number | null, defect: Scratch | null): Scratched {
	const defectUm = defect?.depthUm ?? null;
	let deepest: Scratch | null = null;
	const depthUm = { mid: 0, low: 0, high: 0 };
	for (const scratch of live) {
		const { depthUm: one } = scratch;
		if (one === null) return { depthUm: null, from: null, notClearedChance, defectUm };
		if (one.mid > depthUm.mid || (one.mid === depthUm.mid && one.mid > 0)) deepest = scratch;
		depthUm.mid = Math.max(depthUm.mid, one.mid);
		depthUm.low = Math.max(depthUm.low, one.low);
		depthUm.high = Math.max(depthUm.high, one.high);
	}
	return { depthUm, from: deepest?.from ?? null, notClearedChance, defectUm };
}

/** The deepest decides: scratches share most of their spread, so that their chances do not add up. */
function chanceAbove(limitUm: number, live: readonly Scratch[], hardness: Hardness): number | null {
	let chance = 0;
	for (const scratch of live) {
		const one = scratch.chanceAbove(limitUm, hardness);
		if (one === null) return null;
		chance = Math.max(chance, one);
	}
	return chance;
}

function behindGrain({ abrasive, backing, interfaceMm }: AbrasiveRow): string {
	if (abrasive.carrier === "foam") return "foam-disc";
	if (interfaceMm > 0) return "interface";
	return backing?.kind ?? "bare-hand";
}
