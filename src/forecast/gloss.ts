import type { Estimate, Tone } from "../model/generated/types.ts";
import type { HouseLimits } from "../model/limits.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import { logNormal, propagated, rounded, roundedEstimate } from "./spread.ts";

/** Specular gloss of a surface in gloss units (GU) on the scale of ISO 2813. */
export interface Gloss {
	at20Gu: Estimate;
	at60Gu: Estimate;
	/** Its middle at 20° is below 10 GU: show "matt", not a figure; the law no longer holds there. */
	matt: boolean;
}

/** Haze that a person sees: light scattered by scratches over what the colour under the clear returns. */
export interface Haze {
	ratio: Estimate;
	/** Its middle is above the house limit (0.05). */
	visible: boolean;
}

/**
 * Gloss at 20° and 60° of clear whose deepest scratches have that depth.
 *
 * The scratched share of the surface (1) has the roughness Rq = depth/6; see {@link glossGu}. What a heavy-cut liquid
 * leaves on wool, 0.2 µm: 49 GU at 20°; 0.08 µm: 76; 0.05 µm: 79.5; 0.02 µm: 81.6; no scratch: 82.0, the most that clear
 * of index 1.5 can have. Share, Rq over depth and index are common practice, no source. A rotary's directional marks
 * count like any others: a gloss reading is taken as the mean over directions.
 */
export function glossOf(depthUm: Estimate): Gloss {
	const inputs = [depthUm, depthOverRq, refractiveIndex];
	const at = (angleDeg: 20 | 60) =>
		roundedEstimate(
			propagated(
				(depth: number, over: number, index: number) => glossGu(depth / over, angleDeg, index, scratchedShare),
				inputs,
			),
		);
	const at20Gu = at(20);
	return { at20Gu, at60Gu: at(60), matt: at20Gu.mid < mattBelowGu };
}

/**
 * Visible haze of clear whose deepest scratches have that depth, over a colour of that tone.
 *
 * Scattered light, near the specular direction of a lamp at 20°, over the luminance factor of the colour (dark 0.01, mid
 * 0.15, light 0.7; metallic and pearl like their plain tone); see {@link hazeRatio}. On dark 0.05 µm give 0.127 and
 * 0.02 µm 0.021; on light 0.2 µm give 0.023. Marks of a rotary run one way and throw their light into a narrow fan: seen
 * from there it is taken as three times as bright (a buffer trail). All common practice, no source.
 *
 * @param isTrail whether the scratches are a rotary's marks: see {@link leavesTrail}
 * @returns null where no tone is named
 */
export function hazeOf(
	{ depthUm, isTrail, tone }: { depthUm: Estimate; isTrail: boolean; tone: Tone | undefined },
	{ hazeVisible }: Pick<HouseLimits, "hazeVisible">,
): Haze | null {
	if (tone === undefined) return null;
	const ratio = roundedEstimate(
		propagated(
			(depth: number, over: number, index: number, returned: number, trail: number) =>
				hazeRatio({ rqUm: depth / over, index, scratchedShare, returned, trail }),
			[depthUm, depthOverRq, refractiveIndex, returnedLight[tone], isTrail ? rotaryTrail : one],
			"ratio",
		),
	);
	return { ratio, visible: ratio.mid > rounded(hazeVisible) };
}

/** The haze ratio of {@link hazeOf} at middle coefficients alone, of scratches of one depth. */
export function hazeRatioAt(depthUm: number, isTrail: boolean, tone: Tone): number {
	return hazeRatio({
		rqUm: depthUm / depthOverRq.mid,
		index: refractiveIndex.mid,
		scratchedShare,
		returned: returnedLight[tone].mid,
		trail: isTrail ? rotaryTrail.mid : 1,
	});
}

/** Whether the scratches a row leaves run one way: those of a liquid worked by a rotary. Hand work is crossed. */
export function leavesTrail(row: ResolvedRow | null): boolean {
	return row?.kind === "liquid" && row.tool.kind === "rotary";
}

/**
 * Specular gloss in gloss units: 100 · R(n, θ)/R(1.567, θ) · (1 − s·(1 − K(Rq, θ))), R of {@link fresnelReflectance}, K
 * of {@link specularKept}, s the scratched share. Polished black glass of index 1.567 has 100 GU at every angle.
 *
 * Source: ISO 2813, ASTM D523 (scale and primary standard). Index 1.5, Rq 0.05/6 µm at 20°: 79.46 GU. A glossmeter
 * takes in a degree or two of scattered light, so that gloss read on a panel falls more slowly than this.
 */
export function glossGu(rqUm: number, angleDeg: number, index: number, scratchedShare = 1): number {
	const smooth = (100 * fresnelReflectance(index, angleDeg)) / fresnelReflectance(standardIndex, angleDeg);
	return smooth * (1 - scratchedShare * (1 - specularKept(rqUm, angleDeg, wavelengthNm)));
}

/**
 * Haze ratio: f · s · R(n, 20°) · (1 − K(Rq, 20°)) / Y, f the factor of a trail, s the scratched share, Y the luminance
 * factor of the colour. Light scattered out of the specular beam of {@link fresnelReflectance} is all that
 * {@link specularKept} takes from it. Index 1.5, Rq 0.05/6 µm over Y 0.01: 0.0403 · 0.0315/0.01 = 0.127.
 */
export function hazeRatio({
	rqUm,
	index,
	scratchedShare,
	returned,
	trail,
}: {
	rqUm: number;
	index: number;
	scratchedShare: number;
	returned: number;
	trail: number;
}): number {
	const scattered = scratchedShare * fresnelReflectance(index, 20) * (1 - specularKept(rqUm, 20, wavelengthNm));
	return (trail * scattered) / returned;
}

/**
 * Reflectance of a smooth dielectric in air for unpolarised light: R = (Rs + Rp)/2, with q = √(n² − sin²θ),
 * Rs = ((cos θ − q)/(cos θ + q))², Rp = ((n² cos θ − q)/(n² cos θ + q))².
 *
 * Source: Fresnel's equations, as ISO 2813 uses them for its primary standard. θ from the normal, 0 to below 90°; no
 * absorption. n 1.5: 0.04 at 0°, 0.04027 at 20°, 0.08919 at 60°.
 */
export function fresnelReflectance(index: number, angleDeg: number): number {
	const cos = Math.cos((angleDeg * Math.PI) / 180);
	const square = index * index;
	const q = Math.sqrt(square - (1 - cos * cos));
	const perpendicular = (cos - q) / (cos + q);
	const parallel = (square * cos - q) / (square * cos + q);
	return (perpendicular * perpendicular + parallel * parallel) / 2;
}

/**
 * Share of its specular reflectance that a rough surface keeps: K = exp(−(4π·Rq·cos θ/λ)²), Rq the root mean square
 * roughness.
 *
 * Source: Bennett and Porteus, J. Opt. Soc. Am. 51 (1961) 123, at normal incidence; the cos θ is the usual extension
 * (Beckmann and Spizzichino 1963). Convention: a Gaussian height distribution, no scattered light in the reading. Good
 * for Rq well below λ; from Rayleigh's λ/(8·cos θ) on (0.073 µm at 20°, 550 nm) it only says that less than a tenth is
 * left, and such a surface is shown as matt. Rq 0.05 µm, 60°, 550 nm: 0.7216.
 */
export function specularKept(rqUm: number, angleDeg: number, wavelengthNm: number): number {
	const phase = (4 * Math.PI * rqUm * Math.cos((angleDeg * Math.PI) / 180)) / (wavelengthNm / 1000);
	return Math.exp(-phase * phase);
}

/** Refractive index of the primary standard: black glass, 100 GU at every angle (ISO 2813). */
const standardIndex = 1.567;

const wavelengthNm = coefficient("gloss", "wavelengthNm").value;
const scratchedShare = coefficient("gloss", "scratchedShare").value;
const mattBelowGu = coefficient("gloss", "mattBelowGu").value;
const refractiveIndex = estimate("gloss", "refractiveIndex");
const depthOverRq = estimate("gloss", "depthOverRq");
const rotaryTrail = estimate("gloss", "rotaryTrail");
const one: Estimate = { mid: 1, low: 1, high: 1 };

const returnedLight: Record<Tone, Estimate> = {
	dark: estimate("returned", "dark"),
	"dark-effect": estimate("returned", "dark"),
	mid: estimate("returned", "mid"),
	"mid-effect": estimate("returned", "mid"),
	light: estimate("returned", "light"),
	"light-effect": estimate("returned", "light"),
};

function estimate(group: string, kind: string): Estimate {
	const { value, sigma } = coefficient(group, kind);
	return logNormal(value, sigma);
}
