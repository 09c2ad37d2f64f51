import type { Substrate } from "../model/generated/types.ts";
import { type HeatLoad, heatLoads, type WorkEnd } from "./heat-loads.ts";
import { keptAfter, type PanelLayers, panelLayers, type StepResponse, stepResponse } from "./heat-response.ts";
import type { RowTerms } from "./row-terms.ts";

/** Temperatures that a row brings a point of the panel to. */
export interface Heated {
	/**
	 * Highest temperature of the surface while the tool is on the point, °C; of a row that leaves the point alone, that
	 * at its beginning.
	 */
	hottestC: number;
	/** Surface and mean of the panel under the film when the row is done and the tool just lifted, °C. */
	surfaceC: number;
	panelC: number;
}

/** Of a row, in the field and at an edge; null from the first row on whose load is not known. */
export interface RowHeat {
	field: Heated | null;
	/** At an edge as {@link heatLoads} carries it; a row that keeps off edges shows how the edge cools. */
	edge: Heated | null;
}

/**
 * Temperatures of surface and panel through the rows of a procedure, in order, at middle coefficients. One call for the
 * forecast; computed once for a list of terms, substrate, start and end of work, however many situations ask for it.
 *
 * Four passes of a rotary of 180 mm, 1,500 rpm, 30 N, on 0.25 m² from 23 °C, at the surface: steel 33, aluminium 34,
 * plastic 38, composite 35 °C.
 *
 * @param startC temperature of the panel before the first row, °C (of sun, oven, shop)
 * @param end limits are judged at the upper end of `work`
 */
export function heatOf(
	terms: readonly RowTerms[],
	substrate: Substrate,
	startC: number,
	end: WorkEnd,
): readonly RowHeat[] {
	let known = remembered.get(terms);
	if (known === undefined) {
		known = new Map();
		remembered.set(terms, known);
	}
	const key = `${substrate}|${startC}|${end}`;
	let heats = known.get(key);
	if (heats === undefined) {
		heats = makeHeats(terms, substrate, startC, end);
		known.set(key, heats);
	}
	return heats;
}

/**
 * Temperatures of one point through loads that follow each other without a pause.
 *
 * The problem is linear: each block of flux q from t₁ to t₂ adds q·(S(t − t₁) − S(t − t₂)) to the surface, S the step
 * response of the panel ({@link stepResponse}). S is a sum of exponentials, so that the sum over all blocks before is
 * carried as one figure a mode, which decays by exp(−λΔt) between blocks and is exact whatever their number.
 *
 * Conventions: the point is the last that each pass reaches, so that its block stands at the end of the pass's period,
 * and is covered evenly while the tool is over it. The air, and what stands behind an oven or in the sun, is as warm as
 * the panel at the start unless another temperature is given: temperatures are then the start's plus a rise that does not
 * depend on it, and a panel that started warm never cools below it. That is the safe side. A panel that starts otherwise
 * than the air is warmed through evenly.
 *
 * @param airC temperature of the air, °C
 */
export function heatAlong(
	loads: readonly HeatLoad[],
	panel: PanelLayers,
	startC: number,
	airC: number = startC,
): Heated[] {
	const response = stepResponse(panel);
	// Evenly warmed through by 1 K is what a steady flux of h·1 K comes to in the end, the back being insulated.
	const steady = panel.convectionWm2K * (startC - airC);
	const excess = response.surface.map((share) => steady * share);
	let isAtRest = steady === 0;
	let surfaceC = startC;
	return loads.map((load) => {
		const highest = load.fluxWm2 > 0 && load.blocks > 0 ? workOn(excess, load, response) : null;
		if (highest !== null) isAtRest = false;
		else if (!isAtRest) decay(excess, load.everyS * load.blocks, response);
		const hottestC = highest === null ? surfaceC : airC + highest;
		surfaceC = airC + sum(excess);
		return { hottestC, surfaceC, panelC: airC + weightedSum(excess, response.panelShare) };
	});
}

const remembered = new WeakMap<readonly RowTerms[], Map<string, readonly RowHeat[]>>();

function makeHeats(terms: readonly RowTerms[], substrate: Substrate, startC: number, end: WorkEnd): RowHeat[] {
	const loads = terms.map((one) => heatLoads(one, end));
	const panel = panelLayers(substrate);
	const field = heatAlong(untilUnknown(loads.map((one) => one.field)), panel, startC);
	const edge = heatAlong(untilUnknown(loads.map((one) => one.edge)), panel, startC);
	return terms.map((_, index) => ({ field: field[index] ?? null, edge: edge[index] ?? null }));
}

function untilUnknown(loads: readonly (HeatLoad | null)[]): HeatLoad[] {
	const known: HeatLoad[] = [];
	for (const load of loads) {
		if (load === null) break;
		known.push(load);
	}
	return known;
}

/** So many blocks are looked at one by one for the highest temperature; of more, these and the last. */
const blocksLookedAt = 64;

/** Carries `excess` through the blocks of a load. @returns the highest excess of the surface while the tool is on it */
function workOn(excess: Float64Array, load: HeatLoad, response: StepResponse): number {
	const { fluxWm2, blockS, everyS, blocks } = load;
	const { surface, atOnce } = response;
	const keptOffs = keptAfter(response, everyS - blockS);
	const keptOns = keptAfter(response, blockS);
	const whole = Math.floor(blocks);
	const more = Math.max(0, whole - blocksLookedAt);
	const afterBlock = new Float64Array(whole - more);
	// A point that comes hot into a gentle row is hottest where the tool first meets it.
	let met = 0;
	let last = 0;
	for (let mode = 0; mode < excess.length; mode += 1) {
		const keptOff = keptOffs[mode] as number;
		const keptOn = keptOns[mode] as number;
		const kept = keptOff * keptOn;
		const gained = fluxWm2 * (surface[mode] as number) * (1 - keptOn);
		let now = excess[mode] as number;
		met += now * keptOff;
		for (let block = 0; block < afterBlock.length; block += 1) {
			now = now * kept + gained;
			afterBlock[block] = (afterBlock[block] as number) + now;
		}
		if (more > 0) {
			const settled = gained / (1 - kept);
			now = settled + (now - settled) * kept ** more;
		}
		last += now;
		excess[mode] = now;
	}
	const highest = fluxWm2 * atOnce + (whole > 0 ? Math.max(met, last, ...afterBlock) : Number.NEGATIVE_INFINITY);
	const part = blocks - whole;
	if (part === 0) return highest;
	const partial = { fluxWm2, blockS: blockS * part, everyS: everyS * part, blocks: 1 };
	return Math.max(highest, workOn(excess, partial, response));
}

function decay(excess: Float64Array, seconds: number, response: StepResponse): void {
	if (seconds === 0) return;
	const kept = keptAfter(response, seconds);
	for (let mode = 0; mode < excess.length; mode += 1) excess[mode] = (excess[mode] as number) * (kept[mode] as number);
}

function sum(figures: Float64Array): number {
	let total = 0;
	for (const figure of figures) total += figure;
	return total;
}

function weightedSum(figures: Float64Array, weights: Float64Array): number {
	let total = 0;
	for (let at = 0; at < figures.length; at += 1) total += (figures[at] as number) * (weights[at] as number);
	return total;
}
