import type { RowSpeed, Tool } from "../model/resolve.ts";

/**
 * Mean sliding speed of a driven tool's disc or pad on the panel, m/s, at the middle of the speed set.
 *
 * Per tool: {@link rotarySpeedMs}, {@link orbitalSpeedMs}, {@link gearDrivenSpeedMs}. The travel of the arm is left
 * out: at 0.1 to 0.25 m/s it adds less than 1 % to the mean of speeds above 1 m/s.
 * Null for hand work, whose sliding is counted by strokes, and where no speed is known.
 */
export function slidingSpeedMs(tool: Tool, speed: RowSpeed | null): number | null {
	const { diameterMm, orbitMm, turnsPerOrbit } = tool;
	if (!tool.driven || speed === null || diameterMm === null) return null;
	switch (tool.kind) {
		case "rotary":
			return rotarySpeedMs(speed.mid, diameterMm);
		case "random-orbital":
			return orbitMm === null ? null : orbitalSpeedMs(speed.mid, orbitMm);
		case "gear-orbital":
			return orbitMm === null ? null : gearDrivenSpeedMs(speed.mid, orbitMm, turnsPerOrbit, diameterMm);
		default:
			return null;
	}
}

/**
 * Mean over the area of a disc that turns about its centre: (2/3)·2π·n·R; its rim slides at 2π·n·R.
 *
 * 180 mm at 1,500 rpm: 9.42 m/s. Source: ω·r integrated over the disc.
 */
export function rotarySpeedMs(rpm: number, diameterMm: number): number {
	return ((2 / 3) * 2 * Math.PI * (rpm / 60) * diameterMm) / 2000;
}

/**
 * Every point of a pad that orbits without turning slides at 2π·n·(e/2), e the orbit's diameter.
 *
 * The free spin of a random orbital under load is left out; 300 rpm would add 10 % to the mean of a 5 mm orbit.
 * 3 mm at 8,000 opm: 1.26 m/s. Source: rigid translation on a circle.
 */
export function orbitalSpeedMs(opm: number, orbitMm: number): number {
	return (2 * Math.PI * (opm / 60) * orbitMm) / 2000;
}

/**
 * Mean over area and time of a disc that orbits at speed u and turns at Ω by its gear.
 *
 * At any moment the disc turns about one point, at the distance d = u/Ω from its centre, so the mean speed is
 * Ω times the mean distance of the disc's points from there: (4ΩR/9π)·((7 + k²)·E(k) − 4(1 − k²)·K(k)) with
 * k = d/R ≤ 1, and for k > 1, where the moduli pass over to 1/k,
 * (4ΩR/9π)·(k(7 + k²)·E(1/k) − ((k² − 1)/k)(3 + k²)·K(1/k)). K and E are the complete elliptic integrals.
 * It goes over into {@link orbitalSpeedMs} for Ω = 0, and into {@link rotarySpeedMs} for u = 0.
 *
 * 150 mm, 8 mm orbit at 4,500 opm, 480 rpm: 3.10 m/s. Source: own derivation; tests integrate over phase and disc.
 *
 * @param turnsPerOrbit turns of the disc for each orbit
 */
export function gearDrivenSpeedMs(opm: number, orbitMm: number, turnsPerOrbit: number, diameterMm: number): number {
	const orbiting = orbitalSpeedMs(opm, orbitMm);
	const turning = 2 * Math.PI * (opm / 60) * Math.abs(turnsPerOrbit);
	const radiusM = diameterMm / 2000;
	const ratio = orbiting / (turning * radiusM);
	// Beyond this the turning adds less than 1e-7, and the formula loses digits to cancellation.
	if (!(ratio < 1000)) return orbiting;
	const scale = (4 * turning * radiusM) / (9 * Math.PI);
	const square = ratio * ratio;
	if (ratio <= 1) {
		const { first, second } = completeElliptic(ratio);
		return scale * ((7 + square) * second - (ratio === 1 ? 0 : 4 * (1 - square) * first));
	}
	const { first, second } = completeElliptic(1 / ratio);
	return scale * (ratio * (7 + square) * second - ((square - 1) / ratio) * (3 + square) * first);
}

/**
 * Sliding distance of a point of the panel in one stroke by hand, there and back, in m: 2·min(b, L), b the length of
 * the face along the stroke and L the stroke. 70 mm face, 150 mm stroke: 0.14 m.
 */
export function strokeSlideM(face: NonNullable<Tool["face"]>): number {
	return (2 * Math.min(face.alongMm, face.strokeMm)) / 1000;
}

/**
 * Complete elliptic integrals of the first and second kind, K and E, for the modulus k from 0 to 1, by the
 * arithmetic-geometric mean (Gauss; Abramowitz and Stegun 17.6, from memory). K(1) is infinite.
 */
function completeElliptic(modulus: number): { first: number; second: number } {
	if (modulus === 1) return { first: Number.POSITIVE_INFINITY, second: 1 };
	let mean = 1;
	let geometric = Math.sqrt(1 - modulus * modulus);
	let difference = modulus;
	let weight = 0.5;
	let sum = weight * difference * difference;
	while (Math.abs(difference) > 1e-16) {
		difference = (mean - geometric) / 2;
		const next = (mean + geometric) / 2;
		geometric = Math.sqrt(mean * geometric);
		mean = next;
		weight *= 2;
		sum += weight * difference * difference;
	}
	const first = Math.PI / (2 * mean);
	return { first, second: first * (1 - sum) };
}
