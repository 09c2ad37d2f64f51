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
