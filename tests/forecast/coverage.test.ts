import { describe, expect, it } from "vitest";
import { coverageOf } from "../../src/forecast/coverage.ts";
import reference from "../reference/kinematics.json" with { type: "json" };
import { compound, cuttingRow, type Fragment, passes, sand, sandByHand } from "./rows.ts";

function example(id: string): Record<string, number> {
	const entry = reference.find((one) => one.id === id);
	if (!entry || !("example" in entry) || !entry.example) throw new Error(`no reference example ${id}`);
	return Object.fromEntries(Object.entries(entry.example));
}

function coverage(fragment: Fragment) {
	const found = coverageOf(cuttingRow(fragment));
	if (found === null) throw new Error(`no coverage of ${JSON.stringify(fragment)}`);
	return found;
}

const slowRotary: Fragment = sand("P1500", {
	tool: "rotary",
	speed: { unit: "rpm", low: 1000, high: 1000 },
	armSpeedMs: 0.05,
	overlap: 0.5,
	sectionM2: 0.36,
	...passes(1),
});
const minutes = (count: number): Fragment => ({ work: { unit: "minutes", low: count, high: count } });
const strokes = (count: number): Fragment => ({ work: { unit: "strokes", low: count, high: count } });

describe("one pass with a driven tool", () => {
	it("is in contact with a point, takes time and slides as the reference has it", () => {
		const { contactS, seconds, slidM } = coverage(slowRotary);
		expect(contactS).toBeCloseTo(example("mean_dwell").mean_s ?? 0, 6);
		expect(seconds).toBeCloseTo(example("raster_time").time_s ?? 0, 9);
		// The reference distance is printed to seven figures.
		expect(slidM).toBeCloseTo(example("sliding_distance").L_m ?? 0, 4);
	});

	it("is in contact for the mean of the chords that a disc in lanes draws over a point", () => {
		const radiusM = 0.075;
		const points = 20000;
		let sumS = 0;
		for (let point = 0; point < points; point++) {
			for (let lane = -2; lane <= 2; lane++) {
				const offM = lane * 0.075 + (0.075 * (point + 0.5)) / points;
				if (Math.abs(offM) < radiusM) sumS += (2 * Math.sqrt(radiusM ** 2 - offM ** 2)) / 0.05;
			}
		}
		expect(coverage(slowRotary).contactS).toBeCloseTo(sumS / points, 5);
	});
});

describe("work", () => {
	it("in minutes is in contact for its share of the place, by machine and by hand", () => {
		const machine = coverage(sand("P1500", minutes(1)));
		expect(machine.contactS).toBeCloseTo((60 * Math.PI * 0.075 ** 2) / 0.25, 9);
		expect(machine.seconds).toBeCloseTo(60, 9);
		const hand = coverage(sandByHand("P1500", minutes(1)));
		expect(hand.contactS).toBeCloseTo((60 * 0.07 * 0.125) / 0.25, 9);
		expect(hand.seconds).toBeCloseTo(60, 9);
	});

	it("on a spot is in contact for as long as it lasts", () => {
		const spot: Fragment = { place: "spot" };
		expect(coverage(sand("P1500", { ...spot, ...minutes(2) }))).toMatchObject({ contactS: 60, seconds: 60 });
		expect(coverage(sand("P1500", { ...spot, ...passes(2) }))).toMatchObject({ contactS: 1, seconds: 1 });
		expect(coverage(sand("P1500", { ...spot, ...strokes(2) }))).toMatchObject({ contactS: 1, seconds: 1 });
		expect(coverage(sandByHand("P1500", { ...spot, ...strokes(2) }))).toMatchObject({ slidM: 0.14, seconds: 1 });
		expect(coverage(sandByHand("P1500", { ...spot, ...passes(2) }))).toMatchObject({ slidM: 0.14, seconds: 1 });
		expect(coverage(sandByHand("P1500", { ...spot, ...minutes(2) })).slidM).toBeCloseTo(60 * 0.14, 9);
	});

	it("by hand slides twice the shorter of face and stroke over a point in every lane", () => {
		const { slidM, seconds } = coverage(sandByHand("P1500"));
		expect(slidM).toBeCloseTo((2 * 0.07) / 0.5, 12);
		expect(seconds).toBeCloseTo(0.25 / (0.15 * 0.125 * 0.5), 9);
	});

	it("in strokes over a place is that many passes by hand, and twice as many by machine, there and back", () => {
		expect(coverage(sandByHand("P1500", strokes(1)))).toEqual(coverage(sandByHand("P1500", passes(1))));
		const there = coverage(compound("heavy-cut", "wool-twisted"));
		expect(coverage(compound("heavy-cut", "wool-twisted", strokes(1))).contactS).toBeCloseTo(2 * there.contactS, 12);
	});

	it("by hand at a stroke rate that is set slides no further and takes the time of its strokes", () => {
		const slow = sandByHand("P1500", { speed: { unit: "spm", low: 30, high: 30 } });
		expect(coverage(slow).slidM).toBe(coverage(sandByHand("P1500")).slidM);
		expect(coverage(slow).seconds).toBeCloseTo(2 * coverage(sandByHand("P1500")).seconds, 9);
	});

	it("with a thing that has neither disc nor face is not told", () => {
		expect(coverageOf(cuttingRow(sandByHand("P1500", { tool: "cloth" })))).toBeNull();
	});
});
