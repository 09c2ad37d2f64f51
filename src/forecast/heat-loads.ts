import type { AbrasiveRow, LiquidRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import { type Coverage, coverageOf } from "./coverage.ts";
import { reachesWorst } from "./prepare-rows.ts";
import { edgePressureFactor, pressureKpa } from "./removal.ts";
import type { RowTerms } from "./row-terms.ts";

/**
 * What a row does to one point of the panel: blocks of friction, one for each pass, each at the end of its period. A row
 * that leaves the point alone is one period without flux.
 */
export interface HeatLoad {
	/** Friction power over area while the tool is on the point, W/m². */
	fluxWm2: number;
	/** Time on the point in one pass, τ₁, s. */
	blockS: number;
	/** Time of one pass over the place, t₁, s; not less than τ₁. */
	everyS: number;
	/** Passes; a part of one counts as that part of its block and its period. */
	blocks: number;
}

/** Loads of a row on the two points that are carried; null where it is not known. */
export interface RowLoads {
	/** At the worst point of the field, the spot where there is one. */
	field: HeatLoad | null;
	/** At an edge, at the pressure there. */
	edge: HeatLoad | null;
}

/** Which end of the range of `work` is done; limits are judged at the upper one. */
export type WorkEnd = "low" | "mid" | "high";

/**
 * Loads of a row, computed once for each. The worst point of the field gets every row but those on edge strips. The edge
 * gets edge strips and every row that does not keep off edges; one that says nothing of them is taken to run over them,
 * so that its figure can be shown. Where a row does not reach, its minutes pass without flux.
 *
 * A wait without minutes, and any other row that takes no heat in and of whose time nothing is known, counts as no time:
 * the panel is then no cooler than shown. Work until flush is the most strokes.
 */
export function heatLoads(terms: RowTerms, end: WorkEnd): RowLoads {
	const known = remembered[end].get(terms);
	if (known !== undefined) return known;
	const loads = makeLoads(terms, end);
	remembered[end].set(terms, loads);
	return loads;
}

/**
 * Friction power over area under a tool: q = µ·p·v in W/m², all of it taken into the panel, which is the most there can
 * be. µ 0.5 (common practice, no source); p = F/A the mean pressure, v the mean sliding speed while in contact.
 *
 * µ 0.3, 30 N, 150 mm, 10.472 m/s: 5,333 W/m², as `friction_power` of the references. A rotary as it is usually set:
 * 5,556 W/m². Valid for a dry or oily film of liquid; where a liquid dries up, or a pad grabs, µ may be higher.
 */
export function frictionFluxWm2(friction: number, kpa: number, slidingMs: number): number {
	return friction * kpa * 1000 * slidingMs;
}

/** By terms, which are one object for an unchanged row. */
const remembered: Record<WorkEnd, WeakMap<RowTerms, RowLoads>> = {
	low: new WeakMap(),
	mid: new WeakMap(),
	high: new WeakMap(),
};

function makeLoads({ row, cuts, minutes }: RowTerms, end: WorkEnd): RowLoads {
	if (row.kind !== "abrasive" && row.kind !== "liquid") {
		// A row that would cut if it were complete may heat by any amount.
		const load = cuts ? null : idle((minutes?.mid ?? 0) * 60);
		return { field: load, edge: load };
	}
	const load = frictionLoad(row, end);
	if (load === null) return { field: null, edge: null };
	const away = idle(load.everyS * load.blocks);
	const factor = pressureAtEdge(row);
	return {
		field: reachesWorst(row) ? load : away,
		edge: factor === null ? away : { ...load, fluxWm2: load.fluxWm2 * factor },
	};
}

/**
 * The pressure at an edge over that in the field as this row works it; null for a row that keeps off edges. On an edge
 * strip whose edge is not worked freely the pressure is even.
 */
function pressureAtEdge(row: AbrasiveRow | LiquidRow): number | null {
	if (row.edges === "free") return edgePressureFactor(row);
	if (row.place === "edge-strip") return 1;
	return row.edges === null && row.place !== "spot" ? edgePressureFactor(row) : null;
}

function idle(seconds: number): HeatLoad {
	return { fluxWm2: 0, blockS: 0, everyS: seconds, blocks: 1 };
}

function frictionLoad(row: AbrasiveRow | LiquidRow, end: WorkEnd): HeatLoad | null {
	const unit = coverageOf(row);
	// Strokes and minutes over a whole place are so many passes, each a block of its own.
	const pass = row.work.unit === "passes" ? unit : coverageOf({ ...row, work: { ...row.work, unit: "passes" } });
	if (unit === null || pass === null) return null;
	const units = row.work.unit === "until-flush" ? coefficient("handling", "untilFlushStrokes").value : row.work[end];
	if (units === null) return null;
	const fluxWm2 = frictionFluxWm2(
		coefficient("heat", "friction").value,
		pressureKpa(row.hand.forceN, pass),
		pass.slidM / pass.contactS,
	);
	const passes = (units * unit.seconds) / pass.seconds;
	const load = { fluxWm2, ...blocksOf(pass, passes) };
	return Object.values(load).every((figure) => Number.isFinite(figure) && figure >= 0) ? load : null;
}

/** On a spot the tool never leaves the point: all passes are one block. */
function blocksOf({ contactS, seconds }: Coverage, passes: number): Omit<HeatLoad, "fluxWm2"> {
	if (contactS < seconds) return { blocks: passes, blockS: contactS, everyS: seconds };
	return { blocks: 1, blockS: passes * seconds, everyS: passes * seconds };
}
