import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { filmToBottomUm, type Grip, gripOn, levelBump, pressuresAt, workUntil } from "../../src/forecast/levelling.ts";
import { prepareRows } from "../../src/forecast/prepare-rows.ts";
import type { Estimate, ShopDefect } from "../../src/model/generated/types.ts";
import { genericShop, type Shop } from "../../src/model/shop.ts";
import {
	compound,
	type Fragment,
	forecast,
	passes,
	polish,
	refineP3000,
	resolved,
	sand,
	sandByHand,
	seededNormal,
} from "./rows.ts";

const seeded = { seed: 20240519, numRuns: 500 };
const exactly = (mid: number): Estimate => ({ mid, low: mid, high: mid });
const blade: Fragment = { stage: "level", tool: "nib-blade", place: "spot", work: { unit: "until-flush" } };
const untilFlush: Fragment = { place: "spot", work: { unit: "until-flush" } };

const firm = sand("P1500");
const medium = sand("P1500", { backing: "medium-plate" });
const soft = sand("P1500", { backing: "soft-plate" });
const softLayer = sand("P1500", { interfaceMm: 10 });
const foamDisc = sand("P1500", { carrier: "foam" });

function nibs(um: Estimate) {
	return { defect: "dirt-nib", procedure: { scope: { defects: [{ defect: "dirt-nib", um }] } } };
}

const afterNib = (fragments: Fragment[], heightUm: number) => forecast(fragments, nibs(exactly(heightUm)));
const nibLeftUm = (fragment: Fragment, heightUm: number) =>
	afterNib([fragment], heightUm).totals.defectLeftUm?.mid ?? Number.NaN;

function shopWith(defect: Omit<ShopDefect, "name" | "polishable">): Shop {
	const defects = [{ ...defect, name: { en: defect.id }, polishable: true }];
	return { ...genericShop, book: { ...genericShop.book, defects } };
}

function peel(wavelengthMm: number, heightUm = 4) {
	const shop = shopWith({ id: "ripple", position: "texture", um: exactly(heightUm), wavelengthMm });
	return { defect: "ripple", shop };
}

const peelLeftUm = (fragments: Fragment[], wavelengthMm: number) =>
	forecast(fragments, peel(wavelengthMm)).totals.defectLeftUm?.mid ?? Number.NaN;

// Common practice, no source. The table has one or two digits: anything that rounds to them, and 0.25 for its 0.3.
describe("three passes of P1500", () => {
	it.each<[string, Fragment, [number, number, number]]>([
		["a firm plate", firm, [0, 0, 0]],
		["a medium plate", medium, [0.3, 2, 7]],
		["a soft plate", soft, [0.5, 6, 18]],
		["a soft layer of 10 mm", softLayer, [5, 20, 40]],
		["a foam disc", foamDisc, [16, 35, 54]],
	])("leave of nibs of 20, 40 and 60 µm under %s what the defaults say", (_, fragment, expectedUm) => {
		for (const [at, heightUm] of [20, 40, 60].entries()) {
			const leftUm = expectedUm[at] ?? Number.NaN;
			const within = leftUm > 0 && leftUm < 1 ? 0.06 : 0.5;
			expect(Math.abs(nibLeftUm(fragment, heightUm) - leftUm), `${heightUm} µm`).toBeLessThan(within);
		}
	});

	it("leave 2.8 µm of peel of 4 µm and 3 mm under foam, and none under a firm plate", () => {
		expect(peelLeftUm([foamDisc], 3).toFixed(1)).toBe("2.8");
		expect(peelLeftUm([firm], 3).toFixed(1)).toBe("0.0");
	});
});

describe("the rest of a blade", () => {
	it("is 3 µm, without film lost around it", () => {
		const { rows } = afterNib([blade], 40);
		expect(rows[0]?.defectLeftUm).toEqual({ mid: 3, low: 2, high: 4.5 });
		expect(rows[0]?.removedUm).toEqual(exactly(0));
	});

	it("is what stood there where that was lower", () => {
		expect(afterNib([blade], 1.5).totals.defectLeftUm).toEqual(exactly(1.5));
	});

	it("is 2.8 µm after a heavy cut on wool, and none after P2000 on a firm plate", () => {
		const heavy = forecast([blade, compound("heavy-cut", "wool-twisted")], { defect: "dirt-nib" });
		expect(heavy.totals.defectLeftUm?.mid.toFixed(1)).toBe("2.8");
		expect(forecast([blade, sand("P2000")], { defect: "dirt-nib" }).totals.defectLeftUm?.mid).toBeCloseTo(0, 3);
	});

	it("is known though nothing says how high the defect was, or what came before", () => {
		const shop = shopWith({ id: "drop", position: "proud", halfWidthMm: 0.4 });
		expect(forecast([firm, blade], { defect: "drop", shop }).rows.map(({ defectLeftUm }) => defectLeftUm)).toEqual([
			null,
			{ mid: 3, low: 2, high: 4.5 },
		]);
	});
});

describe("clay", () => {
	const clay: Fragment = { stage: "clean", tool: "clay" };

	it("takes a deposit down, and nothing else", () => {
		expect(forecast([clay], { defect: "fallout" }).totals.defectLeftUm?.mid).toBe(0.5);
		expect(afterNib([clay], 40).totals.defectLeftUm?.mid).toBe(40);
	});
});

const grips = fc
	.record({
		pressureKpa: fc.double({ min: 0.2, max: 20, noNaN: true }),
		stiffnessKpaPerUm: fc.double({ min: 0.01, max: 2000, noNaN: true }),
		share: fc.double({ min: 1e-6, max: 0.5, noNaN: true }),
	})
	.map(({ share, ...one }): Grip => {
		return { ...one, share, mostExtraKpa: Math.min(1000, one.pressureKpa * (1 / share - 1)) };
	});
const heights = fc.double({ min: 0.1, max: 300, noNaN: true });

describe("the force balance", () => {
	it("carries the row's force: φ·p_peak + (1 − φ)·p_valley = p, no valley pulls, no peak bears more than 1 MPa more", () => {
		fc.assert(
			fc.property(grips, heights, (grip, heightUm) => {
				const { peakKpa, valleyKpa } = pressuresAt(heightUm, grip);
				const sum = grip.share * peakKpa + (1 - grip.share) * valleyKpa;
				expect(sum / grip.pressureKpa).toBeCloseTo(1, 9);
				expect(valleyKpa).toBeGreaterThan(-1e-9 * grip.pressureKpa);
				expect(peakKpa - grip.pressureKpa).toBeLessThanOrEqual(1000 + 1e-9);
			}),
			seeded,
		);
	});

	it("loads the peaks of peel under foam by as much as the valleys are spared", () => {
		const grip: Grip = { pressureKpa: 1.7, stiffnessKpaPerUm: 0.0849, mostExtraKpa: 1.7, share: 0.5 };
		expect(pressuresAt(4, grip)).toEqual({ peakKpa: expect.closeTo(2.04, 2), valleyKpa: expect.closeTo(1.36, 2) });
	});
});

describe("the height left", () => {
	it("is what the rate dH/dt = −k·v·(p_peak − p_valley) leads to, integrated in small steps", () => {
		fc.assert(
			fc.property(grips, heights, fc.double({ min: 0.05, max: 1, noNaN: true }), (grip, heightUm, share) => {
				// Enough work to go some way, at most down to a tenth, whatever the grip.
				const work = share * workUntil(heightUm, heightUm / 10, grip);
				const steps = 2000;
				let numeric = heightUm;
				for (let step = 0; step < steps; step += 1) {
					// Midpoint rule: its error falls with the square of the step, but for one step across the bend.
					const rate = (at: number) => {
						const { peakKpa, valleyKpa } = pressuresAt(at, grip);
						return peakKpa - valleyKpa;
					};
					numeric -= rate(numeric - (rate(numeric) * work) / steps / 2) * (work / steps);
				}
				expect(Math.abs(numeric - levelBump(heightUm, grip, work)) / heightUm).toBeLessThan(1e-4);
			}),
			{ ...seeded, numRuns: 100 },
		);
	});

	it("takes the work that leads to it", () => {
		fc.assert(
			fc.property(grips, heights, fc.double({ min: 0.01, max: 0.99, noNaN: true }), (grip, heightUm, part) => {
				const targetUm = heightUm * part;
				const left = levelBump(heightUm, grip, workUntil(heightUm, targetUm, grip));
				expect(left / targetUm).toBeCloseTo(1, 7);
			}),
			seeded,
		);
	});

	it("never rises, and falls further with more work", () => {
		const rows = fc.constantFrom(firm, medium, soft, softLayer, foamDisc, refineP3000, polish("fine", "foam-soft"));
		fc.assert(
			fc.property(
				fc.array(rows, { minLength: 1, maxLength: 5 }),
				fc.constantFrom("dirt-nib", "run", "orange-peel"),
				(some, defect) => {
					const found = forecast(some, { defect });
					let before = found.defectUm?.mid ?? Number.NaN;
					for (const { defectLeftUm } of found.rows) {
						const { mid, low, high } = defectLeftUm ?? exactly(Number.NaN);
						expect(mid).toBeLessThanOrEqual(before);
						expect(low).toBeLessThanOrEqual(mid);
						expect(high).toBeGreaterThanOrEqual(mid);
						before = mid;
					}
				},
			),
			{ ...seeded, numRuns: 100 },
		);
	});
});

describe("the film around a defect", () => {
	it("loses what it would on an even panel around a nib", () => {
		const [even] = forecast([firm]).rows;
		expect(afterNib([firm], 40).rows[0]?.removedUm?.mid).toBeCloseTo(even?.removedUm?.mid ?? 0, 2);
	});

	it("is spared as far as a run on a block carries the force", () => {
		const few = sandByHand("P1500", { place: "spot", work: { unit: "strokes", low: 10, high: 10 } });
		const run = forecast([few], { defect: "run" }).rows[0];
		const even = forecast([few]).rows[0];
		expect(run?.defectLeftUm?.mid).toBeGreaterThan(20);
		expect(run?.removedUm?.mid).toBeLessThan(0.1 * (even?.removedUm?.mid ?? 0));
	});

	it("is a texture's mean, which loses what an even panel loses", () => {
		expect(forecast([firm], peel(3)).totals.removedUm).toEqual(forecast([firm]).totals.removedUm);
	});
});

describe("work until flush", () => {
	it("is the strokes to two µm, and costs the film and the time of those strokes", () => {
		const flush = afterNib([sandByHand("P1500", untilFlush)], 40);
		expect(flush.totals.defectLeftUm).toEqual({ mid: 2, low: expect.closeTo(2 / 1.5, 5), high: 3 });
		const strokes = (flush.totals.minutes?.mid ?? 0) * 60;
		const counted = afterNib(
			[sandByHand("P1500", { place: "spot", work: { unit: "strokes", low: strokes, high: strokes } })],
			40,
		);
		// Minutes are rounded to 1e-6, which is half a thousandth of a µm here.
		expect(counted.totals.defectLeftUm?.mid).toBeCloseTo(2, 2);
		// Of strokes that are counted, less than 0.01 µm of film spared is not.
		expect(Math.abs((counted.totals.removedUm?.mid ?? 0) - (flush.totals.removedUm?.mid ?? 0))).toBeLessThan(0.01);
		expect(flush.unknown).toEqual([]);
	});

	it("costs film by how the defect is gripped, not by how fast the clear is cut", () => {
		const on = (clearCoat: "refinish" | "factory-hard") =>
			forecast([sandByHand("P1500", { ...untilFlush, backing: "soft-block" })], { ...nibs(exactly(40)), clearCoat })
				.totals;
		expect(on("factory-hard").removedUm?.mid).toBeCloseTo(on("refinish").removedUm?.mid ?? 0, 5);
		expect(on("factory-hard").minutes?.mid).toBeCloseTo(2 * (on("refinish").minutes?.mid ?? 0), 5);
	});

	it("is what the readings to start and to stop by rest on, in place of sixty strokes", () => {
		const steps: Fragment[] = [{ stage: "measure" }, sandByHand("P1500", untilFlush)];
		const bound = forecast(steps).start?.clearAtLeastUm ?? 0;
		const known = forecast(steps, nibs(exactly(40))).start?.clearAtLeastUm ?? 0;
		expect(known).toBeLessThan(bound);
		expect(known).toBeGreaterThanOrEqual(42);
	});

	it("is not known where it would take more than sixty strokes, nor is anything that rests on it", () => {
		const found = afterNib([sandByHand("P3000", { ...untilFlush, backing: "sponge-pad", carrier: "foam" })], 60);
		expect([found.totals.defectLeftUm, found.totals.removedUm, found.totals.minutes]).toEqual([null, null, null]);
		expect(found.unknown.filter(({ quantity }) => quantity === "defectLeftUm")).toEqual([
			expect.objectContaining({ why: "until-flush" }),
		]);
	});

	it("takes nothing where it is flush already", () => {
		const { totals } = afterNib([sandByHand("P1500", untilFlush)], 1.5);
		expect([totals.removedUm?.mid, totals.defectLeftUm?.mid]).toEqual([0, 1.5]);
	});
});

describe("what is not known of a defect", () => {
	it.each([
		["width", { um: exactly(20) }, "defect-without-width", "fill-the-width"],
		["height", { halfWidthMm: 0.4 }, "defect-without-depth", "fill-the-depth"],
	] as const)("is said once: its %s", (_, figures, why, measure) => {
		const shop = shopWith({ id: "drop", position: "proud", ...figures });
		const { totals, unknown } = forecast([firm, firm], { defect: "drop", shop });
		expect(totals.defectLeftUm).toBeNull();
		expect(totals.removedUm?.mid).toBeCloseTo(2 * 3.518584, 5);
		expect(unknown.map((one) => [one.quantity, one.why, one.measure])).toEqual([["defectLeftUm", why, measure]]);
	});

	it("is an incomplete row's doing from that row on", () => {
		const { rows } = forecast([firm, { stage: "sand", abrasive: "P1500" }, firm], { defect: "dirt-nib" });
		expect(rows.map(({ defectLeftUm }) => defectLeftUm !== null)).toEqual([true, false, false]);
	});

	it("is not asked of a scope that names none", () => {
		expect(forecast([firm])).toMatchObject({ defectUm: null, toBottomUm: null, unknown: [] });
	});
});

describe("a defect that lies in the film", () => {
	it("is as deep as what was taken off leaves it", () => {
		const { rows, defectUm, toBottomUm } = forecast([sand("P2000", passes(1)), sand("P2000")], { defect: "etch" });
		expect(rows[0]?.defectLeftUm?.mid).toBeCloseTo((defectUm?.mid ?? 0) - (rows[0]?.removedUm?.mid ?? 0), 5);
		expect(rows[1]?.defectLeftUm?.mid).toBe(0);
		expect(toBottomUm).toEqual(defectUm);
	});

	const hollow = (halfWidthMm: number) => ({
		defect: "hollow",
		shop: shopWith({ id: "hollow", position: "recessed", um: exactly(3), halfWidthMm }),
	});

	it("costs more than its depth where it is wide and the face follows it", () => {
		const cost = (fragment: Fragment) => forecast([fragment], hollow(5)).toBottomUm?.mid ?? Number.NaN;
		expect(cost(sandByHand("P1500"))).toBeCloseTo(3, 2);
		expect(cost(foamDisc)).toBeGreaterThan(30);
		expect(forecast([foamDisc], hollow(5)).totals.defectLeftUm?.mid).toBeGreaterThan(2.5);
		expect(forecast([firm], hollow(0.01)).totals.defectLeftUm?.mid).toBe(0);
	});

	it("costs what its bottom and the film around lose together until no more than cleared is left", () => {
		const grip: Grip = { pressureKpa: 1.7, stiffnessKpaPerUm: 0.5, mostExtraKpa: 1.7, share: 0 };
		// 10 µm down to p/K = 3.4 µm straight, then (p/K)·ln(3.4/0.2).
		expect(filmToBottomUm(10, grip, 0.2)).toBeCloseTo(6.6 + 3.4 * Math.log(17), 9);
		expect(filmToBottomUm(10, null, 0.2)).toBe(10);
	});
});

describe("the interval of the height left", () => {
	// All coefficients are drawn, rows share what the model lets them share. The forecast takes rows to err together and
	// joins both sides in quadrature, which may hold more than nineteen in twenty; 5,000 draws know a share to 0.006.
	it.each<[string, Fragment[]]>([
		["a medium plate", [medium]],
		["a soft layer", [softLayer]],
		["a foam disc", [foamDisc]],
		["a soft plate and a pad", [soft, compound("heavy-cut", "wool-twisted")]],
	])("holds at least nineteen draws in twenty under %s", (_, fragments) => {
		const um = { mid: Math.sqrt(20 * 60), low: 20, high: 60 };
		const { totals } = forecast(fragments, nibs(um));
		const { low, high } = totals.defectLeftUm ?? exactly(Number.NaN);
		const { terms } = prepareRows(resolved(fragments));
		const draw = seededNormal(41);
		const sigma = (spread: number) => Math.log(spread) / 1.96;
		let inside = 0;
		for (let sample = 0; sample < 5000; sample += 1) {
			let heightUm = um.mid * Math.exp((Math.log(3) / 2 / 1.96) * draw());
			const halfWidthMm = 0.3 + 0.3 * Math.min(1, Math.max(0, (heightUm - 20) / 40));
			const hard = 0.5 * Math.exp(sigma(1.5) * draw());
			const clear = Math.exp(sigma(1.35) * draw());
			for (const { removal, contact } of terms) {
				if (removal === null || contact === null) throw new Error("a row is not known");
				const cut = Math.exp(sigma(1.6) * draw() + sigma(1.3) * (draw() + draw()));
				const grip = gripOn(contact, halfWidthMm, false);
				const stiffnessKpaPerUm = grip.stiffnessKpaPerUm * Math.exp(sigma(1.5) * draw());
				const work = (removal.midUm * hard * clear * cut) / (contact.pressureKpa * contact.carrierFactor);
				heightUm = levelBump(heightUm, { ...grip, stiffnessKpaPerUm }, work);
			}
			if (heightUm >= low && heightUm <= high) inside += 1;
		}
		expect(inside / 5000).toBeGreaterThan(0.93);
		expect(inside / 5000).toBeLessThan(0.995);
	});
});

// Facts of the trade (common practice, no source), as they come out of the model.
describe("the trade's facts", () => {
	it("2: a rigid backing levels flat areas, a soft one spares curves and body lines", () => {
		const rigid = sandByHand("P1500", passes(16));
		const flexible = sandByHand("P1500", { ...passes(16), backing: "sponge-pad" });
		expect(peelLeftUm([rigid], 5)).toBeLessThan(0.1);
		expect(peelLeftUm([flexible], 5)).toBeGreaterThan(1);
		const onLine = (fragment: Fragment, curve: "gentle-curve" | "body-line") =>
			forecast([fragment]).rows[0]?.curves?.[curve].pressureFactor ?? Number.NaN;
		for (const curve of ["gentle-curve", "body-line"] as const)
			expect(onLine(rigid, curve)).toBeGreaterThan(10 * onLine(flexible, curve));
	});

	it("3: a firm plate, a block or a blade levels a hard proud defect; a foam disc or a soft layer leaves a high spot", () => {
		for (const levels of [firm, sandByHand("P1500", { place: "spot", work: { unit: "strokes", low: 10, high: 10 } })])
			expect(nibLeftUm(levels, 35)).toBeLessThan(0.1);
		expect(nibLeftUm(blade, 35)).toBe(3);
		for (const conforms of [foamDisc, softLayer, refineP3000]) expect(nibLeftUm(conforms, 35)).toBeGreaterThan(10);
	});

	it("3: the same soft set-up refines evenly, and follows long texture rather than flattening it", () => {
		const [, refined] = forecast([
			firm,
			sand("P3000", { carrier: "foam", backing: "soft-plate", wetness: "damp", ...passes(8) }),
		]).rows;
		expect(refined?.scratchFrom?.index).toBe(1);
		const shareLeft = (wavelengthMm: number) => peelLeftUm([foamDisc], wavelengthMm) / 4;
		expect(shareLeft(1)).toBeLessThan(0.4);
		expect(shareLeft(10)).toBeGreaterThan(0.85);
		expect(peelLeftUm([firm], 10)).toBeLessThan(0.1);
	});

	it("4: after a blade it is finishing sanding that levels the rest, not a liquid", () => {
		const cut = compound("heavy-cut", "wool-twisted");
		expect(forecast([blade, cut, cut], { defect: "dirt-nib" }).totals.defectLeftUm?.mid).toBeGreaterThan(2);
		expect(
			forecast([blade, sand("P2000", { place: "spot" }), cut], { defect: "dirt-nib" }).totals.defectLeftUm?.mid,
		).toBeLessThan(0.1);
	});

	it("6: wool cuts faster than foam with the same liquid, foam forgives more at edges and body lines", () => {
		const [wool, foam] = (["wool-twisted", "foam-firm"] as const).map(
			(pad) => forecast([compound("heavy-cut", pad)]).rows[0],
		);
		expect(wool?.removedUm?.mid).toBeGreaterThan(1.5 * (foam?.removedUm?.mid ?? 0));
		const share = (row: typeof wool) => (row?.edgeRemovedUm?.mid ?? 0) / (row?.removedUm?.mid ?? 1);
		expect(share(foam)).toBeLessThan(share(wool));
		const onLine = (row: typeof wool) => (row?.removedUm?.mid ?? 0) * (row?.curves?.["body-line"].pressureFactor ?? 0);
		expect(onLine(foam)).toBeLessThan(onLine(wool));
	});
});
