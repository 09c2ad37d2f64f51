import { type Figure, fitTrials } from "../forecast/trials.ts";
import { roundedEstimate } from "../forecast/spread.ts";
import type { NotUsable } from "../forecast/trials-work.ts";
import type { Estimate, Trial } from "../model/generated/types.ts";
import type { Shop } from "../model/shop.ts";
import type { Language } from "../model/words.ts";
import { coefficientInWords, familyInWords, notUsableInWords } from "./trials-words.ts";

/** What a shop's panel trials say, as it is handed out: flat, figures rounded, names in words. */
export interface TrialsReport {
	trials: {
		trial: string;
		on: string;
		/** The known work in kPa·m: removal in µm is this times the product of the coefficients of `keys`. */
		workKpaM: number;
		keys: string[];
		measuredUm: Estimate;
		priorUm: Estimate;
		posteriorUm: Estimate;
		/** In standard deviations. */
		residual: number;
		outlier: boolean;
	}[];
	/** Coefficients that the forecast draws as one: abrasive with carrier, liquid with pad; µm per kPa·m. */
	families: (FigureReport & { keys: string[] })[];
	/** The single coefficients, as in the default table; `posterior` is what the shop would put in its place. */
	coefficients: (FigureReport & { key: string })[];
	/** Root of the covariance of the logarithms of `coefficients`, in their order: root·rootᵀ. */
	root: number[][];
	notUsable: { trial: string; on: string; reason: NotUsable; message: string }[];
}

interface FigureReport {
	name: string;
	trials: number;
	/** `low` and `high` are `mid` divided and multiplied by `spread`. */
	prior: Figure;
	posterior: Figure;
}

/** The report of a shop's panel trials in a language. */
export function trialsReport(trials: readonly Trial[], shop: Shop, language: Language): TrialsReport {
	const fit = fitTrials(trials, shop);
	const both = ({ prior, posterior }: { prior: Figure; posterior: Figure }) => ({
		prior: roundedFigure(prior),
		posterior: roundedFigure(posterior),
	});
	return {
		trials: fit.trials.map(({ trial, workKpaM, keys, measuredUm, priorUm, posteriorUm, residual, isOutlier }) => ({
			trial: trial.id,
			on: trial.on,
			workKpaM: significant(workKpaM),
			keys,
			measuredUm: roundedEstimate(measuredUm),
			priorUm: roundedEstimate(priorUm),
			posteriorUm: roundedEstimate(posteriorUm),
			residual: significant(residual),
			outlier: isOutlier,
		})),
		families: fit.families.map((one) => ({
			name: familyInWords(one, language),
			keys: one.keys,
			trials: one.trials,
			...both(one),
		})),
		coefficients: fit.coefficients.map((one) => ({
			key: one.key,
			name: coefficientInWords(one.key, language),
			trials: one.trials,
			...both(one),
		})),
		root: fit.root.map((row) => row.map(significant)),
		notUsable: fit.notUsable.map(({ trial, reason }) => ({
			trial: trial.id,
			on: trial.on,
			reason,
			message: notUsableInWords(reason, language),
		})),
	};
}

function roundedFigure({ mid, low, high, spread }: Figure): Figure {
	return { mid: significant(mid), low: significant(low), high: significant(high), spread: significant(spread) };
}

/** To six significant digits: coefficients of liquids are thousandths of their unit. */
function significant(value: number): number {
	return Number(value.toPrecision(6));
}
