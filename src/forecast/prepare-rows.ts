import type { Estimate } from "../model/generated/types.ts";
import type { IncompleteRow, ResolvedRow } from "../model/resolve.ts";
import { contactOf } from "./contact.ts";
import { coverageOf } from "./coverage.ts";
import { minutesOf, sumMinutes } from "./minutes.ts";
import type { Unknown } from "./outcome.ts";
import { edgePressureFactor, type Removal, removalOf } from "./removal.ts";
import { nothing, RemovalSum, type Taken, takenBy } from "./removal-sum.ts";
import { ownScratch } from "./scratches.ts";
import type { RowTerms } from "./row-terms.ts";
import { roundedEstimate } from "./spread.ts";

/** Rows with what they do, and what they take off together, before any situation is known. */
export interface PreparedRows {
	terms: readonly RowTerms[];
	/** Taken off at the worst point up to and with each row; null from the first row on of which it is not known. */
	worst: readonly (Taken | null)[];
	/** Taken off away from the spots by all rows; null where not known. */
	field: Taken | null;
	/** Taken off at an edge by the rows that work it freely and by edge strips; null where none does or one is not known. */
	edge: Taken | null;
	/** At most taken off at the worst point by the rows after each one, and last by all of them; null where no bound is known. */
	atMostAfter: readonly (Taken | null)[];
	atMost: Taken | null;
	minutes: Estimate | null;
	hasEdgeStrips: boolean;
}

const preparedRows = new WeakMap<readonly ResolvedRow[], PreparedRows>();

/**
 * Everything about rows that does not depend on the situation, computed once for each list of resolved rows.
 *
 * Three points are carried. The spot gets every row but edge strips; the field gets those whose place is a section, a
 * blend zone or the panel; the edge gets edge strips and the rows that work edges freely, at the pressure there. What
 * reaches the field reaches the spot, so the spot, where there is one, is always the worst point.
 */
export function prepareRows(rows: readonly ResolvedRow[]): PreparedRows {
	let prepared = preparedRows.get(rows);
	if (prepared === undefined) {
		prepared = prepareTerms(rows.map(termsOf));
		preparedRows.set(rows, prepared);
	}
	return prepared;
}

/** A row that takes off that much, in that time, where it meets a defect: what its work on an even film leaves open is known. */
export function withRemoval(terms: RowTerms, removal: Removal, minutes: Estimate | null): RowTerms {
	const { row } = terms;
	const atEdge = row.kind === "abrasive" || row.kind === "liquid" ? edgeRemoval(row, removal) : null;
	return {
		...terms,
		removal,
		atMost: removal,
		atEdge,
		taken: takenBy(removal),
		takenAtEdge: atEdge && takenBy(atEdge),
		minutes,
		unknown: terms.unknown.filter(
			({ quantity }) => quantity !== "removedUm" && (quantity !== "minutes" || minutes === null),
		),
	};
}

/** Whether a row works the worst point: every row but one on an edge strip. */
export function reachesWorst({ place }: ResolvedRow): boolean {
	return place !== "edge-strip";
}

/** The same of rows that work otherwise around a defect than on an even film. */
export function prepareTerms(terms: readonly RowTerms[]): PreparedRows {
	const cutting = terms.filter(({ cuts }) => cuts);
	const hasEdgeStrips = cutting.some(({ row }) => row.place === "edge-strip");
	const atEdge = cutting.filter(({ row }) => worksEdge(row, hasEdgeStrips));
	const atMost = backwards(terms);
	return {
		terms,
		worst: forwards(terms),
		field: together(
			cutting.filter(({ row }) => reachesWorst(row) && row.place !== "spot").map(({ removal }) => removal),
		),
		edge: atEdge.length === 0 ? null : together(atEdge.map((one) => (one.removal === null ? null : one.atEdge))),
		atMostAfter: atMost.slice(1),
		atMost: atMost[0] ?? null,
		minutes: sumMinutes(terms.map((one) => one.minutes)),
		hasEdgeStrips,
	};
}

function forwards(terms: readonly RowTerms[]): (Taken | null)[] {
	const sum = new RemovalSum();
	let known = true;
	return terms.map(({ row, cuts, removal }) => {
		if (cuts && reachesWorst(row)) {
			if (removal === null) known = false;
			else sum.add(removal);
		}
		return known ? sum.taken() : null;
	});
}

/** What each row and all after it take off at most, and nothing after the last one. */
function backwards(terms: readonly RowTerms[]): (Taken | null)[] {
	const sum = new RemovalSum();
	let known = true;
	const after: (Taken | null)[] = [sum.taken()];
	for (const { row, cuts, atMost } of terms.toReversed()) {
		if (cuts && reachesWorst(row)) {
			if (atMost === null) known = false;
			else sum.add(atMost);
		}
		after.push(known ? sum.taken() : null);
	}
	return after.toReversed();
}

function together(removals: readonly (Removal | null)[]): Taken | null {
	const sum = new RemovalSum();
	for (const removal of removals) {
		if (removal === null) return null;
		sum.add(removal);
	}
	return sum.taken();
}

/**
 * Whether a row works the edge: it does so freely, or the edge strip is its place. Where a procedure has edge strips, a
 * row that says nothing of edges is taken to run over them, for the film it costs as for the scratches it clears.
 */
export function worksEdge({ place, edges }: ResolvedRow, hasEdgeStrips: boolean): boolean {
	if (place === "edge-strip" || edges === "free") return true;
	return hasEdgeStrips && edges === null && place !== "spot";
}

/** A row that an edit has left alone is the same object, and does the same. */
const rowTerms = new WeakMap<ResolvedRow, RowTerms>();

function termsOf(row: ResolvedRow): RowTerms {
	let terms = rowTerms.get(row);
	if (terms === undefined) {
		terms = makeTerms(row);
		rowTerms.set(row, terms);
	}
	return terms;
}

function makeTerms(row: ResolvedRow): RowTerms {
	const cuts = isCutting(row);
	const coverage = row.kind === "abrasive" || row.kind === "liquid" ? coverageOf(row) : null;
	const found = minutesOf(row, coverage);
	const minutes = found !== null && Number.isFinite(found.high) ? roundedEstimate(found) : null;
	const unknown: Unknown[] = [];
	if (minutes === null) unknown.push(whyNoMinutes(row));
	if (row.kind !== "abrasive" && row.kind !== "liquid") {
		if (cuts) unknown.push(whyNoRemoval(row));
		const taken = cuts ? null : nothing;
		return {
			row,
			cuts,
			removal: null,
			atMost: null,
			atEdge: null,
			taken,
			takenAtEdge: null,
			own: null,
			contact: null,
			minutes,
			unknown,
		};
	}
	const atMost = coverage && finite(removalOf(row, coverage));
	const removal = row.work.unit === "until-flush" ? null : atMost;
	if (removal === null) unknown.push(whyNoRemoval(row));
	const atEdge = edgeRemoval(row, removal);
	return {
		row,
		cuts,
		removal,
		atMost,
		atEdge,
		taken: removal && takenBy(removal),
		takenAtEdge: atEdge && takenBy(atEdge),
		own: roundedEstimate(ownScratch(row)),
		contact: coverage && contactOf(row, coverage),
		minutes,
		unknown,
	};
}

/** Null where a figure of the row makes no sense, such as an overlap of 1: a rule names it, and nothing is made of it. */
function finite(removal: Removal): Removal | null {
	return Number.isFinite(removal.upperUm) && removal.lowUm >= 0 && removal.upperUm >= 0 ? removal : null;
}

function isCutting(row: ResolvedRow): boolean {
	if (row.kind === "incomplete") return mightCut(row);
	return row.kind === "abrasive" || row.kind === "liquid";
}

const fieldsOfCutting = ["abrasive", "liquid", "pad", "backing", "tool", "speed", "work"] as const;

/** A row that says neither its stage nor what it works with takes nothing off, as long as no field of a cut is filled. */
function mightCut({ would, step }: IncompleteRow): boolean {
	if (would !== null) return would === "abrasive" || would === "liquid";
	return fieldsOfCutting.some((field) => step[field] !== undefined || step.asTyped?.[field] !== undefined);
}

/** What the row takes off at an edge, unless it keeps off; on an edge strip whose edge is kept safe the pressure is even. */
function edgeRemoval(row: Extract<ResolvedRow, { hand: unknown }>, removal: Removal | null): Removal | null {
	if (removal === null) return null;
	const free = row.edges === "free";
	const strip = row.place === "edge-strip";
	const unsaid = row.edges === null && row.place !== "spot";
	if (!free && !strip && !unsaid) return null;
	const factor = strip && !free ? 1 : edgePressureFactor(row);
	return {
		...removal,
		lowUm: removal.lowUm * factor,
		midUm: removal.midUm * factor,
		upperUm: removal.upperUm * factor,
	};
}

function whyNoRemoval(row: ResolvedRow): Unknown {
	if ("hand" in row && row.work.unit === "until-flush")
		return { row, quantity: "removedUm", why: "until-flush", measure: "read-clear-after-row" };
	return { row, quantity: "removedUm", ...whyNoMotion(row) };
}

function whyNoMinutes(row: ResolvedRow): Unknown {
	if (row.kind === "wait") return { row, quantity: "minutes", why: "wait-without-minutes", measure: "time-one-row" };
	if ("work" in row && row.work.unit === "until-flush")
		return { row, quantity: "minutes", why: "until-flush", measure: "time-one-row" };
	return { row, quantity: "minutes", ...whyNoMotion(row) };
}

function whyNoMotion(row: ResolvedRow): Pick<Unknown, "why" | "measure"> {
	return "hand" in row && row.tool.driven && row.speed === null
		? { why: "dial-not-in-table", measure: "fill-dial-table" }
		: { why: "incomplete-row", measure: "fill-the-row" };
}
