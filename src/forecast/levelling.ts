import type { Estimate } from "../model/generated/types.ts";
import type { HouseLimits } from "../model/limits.ts";
import type { AbrasiveRow, LiquidRow, ResolvedRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import { type Contact, stiffnessKpaPerUm } from "./contact.ts";
import { coverageOf } from "./coverage.ts";
import type { MetDefect } from "./met-defect.ts";
import type { Unknown } from "./outcome.ts";
import { reachesWorst, withRemoval } from "./prepare-rows.ts";
import type { Hardness, Removal } from "./removal.ts";
import type { RowTerms } from "./row-terms.ts";
import { logNormal, roundedEstimate, z95 } from "./spread.ts";

/** How a face bears on something that is not level with the film around it. */
export interface Grip {
	/** Mean pressure of the row, kPa. */
	pressureKpa: number;
	/** Extra pressure on it for each µm, kPa; see {@link stiffnessKpaPerUm}. */
	stiffnessKpaPerUm: number;
	/** The extra pressure goes no further than this, kPa. */
	mostExtraKpa: number;
	/** Share φ of the loaded area that it takes. */
	share: number;
}

/** What the rows make of a proud defect or a texture. */
export interface Levelled {
	/** The rows as they work around this defect. */
	terms: readonly RowTerms[];
	/** Height still proud after each row, µm; null where it is not known. */
	leftUm: (Estimate | null)[];
	/** Why it is not known, at the row from which on it is not. */
	unknown: Unknown[];
}

/**
 * The grip of a face on a bump or a texture of half-width a.
 *
 * The share is πa² over the face for a defect that stands alone, at most that of a texture, one half. The extra pressure
 * stays below 1 MPa, beyond which Preston's law is not taken to hold, and below p(1/φ − 1), where the peaks carry all of
 * the row's force and the valleys none.
 */
export function gripOn(contact: Contact, halfWidthMm: number, isWave: boolean): Grip {
	let ofContact = grips.get(contact);
	if (ofContact === undefined) {
		ofContact = { wave: new Map(), alone: new Map() };
		grips.set(contact, ofContact);
	}
	const known = isWave ? ofContact.wave : ofContact.alone;
	let grip = known.get(halfWidthMm);
	if (grip === undefined) {
		const ofTexture = coefficient("levelling", "textureShare").value;
		const share = isWave ? ofTexture : Math.min(ofTexture, (Math.PI * halfWidthMm ** 2) / contact.faceMm2);
		grip = {
			pressureKpa: contact.pressureKpa,
			stiffnessKpaPerUm: stiffnessKpaPerUm(contact, halfWidthMm),
			mostExtraKpa: Math.min(coefficient("levelling", "mostExtra").value, contact.pressureKpa * (1 / share - 1)),
			share,
		};
		known.set(halfWidthMm, grip);
	}
	return grip;
}

/** A row that an edit has left alone grips the same. */
const grips = new WeakMap<Contact, Record<"wave" | "alone", Map<number, Grip>>>();

/**
 * The grip over a hollow of half-width a: its bottom is pressed less by K for each µm of depth, and not at all once the
 * face bridges it. The film around takes the share of all of the face, so that it stays at the row's pressure.
 */
export function gripOver(contact: Contact, halfWidthMm: number): Grip {
	return {
		pressureKpa: contact.pressureKpa,
		stiffnessKpaPerUm: stiffnessKpaPerUm(contact, halfWidthMm),
		mostExtraKpa: contact.pressureKpa,
		share: 0,
	};
}

/**
 * Pressures on a bump and around it, kPa, by force balance: p_peak = p + K·H, φ·p_peak + (1 − φ)·p_valley = p.
 *
 * Texture of 4 µm, λ 3 mm, under foam of 0.1 MPa at 1.7 kPa: 2.04 on the peaks, 1.36 in the valleys.
 */
export function pressuresAt(heightUm: number, grip: Grip): { peakKpa: number; valleyKpa: number } {
	const extraKpa = Math.min(grip.stiffnessKpaPerUm * heightUm, grip.mostExtraKpa);
	return {
		peakKpa: grip.pressureKpa + extraKpa,
		valleyKpa: grip.pressureKpa - (grip.share * extraKpa) / (1 - grip.share),
	};
}

/**
 * Height left of a bump after work, µm: dH/dt = −k_defect·v·(p_peak − p_valley), integrated in closed form. While the
 * extra pressure is at its most the height falls straight, then as exp(−K·w/(1 − φ)).
 *
 * A nib of 20 µm, a = 0.3 mm, medium plate (4.24 kPa/µm), three passes of P1500 at half rate (1.036 µm/kPa): 0.25 µm.
 *
 * @param workUmPerKpa k_defect·v·τ: what the row takes off the defect for each kPa of pressure
 */
export function levelBump(heightUm: number, grip: Grip, workUmPerKpa: number): number {
	const work = workUmPerKpa / (1 - grip.share);
	const cornerUm = grip.mostExtraKpa / grip.stiffnessKpaPerUm;
	const straight = Math.max(0, heightUm - cornerUm) / grip.mostExtraKpa;
	if (work <= straight) return heightUm - grip.mostExtraKpa * work;
	return Math.min(heightUm, cornerUm) * Math.exp(-grip.stiffnessKpaPerUm * (work - straight));
}

/** The work, in µm per kPa, after which {@link levelBump} leaves `targetUm`; none where it is no higher already. */
export function workUntil(heightUm: number, targetUm: number, grip: Grip): number {
	if (heightUm <= targetUm) return 0;
	const cornerUm = grip.mostExtraKpa / grip.stiffnessKpaPerUm;
	const straight = Math.max(0, heightUm - Math.max(cornerUm, targetUm)) / grip.mostExtraKpa;
	const bent = Math.max(0, Math.log(Math.min(heightUm, cornerUm) / targetUm)) / grip.stiffnessKpaPerUm;
	return (straight + bent) * (1 - grip.share);
}

/**
 * Film that must come off around a hollow until no more than `clearedUm` of it is left, µm.
 *
 * A face that bridges it, or a hollow of which no width is known, costs its depth. A wide one under a soft face is cut
 * at its bottom, too: while K·D < p the depth falls by K·D for each p that the film around loses, which costs
 * (p/K)·ln(D/cleared). 10 µm deep, 10 mm wide, foam of 0.1 MPa at 1.7 kPa: p/K = 133 µm, so that it is never reached.
 */
export function filmToBottomUm(depthUm: number, grip: Grip | null, clearedUm: number): number {
	if (grip === null || depthUm <= clearedUm) return depthUm;
	return Math.max(depthUm, grip.pressureKpa * workUntil(depthUm, clearedUm, grip));
}

/**
 * How rows level a proud defect or a texture, row by row, at middle values and with a 95 % interval.
 *
 * The half-width stays as the defect comes down. k_defect is k, for a hard defect half of it; the softness of a carrier
 * acts on a bump through E*, so that its factor for an even film is not counted a second time. Around one that stands
 * alone the film loses k·v·p_valley; a texture's film is its mean, which loses k·v·p. A blade or file leaves a rest and
 * takes no film around it; clay takes deposits down. `until-flush` is the strokes to the height that counts as flush.
 *
 * The interval combines in quadrature what the height at the start makes of the end, and what all coefficients make of
 * it. Rows are taken to err together, which widens it. Sources: the functions above; coefficients are common practice.
 *
 * @param hardness of the clear; a defect that is not hard is as hard as the clear
 */
export function levelDefect(
	terms: readonly RowTerms[],
	met: MetDefect,
	hardness: Hardness,
	{ flushUm }: Pick<HouseLimits, "flushUm">,
): Levelled {
	const unknown: Unknown[] = [];
	let bump = met.um && new Bump(met.um, met.halfWidthMm);
	if (bump === null)
		unknown.push({ row: null, quantity: "defectLeftUm", why: "defect-without-depth", measure: "fill-the-depth" });
	const leftUm: Levelled["leftUm"] = [];
	const worked = terms.map((one) => {
		const { row } = one;
		let after = one;
		const rest = restAfter(row, met);
		if (rest !== null) {
			// However high it was: it is known again.
			bump ??= new Bump(even(Number.POSITIVE_INFINITY), met.halfWidthMm && even(met.halfWidthMm.mid));
			bump.fallTo(rest);
		} else if (bump !== null && one.cuts && reachesWorst(row)) {
			const found = workOn(one, bump, met, hardness, flushUm);
			if ("why" in found) {
				bump = null;
				unknown.push(found);
			} else after = found;
		}
		leftUm.push(bump && bump.estimate());
		return after;
	});
	const isAsEven = worked.every((one, index) => one === terms[index]);
	return { terms: isAsEven ? terms : worked, leftUm, unknown };
}

/**
 * The share of a row's removal that reaches the bottom of a hollow, row by row: 1 where the face bridges it, and where
 * no width is known. The depth falls by so much of what the film around loses.
 */
export function depthGained(terms: readonly RowTerms[], met: MetDefect, hardness: Hardness): number[] | null {
	if (met.um === null || met.halfWidthMm === null) return null;
	const { mid: halfWidthMm } = met.halfWidthMm;
	let depthUm = met.um.mid;
	return terms.map(({ row, removal, contact }) => {
		if (removal === null || contact === null || removal.midUm === 0 || !reachesWorst(row)) return 1;
		const lostUm = removal.midUm * hardness.factor;
		const left = levelBump(depthUm, gripOver(contact, halfWidthMm), lostUm / contact.pressureKpa);
		const share = (depthUm - left) / lostUm;
		depthUm = left;
		// Below the bottom the film is even again.
		return left < 1e-6 ? 1 : share;
	});
}

/** A defect on its way down, followed from the middle and the ends of its height, and of all coefficients together. */
class Bump {
	readonly middle: Readonly<Track>;
	readonly lowest: Readonly<Track>;
	readonly highest: Readonly<Track>;
	private readonly tracks: readonly [middle: Track, lowest: Track, highest: Track, fast: Track, slow: Track];

	constructor(um: Estimate, halfWidthMm: Estimate | null) {
		const track = (end: "mid" | "low" | "high", err: Track["err"]): Track => ({
			heightUm: um[end],
			halfWidthMm: halfWidthMm && halfWidthMm[end],
			err,
		});
		this.tracks = [track("mid", 0), track("low", 0), track("high", 0), track("mid", 1), track("mid", -1)];
		[this.middle, this.lowest, this.highest] = this.tracks;
	}

	/** Falls to a height that nothing leaves more of, such as the rest of a blade; where the defect is lower, it stays. */
	fallTo({ mid, low, high }: Estimate): void {
		for (const track of this.tracks) {
			const floorUm = track.err === 0 ? mid : track.err > 0 ? low : high;
			track.heightUm = Math.min(track.heightUm, floorUm);
		}
	}

	/** @param workUmPerKpa done on it: middle, and where all coefficients err to one side at either end of the row's work */
	work(contact: Contact, isWave: boolean, workUmPerKpa: Estimate): void {
		for (const track of this.tracks) {
			if (track.halfWidthMm === null) continue;
			const { err } = track;
			const work = err === 0 ? workUmPerKpa.mid : err > 0 ? workUmPerKpa.high : workUmPerKpa.low;
			// Far below the last digit of any figure there is nothing left to level.
			if (track.heightUm > 1e-9)
				track.heightUm = levelBump(track.heightUm, gripOn(contact, track.halfWidthMm, isWave), work);
		}
	}

	estimate(): Estimate {
		const [{ heightUm: mid }, ...ends] = this.tracks;
		let below = 0;
		let above = 0;
		for (const { heightUm } of ends) {
			if (heightUm < mid) below += (mid - heightUm) ** 2;
			else above += (heightUm - mid) ** 2;
		}
		return { mid, low: Math.max(0, mid - Math.sqrt(below)), high: mid + Math.sqrt(above) };
	}
}

interface Track {
	heightUm: number;
	readonly halfWidthMm: number | null;
	/** 1 where every coefficient errs towards fast work, −1 towards slow. */
	readonly err: -1 | 0 | 1;
}

/** What a blade or clay leaves standing, µm; null for a row that is neither, or does nothing to this defect. */
function restAfter(row: ResolvedRow, { deposit }: MetDefect): Estimate | null {
	const kind =
		row.kind === "blade" ? "bladeRest" : deposit && row.kind === "wipe" && row.wipe === "clay" ? "clayRest" : null;
	if (kind === null || !reachesWorst(row)) return null;
	const { value, sigma } = coefficient("levelling", kind);
	return logNormal(value, sigma);
}

/** A cutting row on the bump: lowers it, and hands back the row as it works the film around; or why that is not known. */
function workOn(terms: RowTerms, bump: Bump, met: MetDefect, hardness: Hardness, flushUm: number): RowTerms | Unknown {
	const { row, contact, atMost, removal } = terms;
	if (contact === null || atMost === null || (row.kind !== "abrasive" && row.kind !== "liquid"))
		return { row, quantity: "defectLeftUm", why: "incomplete-row", measure: "fill-the-row" };
	const { halfWidthMm } = bump.middle;
	if (halfWidthMm === null)
		return { row, quantity: "defectLeftUm", why: "defect-without-width", measure: "fill-the-width" };
	const hard = met.hard ? coefficient("levelling", "hardDefect") : { value: 1, sigma: 0 };
	const rates: Rates = {
		perUm: (hard.value * hardness.factor) / (contact.pressureKpa * contact.carrierFactor),
		// What the extra pressure on the defect turns on, and what all removal turns on.
		gripSigma: Math.sqrt(hard.sigma ** 2 + contact.modulusSigma ** 2 + met.widthSigma ** 2),
		cutSigma: Math.sqrt(atMost.familyVariance + atMost.rowVariance + hardness.sigma ** 2),
	};
	const { share } = gripOn(contact, halfWidthMm, met.isWave);
	// The middle of a texture's film sinks as if it were even.
	const sparedPerUm = met.isWave ? 0 : (share * contact.carrierFactor) / (hard.value * hardness.factor);
	if (row.work.unit === "until-flush")
		return workUntilFlush({ terms, row, contact, atMost }, bump, met, rates, sparedPerUm, flushUm);
	const before = bump.middle.heightUm;
	const { perUm, gripSigma, cutSigma } = rates;
	bump.work(
		contact,
		met.isWave,
		logNormal(
			atMost.midUm * perUm,
			Math.sqrt(gripSigma ** 2 + cutSigma ** 2),
			atMost.lowUm * perUm,
			atMost.upperUm * perUm,
		),
	);
	const sparedUm = sparedPerUm * (before - bump.middle.heightUm);
	if (removal === null || sparedUm < leastSparedUm) return terms;
	return withRemoval(terms, timesAs(removal, Math.max(0, 1 - sparedUm / atMost.midUm)), terms.minutes);
}

/** Film spared around a defect that is too little to count, µm: it is counted as lost, and the row as one on an even film. */
const leastSparedUm = 0.01;

interface Rates {
	/** Work on the defect, µm per kPa, for each µm that the row takes off an even normal clear. */
	perUm: number;
	gripSigma: number;
	cutSigma: number;
}

interface FlushRow {
	terms: RowTerms;
	row: AbrasiveRow | LiquidRow;
	contact: Contact;
	/** Removal by the most strokes that are taken to be done. */
	atMost: Removal;
}

/**
 * Strokes until flush, at most as many as the table says, else not known. What the film around loses meanwhile does not
 * turn on how fast the row cuts, only on how the defect is gripped.
 */
function workUntilFlush(
	{ terms, row, contact, atMost }: FlushRow,
	bump: Bump,
	{ isWave }: MetDefect,
	{ perUm, gripSigma, cutSigma }: Rates,
	sparedPerUm: number,
	flushUm: number,
): RowTerms | Unknown {
	const mostStrokes = coefficient("handling", "untilFlushStrokes").value;
	const perStrokeUm = atMost.midUm / mostStrokes;
	const feel = coefficient("levelling", "flushFeel");
	const target = logNormal(flushUm * feel.value, feel.sigma);
	const strokesFrom = ({ heightUm, halfWidthMm }: Readonly<Track>, targetUm: number) =>
		workUntil(heightUm, targetUm, gripOn(contact, halfWidthMm ?? 0, isWave)) / (perUm * perStrokeUm);
	const strokes = strokesFrom(bump.middle, target.mid);
	if (!(strokes <= mostStrokes))
		return { row, quantity: "defectLeftUm", why: "until-flush", measure: "read-clear-after-row" };
	const spread = (high: number, low: number) => (strokes === 0 ? 0 : (high - low) / (2 * z95 * strokes));
	const strokesSigma = Math.hypot(
		spread(strokesFrom(bump.highest, target.mid), strokesFrom(bump.lowest, target.mid)),
		spread(strokesFrom(bump.middle, target.low), strokesFrom(bump.middle, target.high)),
		gripSigma,
	);
	const sparedUm = sparedPerUm * Math.max(0, bump.middle.heightUm - target.mid);
	const aroundUm = Math.max(0, strokes * perStrokeUm - sparedUm);
	bump.fallTo(target);
	const seconds = coverageOf(row)?.seconds ?? 0;
	const minutes = logNormal(
		(strokes * seconds) / 60,
		Math.hypot(strokesSigma, cutSigma, coefficient("handling", "strokeSeconds").sigma),
	);
	return withRemoval(
		terms,
		{
			lowUm: aroundUm,
			midUm: aroundUm,
			upperUm: aroundUm,
			family: "until flush",
			familyVariance: 0,
			rowVariance: strokesSigma ** 2 + coefficient("handling", "force").sigma ** 2,
		},
		roundedEstimate(minutes),
	);
}

function timesAs(removal: Removal, factor: number): Removal {
	return {
		...removal,
		lowUm: removal.lowUm * factor,
		midUm: removal.midUm * factor,
		upperUm: removal.upperUm * factor,
	};
}

function even(mid: number): Estimate {
	return { mid, low: mid, high: mid };
}
