import type { Estimate } from "../model/generated/types.ts";
import type { Hardness, Removal } from "./removal.ts";
import { z95 } from "./spread.ts";

/**
 * Film taken off by several rows together, with its 95 % interval to first order on the logarithm: the spread of a
 * family's coefficient and of the hardness is shared by all its rows, force and speed are drawn for each row.
 *
 * Variance of the total = Σ over families (Σh)²·σ_family² + (Σh)²·σ_hardness² + Σ h²·σ_row².
 */
export class RemovalSum {
	lowUm = 0;
	midUm = 0;
	upperUm = 0;
	private readonly perFamily = new Map<string, number>();
	private variance = 0;

	add({ lowUm, midUm, upperUm, family, familyVariance, rowVariance }: Removal): void {
		this.lowUm += lowUm;
		this.midUm += midUm;
		this.upperUm += upperUm;
		const before = this.perFamily.get(family) ?? 0;
		const after = before + midUm;
		this.perFamily.set(family, after);
		this.variance += (after * after - before * before) * familyVariance + midUm * midUm * rowVariance;
	}

	/** The sum as it stands. */
	taken(): Taken {
		const { lowUm, midUm, upperUm, variance } = this;
		return { lowUm, midUm, upperUm, variance: midUm === 0 ? 0 : variance / (midUm * midUm) };
	}
}

/** What is taken off normal clear, at middle coefficients; `variance` is that of its logarithm, hardness apart. */
export interface Taken {
	lowUm: number;
	midUm: number;
	upperUm: number;
	variance: number;
}

/** Nothing taken off. */
export const nothing: Taken = { lowUm: 0, midUm: 0, upperUm: 0, variance: 0 };

/** Removal by one row alone. */
export function takenBy({ lowUm, midUm, upperUm, familyVariance, rowVariance }: Removal): Taken {
	return { lowUm, midUm, upperUm, variance: familyVariance + rowVariance };
}

/** Standard deviation of the logarithm of what is taken off a clear of that hardness. */
export function takenSigma({ variance }: Taken, { sigma }: Hardness): number {
	return Math.sqrt(variance + sigma * sigma);
}

/** What is taken off a clear of that hardness: middle, and the interval over coefficients and range of work, in µm. */
export function takenUm(taken: Taken, hardness: Hardness): Estimate {
	const reach = Math.exp(z95 * takenSigma(taken, hardness));
	const { factor } = hardness;
	return { mid: taken.midUm * factor, low: (taken.lowUm * factor) / reach, high: taken.upperUm * factor * reach };
}
