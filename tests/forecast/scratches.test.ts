import { describe, expect, it } from "vitest";
import {
	compound,
	type Fragment,
	forecast,
	passes,
	polish,
	refineP3000,
	sand,
	sandByHand,
	seededNormal,
} from "./rows.ts";

const ownUm = (fragment: Fragment) => forecast([fragment]).rows[0]?.ownScratchUm?.mid;

describe("a row's own scratch", () => {
	it.each<[string, Fragment, number]>([
		["P1500 on a firm plate", sand("P1500"), 0.135 * 12.6],
		["P1500 on a rigid block", sandByHand("P1500"), 0.135 * 12.6],
		["P1500 on a medium plate", sand("P1500", { backing: "medium-plate" }), 0.12 * 12.6],
		["P1500 on a soft plate", sand("P1500", { backing: "soft-plate" }), 0.1 * 12.6],
		["P1500 over a soft layer", sand("P1500", { interfaceMm: 5 }), 0.1 * 12.6],
		["P3000 foam", refineP3000, 0.08 * 6.5],
		["a heavy cut on wool", compound("heavy-cut", "wool-twisted"), 0.2],
		["a heavy cut on microfibre", polish("heavy-cut", "microfibre"), 0.13],
		["a medium cut on foam", polish("medium-cut", "foam-medium"), 0.08],
		["the finest on soft foam", polish("finest", "foam-soft"), 0.02],
	])("is that of common practice: %s", (_, fragment, depthUm) => {
		expect(ownUm(fragment)).toBeCloseTo(depthUm, 6);
	});
});

describe("the deepest scratch", () => {
	it("is what a row leaves of the one before, until its own is deeper", () => {
		const { rows } = forecast([sand("P1500"), polish("medium-cut", "foam-medium", passes(2)), sand("P2000")]);
		const left = 1.701 - (rows[1]?.removedUm?.mid ?? 0);
		expect(rows.map(({ scratchUm }) => scratchUm?.mid)).toEqual([
			expect.closeTo(1.701, 6),
			expect.closeTo(left, 5),
			expect.closeTo(0.135 * 10.3, 6),
		]);
		expect(rows.map(({ scratchFrom }) => scratchFrom?.index)).toEqual([0, 0, 2]);
	});

	it("is the defect while the defect is the deepest", () => {
		const { rows } = forecast([polish("fine", "foam-soft"), compound("heavy-cut", "wool-twisted", passes(8))], {
			defect: "scuff",
		});
		expect(rows.map(({ scratchFrom }) => scratchFrom?.index ?? null)).toEqual([null, 1]);
		expect(rows[0]?.scratchUm?.mid).toBeCloseTo(Math.sqrt(10) - (rows[0]?.removedUm?.mid ?? 0), 5);
	});

	it("starts as deep as the scope says, where it says so", () => {
		const um = { mid: 6, low: 4, high: 9 };
		const procedure = { scope: { defects: [{ defect: "etch", um }] } };
		expect(forecast([{ stage: "inspect" }], { defect: "etch", procedure }).totals.scratchUm).toEqual(um);
	});

	it("starts at none for a proud defect, and where no defect is named", () => {
		const none = { mid: 0, low: 0, high: 0 };
		expect(forecast([{ stage: "inspect" }], { defect: "dirt-nib" }).totals.scratchUm).toEqual(none);
		expect(forecast([{ stage: "inspect" }]).totals.scratchUm).toEqual(none);
	});

	it("stays on an edge strip that later rows tape off, and goes where they reach it", () => {
		const strip = sand("P1500", { place: "edge-strip" });
		const cut = (edges: NonNullable<Fragment["edges"]>) => compound("heavy-cut", "wool-twisted", { edges });
		expect(forecast([strip, cut("taped")]).totals.scratchUm?.mid).toBeCloseTo(1.701, 6);
		expect(forecast([strip, cut("by-hand")]).totals.scratchUm?.mid).toBeCloseTo(0.2, 6);
	});
});

describe("the chance that a row does not clear what was there", () => {
	it("is null for rows that do not cut", () => {
		expect(forecast([sand("P1500"), { stage: "inspect" }]).rows[1]?.notClearedChance).toBeNull();
	});

	it("is near one half where the middle just clears it", () => {
		// P3000 foam leaves 0.52 µm, a medium cut on firm foam takes off 0.198 µm a pass, and 0.2 µm counts as cleared.
		const chance = (count: number) =>
			forecast([refineP3000, polish("medium-cut", "foam-firm", passes(count))]).rows[1]?.notClearedChance;
		expect(chance(1)).toBeGreaterThan(0.8);
		expect(chance(1.617)).toBeCloseTo(0.5, 2);
		expect(chance(4)).toBeLessThan(0.05);
	});

	it("agrees with seeded draws", () => {
		// 20,000 draws know a chance to 0.007 (95 %); first order on the logarithm of limit + removal adds at most 0.02.
		for (const count of [1, 2, 3]) {
			const [, row] = forecast([refineP3000, polish("medium-cut", "foam-firm", passes(count))]).rows;
			const removedUm = row?.removedUm?.mid ?? 0;
			const draw = seededNormal(20 + count);
			const sigma = (spread: number) => Math.log(spread) / 1.96;
			let left = 0;
			for (let sample = 0; sample < 20000; sample++) {
				const gone = removedUm * Math.exp(sigma(1.6) * draw() + sigma(1.35) * draw() + sigma(1.3) * (draw() + draw()));
				if (0.52 * Math.exp(sigma(1.4) * draw()) - gone > 0.2) left++;
			}
			expect(Math.abs((row?.notClearedChance ?? 2) - left / 20000), `${count} passes`).toBeLessThan(0.027);
		}
	});

	it("does not ask a row for less than its own scratch", () => {
		const [, row] = forecast([sand("P1500"), sand("P2000")]).rows;
		expect(row?.notClearedChance).toBeLessThan(0.01);
	});
});

describe("the interval of a scratch partly taken off", () => {
	// First order in quadrature; 20,000 draws know a share to 0.003, and the skew of both log-normals moves it by 0.02.
	it.each([0.5, 1, 1.5])("holds nineteen draws in twenty after %d passes", (count) => {
		const [, row] = forecast([sand("P1500"), compound("heavy-cut", "wool-twisted", passes(count))]).rows;
		const { low, high } = row?.scratchUm ?? { low: 0, high: 0 };
		const removedUm = row?.removedUm?.mid ?? 0;
		const draw = seededNormal(31);
		const sigma = (spread: number) => Math.log(spread) / 1.96;
		let inside = 0;
		for (let sample = 0; sample < 20000; sample++) {
			const gone = removedUm * Math.exp(sigma(1.6) * draw() + sigma(1.35) * draw() + sigma(1.3) * (draw() + draw()));
			const depth = 1.701 * Math.exp(sigma(1.4) * draw()) - gone;
			if (depth >= low && depth <= high) inside++;
		}
		expect(Math.abs(inside / 20000 - 0.95)).toBeLessThan(0.023);
	});

	it("reaches up to the deepest that either cause may be", () => {
		const [before, after] = forecast([sand("P1500"), compound("heavy-cut", "wool-twisted", passes(2, 4))]).rows;
		const made = (before?.scratchUm?.high ?? 0) - 1.701;
		const gone = (after?.removedUm?.mid ?? 0) - (after?.removedUm?.low ?? 0);
		const middle = 1.701 - (after?.removedUm?.mid ?? 0);
		expect(after?.scratchUm?.high).toBeCloseTo(middle + Math.hypot(made, gone), 5);
	});

	it("forgets a scratch that cannot be deeper than a newer one, even where its removal is not known", () => {
		const flush = (grade: string): Fragment => sandByHand(grade, { place: "spot", work: { unit: "until-flush" } });
		expect(forecast([flush("P1500")], { defect: "swirl" }).totals.scratchUm?.mid).toBeCloseTo(1.701, 6);
		expect(forecast([flush("P2500")], { defect: "swirl" }).totals.scratchUm).toBeNull();
	});
});
