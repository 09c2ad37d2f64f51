import table from "./data/coefficients.json" with { type: "json" };
import cost from "./data/cost.json" with { type: "json" };
import exposure from "./data/exposure.json" with { type: "json" };
import gloss from "./data/gloss.json" with { type: "json" };
import heat from "./data/heat.json" with { type: "json" };
import { logSigma } from "./spread.ts";

/** One row of the table of coefficients, which is kept in a data file for each part of the forecast. */
export interface Coefficient {
	/** Group and kind: `pad.foam-soft`. */
	key: string;
	value: number;
	/** The 95 % interval is the value times and divided by this; 1 where it is taken as exact. */
	spread: number;
	/** Empty for a ratio. */
	unit: string;
	title: string;
	source: string;
}

/** Every coefficient of the forecast with its spread. All are common practice, no source. */
export const coefficientTable: readonly Coefficient[] = [...table, ...gloss, ...heat, ...exposure, ...cost];

interface Figure {
	value: number;
	/** Standard deviation of the logarithm. */
	sigma: number;
}

const byGroup: Record<string, Record<string, Figure>> = {};
for (const { key, value, spread } of coefficientTable) {
	const [group = "", kind = ""] = key.split(".");
	byGroup[group] = { ...byGroup[group], [kind]: { value, sigma: logSigma(spread) } };
}

/**
 * The coefficient of a kind in a group of the table: `coefficient("pad", "foam-soft")`.
 *
 * @throws RangeError where the table has none
 */
export function coefficient(group: string, kind: string): Figure {
	const found = byGroup[group]?.[kind];
	if (found === undefined) throw new RangeError(`no coefficient "${group}.${kind}" in the table`);
	return found;
}
