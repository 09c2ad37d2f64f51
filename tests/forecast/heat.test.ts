import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coefficient } from "../../src/forecast/coefficients.ts";
import { heatAlong, heatOf } from "../../src/forecast/heat.ts";
import { frictionFluxWm2, type HeatLoad, heatLoads, type WorkEnd } from "../../src/forecast/heat-loads.ts";
import {
	type Layer,
	type PanelLayers,
	panelLayers,
	risesAfter,
	stepResponse,
} from "../../src/forecast/heat-response.ts";
import { prepareRows } from "../../src/forecast/prepare-rows.ts";
import { enumerations } from "../../src/model/generated/enumerations.ts";
import type { Substrate } from "../../src/model/generated/types.ts";
import reference from "../reference/heat.json" with { type: "json" };
import { alongByFiniteDifferences, FiniteDifferences } from "./heat-finite-differences.ts";
import { compound, cuttingRow, type Fragment, passes, polish, resolved, sand, sandByHand, wholeChain } from "./rows.ts";

const substrates = enumerations.Substrate;
const startC = coefficient("heat", "startC").value;

function referenceValues(id: string): unknown {
	const entry = reference.find((one) => one.id === id);
	if (!entry) throw new Error(`no reference ${id}`);
	return entry.values;
}

function termsOf(fragments: readonly Fragment[]) {
	return prepareRows(resolved(fragments)).terms;
}

/** Highest surface temperature through all rows. */
function hottest(
	fragments: readonly Fragment[],
	substrate: Substrate,
	point: "field" | "edge" = "field",
	fromC = startC,
): number {
	return Math.max(
		...heatOf(termsOf(fragments), substrate, fromC, "high").map((one) => one[point]?.hottestC ?? Number.NaN),
	);
}

function loadOf(fragment: Fragment, point: "field" | "edge" = "field", end: WorkEnd = "high"): HeatLoad {
	const [terms] = termsOf([fragment]);
	const load = terms && heatLoads(terms, end)[point];
	if (!load) throw new Error(`no load of ${JSON.stringify(fragment)}`);
	return load;
}

const rotary = compound("heavy-cut", "wool-twisted");
const rotaryLoad = loadOf(rotary);
const hardRotary = compound("heavy-cut", "wool-twisted", {
	speed: { unit: "rpm", low: 2500, high: 2500 },
	forceN: 60,
	...passes(10),
});
/** The rows that take off the 10.2 µm of the whole chain; the finest row, for dark tones, comes after them. */
const chainToMedium = wholeChain.slice(0, -1);

function solid(thicknessM: number, conductivityWmK: number, capacity: number): Layer {
	return { thicknessM, conductivityWmK, densityKgM3: capacity, specificHeatJkgK: 1 };
}

/** erfc by its continued fraction, and by its series below 2: 12 digits. */
function erfc(x: number): number {
	if (x < 2) {
		let term = x;
		let sum = x;
		for (let n = 1; n < 60; n += 1) {
			term *= (-x * x) / n;
			sum += term / (2 * n + 1);
		}
		return 1 - (2 / Math.sqrt(Math.PI)) * sum;
	}
	let fraction = x;
	for (let n = 60; n > 0; n -= 1) fraction = x + n / 2 / fraction;
	return Math.exp(-x * x) / Math.sqrt(Math.PI) / fraction;
}

describe("the surface comes to the temperatures that are meant to come out", () => {
	// To the degree as they are stated: half a degree either way.
	it.each<[string, readonly Fragment[], "field" | "edge", number, Record<Substrate, number>]>([
		["a rotary, four passes", [rotary], "field", 23, { steel: 33, aluminium: 34, plastic: 38, composite: 35 }],
		["its edge", [rotary], "edge", 23, { steel: 43, aluminium: 45, plastic: 52, composite: 48 }],
		[
			"the whole chain without waits",
			chainToMedium,
			"field",
			23,
			{ steel: 39, aluminium: 41, plastic: 40, composite: 38 },
		],
		["the same from 35 °C", chainToMedium, "field", 35, { steel: 51, aluminium: 53, plastic: 52, composite: 50 }],
		[
			"2,500 rpm, 60 N, ten passes",
			[hardRotary],
			"field",
			23,
			{ steel: 87, aluminium: 96, plastic: 90, composite: 82 },
		],
	])("under %s", (_, fragments, point, fromC, expected) => {
		for (const substrate of substrates)
			expect([substrate, Math.round(hottest(fragments, substrate, point, fromC))]).toEqual([
				substrate,
				expected[substrate],
			]);
	});

	it("two degrees higher where the finest row follows at once", () => {
		for (const substrate of substrates) {
			const more = hottest(wholeChain, substrate) - hottest(chainToMedium, substrate);
			expect(more).toBeGreaterThan(1.8);
			expect(more).toBeLessThan(2.5);
		}
	});
});

describe("a rotary heats the panel", () => {
	it.each(substrates)("less with fewer passes, and less on a larger section: %s", (substrate) => {
		const usual = hottest([rotary], substrate);
		expect(hottest([{ ...rotary, ...passes(2) }], substrate)).toBeLessThan(usual - 1);
		expect(hottest([{ ...rotary, sectionM2: 0.5 }], substrate)).toBeLessThan(usual - 0.3);
	});

	it.each<[string, Fragment]>([
		["a slower arm", { armSpeedMs: 0.15 }],
		["more passes", passes(6)],
		["more force", { forceN: 40 }],
		["a higher speed", { speed: { unit: "rpm", low: 2000, high: 2000 } }],
	])("more with %s", (_, harder) => {
		for (const substrate of substrates)
			expect(hottest([{ ...rotary, ...harder }], substrate)).toBeGreaterThan(hottest([rotary], substrate) + 1);
	});

	it("more at the surface of plastic than of steel, while the plastic behind it stays cooler", () => {
		for (const point of ["field", "edge"] as const)
			expect(hottest([rotary], "plastic", point)).toBeGreaterThan(hottest([rotary], "steel", point) + 4);
		const [plastic] = heatOf(termsOf([rotary]), "plastic", startC, "high");
		const [steel] = heatOf(termsOf([rotary]), "steel", startC, "high");
		expect(plastic?.field?.panelC).toBeLessThan((steel?.field?.panelC ?? 0) - 2);
	});

	it("more than an orbital with the same liquid", () => {
		for (const substrate of substrates)
			expect(hottest([rotary], substrate)).toBeGreaterThan(hottest([polish("heavy-cut", "foam-firm")], substrate));
	});

	it("less after a wait, the less the longer", () => {
		for (const substrate of substrates) {
			const after = (waitMinutes: number) => hottest([rotary, { stage: "wait", waitMinutes }, rotary], substrate);
			const atOnce = hottest([rotary, rotary], substrate);
			expect(after(2)).toBeLessThan(atOnce - 0.5);
			expect(after(10)).toBeLessThan(after(2));
			expect(after(600)).toBeCloseTo(hottest([rotary], substrate), 6);
		}
	});
});

describe("the step response", () => {
	it.each(substrates)("comes to 1/h in the end, at the surface and behind it: %s", (substrate) => {
		const panel = panelLayers(substrate);
		const { surfaceK, panelK } = risesAfter(panel, 1e5);
		expect(surfaceK).toBeCloseTo(1 / panel.convectionWm2K, 12);
		expect(panelK).toBeCloseTo(1 / panel.convectionWm2K, 12);
	});

	it.each(substrates)("warms the stack by qt/C where little goes into the air: %s", (substrate) => {
		// All layers together; the panel lags behind the surface and runs parallel to it once heat has gone through.
		const still = { ...panelLayers(substrate), convectionWm2K: 1e-6 };
		const capacity = still.layers.reduce(
			(sum, one) => sum + one.thicknessM * one.densityKgM3 * one.specificHeatJkgK,
			0,
		);
		const gain = risesAfter(still, 400).surfaceK - risesAfter(still, 300).surfaceK;
		expect((gain * capacity) / 100).toBeCloseTo(1, 5);
	});

	it.each(substrates)("agrees with finite differences, the better the finer the grid: %s", (substrate) => {
		const panel = panelLayers(substrate);
		const exact = risesAfter(panel, 2);
		const errors = [1, 2, 4].map((finer) => {
			const cells = [4 * finer, 4 * finer, 20 * finer];
			const { surfaceK, panelK } = new FiniteDifferences(panel, cells).run(1, 2, 100 * finer ** 2);
			return { surface: surfaceK / exact.surfaceK - 1, panel: panelK / exact.panelK - 1 };
		});
		// Halved cells and quartered steps leave a quarter of the error.
		for (const key of ["surface", "panel"] as const) {
			const [coarse = 0, middle = 0, fine = 0] = errors.map((one) => one[key]);
			expect(Math.abs(fine)).toBeLessThan(5e-4);
			expect(middle / coarse).toBeCloseTo(1 / 4, 1);
			expect(fine / middle).toBeCloseTo(1 / 4, 1);
		}
	});

	it.each(substrates)("is right within 0.001 K for 10 kW/m² a quarter of a second after the start: %s", (substrate) => {
		const panel = panelLayers(substrate);
		const byGrid = (finer: number) =>
			new FiniteDifferences(panel, [10 * finer, 10 * finer, 200 * finer]).run(1e4, 0.25, 500 * finer ** 2).surfaceK;
		const coarse = byGrid(1);
		const fine = byGrid(2);
		// Richardson: what is left of the error when its leading term is taken out.
		const limit = fine + (fine - coarse) / 3;
		expect(Math.abs(risesAfter(panel, 0.25).surfaceK * 1e4 - limit)).toBeLessThan(1e-3);
	});

	it.each(["wood", "aluminium"] as const)("is that of a half space under constant flux: block of %s", (block) => {
		const { k, alpha, exact_C, printed_C } =
			(
				referenceValues("ex_semi_infinite_blocks") as Record<
					string,
					{ k: number; alpha: number; exact_C: number; printed_C: number }
				>
			)[block] ?? {};
		if (k === undefined || alpha === undefined) throw new Error(`no block of ${block}`);
		// Six diffusion lengths deep; what the air takes is 1e-6 of the flux.
		const deep = { layers: [solid(6 * Math.sqrt(alpha * 1200), k, k / alpha)], convectionWm2K: 1e-5 };
		const { surfaceK } = risesAfter(deep, 20 * 60);
		expect(20 + 1250 * surfaceK).toBeCloseTo(exact_C ?? 0, 2);
		expect(20 + 1250 * surfaceK).toBeCloseTo(printed_C ?? 0, -0.5);
	});

	it("is that of a half space of clear coat", () => {
		const deep = { layers: [solid(0.02, 0.2, 1150 * 1600)], convectionWm2K: 1e-4 };
		for (const { q_W_m2, t_s, rise_K } of referenceValues("clearcoat_flash_rise") as {
			q_W_m2: number;
			t_s: number;
			rise_K: number;
		}[])
			expect((q_W_m2 * risesAfter(deep, t_s).surfaceK) / rise_K).toBeCloseTo(1, 5);
	});

	it("lets a half space cool into air as the closed form says", () => {
		const { printed_K, exact_K } = referenceValues("ex_semi_infinite_convection") as {
			printed_K: number;
			exact_K: number;
		};
		const [startK, airK, h, alpha, k, seconds] = [393, 355, 50, 4.029e-6, 10, 100];
		const length = Math.sqrt(alpha * seconds);
		const closedForm = (x: number) =>
			startK +
			(airK - startK) *
				(erfc(x / (2 * length)) -
					Math.exp((h * x) / k + ((h / k) * length) ** 2) * erfc(x / (2 * length) + (h / k) * length));
		expect(closedForm(0.003)).toBeCloseTo(exact_K, 4);
		expect(closedForm(0.003)).toBeCloseTo(printed_K, 0);
		const deep = { layers: [solid(12 * length, k, k / alpha)], convectionWm2K: h };
		const [cooled] = heatAlong([rest(seconds)], deep, startK, airK);
		expect(cooled?.surfaceC).toBeCloseTo(closedForm(0), 3);
	});

	it("is that of a lumped body where the body is thin: a bead of 0.7 mm", () => {
		const { D_m, t_s } = referenceValues("ex_lumped_incropera") as { D_m: number; t_s: number };
		const bead = {
			layers: [{ ...solid(D_m / 6, 20, 0), densityKgM3: 8500, specificHeatJkgK: 400 }],
			convectionWm2K: 400,
		};
		const [heated] = heatAlong([rest(t_s)], bead, 25, 200);
		// The body's own resistance, Bi = 0.0024, is what the lumped form leaves out.
		expect(heated?.panelC).toBeCloseTo(199, 1);
		expect(1 / (stepResponse(bead).rates[0] ?? 0)).toBeCloseTo(1, 2);
	});

	it("is that of a lumped body where the body is thin: a bead of 1 mm", () => {
		const { Lc_m, t_s, b_per_s } = referenceValues("ex_lumped_cengel") as {
			Lc_m: number;
			t_s: number;
			b_per_s: number;
		};
		const bead = { layers: [{ ...solid(Lc_m, 35, 0), densityKgM3: 8500, specificHeatJkgK: 320 }], convectionWm2K: 210 };
		expect((stepResponse(bead).rates[0] ?? 0) / b_per_s).toBeCloseTo(1, 3);
		expect(risesAfter(bead, t_s).panelK * 210).toBeCloseTo(0.99, 4);
	});

	it("has the time constant of a bare steel panel", () => {
		const { Lc_m, tau_s } = referenceValues("ex_panel_time_constant") as { Lc_m: number; tau_s: number };
		const bare = { layers: [{ ...solid(Lc_m, 63.9, 0), densityKgM3: 7832, specificHeatJkgK: 434 }], convectionWm2K: 8 };
		expect(1 / (stepResponse(bare).rates[0] ?? 0) / tau_s).toBeCloseTo(1, 4);
	});

	it("is nothing before the flux is on", () => {
		expect(risesAfter(panelLayers("steel"), -1)).toEqual({ surfaceK: 0, panelK: 0 });
	});

	it.each<[string, PanelLayers]>([
		["no layers", { layers: [], convectionWm2K: 10 }],
		["no air", { layers: [solid(1e-3, 50, 4e6)], convectionWm2K: 0 }],
		["a layer that conducts nothing", { layers: [solid(1e-3, 0, 4e6)], convectionWm2K: 10 }],
		["a layer of no known thickness", { layers: [solid(Number.NaN, 50, 4e6)], convectionWm2K: 10 }],
	])("refuses a panel with %s", (_, panel) => {
		expect(() => stepResponse(panel)).toThrow(RangeError);
	});
});

/** Time without friction. */
function rest(seconds: number): HeatLoad {
	return { fluxWm2: 0, blockS: 0, everyS: seconds, blocks: 1 };
}

const madeLoads = fc.array(
	fc.record({
		fluxWm2: fc.double({ min: 0, max: 15000, noNaN: true }),
		blockS: fc.double({ min: 1, max: 3, noNaN: true }),
		pauseS: fc.double({ min: 0, max: 30, noNaN: true }),
		blocks: fc.integer({ min: 1, max: 12 }).map((quarters) => quarters / 4),
	}),
	{ minLength: 1, maxLength: 4 },
);
const made = fc.record({
	substrate: fc.constantFrom<Substrate>(...substrates),
	loads: madeLoads.map((all) =>
		all.map(({ fluxWm2, blockS, pauseS, blocks }): HeatLoad => ({ fluxWm2, blockS, everyS: blockS + pauseS, blocks })),
	),
});

describe("loads along a procedure", () => {
	it("give what finite differences give", () => {
		fc.assert(
			fc.property(made, ({ substrate, loads }) => {
				const panel = panelLayers(substrate);
				const along = heatAlong([...loads, rest(1)], panel, 0);
				const byGrid = alongByFiniteDifferences([...loads, rest(1)], panel, [5, 5, 60], 0.01);
				const highest = Math.max(
					0,
					...along.filter((_, at) => (loads[at]?.fluxWm2 ?? 0) > 0).map((one) => one.hottestC),
				);
				// The grid is right within 1 % of its rises; a tenth of a degree where they are small.
				const tolerance = 0.1 + 0.01 * highest;
				expect(Math.abs(highest - byGrid.highestK)).toBeLessThan(tolerance);
				expect(Math.abs((along.at(-1)?.panelC ?? 0) - byGrid.end.panelK)).toBeLessThan(tolerance);
			}),
			{ seed: 7, numRuns: 40 },
		);
	});

	it("superpose a step up and a step down for each block", () => {
		fc.assert(
			fc.property(made, ({ substrate, loads }) => {
				const panel = panelLayers(substrate);
				const steps: { fluxWm2: number; at: number }[] = [];
				let now = 0;
				for (const { fluxWm2, blockS, everyS, blocks } of loads)
					for (let left = blocks; left > 0; left -= 1) {
						const part = Math.min(1, left);
						now += everyS * part;
						steps.push({ fluxWm2, at: now - blockS * part }, { fluxWm2: -fluxWm2, at: now });
					}
				// Some time after the last block, when what counts as settled at once has come and gone.
				const later = [...loads, rest(5)];
				const sum = (key: "surfaceK" | "panelK") =>
					steps.reduce((all, { fluxWm2, at }) => all + fluxWm2 * risesAfter(panel, now + 5 - at)[key], 0);
				const end = heatAlong(later, panel, 0).at(-1);
				expect(end?.surfaceC).toBeCloseTo(sum("surfaceK"), 9);
				expect(end?.panelC).toBeCloseTo(sum("panelK"), 9);
			}),
			{ seed: 8, numRuns: 100 },
		);
	});

	it("give rises in proportion to the flux, and the same from any start", () => {
		fc.assert(
			fc.property(made, fc.double({ min: 0.1, max: 3, noNaN: true }), ({ substrate, loads }, factor) => {
				const panel = panelLayers(substrate);
				const usual = heatAlong(loads, panel, 0);
				const warm = heatAlong(loads, panel, 35);
				const harder = heatAlong(
					loads.map((one) => ({ ...one, fluxWm2: one.fluxWm2 * factor })),
					panel,
					0,
				);
				usual.forEach(({ hottestC }, at) => {
					expect((warm[at]?.hottestC ?? 0) - 35).toBeCloseTo(hottestC, 9);
					expect(harder[at]?.hottestC).toBeCloseTo(hottestC * factor, 9);
				});
			}),
			{ seed: 9, numRuns: 100 },
		);
	});

	it.each(substrates)("give into the air what the tool put in, no more and no less: %s", (substrate) => {
		const panel = panelLayers(substrate);
		const slices = [
			...Array.from({ length: 200 }, (): HeatLoad => ({ fluxWm2: 5000, blockS: 0.05, everyS: 0.05, blocks: 1 })),
			...Array.from({ length: 200 }, () => rest(0.05)),
			...Array.from({ length: 12000 }, () => rest(1)),
		];
		const after = heatAlong(slices, panel, 23);
		let givenJm2 = 0;
		let before = 23;
		slices.forEach(({ everyS }, at) => {
			const now = after[at]?.surfaceC ?? Number.NaN;
			givenJm2 += panel.convectionWm2K * ((now + before) / 2 - 23) * everyS;
			before = now;
		});
		// The trapezium rule over 10 s of 5 kW/m²; the film's own few kelvins, gone at once, are left out.
		expect(givenJm2 / 50000).toBeCloseTo(1, 2);
	});

	it.each(substrates)("agree with the heat that a grid holds: %s", (substrate) => {
		const panel = panelLayers(substrate);
		const grid = new FiniteDifferences(panel, [5, 5, 60]);
		let givenJm2 = 0;
		for (let at = 0; at < 1000; at += 1) givenJm2 += panel.convectionWm2K * grid.run(5000, 0.01, 1).surfaceK * 0.01;
		expect((grid.storedJm2() + givenJm2) / 50000).toBeCloseTo(1, 9);
		const [heated] = heatAlong([{ fluxWm2: 5000, blockS: 10, everyS: 10, blocks: 1 }], panel, 0);
		expect((heated?.hottestC ?? 0) / grid.run(5000, 1e-9, 1).surfaceK).toBeCloseTo(1, 2);
	});

	it("tend to the steady state under a flux that never ends", () => {
		for (const substrate of substrates) {
			const panel = panelLayers(substrate);
			const [end] = heatAlong([{ fluxWm2: 200, blockS: 1e6, everyS: 1e6, blocks: 1 }], panel, 23);
			expect(end?.hottestC).toBeCloseTo(23 + 200 / panel.convectionWm2K, 9);
			expect(end?.panelC).toBeCloseTo(23 + 200 / panel.convectionWm2K, 2);
		}
	});

	it("sum hundreds of blocks as they sum few", () => {
		for (const substrate of substrates) {
			const panel = panelLayers(substrate);
			const many = heatAlong([{ ...rotaryLoad, blocks: 500 }], panel, 23).at(-1);
			const few = heatAlong(
				Array.from({ length: 10 }, () => ({ ...rotaryLoad, blocks: 50 })),
				panel,
				23,
			).at(-1);
			expect(many?.hottestC).toBeCloseTo(few?.hottestC ?? 0, 9);
			expect(many?.panelC).toBeCloseTo(few?.panelC ?? 0, 9);
		}
	});

	it("let a panel from the oven cool to the air, when told its temperature", () => {
		const panel = panelLayers("steel");
		const [five, hour] = heatAlong([rest(300), rest(3300)], panel, 60, 23);
		// 0.8 mm steel and its film: C/h = 313 s and little more for the film.
		expect(five?.hottestC).toBe(60);
		expect(five?.panelC).toBeCloseTo(23 + 37 * Math.exp(-300 / 314.6), 0);
		expect(hour?.surfaceC).toBeCloseTo(23, 2);
	});

	it("are hottest where the tool meets a point that came hotter than the row makes it", () => {
		const panel = panelLayers("steel");
		const hot = { ...rotaryLoad, blocks: 20 };
		const gentle = { ...rotaryLoad, fluxWm2: 50 };
		const [first, second] = heatAlong([hot, gentle], panel, 23);
		const [, met] = heatAlong([hot, rest(gentle.everyS - gentle.blockS)], panel, 23);
		expect(second?.hottestC).toBeLessThan(first?.surfaceC ?? 0);
		expect(second?.hottestC).toBeCloseTo((met?.surfaceC ?? 0) + gentle.fluxWm2 * stepResponse(panel).atOnce, 9);
	});

	it("leave what they are given as it was", () => {
		const loads = [rotaryLoad, rest(60)].map((one) => Object.freeze({ ...one }));
		const panel = panelLayers("plastic");
		expect(heatAlong(Object.freeze(loads), panel, 23)).toEqual(heatAlong(Object.freeze(loads), panel, 23));
	});
});

describe("a row's load", () => {
	it("is the friction power of the reference", () => {
		const { flux_W_m2 } = referenceValues("ex_friction_power") as { flux_W_m2: number };
		expect(frictionFluxWm2(0.3, 30 / ((Math.PI / 4) * 0.15 ** 2) / 1000, 10.472)).toBeCloseTo(flux_W_m2, 1);
	});

	it("is one block of τ₁ every t₁ for each pass", () => {
		expect(rotaryLoad.fluxWm2).toBeCloseTo((0.5 * 30 * 9.424778) / ((Math.PI / 4) * 0.18 ** 2), 3);
		expect(rotaryLoad.blockS).toBeCloseTo(((Math.PI / 4) * 0.18 ** 2) / (0.09 * 0.25), 9);
		expect(rotaryLoad.everyS).toBeCloseTo(0.25 / (0.09 * 0.25), 9);
		expect(rotaryLoad.blocks).toBe(4);
	});

	it.each<[string, Fragment, number]>([
		["two passes for a stroke of a driven tool", { work: { unit: "strokes", low: 2, high: 2 } }, 4],
		["passes for minutes", { work: { unit: "minutes", low: 1, high: 1 } }, 60 / (0.25 / (0.09 * 0.25))],
	])("counts %s", (_, work, blocks) => {
		const load = loadOf({ ...rotary, ...work });
		expect(load.blocks).toBeCloseTo(blocks, 9);
		expect({ ...load, blocks: 4 }).toEqual({ ...rotaryLoad, blocks: 4 });
	});

	it("puts in as much heat by hand as its strokes rub", () => {
		const byHand = sandByHand("P1500");
		const { fluxWm2, blockS, blocks } = loadOf(byHand);
		const row = cuttingRow(byHand);
		// 15 N on 70 × 125 mm, 0.14 m a stroke over the point, twice where lanes overlap by half.
		const joules = 0.5 * (row.hand.forceN / (0.07 * 0.125)) * 2 * 0.14 * 3;
		expect(fluxWm2 * blockS * blocks).toBeCloseTo(joules, 6);
	});

	it("never leaves the point on a spot", () => {
		const load = loadOf(sand("P1500", { place: "spot", spotMm: 40, work: { unit: "minutes", low: 0.5, high: 0.5 } }));
		expect(load).toMatchObject({ blocks: 1, blockS: 30, everyS: 30 });
	});

	it("is that of the end of the work that is asked for", () => {
		const range = { ...rotary, ...passes(2, 5) };
		expect((["low", "mid", "high"] as const).map((end) => loadOf(range, "field", end).blocks)).toEqual([2, 3.5, 5]);
	});

	it("is the most strokes for work until flush", () => {
		const flush = sandByHand("P1500", { place: "spot", spotMm: 30, work: { unit: "until-flush" } });
		expect(loadOf(flush).everyS).toBeCloseTo(60, 9);
	});

	it.each<[string, Fragment, number]>([
		["the pressure there where it runs freely over it", { edges: "free" }, 2],
		["the same where nothing is said", {}, 2],
		["nothing where it is taped", { edges: "taped" }, 0],
		["nothing where the tool keeps off", { edges: "kept-off" }, 0],
		["even pressure on an edge strip that is kept safe", { place: "edge-strip", edges: "by-hand" }, 1],
		["the pressure there on an edge strip worked freely", { place: "edge-strip", edges: "free" }, 2],
		["nothing from a spot", { place: "spot", spotMm: 40 }, 0],
	])("gives the edge %s", (_, fragment, factor) => {
		expect(loadOf({ ...rotary, ...fragment }, "edge").fluxWm2 / rotaryLoad.fluxWm2).toBeCloseTo(factor, 9);
	});

	it("lets the minutes of the row pass where it does not reach", () => {
		const taped = loadOf({ ...rotary, edges: "taped" }, "edge");
		expect(taped.everyS * taped.blocks).toBeCloseTo(rotaryLoad.everyS * rotaryLoad.blocks, 9);
		const strip = loadOf({ ...rotary, place: "edge-strip" });
		expect(strip.fluxWm2).toBe(0);
		expect(strip.everyS).toBeGreaterThan(0);
	});

	it.each<[string, Fragment, number]>([
		["a wait by its minutes", { stage: "wait", waitMinutes: 3 }, 180],
		["a wait without minutes by none", { stage: "wait", waitFor: "cool" }, 0],
		["a wipe by its usual time", { stage: "wipe", wipe: "dry-cloth" }, 30],
	])("is time without friction for %s", (_, fragment, seconds) => {
		expect(loadOf(fragment)).toEqual(rest(seconds));
	});

	it("is unknown where the motion is, and so is all that follows", () => {
		const dial = compound("heavy-cut", "wool-twisted", { speed: { unit: "dial", low: 3, high: 3 } });
		const heats = heatOf(termsOf([rotary, dial, rotary]), "steel", startC, "high");
		expect(heats.map(({ field, edge }) => [field === null, edge === null])).toEqual([
			[false, false],
			[true, true],
			[true, true],
		]);
	});

	it("is unknown for a row that may cut and is not complete", () => {
		const heats = heatOf(termsOf([{ stage: "compound", liquid: "heavy-cut" }]), "steel", startC, "high");
		expect(heats).toEqual([{ field: null, edge: null }]);
	});
});

describe("heat of a procedure", () => {
	it("is worked out once for all situations that ask for it", () => {
		const terms = termsOf(wholeChain);
		expect(heatOf(terms, "steel", 23, "high")).toBe(heatOf(terms, "steel", 23, "high"));
		expect(heatOf(terms, "steel", 23, "high")).not.toBe(heatOf(terms, "steel", 35, "high"));
		expect(heatOf(terms, "steel", 23, "high")).not.toBe(heatOf(terms, "plastic", 23, "high"));
	});

	it("stands on materials as handbooks have them", () => {
		const heldPerM3 = (kind: string) => coefficient("density", kind).value * coefficient("specificHeat", kind).value;
		const diffusivity = (kind: string) => coefficient("conductivity", kind).value / heldPerM3(kind);
		type Row = { material: string; k_W_mK: number; rho_kg_m3: number; cp_J_kgK: number | null };
		const row = (id: string, material: string) => {
			const found = (referenceValues(id) as Row[]).find((one) => one.material === material);
			if (!found) throw new Error(`no ${material} in ${id}`);
			return found;
		};
		// Heat held by a volume is what decides in thin metal: within a tenth; handbooks of plastics differ by a third.
		const steel = row("props_steel", "AISI 1010");
		expect(Math.abs(heldPerM3("steel") / (steel.rho_kg_m3 * (steel.cp_J_kgK ?? 0)) - 1)).toBeLessThan(0.1);
		const aluminium = row("props_aluminium", "6061-T6");
		expect(Math.abs(heldPerM3("aluminium") / (aluminium.rho_kg_m3 * (aluminium.cp_J_kgK ?? 0)) - 1)).toBeLessThan(0.03);
		expect(coefficient("specificHeat", "plastic").value).toBeGreaterThan(1680);
		expect(coefficient("specificHeat", "plastic").value).toBeLessThan(2000);
		const { cp_J_kgK, k_W_mK } = referenceValues("props_smc_cp") as { cp_J_kgK: number[]; k_W_mK: number[] };
		const within = (value: number, range: readonly number[]) =>
			value >= Math.min(...range) && value <= Math.max(...range);
		expect(within(coefficient("specificHeat", "composite").value, cp_J_kgK)).toBe(true);
		expect(within(coefficient("conductivity", "composite").value, k_W_mK)).toBe(true);
		const paint = referenceValues("props_paint_diffusivity") as { low: number; high: number };
		for (const coat of ["clear", "undercoats"]) expect(within(diffusivity(coat), [paint.low, paint.high])).toBe(true);
		const { free_gas } = referenceValues("film_coeff_ranges") as { free_gas: number[] };
		expect(within(coefficient("heat", "convection").value, free_gas)).toBe(true);
	});

	it("may take every pass as heat going straight down: pads cross a point faster than heat spreads", () => {
		// Jaeger's moving band, half length l at speed V: one-dimensional within 1.4 % from L = V·l/(2α) = 20 on.
		const [last] = (referenceValues("jaeger_band") as { L: number; ratio: number }[]).slice(-1);
		expect(last?.ratio).toBeGreaterThan(0.98);
		for (const kind of ["clear", "undercoats", ...substrates]) {
			const alpha =
				coefficient("conductivity", kind).value /
				(coefficient("density", kind).value * coefficient("specificHeat", kind).value);
			expect((0.1 * 0.075) / (2 * alpha)).toBeGreaterThan(last?.L ?? Number.POSITIVE_INFINITY);
		}
	});
});
