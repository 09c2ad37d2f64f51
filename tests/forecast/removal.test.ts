import { describe, expect, it } from "vitest";
import { coefficient } from "../../src/forecast/coefficients.ts";
import { coverageOf } from "../../src/forecast/coverage.ts";
import { edgePressureFactor, hardnessOf, pressureKpa, prestonUm, removalOf } from "../../src/forecast/removal.ts";
import reference from "../reference/removal.json" with { type: "json" };
import { compound, cuttingRow, type Fragment, passes, polish, sand } from "./rows.ts";

function values(id: string): Record<string, number> {
	const entry = reference.find((one) => one.id === id);
	if (!entry) throw new Error(`no reference ${id}`);
	return Object.fromEntries(Object.entries(entry.values));
}

function removal(fragment: Fragment) {
	const row = cuttingRow(fragment);
	const coverage = coverageOf(row);
	if (coverage === null) throw new Error(`no coverage of ${JSON.stringify(fragment)}`);
	return removalOf(row, coverage);
}

const midUm = (fragment: Fragment) => removal(fragment).midUm;

/** µm per kPa·m for a coefficient in 1/Pa. */
const perKpaM = (inversePa: number) => inversePa * 1e9;

describe("Preston's law", () => {
	it.each([
		["preston_arithmetic_1", 1e-13, 10, 1],
		["preston_arithmetic_2", 5e-12, 20, 1],
	])("gives the rate of %s", (id, inversePa, kpa, metresPerS) => {
		expect(prestonUm(perKpaM(inversePa), kpa, metresPerS * 60)).toBeCloseTo(values(id).rate_um_per_min ?? 0, 12);
	});

	it("gives the whole chain of the reference from face and force to depth", () => {
		const chain = values("preston_chain");
		const row = cuttingRow(
			sand("P1500", {
				tool: "rotary",
				speed: { unit: "rpm", low: 1000, high: 1000 },
				armSpeedMs: 0.05,
				sectionM2: 0.36,
				...passes(1),
			}),
		);
		const coverage = coverageOf(row);
		if (coverage === null) throw new Error("no coverage");
		// The reference is printed to eight figures, its depth to six.
		expect(coverage.faceM2).toBeCloseTo(chain.area_m2 ?? 0, 9);
		expect(pressureKpa(30, coverage) * 1000).toBeCloseTo(chain.pressure_Pa ?? 0, 3);
		const depthUm = prestonUm(perKpaM(1e-13), pressureKpa(30, coverage), coverage.slidM);
		expect(depthUm).toBeCloseTo(chain.removal_um ?? 0, 8);
		expect(removalOf(row, coverage).midUm).toBeCloseTo((depthUm * 0.28) / perKpaM(1e-13), 9);
	});
});

describe("a row takes off", () => {
	const p1500 = midUm(sand("P1500"));

	it.each<[string, Fragment, number]>([
		["as the grain is coarse", sand("P1000"), 18.3 / 12.6],
		["the same on paper", sand("P1500", { carrier: "paper" }), 1],
		["the same where nothing is said of carrier and wetness", strip(sand("P1500")), 1],
		["less on stretch cloth", sand("P1500", { carrier: "stretch-cloth" }), 0.8],
		["half on a foam disc", sand("P1500", { carrier: "foam" }), 0.5],
		["less damp", sand("P1500", { wetness: "damp" }), 0.9],
		["less still wet", sand("P1500", { wetness: "wet" }), 0.8],
		["as it is pressed", sand("P1500", { forceN: 60 }), 2],
		["as the arm is slow", sand("P1500", { armSpeedMs: 0.06 }), 2],
		["as lanes overlap", sand("P1500", { overlap: 0.75 }), 2],
	])("%s", (_, fragment, ratio) => {
		expect(midUm(fragment) / p1500).toBeCloseTo(ratio, 12);
	});

	it("what liquid and pad take off together", () => {
		const heavy = midUm(compound("heavy-cut", "wool-twisted"));
		expect(midUm(compound("heavy-cut", "foam-soft")) / heavy).toBeCloseTo(0.6 / 1.7, 12);
		expect(midUm(compound("fine", "wool-twisted")) / heavy).toBeCloseTo(0.0075 / 0.024, 12);
	});

	it("by hardness of the clear", () => {
		expect(hardnessOf("factory-hard").factor).toBe(0.5);
		expect(hardnessOf("flexible").factor).toBe(1.5);
	});

	it("with a spread that covers hard and soft clear where none is named", () => {
		const { factor, sigma } = hardnessOf(undefined);
		expect(factor * Math.exp(-1.96 * sigma)).toBeLessThanOrEqual(0.5001);
		expect(factor * Math.exp(1.96 * sigma)).toBeGreaterThanOrEqual(1.5);
	});
});

describe("a disc", () => {
	const mean = (cuts: number[]) => cuts.reduce((sum, one) => sum + one, 0) / cuts.length;
	const ratio = (other: Fragment) => midUm(sand("P1500", { place: "panel", ...other })) / midUm(sand("P1500"));
	const wornBy = (sections: number, life = 1) => Math.exp((-0.25 * sections) / life);

	it("that does the whole panel wears from section to section", () => {
		expect(ratio({})).toBeCloseTo(mean([0, 1, 2, 3, 4, 5].map((one) => wornBy(one))), 12);
	});

	it("that is changed for each section does not wear", () => {
		expect(ratio({ discEvery: { unit: "section", count: 1 } })).toBeCloseTo(1, 12);
	});

	it("that is changed every four sections wears over four and then over two", () => {
		const cuts = [0, 1, 2, 3, 0, 1].map((one) => wornBy(one));
		expect(ratio({ discEvery: { unit: "section", count: 4 } })).toBeCloseTo(mean(cuts), 12);
	});

	it("wears a third as fast damp", () => {
		const cuts = [0, 1, 2, 3, 4, 5].map((one) => wornBy(one, 3));
		expect(ratio({ wetness: "damp" })).toBeCloseTo(0.9 * mean(cuts), 12);
	});
});

describe("an edge", () => {
	it.each<[string, Fragment, number]>([
		["a rigid block", sand("P1500", { backing: "rigid-block" }), 3],
		["a firm plate", sand("P1500"), 2],
		["a medium plate", sand("P1500", { backing: "medium-plate" }), 1.7],
		["a firm plate with a soft layer", sand("P1500", { interfaceMm: 5 }), 1.4],
		["a foam disc", sand("P3000", { carrier: "foam" }), 1.4],
		["soft foam", polish("fine", "foam-soft"), 1.4],
		["wool", compound("heavy-cut", "wool-lamb"), 2],
	])("under %s is pressed harder", (_, fragment, factor) => {
		expect(edgePressureFactor(cuttingRow(fragment))).toBe(factor);
	});
});

describe("work until flush", () => {
	it("is bound by sixty strokes", () => {
		const spot: Fragment = { place: "spot" };
		const flush = removal(sand("P1500", { ...spot, work: { unit: "until-flush" } }));
		const sixty = midUm(sand("P1500", { ...spot, work: { unit: "strokes", low: 60, high: 60 } }));
		expect(flush).toMatchObject({ lowUm: 0, midUm: sixty, upperUm: sixty });
	});
});

describe("the spread of a row", () => {
	it("is that of its family, of force and arm, and of the speed range", () => {
		const { familyVariance, rowVariance } = removal(sand("P1500"));
		expect(familyVariance).toBeCloseTo((Math.log(1.6) / 1.96) ** 2, 5);
		expect(rowVariance).toBeCloseTo(2 * (Math.log(1.3) / 1.96) ** 2, 5);
		const ranged = removal(sand("P1500", { speed: { unit: "opm", low: 6000, high: 10000 } }));
		expect(ranged.rowVariance - rowVariance).toBeCloseTo(0.25 ** 2 / 3, 12);
		expect(coefficient("handling", "force").sigma).toBe(coefficient("handling", "armSpeed").sigma);
	});
});

function strip({ carrier, wetness, ...other }: Fragment): Fragment {
	return other;
}
