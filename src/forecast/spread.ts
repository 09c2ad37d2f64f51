import type { Estimate } from "../model/generated/types.ts";

/** Standard deviations from the middle of a normal distribution to either end of its 95 % interval. */
export const z95 = 1.959963984540054;

/** Standard deviation of the logarithm of a quantity whose 95 % interval is its middle times and divided by `spread`. */
export function logSigma(spread: number): number {
	return Math.log(spread) / z95;
}

/** Middle and 95 % interval of a log-normal quantity; `low` and `high` are its middle at the ends of the work done. */
export function logNormal(mid: number, sigma: number, low = mid, high = mid): Estimate {
	return { mid, low: low * Math.exp(-z95 * sigma), high: high * Math.exp(z95 * sigma) };
}

/**
 * Probability that a standard normal quantity lies below `z`: Φ(z) = (1 + erf(z/√2))/2.
 *
 * erf by the rational approximation 7.1.26 of Abramowitz and Stegun, Handbook of Mathematical Functions (1964),
 * from memory; its error is below 1.5e-7 everywhere. Φ(1.96) = 0.975.
 */
export function normalBelow(z: number): number {
	const x = Math.abs(z) / Math.SQRT2;
	const t = 1 / (1 + 0.3275911 * x);
	const polynomial = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
	const tail = (polynomial * Math.exp(-x * x)) / 2;
	return z > 0 ? 1 - tail : tail;
}

/** A figure as it meets a limit and is handed out: rounded to 1e-6 of its unit, so that no limit turns on noise. */
export function rounded(value: number): number {
	// Adding zero turns -0 into 0.
	return Math.round(value * 1e6) / 1e6 + 0;
}

/** An estimate with each of its figures rounded as {@link rounded} does. */
export function roundedEstimate({ mid, low, high }: Estimate): Estimate {
	return { mid: rounded(mid), low: rounded(low), high: rounded(high) };
}

/** An estimate times a factor that is exact; null stays null. */
export function scaled(estimate: Estimate | null, factor: number): Estimate | null {
	return estimate && { mid: estimate.mid * factor, low: estimate.low * factor, high: estimate.high * factor };
}

/**
 * The sum of independent estimates, all in one unit: middles add, the parts of the intervals below and above them in
 * quadrature (law of propagation of uncertainty, JCGM 100:2008, 5.1.2, for each side).
 *
 * 3 (2–5) and 4 (3–8): 7 (5.6–11.5). Never below nothing. Null where one is not known.
 */
export function independentSum(estimates: readonly (Estimate | null)[]): Estimate | null {
	let mid = 0;
	let below = 0;
	let above = 0;
	for (const estimate of estimates) {
		if (estimate === null) return null;
		mid += estimate.mid;
		below += (estimate.mid - estimate.low) ** 2;
		above += (estimate.high - estimate.mid) ** 2;
	}
	return { mid, low: Math.max(0, mid - Math.sqrt(below)), high: mid + Math.sqrt(above) };
}

/**
 * A quantity computed from independent inputs: each is moved alone to either end of its interval, and the falls and
 * the rises that this brings are combined in quadrature. Never below nothing.
 *
 * For a product of positive inputs take `ratio`: falls and rises are then those of the logarithm, which is exact for
 * log-normal inputs: 2 (1–4) times 3 (3–3) is 6 (3–12). Source: first-order law of propagation of uncertainty, JCGM
 * 100:2008, 5.1.2, for each side. Good where the quantity is nearly straight, or nearly a power, over each interval.
 */
export function propagated(
	of: (...inputs: number[]) => number,
	inputs: readonly Estimate[],
	scale: "difference" | "ratio" = "difference",
): Estimate {
	const values = inputs.map((input) => input.mid);
	const mid = of(...values);
	const ratio = scale === "ratio" && mid > 0;
	const moved = (index: number, to: number) => {
		values[index] = to;
		const end = of(...values);
		return ratio ? Math.log(end / mid) : end - mid;
	};
	let below = 0;
	let above = 0;
	for (const [index, input] of inputs.entries()) {
		const one = moved(index, input.low);
		const other = moved(index, input.high);
		values[index] = input.mid;
		below += Math.min(0, one, other) ** 2;
		above += Math.max(0, one, other) ** 2;
	}
	if (ratio) return { mid, low: mid * Math.exp(-Math.sqrt(below)), high: mid * Math.exp(Math.sqrt(above)) };
	return { mid, low: Math.max(0, mid - Math.sqrt(below)), high: mid + Math.sqrt(above) };
}
