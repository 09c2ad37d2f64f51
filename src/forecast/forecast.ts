import type { Estimate, Procedure } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import type { Situation } from "../model/situations.ts";
import { filmLeft, leastLeft, startAndStop, startFilm } from "./film.ts";
import { depthGained, filmToBottomUm, gripOver, levelDefect } from "./levelling.ts";
import { isProud, isSunk, type MetDefect, metDefect } from "./met-defect.ts";
import type { Forecast, RowOutcome, Unknown } from "./outcome.ts";
import { type PreparedRows, prepareRows, prepareTerms, reachesWorst, worksEdge } from "./prepare-rows.ts";
import { type Hardness, hardnessOf } from "./removal.ts";
import { nothing, type Taken, takenUm } from "./removal-sum.ts";
import type { RowTerms } from "./row-terms.ts";
import { type Scratched, walkScratches } from "./scratches.ts";
import { rounded, roundedEstimate } from "./spread.ts";

/** What a forecast is made from. Of the situation it reads the defect and the clear coat only. */
export interface ForecastInput {
	procedure: Pick<Procedure, "scope" | "film">;
	/** The rows that apply in the situation, in order. */
	rows: readonly ResolvedRow[];
	situation: Pick<Situation, "defect" | "clearCoat">;
	shop: Pick<Shop, "book" | "limits">;
}

/**
 * What the rows do to the panel in one situation, at middle coefficients and with 95 % intervals. Every figure is
 * rounded to 1e-6 of its unit.
 *
 * Rows done only `if-needed` count as done: limits must hold on the panel that needs them. Repeats of `ifNot` are left
 * out. What cannot be told is null, said in `unknown`, and spoils what rests on it, never the rest.
 */
export function forecastOf({ procedure, rows, situation, shop }: ForecastInput): Forecast {
	const { clearCoat } = situation;
	const { limits } = shop;
	const hardness = hardnessOf(clearCoat);
	const met = metDefect({ procedure, situation, shop });
	const even = prepareRows(rows);
	const levelled = met !== null && isProud(met) ? levelDefect(even.terms, met, hardness, limits) : null;
	const prepared = levelled === null || levelled.terms === even.terms ? even : prepareTerms(levelled.terms);
	const found = startFilm({ procedure, clearCoat, limits, prepared });
	const start = "mid" in found ? found : null;
	const least = leastLeft({ procedure, clearCoat, limits });
	const depth = met !== null && isSunk(met) ? (met.um ?? "unknown") : null;
	const gained = met !== null && depth !== null ? depthGained(prepared.terms, met, hardness) : null;
	const scratches = scratchesAfter(prepared, depth, hardness, limits.scratchClearedUm, gained);

	const unknown: Unknown[] = [];
	if (!("mid" in found)) unknown.push({ row: null, quantity: "filmLeftUm", ...found });
	if (depth === "unknown")
		unknown.push({ row: null, quantity: "scratchUm", why: "defect-without-depth", measure: "fill-the-depth" });
	unknown.push(...(levelled?.unknown ?? []));
	let filmLeftUm = start && roundedEstimate(start);
	let scratchUm: Estimate | null = depth === "unknown" ? null : roundedEstimate(depth ?? zero);
	const defectUm = levelled === null && depth === null ? null : met && met.um && roundedEstimate(met.um);
	let defectLeftUm = defectUm;
	const outcomes = prepared.terms.map((terms, index): RowOutcome => {
		const { row, cuts, taken, takenAtEdge, atMost, own, contact, minutes } = terms;
		const whyNot = terms.unknown.find(({ quantity }) => quantity === "removedUm");
		unknown.push(...terms.unknown);
		if (cuts) {
			const removedSoFar = prepared.worst[index] ?? null;
			const before = { filmLeftUm, scratchUm };
			filmLeftUm = start && removedSoFar && roundedEstimate(filmLeft(start, takenUm(removedSoFar, hardness)));
			const depthUm = scratches[index]?.depthUm ?? null;
			scratchUm = depthUm && roundedEstimate(depthUm);
			if (whyNot && before.filmLeftUm && !filmLeftUm) unknown.push({ ...whyNot, quantity: "filmLeftUm" });
			if (whyNot && before.scratchUm && !scratchUm) unknown.push({ ...whyNot, quantity: "scratchUm" });
		}
		const { from = null, notClearedChance = null, defectUm: depthUm = null } = scratches[index] ?? {};
		const leftUm = levelled === null ? depthUm : (levelled.leftUm[index] ?? null);
		defectLeftUm = leftUm && roundedEstimate(leftUm);
		return {
			row,
			cuts,
			removedUm: cuts ? taken && roundedEstimate(takenUm(taken, hardness)) : zero,
			removedUpperUm: cuts ? atMost && rounded(atMost.upperUm * hardness.factor) : 0,
			edgeRemovedUm: takenAtEdge && roundedEstimate(takenUm(takenAtEdge, hardness)),
			filmLeftUm,
			scratchUm,
			ownScratchUm: own,
			scratchFrom: from,
			notClearedChance: notClearedChance === null ? null : rounded(notClearedChance),
			defectLeftUm,
			curves: contact && contact.curves,
			minutes,
		};
	});

	const { field, edge, minutes } = prepared;
	const removed = prepared.terms.length === 0 ? nothing : (prepared.worst.at(-1) ?? null);
	const leastAfter = (taken: Taken | null) =>
		start && taken && rounded(Math.max(0, start.mid - taken.upperUm * hardness.factor));
	return {
		rows: outcomes,
		startUm: start && roundedEstimate(start),
		defectUm,
		toBottomUm: depth === null || met === null ? null : toBottom(met, prepared.terms, limits.scratchClearedUm),
		...least,
		mostTakenUm: (clearCoat && limits.mostTakenUm[clearCoat]) ?? null,
		totals: {
			removedUm: removed && roundedEstimate(takenUm(removed, hardness)),
			removedUpperUm: removed && rounded(removed.upperUm * hardness.factor),
			filmLeftUm,
			filmLeftLeastUm: leastAfter(removed),
			fieldLeftUm: start && field && roundedEstimate(filmLeft(start, takenUm(field, hardness))),
			edgeLeftLeastUm: leastAfter(edge),
			scratchUm,
			defectLeftUm,
			minutes: minutes && roundedEstimate(minutes),
		},
		...startAndStop({ procedure, limits, prepared }, least.leastLeftUm, hardness),
		unknown,
	};
}

const zero: Estimate = { mid: 0, low: 0, high: 0 };

/** Film that must come off to reach the bottom of a sunk defect, by the row that takes off most. */
function toBottom({ um, halfWidthMm }: MetDefect, terms: readonly RowTerms[], clearedUm: number): Estimate | null {
	if (um === null) return null;
	let most: RowTerms | null = null;
	for (const one of terms)
		if (one.contact !== null && (one.removal?.midUm ?? 0) > (most?.removal?.midUm ?? 0)) most = one;
	const grip = most?.contact && halfWidthMm && gripOver(most.contact, halfWidthMm.mid);
	return roundedEstimate({
		mid: filmToBottomUm(um.mid, grip ?? null, clearedUm),
		low: filmToBottomUm(um.low, grip ?? null, clearedUm),
		high: filmToBottomUm(um.high, grip ?? null, clearedUm),
	});
}

/**
 * The scratches after each row: those at the spot where there is one, else of the field, and those on an edge strip,
 * whichever are deeper. A row of another place polishes the edge strip unless it tapes edges or keeps off them.
 */
function scratchesAfter(
	{ terms, hasEdgeStrips }: PreparedRows,
	depth: Estimate | "unknown" | null,
	hardness: Hardness,
	clearedUm: number,
	gained: readonly number[] | null,
): Scratched[] {
	const worst = walkScratches(terms, depth, reachesWorst, hardness, clearedUm, gained);
	if (!hasEdgeStrips) return worst;
	const strip = walkScratches(terms, null, reachesEdgeStrip, hardness, clearedUm);
	return worst.map((one, index) => deeper(one, strip[index] ?? one));
}

/**
 * A spot runs over some of an edge strip, which costs film there, but clears no scratch of all of it. Edges done by hand
 * are polished, too; the hand spares them, so that their film is not judged.
 */
function reachesEdgeStrip(row: ResolvedRow): boolean {
	return row.place !== "spot" && (row.edges === "by-hand" || worksEdge(row, true));
}

function deeper(one: Scratched, other: Scratched): Scratched {
	const notClearedChance =
		one.notClearedChance === null || other.notClearedChance === null
			? (one.notClearedChance ?? other.notClearedChance)
			: Math.max(one.notClearedChance, other.notClearedChance);
	const { defectUm } = one;
	if (one.depthUm === null || other.depthUm === null) return { depthUm: null, from: null, notClearedChance, defectUm };
	return {
		depthUm: {
			mid: Math.max(one.depthUm.mid, other.depthUm.mid),
			low: Math.max(one.depthUm.low, other.depthUm.low),
			high: Math.max(one.depthUm.high, other.depthUm.high),
		},
		from: one.depthUm.mid >= other.depthUm.mid ? one.from : other.from,
		notClearedChance,
		defectUm,
	};
}
