import type { ClearCoat } from "../model/generated/types.ts";
import type { AbrasiveRow, LiquidRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import type { Coverage } from "./coverage.ts";

/**
 * Film that a row takes off clear of normal hardness, at middle coefficients, and how uncertain that is.
 * Harder or softer clear multiplies it by {@link hardnessOf}.
 */
export interface Removal {
	/** µm at the lower end, the middle and the upper end of `work`. */
	lowUm: number;
	midUm: number;
	upperUm: number;
	/** Rows of one family share their coefficient: it is the carrier, or the liquid with its pad. */
	family: string;
	/** Variance of the logarithm of the family's coefficient. */
	familyVariance: number;
	/** Variance of the logarithm of what is drawn for each row: force, speed of arm or stroke, speed as set. */
	rowVariance: number;
}

/** How fast a clear coat is taken off over normal clear, with the standard deviation of its logarithm. */
export interface Hardness {
	factor: number;
	sigma: number;
}

/**
 * Removal by one row: h = k·p·s, k the coefficient in µm per kPa·m, p = F/A the pressure in kPa, s the sliding distance
 * of a point in m (Preston's law, J. Soc. Glass Technol. 11 (1927) 214, integrated at constant pressure).
 *
 * Abrasives: k = 0.28·(d50/12.6) × carrier × wetness × wear. Liquids: k of the liquid × factor of the pad.
 * P1500 film dry on a 150 mm firm plate, 3 mm orbit, 8,000 opm, 30 N, three passes at 0.12 m/s: 3.52 µm.
 * The law is first order; no neutral source measures k for clear coat, so a shop's own trials replace these.
 *
 * @returns for `until-flush` a bound: plain removal by 60 strokes, more than the film around the defect loses, because
 * until it is flush the defect carries part of the force
 */
export function removalOf(row: AbrasiveRow | LiquidRow, coverage: Coverage): Removal {
	const perUnitUm = prestonUm(coefficientOf(row), pressureKpa(row.hand.forceN, coverage), coverage.slidM);
	const { unit, low, mid, high } = row.work;
	const most = coefficient("handling", "untilFlushStrokes").value;
	const bound = unit === "until-flush";
	return {
		lowUm: perUnitUm * (bound ? 0 : (low ?? 0)),
		midUm: perUnitUm * (bound ? most : (mid ?? 0)),
		upperUm: perUnitUm * (bound ? most : (high ?? 0)),
		...familyOf(row),
		rowVariance:
			coefficient("handling", "force").sigma ** 2 + coefficient("handling", "armSpeed").sigma ** 2 + speedVariance(row),
	};
}

/** Preston's law in the units of the trade; 1e-13 1/Pa, as the literature gives it for glass, is 1e-4 µm per kPa·m. */
export function prestonUm(umPerKpaM: number, kpa: number, slidM: number): number {
	return umPerKpaM * kpa * slidM;
}

/** Pressure under the tool: force over the area of its face, in kPa. 30 N on a 150 mm disc: 1.70 kPa. */
export function pressureKpa(forceN: number, { faceM2 }: Pick<Coverage, "faceM2">): number {
	return forceN / faceM2 / 1000;
}

/**
 * Hardness of the clear coat: soft clear loses 1.5 times as much as normal clear, hard clear half as much. Where none
 * is named it is taken as normal, with a spread that covers soft and hard.
 */
export function hardnessOf(clearCoat: ClearCoat | undefined): Hardness {
	const { value, sigma } = coefficient("hardness", clearCoat ?? "unnamed");
	return { factor: value, sigma };
}

/** How much the pressure at an edge that a row works freely exceeds that in the field. */
export function edgePressureFactor(row: AbrasiveRow | LiquidRow): number {
	if (row.kind === "liquid") return coefficient("edgePressure", row.pad.kind).value;
	const behind = coefficient("edgePressure", row.backing?.kind ?? "bare-hand").value;
	const soft = row.interfaceMm > 0 || row.abrasive.carrier === "foam";
	return soft ? Math.min(behind, coefficient("edgePressure", "soft-layer").value) : behind;
}

/** Coefficient of a row in µm per kPa·m on clear of normal hardness. */
function coefficientOf(row: AbrasiveRow | LiquidRow): number {
	if (row.kind === "liquid")
		return coefficient("liquid", row.liquid.class).value * coefficient("pad", row.pad.kind).value;
	const { abrasive, wetness } = row;
	const grain =
		(abrasive.medianUm / coefficient("abrasive", "referenceMedianUm").value) **
		coefficient("abrasive", "grainExponent").value;
	return (
		coefficient("abrasive", "rate").value *
		grain *
		coefficient("carrier", abrasive.carrier ?? "film").value *
		coefficient("wetness", wetness ?? "dry").value *
		wearFactor(row)
	);
}

/**
 * Mean cut of the discs over the sections of the place, a fresh disc cutting 1: exp(−a/L) after it has cut the area a.
 * The disc is fresh at the start of the row; `discEvery` says how many sections it does, else it does the whole place.
 * One section with a fresh disc: 1. Six sections of 0.25 m² with one disc of L = 1 m²: 0.585.
 */
function wearFactor({ areaM2, sectionM2, abrasive, wetness, step }: AbrasiveRow): number {
	const lifeM2 = abrasive.lifeM2 ?? coefficient("lifeM2", wetness ?? "dry").value;
	// The tolerance keeps 1.5/0.25 from becoming seven sections by rounding.
	const sections = Math.max(1, Math.ceil(areaM2 / sectionM2 - 1e-9));
	const every = step.discEvery;
	const perDisc = every?.unit === "section" ? Math.min(Math.max(1, Math.floor(every.count)), sections) : sections;
	const kept = Math.exp(-sectionM2 / lifeM2);
	const discs = Math.floor(sections / perDisc);
	return (discs * geometricSum(kept, perDisc) + geometricSum(kept, sections - discs * perDisc)) / sections;
}

/** 1 + q + q² + … of that many terms. */
function geometricSum(ratio: number, terms: number): number {
	return ratio === 1 ? terms : (1 - ratio ** terms) / (1 - ratio);
}

function familyOf(row: AbrasiveRow | LiquidRow): Pick<Removal, "family" | "familyVariance"> {
	if (row.kind === "liquid")
		return {
			family: `${row.liquid.class} on ${row.pad.kind}`,
			familyVariance: coefficient("liquid", row.liquid.class).sigma ** 2,
		};
	const carrier = row.abrasive.carrier ?? "film";
	return { family: carrier, familyVariance: coefficient("carrier", carrier).sigma ** 2 };
}

/** Anywhere in the range set is equally likely: a uniform spread, to first order in the logarithm. */
function speedVariance({ tool, speed }: AbrasiveRow | LiquidRow): number {
	if (!tool.driven || speed === null || speed.mid === 0) return 0;
	return ((speed.high - speed.low) / (2 * speed.mid)) ** 2 / 3;
}
