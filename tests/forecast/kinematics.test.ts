import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gearDrivenSpeedMs, orbitalSpeedMs, rotarySpeedMs, slidingSpeedMs } from "../../src/forecast/kinematics.ts";
import reference from "../reference/kinematics.json" with { type: "json" };
import { cuttingRow, polish, sandByHand } from "./rows.ts";

function values(id: string) {
	const entry = reference.find((one) => one.id === id);
	if (!entry || !("values" in entry)) throw new Error(`no reference ${id}`);
	return entry.values;
}

/** Mean over disc and phase of the speed |u + Ω·r·exp(iφ)|, by the midpoint rule on equal areas and phases. */
function meanOverDisc(orbitingMs: number, turningPerS: number, radiusM: number, cells = 400): number {
	let sum = 0;
	for (let ring = 0; ring < cells; ring++) {
		const spinMs = turningPerS * radiusM * Math.sqrt((ring + 0.5) / cells);
		for (let step = 0; step < cells; step++) {
			const phase = (2 * Math.PI * (step + 0.5)) / cells;
			sum += Math.hypot(orbitingMs + spinMs * Math.cos(phase), spinMs * Math.sin(phase));
		}
	}
	return sum / cells ** 2;
}

describe("the mean sliding speed", () => {
	// The references are printed to eight figures.
	it.each(values("disc_mean_speed_values") as { disc_mm: number; rpm: number; mean_mps: number }[])(
		"of a rotary of $disc_mm mm at $rpm rpm agrees with the reference",
		({ disc_mm, rpm, mean_mps }) => {
			expect(rotarySpeedMs(rpm, disc_mm) / mean_mps).toBeCloseTo(1, 7);
		},
	);

	it.each(values("orbital_speed_values") as { orbit_diameter_mm: number; opm: number; speed_mps: number }[])(
		"of an orbit of $orbit_diameter_mm mm at $opm opm agrees with the reference",
		({ orbit_diameter_mm, opm, speed_mps }) => {
			expect(orbitalSpeedMs(opm, orbit_diameter_mm) / speed_mps).toBeCloseTo(1, 7);
		},
	);

	it("of an orbit that also turns agrees with the reference", () => {
		const combined = values("random_orbital_combined_values") as { u_mps: number; area_mean_R_75mm_mps: number };
		expect(orbitalSpeedMs(10000, 5)).toBeCloseTo(combined.u_mps, 7);
		expect(gearDrivenSpeedMs(10000, 5, 300 / 10000, 150)).toBeCloseTo(combined.area_mean_R_75mm_mps, 7);
	});

	// The midpoint rule on 400 × 400 cells is good to 1e-5 where the speed has its kink inside the disc.
	it.each([
		["turns slower than it orbits", 10000, 5, 0.03, 150],
		["turns by the gear of a usual polisher", 4500, 8, 0.106667, 150],
		["turns as often as it orbits", 4500, 8, 1, 150],
		["has the still point on its rim", 6000, 20, 20 / 150, 150],
		["hardly turns", 4500, 8, 0.001, 80],
	])("of a gear-driven disc that %s is its integral over disc and phase", (_, opm, orbitMm, turns, diameterMm) => {
		const integral = meanOverDisc(orbitalSpeedMs(opm, orbitMm), (2 * Math.PI * opm * turns) / 60, diameterMm / 2000);
		expect(gearDrivenSpeedMs(opm, orbitMm, turns, diameterMm) / integral).toBeCloseTo(1, 5);
	});

	it("of a gear-driven disc lies between the plain orbit and orbit and turning one on the other", () => {
		fc.assert(
			fc.property(
				fc.double({ min: 500, max: 12000, noNaN: true }),
				fc.double({ min: 1, max: 25, noNaN: true }),
				fc.double({ min: 0, max: 2, noNaN: true }),
				fc.double({ min: 30, max: 230, noNaN: true }),
				(opm, orbitMm, turns, diameterMm) => {
					const speed = gearDrivenSpeedMs(opm, orbitMm, turns, diameterMm);
					const orbit = orbitalSpeedMs(opm, orbitMm);
					const turning = rotarySpeedMs(opm * turns, diameterMm);
					expect(speed).toBeGreaterThanOrEqual(Math.max(orbit, turning) * (1 - 1e-7));
					expect(speed).toBeLessThanOrEqual((orbit + turning) * (1 + 1e-9));
				},
			),
			{ seed: 4711 },
		);
	});

	it("is that of the tool in a row, at the middle of its speed", () => {
		const speed = { unit: "opm", low: 4000, high: 5000 } as const;
		const gear = cuttingRow(polish("fine", "foam-soft", { tool: "gear-orbital", speed }));
		expect(slidingSpeedMs(gear.tool, gear.speed)).toBe(gearDrivenSpeedMs(4500, 8, 0.106667, 150));
		const random = cuttingRow(polish("fine", "foam-soft", { speed }));
		expect(slidingSpeedMs(random.tool, random.speed)).toBe(orbitalSpeedMs(4500, 15));
	});

	it("is not told for hand work, nor for a dial mark that the tool's table lacks", () => {
		const block = cuttingRow(sandByHand("P2000"));
		expect(slidingSpeedMs(block.tool, block.speed)).toBeNull();
		const dialled = cuttingRow(polish("fine", "foam-soft", { speed: { unit: "dial", low: 3, high: 3 } }));
		expect(slidingSpeedMs(dialled.tool, dialled.speed)).toBeNull();
	});
});
