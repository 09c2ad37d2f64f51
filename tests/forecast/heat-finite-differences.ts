import type { HeatLoad } from "../../src/forecast/heat-loads.ts";
import type { PanelLayers } from "../../src/forecast/heat-response.ts";

/** Surface and mean of the panel in K over the air. */
export interface Excess {
	surfaceK: number;
	panelK: number;
}

/**
 * One point of a panel by finite volumes, cell by cell and step by step, from the temperature of the air: every layer in
 * equal cells, backward Euler in time (first order in the step, second in the cell). Knows nothing of modes.
 */
export class FiniteDifferences {
	private readonly capacity: number[];
	private readonly between: number[];
	private readonly toSurface: number;
	private readonly convection: number;
	private readonly panelCells: number;
	private readonly excess: number[];

	constructor({ layers, convectionWm2K }: PanelLayers, cellsOfLayer: readonly number[], startK = 0) {
		const cells = layers.flatMap(({ thicknessM, conductivityWmK, densityKgM3, specificHeatJkgK }, index) => {
			const count = cellsOfLayer[index] ?? 1;
			const widthM = thicknessM / count;
			const cell = {
				capacity: densityKgM3 * specificHeatJkgK * widthM,
				halfResistance: widthM / 2 / conductivityWmK,
			};
			return Array.from({ length: count }, () => cell);
		});
		this.capacity = cells.map(({ capacity }) => capacity);
		this.between = cells.slice(1).map((cell, index) => 1 / (cell.halfResistance + (cells[index]?.halfResistance ?? 0)));
		this.toSurface = 1 / (cells[0]?.halfResistance ?? 0);
		this.convection = convectionWm2K;
		this.panelCells = cellsOfLayer[layers.length - 1] ?? 1;
		this.excess = cells.map(() => startK);
	}

	/** Lets the flux act for a time in so many steps. */
	run(fluxWm2: number, seconds: number, steps: number): Excess {
		for (let step = 0; step < steps; step += 1) this.advance(fluxWm2, seconds / steps);
		return this.now(fluxWm2);
	}

	/** Heat in the panel and its film, J/m². */
	storedJm2(): number {
		return this.excess.reduce((sum, one, cell) => sum + one * (this.capacity[cell] ?? 0), 0);
	}

	private now(fluxWm2: number): Excess {
		const panel = this.excess.slice(-this.panelCells);
		return {
			surfaceK: this.surface(fluxWm2, this.excess[0] ?? 0),
			panelK: panel.reduce((sum, one) => sum + one, 0) / panel.length,
		};
	}

	/** The surface has no mass: what comes in goes into the air and the first cell. */
	private surface(fluxWm2: number, first: number): number {
		return (fluxWm2 + this.toSurface * first) / (this.toSurface + this.convection);
	}

	/** One step: the tridiagonal system solved by elimination. */
	private advance(fluxWm2: number, seconds: number): void {
		const { capacity, between, toSurface, convection, excess } = this;
		const share = toSurface / (toSurface + convection);
		const scaled: number[] = [];
		const right: number[] = [];
		for (let cell = 0; cell < excess.length; cell += 1) {
			const above = between[cell - 1] ?? 0;
			const below = between[cell] ?? 0;
			const held = (capacity[cell] ?? 0) / seconds;
			const loss = cell === 0 ? share * convection : 0;
			const pivot = held + above + below + loss - above * (scaled[cell - 1] ?? 0);
			scaled.push(below / pivot);
			const source = cell === 0 ? share * fluxWm2 : 0;
			right.push((held * (excess[cell] ?? 0) + source + above * (right[cell - 1] ?? 0)) / pivot);
		}
		let after = 0;
		for (let cell = excess.length - 1; cell >= 0; cell -= 1) {
			after = (right[cell] ?? 0) + (scaled[cell] ?? 0) * after;
			excess[cell] = after;
		}
	}
}

/** The loads of one point, in steps of at most `stepS`; the highest excess after any block, and what is left at the end. */
export function alongByFiniteDifferences(
	loads: readonly HeatLoad[],
	panel: PanelLayers,
	cellsOfLayer: readonly number[],
	stepS: number,
): { highestK: number; end: Excess } {
	const point = new FiniteDifferences(panel, cellsOfLayer);
	let highestK = 0;
	let end: Excess = { surfaceK: 0, panelK: 0 };
	const run = (flux: number, seconds: number) => point.run(flux, seconds, Math.ceil(seconds / stepS));
	for (const { fluxWm2, blockS, everyS, blocks } of loads) {
		for (let left = blocks; left > 0; left -= 1) {
			const part = Math.min(1, left);
			if (everyS > blockS) end = run(0, (everyS - blockS) * part);
			if (blockS > 0) {
				highestK = Math.max(highestK, run(fluxWm2, blockS * part).surfaceK);
				end = run(0, 1e-9);
			}
		}
	}
	return { highestK, end };
}
