import type { Estimate, Procedure, Substrate } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import { heatOf, type RowHeat } from "./heat.ts";
import { heatLoads, type WorkEnd } from "./heat-loads.ts";
import type { Unknown } from "./outcome.ts";
import { prepareRows } from "./prepare-rows.ts";
import type { RowTerms } from "./row-terms.ts";
import { rounded, z95 } from "./spread.ts";

/** Highest surface temperature of a row, °C. Null is unknown, never cool. */
export interface RowHottest {
	row: ResolvedRow;
	/** Of a row that takes no heat in, that at its beginning. */
	hottestC: Estimate | null;
	/** The same at an edge; null too for a row that does not work one. Where nothing is said of edges it is shown, not judged. */
	edgeHottestC: Estimate | null;
}

/** The same at middle coefficients and the upper end of `work`: what the limits judge. */
export interface RowUpper {
	row: ResolvedRow;
	hottestC: number | null;
	edgeHottestC: number | null;
}

/**
 * How hot the surface gets through the rows of a procedure on one substrate: the temperatures of `heatOf` with intervals.
 * They start from the panel temperature of the set-up, which is the highest that the procedure allows, else from 23 °C.
 *
 * The rise over the start is proportional to friction and force, so that its interval is times and divided by the two
 * spreads in quadrature, about the low, middle and high end of `work`. Thickness of the panel and cooling by the air are
 * left out of it: at their usual spread they move the rise less than friction does. All is from what the rows do on an
 * even film, so that it is the same for every defect. Each part is made when first asked for.
 */
export class PanelHeat {
	/** Panel before the first row, °C, and whether the procedure says so. */
	readonly startC: number;
	readonly isStartStated: boolean;
	private readonly applying: readonly ResolvedRow[];
	private readonly terms: readonly RowTerms[];
	private readonly substrate: Substrate | undefined;
	private madeUpper: readonly RowUpper[] | null = null;
	private madeRows: readonly RowHottest[] | null = null;

	/** @param substrate undefined where the scope names none; then nothing is known */
	constructor(rows: readonly ResolvedRow[], substrate: Substrate | undefined, setUp: Procedure["setUp"]) {
		this.isStartStated = setUp?.panelC !== undefined;
		this.startC = setUp?.panelC ?? coefficient("heat", "startC").value;
		this.applying = rows;
		this.terms = prepareRows(rows).terms;
		this.substrate = substrate;
	}

	/** What the limits judge, one entry a row that applies, in order. */
	get upper(): readonly RowUpper[] {
		this.madeUpper ??= this.makeUpper();
		return this.madeUpper;
	}
	/** One entry a row that applies, in order. */
	get rows(): readonly RowHottest[] {
		this.madeRows ??= this.makeRows();
		return this.madeRows;
	}

	/** The highest of all rows in the field; null where that of a row is not known. */
	get hottestC(): Estimate | null {
		return this.isKnown ? highest(this.rows.map(({ hottestC }) => hottestC)) : null;
	}

	/** The highest at an edge of the rows that work one; null too where none does. */
	get edgeHottestC(): Estimate | null {
		return this.isKnown ? highest(this.rows.map(({ edgeHottestC }) => edgeHottestC)) : null;
	}

	/** Why it is not known. */
	get unknown(): Unknown[] {
		if (this.substrate === undefined)
			return [{ row: null, quantity: "hottestC", why: "no-substrate", measure: "name-the-substrate" }];
		// From that row on nothing is known, and mending it tells.
		const first = this.terms.find((one) => heatLoads(one, "high").field === null);
		if (first === undefined) return [];
		const { why, measure } = first.unknown.find(({ quantity }) => quantity === "removedUm") ?? incomplete;
		return [{ row: first.row, quantity: "hottestC", why, measure }];
	}

	private get isKnown(): boolean {
		return this.rows.every(({ hottestC }) => hottestC !== null);
	}

	private heats(end: WorkEnd): readonly RowHeat[] {
		return this.substrate === undefined ? [] : heatOf(this.terms, this.substrate, this.startC, end);
	}

	private makeUpper(): RowUpper[] {
		const heats = this.heats("high");
		return this.terms.map((one, index) => ({
			row: one.row,
			hottestC: celsius(heats, index, "field"),
			edgeHottestC: worksEdge(one) ? celsius(heats, index, "edge") : null,
		}));
	}

	private makeRows(): RowHottest[] {
		const { startC } = this;
		const high = this.heats("high");
		// Most procedures give no range, and then all ends are the same.
		const isRange = this.applying.some((row) => "work" in row && row.work.low !== row.work.high);
		const mid = isRange ? this.heats("mid") : high;
		const low = isRange ? this.heats("low") : high;
		const estimate = (index: number, point: "field" | "edge"): Estimate | null => {
			const midC = celsius(mid, index, point);
			const lowC = celsius(low, index, point);
			const highC = celsius(high, index, point);
			if (midC === null || lowC === null || highC === null) return null;
			return {
				mid: midC,
				low: rounded(startC + (lowC - startC) / riseSpread),
				high: rounded(startC + (highC - startC) * riseSpread),
			};
		};
		return this.terms.map((one, index) => ({
			row: one.row,
			hottestC: estimate(index, "field"),
			edgeHottestC: worksEdge(one) ? estimate(index, "edge") : null,
		}));
	}
}

const incomplete = { why: "incomplete-row", measure: "fill-the-row" } as const;

/** The rise's 95 % interval is its middle times and divided by this: 1.4 of friction and 1.3 of force make 1.54. */
const riseSpread = Math.exp(
	z95 * Math.hypot(coefficient("heat", "friction").sigma, coefficient("handling", "force").sigma),
);

function celsius(heats: readonly RowHeat[], index: number, point: "field" | "edge"): number | null {
	const heated = heats[index]?.[point];
	return heated ? rounded(heated.hottestC) : null;
}

function worksEdge(terms: RowTerms): boolean {
	return (heatLoads(terms, "high").edge?.fluxWm2 ?? 0) > 0;
}

/** Highest middle and highest ends; null where no row has any. */
function highest(all: readonly (Estimate | null)[]): Estimate | null {
	const known = all.filter((one) => one !== null);
	if (known.length === 0) return null;
	return {
		mid: Math.max(...known.map(({ mid }) => mid)),
		low: Math.max(...known.map(({ low }) => low)),
		high: Math.max(...known.map(({ high }) => high)),
	};
}
