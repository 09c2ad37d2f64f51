import type { Estimate, Trial } from "../model/generated/types.ts";
import type { AbrasiveRow, LiquidRow, ResolvedRow, StepField } from "../model/resolve.ts";
import { resolveRows } from "../model/resolve.ts";
import { type Shop, stockItem } from "../model/shop.ts";
import { coefficient } from "./coefficients.ts";
import { coverageOf } from "./coverage.ts";
import { hardnessOf, removalOf } from "./removal.ts";
import { z95 } from "./spread.ts";

/** The known work of a panel trial, by the default table, and what was read. */
export interface TrialWork {
	/** The coefficient family of the row, as the forecast draws it: the carrier, or the liquid with its pad. */
	family: string;
	/** The two coefficients whose product the family's is. */
	familyKeys: string[];
	/** Hardness of the clear coat; null where none is named, which then counts as peculiar to the trial. */
	hardnessKey: string | null;
	/** Removal at default coefficients, µm. */
	midUm: number;
	/** What that is for each unit of the coefficients' product: pressure × sliding distance × grain, wetness and wear, kPa·m. */
	workKpaM: number;
	/** Standard deviation of the logarithm of what is peculiar to one trial. */
	ownSigma: number;
	measured: Measured;
}

/** What the gauge says a trial took off. */
export interface Measured {
	/** Mean before less mean after, with the 95 % interval of its error, µm. May be 0 or less. */
	differenceUm: Estimate;
	/** Standard deviation of that error, µm. */
	errorUm: number;
}

/** Why a trial says nothing of the coefficients. */
export type NotUsable =
	| { why: "unknown-stock"; field: StepField | "gauge"; text: string }
	| { why: "incomplete-row"; missing: StepField[] }
	| { why: "takes-nothing-off" | "until-flush" | "dial-not-in-table" | "no-work" }
	| { why: "no-readings"; when: "before" | "after" | "both" }
	| { why: "gauge-unsuited"; gauge: string; substrate: NonNullable<Trial["substrate"]> };

/** What a trial's row would take off by the default table, and what was read; or why that cannot be told. */
export function trialWork(trial: Trial, shop: Shop): TrialWork | NotUsable {
	const row = resolveRows({ steps: [trial.step] }, shop)[0];
	if (row === undefined || (row.kind !== "abrasive" && row.kind !== "liquid")) return whyNotCutting(row);
	if (row.work.unit === "until-flush") return { why: "until-flush" };
	const coverage = coverageOf(row);
	if (coverage === null)
		return row.tool.driven && row.speed === null
			? { why: "dial-not-in-table" }
			: { why: "incomplete-row", missing: ["tool"] };
	const measured = measuredBy(trial, shop);
	if ("why" in measured) return measured;

	const { family, midUm: normalUm, rowVariance } = removalOf(row, coverage);
	const hardness = hardnessOf(trial.clearCoat);
	const midUm = normalUm * hardness.factor;
	if (!(Number.isFinite(midUm) && midUm > 0)) return { why: "no-work" };
	const familyKeys = familyKeysOf(row);
	const variance = rowVariance + workVariance(row) + (trial.clearCoat === undefined ? hardness.sigma ** 2 : 0);
	return {
		family,
		familyKeys,
		hardnessKey: trial.clearCoat === undefined ? null : `hardness.${trial.clearCoat}`,
		midUm,
		workKpaM: midUm / familyKeys.reduce((product, key) => product * valueOf(key), hardness.factor),
		ownSigma: Math.sqrt(variance),
		measured,
	};
}

/** The value of a coefficient in the default table, by its key. */
function valueOf(key: string): number {
	const [group = "", kind = ""] = key.split(".");
	return coefficient(group, kind).value;
}

function whyNotCutting(row: ResolvedRow | undefined): NotUsable {
	if (row?.kind !== "incomplete") return { why: "takes-nothing-off" };
	const [unknown] = row.unknownRefs;
	if (unknown !== undefined) return { why: "unknown-stock", ...unknown };
	if (row.unknownGrade !== null) return { why: "unknown-stock", field: "abrasive", text: row.unknownGrade.text };
	return { why: "incomplete-row", missing: row.missing };
}

function familyKeysOf(row: AbrasiveRow | LiquidRow): string[] {
	return row.kind === "liquid"
		? [`liquid.${row.liquid.class}`, `pad.${row.pad.kind}`]
		: ["abrasive.rate", `carrier.${row.abrasive.carrier ?? "film"}`];
}

/** Anywhere in the range of work set down is equally likely: a uniform spread, to first order in the logarithm. */
function workVariance({ work: { low, mid, high } }: AbrasiveRow | LiquidRow): number {
	return low === null || mid === null || high === null || mid === 0 ? 0 : ((high - low) / (2 * mid)) ** 2 / 3;
}

/**
 * Difference of the mean readings and its error.
 *
 * One gauge reads before and after, so that what it always reads too high or too low cancels: its repeatability counts,
 * and where the stock names no gauge, the gauge error of the house. Rounding to a step Δ adds Δ²/12 to the variance of
 * a reading; it averages out over several only where they scatter by at least a third of the step.
 * Repeatability 1 µm (95 %), whole micrometres, five readings before and after: ± 0.73 µm.
 *
 * Source: GUM (JCGM 100:2008) F.2.2.1 for rounding; that the bias cancels is common practice, no source. Readings are
 * to be taken at the same marked places: film differs more from place to place than a trial takes off.
 */
function measuredBy({ beforeUm, afterUm, gauge: name, substrate }: Trial, shop: Shop): Measured | NotUsable {
	const gauge = stockItem(shop.stock, "gauges", name);
	if (name !== undefined && gauge === undefined) return { why: "unknown-stock", field: "gauge", text: name };
	if (gauge?.reads !== undefined && substrate !== undefined && !gauge.reads.includes(substrate))
		return { why: "gauge-unsuited", gauge: gauge.name, substrate };
	if (beforeUm.length === 0 || afterUm.length === 0)
		return { why: "no-readings", when: afterUm.length > 0 ? "before" : beforeUm.length > 0 ? "after" : "both" };
	const scatterUm = (gauge?.repeatUm ?? gauge?.accuracyUm ?? shop.limits.gaugeErrorUm) / z95;
	const stepUm = readingStepUm([...beforeUm, ...afterUm], shop.book.units === "mil" ? milSteps : umSteps);
	const variance = [beforeUm, afterUm].reduce((sum, { length }) => {
		const roundings = scatterUm >= stepUm / 3 ? length : 1;
		return sum + scatterUm ** 2 / length + stepUm ** 2 / 12 / roundings;
	}, 0);
	const errorUm = Math.sqrt(variance);
	const mid = mean(beforeUm) - mean(afterUm);
	return { differenceUm: { mid, low: mid - z95 * errorUm, high: mid + z95 * errorUm }, errorUm };
}

/** Steps in which gauges show film, in µm, coarsest first; those of mils for a book that reads in mils. */
const umSteps = [1, 0.5, 0.1, 0.05, 0.01];
const milSteps = [0.1, 0.05, 0.01, 0.005, 0.001].map((mil) => mil * 25.4);

/** The coarsest step that all readings are multiples of. */
function readingStepUm(readings: readonly number[], steps: readonly number[]): number {
	// A reading typed in mils is in the file to a thousandth of a micrometre or so.
	const fits = (step: number) =>
		readings.every((one) => Math.abs(one / step - Math.round(one / step)) * step < Math.min(0.002, step / 5));
	return steps.find(fits) ?? steps.at(-1) ?? 0;
}

function mean(readings: readonly number[]): number {
	return readings.reduce((sum, one) => sum + one, 0) / readings.length;
}
