import { leastSquares, varianceOfSum } from "./least-squares.ts";

/** What one panel trial says of the coefficients that its removal is a product of. */
export interface Observation {
	/** Places of those coefficients in the list of all. */
	coefficients: readonly number[];
	/** Removal with every coefficient at its prior middle, µm; more than 0. */
	midUm: number;
	/** Standard deviation of the logarithm of what is drawn anew for each trial: force, arm, range of work. */
	ownSigma: number;
	/** Mean reading before less mean reading after, µm; may be 0 or less. */
	differenceUm: number;
	/** Standard deviation of that difference, µm; more than 0. */
	errorUm: number;
}

/** The coefficients after the trials, as shifts of their logarithm from the prior middle. */
export interface Posterior {
	/** ln(posterior / prior middle), one a coefficient. */
	shifts: number[];
	/** A square root of their covariance: the shifts plus root·z, z standard normal, are a draw. */
	root: number[][];
	/** For each observation, by how many standard deviations it differs from what all the others and the prior let expect. */
	residuals: number[];
}

/**
 * Posterior of coefficients by Gauss–Newton, and normal about its mode in the logarithm (Laplace).
 *
 * Model: d = h·exp(Σθ + η) + e, h the removal at prior middles, θ ~ N(0, σ²) the shift of each coefficient, η ~ N(0, s²)
 * what is peculiar to the trial, e ~ N(0, u²) the error of the readings. Since e adds to the film and does not multiply
 * it, a difference at or below zero informs like any other.
 *
 * At f = h·exp(Σθ + η) a trial is, to first order, an observation of its Σθ with value Σθ + η + (d − f)/f and variance
 * s² + u²/f²; the prior is one more row a coefficient. Steps are halved until the sum of squares falls.
 * One trial with h = 3.5, d = 5 and u tiny, σ = s: half of ln(5/3.5) goes to the coefficient.
 *
 * @param sigmas prior standard deviation of the logarithm of each coefficient, more than 0
 */
export function posteriorOf(observations: readonly Observation[], sigmas: readonly number[]): Posterior {
	let state: State = { shifts: sigmas.map(() => 0), own: observations.map(() => 0) };
	let cost = costOf(state, observations, sigmas);
	for (let turn = 1; ; turn += 1) {
		const { to, root, residuals } = stepFrom(state, observations, sigmas);
		const better = improved(state, to, cost, observations, sigmas);
		if (better === null || cost - better.cost <= 1e-12 * cost || turn === mostTurns)
			return { shifts: state.shifts, root, residuals };
		({ state, cost } = better);
	}
}

/**
 * Trials need five to twenty. Readings hundreds of errors away from any removal creep on for thousands; they are far
 * outliers at whatever point the steps end.
 */
const mostTurns = 100;

interface State {
	shifts: number[];
	/** η of each observation. */
	own: number[];
}

interface Step {
	to: State;
	root: number[][];
	residuals: number[];
}

function stepFrom({ shifts, own }: State, observations: readonly Observation[], sigmas: readonly number[]): Step {
	const rows = sigmas.map((sigma, at) => sigmas.map((_, other) => (other === at ? 1 / sigma : 0)));
	const right = sigmas.map(() => 0);
	const seen = observations.map((one, at) => {
		const f = removalUm(one, shifts, own[at] ?? 0);
		const value = sumOf(one, shifts) + (own[at] ?? 0) + (one.differenceUm - f) / f;
		const variance = one.ownSigma ** 2 + (one.errorUm / f) ** 2;
		const weight = 1 / Math.sqrt(variance);
		rows.push(sigmas.map((_, coefficient) => (one.coefficients.includes(coefficient) ? weight : 0)));
		right.push(weight * value);
		return { one, value, variance };
	});
	const { solution, root } = leastSquares(rows, right);
	return {
		to: {
			shifts: solution,
			own: seen.map(({ one, value, variance }) => (one.ownSigma ** 2 / variance) * (value - sumOf(one, solution))),
		},
		root,
		// By the variance of the fitted value, which the observation itself has pulled, this is what leaving it out gives.
		residuals: seen.map(
			({ one, value, variance }) =>
				(value - sumOf(one, solution)) / Math.sqrt(variance - varianceOfSum(one.coefficients, root)),
		),
	};
}

/** The first point on the way to `to`, full step first, with a lower cost; null where there is none. */
function improved(
	from: State,
	to: State,
	cost: number,
	observations: readonly Observation[],
	sigmas: readonly number[],
): { state: State; cost: number } | null {
	const reach = Math.max(
		...[...to.shifts, ...to.own].map((end, at) => Math.abs(end - ([...from.shifts, ...from.own][at] ?? 0))),
	);
	// Readings far off any film would throw the first step to where the exponential is 0, and no slope leads back.
	for (let share = Math.min(1, 1 / reach); share > 1e-12; share /= 2) {
		const between = (start: number[], end: number[]) => start.map((one, at) => one + share * ((end[at] ?? 0) - one));
		const state = { shifts: between(from.shifts, to.shifts), own: between(from.own, to.own) };
		const found = costOf(state, observations, sigmas);
		if (found < cost) return { state, cost: found };
	}
	return null;
}

/** Twice the negative logarithm of the posterior density, less a constant. */
function costOf({ shifts, own }: State, observations: readonly Observation[], sigmas: readonly number[]): number {
	let cost = 0;
	for (const [at, sigma] of sigmas.entries()) cost += ((shifts[at] ?? 0) / sigma) ** 2;
	for (const [at, one] of observations.entries()) {
		const peculiar = own[at] ?? 0;
		if (one.ownSigma > 0) cost += (peculiar / one.ownSigma) ** 2;
		cost += ((one.differenceUm - removalUm(one, shifts, peculiar)) / one.errorUm) ** 2;
	}
	return cost;
}

function removalUm(one: Observation, shifts: readonly number[], own: number): number {
	return one.midUm * Math.exp(sumOf(one, shifts) + own);
}

function sumOf({ coefficients }: Pick<Observation, "coefficients">, shifts: readonly number[]): number {
	return coefficients.reduce((sum, at) => sum + (shifts[at] ?? 0), 0);
}
