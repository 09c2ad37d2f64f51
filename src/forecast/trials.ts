import type { Estimate, Trial } from "../model/generated/types.ts";
import type { Shop } from "../model/shop.ts";
import { coefficient } from "./coefficients.ts";
import { varianceOfSum } from "./least-squares.ts";
import { logNormal, z95 } from "./spread.ts";
import { type Posterior, posteriorOf } from "./trials-posterior.ts";
import { type NotUsable, type TrialWork, trialWork } from "./trials-work.ts";

/** What the panel trials of a shop say of the coefficients of its removal. */
export interface TrialsFit {
	/** Coefficients that at least one trial informs, in the order in which the trials first use them. */
	coefficients: FittedCoefficient[];
	/**
	 * What the trials leave open, for all coefficients together: ln(coefficient / posterior middle) = root·z, z standard
	 * normal, is a draw, and root·rootᵀ the covariance. Where only their product was tried, two coefficients are each
	 * wide and together narrow; their intervals alone do not tell.
	 */
	root: number[][];
	/** Coefficient families, as the forecast draws them, that at least one trial has worked with. */
	families: FittedFamily[];
	trials: FittedTrial[];
	notUsable: { trial: Trial; reason: NotUsable }[];
}

/** A figure and its 95 % interval as a ratio. */
export interface Figure extends Estimate {
	/** `low` and `high` are `mid` divided and multiplied by this. */
	spread: number;
}

export interface FittedCoefficient {
	/** Its key in the table of coefficients. */
	key: string;
	/** Number of trials that inform it. */
	trials: number;
	/** As in the default table. */
	prior: Figure;
	/** With the trials: what the shop would put into its own figures. */
	posterior: Figure;
}

export interface FittedFamily {
	/** As in the forecast: the carrier, or the liquid with its pad. */
	family: string;
	/** The coefficients whose product this is. */
	keys: string[];
	trials: number;
	/** µm per kPa·m on clear of normal hardness; for abrasives at P1500, dry and fresh. */
	prior: Figure;
	posterior: Figure;
}

export interface FittedTrial {
	trial: Trial;
	/** The coefficients whose product, times `workKpaM`, is the removal in µm. */
	keys: string[];
	workKpaM: number;
	/** Mean before less mean after, with the error of the readings, µm. */
	measuredUm: Estimate;
	/** What the same work done once more would take off by the default table, µm. */
	priorUm: Estimate;
	/** The same with the trials, µm. */
	posteriorUm: Estimate;
	/** By how many standard deviations the trial differs from what the other trials and the table let expect. */
	residual: number;
	/** Its residual is beyond {@link outlierBeyond}. It counts all the same, until a person takes it out. */
	isOutlier: boolean;
}

/**
 * A trial whose residual is beyond this is named as an outlier: by chance one trial in 370 is. Common practice, no
 * source.
 */
export const outlierBeyond = 3;

/**
 * Learns the removal coefficients of a shop from its panel trials.
 *
 * Reading difference = product of coefficients × known work + error ({@link posteriorOf}). The coefficients are those
 * of the default table: rate of abrasives and carrier, or liquid and pad, and the hardness of the clear coat where it is
 * named. Each is log-normal about its value in the table. The spread that the table gives a removal coefficient is that
 * of the family, liquid with pad or abrasive with carrier, so each of the two has half of its variance: without any
 * trial the interval is the one the forecast draws. What one trial says of a liquid thus reaches its other pads, too.
 *
 * Force, arm speed and ranges of speed and work are peculiar to each trial, so ten trials done alike are worth more than
 * ten readings of one. Trials never change the default table; the fit starts from it each time.
 */
export function fitTrials(trials: readonly Trial[], shop: Shop): TrialsFit {
	const works: { trial: Trial; work: TrialWork; keys: string[] }[] = [];
	const notUsable: TrialsFit["notUsable"] = [];
	for (const trial of trials) {
		const work = trialWork(trial, shop);
		if ("why" in work) notUsable.push({ trial, reason: work });
		else works.push({ trial, work, keys: keysOf(work) });
	}
	const keys = [...new Set(works.flatMap((one) => one.keys))];
	const priors = keys.map(priorOf);
	const placesOf = (some: readonly string[]) => some.map((key) => keys.indexOf(key));
	const posterior = posteriorOf(
		works.map(({ work, keys: own }) => ({
			coefficients: placesOf(own),
			midUm: work.midUm,
			ownSigma: work.ownSigma,
			differenceUm: work.measured.differenceUm.mid,
			errorUm: work.measured.errorUm,
		})),
		priors.map(({ sigma }) => sigma),
	);
	const productOf = (some: readonly string[]) => product(placesOf(some), priors, posterior);
	const counted = (has: (work: TrialWork, keys: string[]) => boolean) =>
		works.filter((one) => has(one.work, one.keys)).length;

	return {
		coefficients: keys.map((key) => ({
			key,
			trials: counted((_, own) => own.includes(key)),
			...figures(productOf([key])),
		})),
		root: posterior.root,
		families: [...new Map(works.map(({ work }) => [work.family, work.familyKeys]))].map(([family, own]) => ({
			family,
			keys: own,
			trials: counted((work) => work.family === family),
			...figures(productOf(own)),
		})),
		trials: works.map(({ trial, work, keys: own }, at) => {
			const { prior, after } = productOf(own);
			const again = ({ value, sigma }: LogNormal) => logNormal(value * work.workKpaM, Math.hypot(sigma, work.ownSigma));
			const residual = posterior.residuals[at] ?? 0;
			return {
				trial,
				keys: own,
				workKpaM: work.workKpaM,
				measuredUm: work.measured.differenceUm,
				priorUm: again(prior),
				posteriorUm: again(after),
				residual,
				isOutlier: Math.abs(residual) > outlierBeyond,
			};
		}),
		notUsable,
	};
}

/** A log-normal quantity: its middle, and the standard deviation of its logarithm. */
interface LogNormal {
	value: number;
	sigma: number;
}

function keysOf({ familyKeys, hardnessKey }: TrialWork): string[] {
	return hardnessKey === null ? familyKeys : [...familyKeys, hardnessKey];
}

function priorOf(key: string): LogNormal {
	const [group = "", kind = ""] = key.split(".");
	const { value, sigma } = coefficient(group, kind);
	return { value, sigma: group === "hardness" ? sigma : sigma * Math.SQRT1_2 };
}

function product(
	places: readonly number[],
	priors: readonly LogNormal[],
	{ shifts, root }: Posterior,
): { prior: LogNormal; after: LogNormal } {
	const prior = { value: 1, sigma: 0 };
	let shift = 0;
	for (const at of places) {
		prior.value *= priors[at]?.value ?? 1;
		prior.sigma = Math.hypot(prior.sigma, priors[at]?.sigma ?? 0);
		shift += shifts[at] ?? 0;
	}
	return {
		prior,
		after: { value: prior.value * Math.exp(shift), sigma: Math.sqrt(varianceOfSum(places, root)) },
	};
}

function figures({ prior, after }: { prior: LogNormal; after: LogNormal }): { prior: Figure; posterior: Figure } {
	const figure = ({ value, sigma }: LogNormal): Figure => ({
		...logNormal(value, sigma),
		spread: Math.exp(z95 * sigma),
	});
	return { prior: figure(prior), posterior: figure(after) };
}
