import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { coverageOf } from "../../src/forecast/coverage.ts";
import { removalOf } from "../../src/forecast/removal.ts";
import { logSigma, z95 } from "../../src/forecast/spread.ts";
import { fitTrials } from "../../src/forecast/trials.ts";
import { type Observation, posteriorOf } from "../../src/forecast/trials-posterior.ts";
import { type NotUsable, trialWork } from "../../src/forecast/trials-work.ts";
import { enumerations } from "../../src/model/generated/enumerations.ts";
import type { Trial } from "../../src/model/generated/types.ts";
import { genericShop, type Shop } from "../../src/model/shop.ts";
import { compound, cuttingRow, type Fragment, passes, polish, refineP3000, sand, seededNormal } from "./rows.ts";

const shop: Shop = {
	...genericShop,
	stock: {
		format: 1,
		gauges: [
			{ id: "fine", name: "Fine gauge", kind: "gauge", reads: ["steel"], layer: "clear", accuracyUm: 2, repeatUm: 1 },
			{ id: "coarse", name: "Coarse gauge", kind: "gauge", reads: ["steel"], layer: "total", accuracyUm: 3 },
		],
	},
};

/** A trial on refinish clear that read so much less after it: ten readings to a tenth of a micrometre each time. */
function trial(step: Fragment, takenUm: number, other: Partial<Trial> = {}): Trial {
	return {
		id: "one",
		on: "2026-02-03",
		clearCoat: "refinish",
		gauge: "fine",
		step: { id: "aaaaaaaaaa", ...step },
		beforeUm: Array.from({ length: 10 }, () => 110.1),
		afterUm: Array.from({ length: 10 }, () => 110.1 - takenUm),
		...other,
	};
}

const fit = (...trials: Trial[]) => fitTrials(trials, shop);

function coefficientOf(key: string, ...trials: Trial[]) {
	const found = fit(...trials).coefficients.find((one) => one.key === key);
	if (!found) throw new Error(`no trial informs ${key}`);
	return found;
}

function familyOf(family: string, ...trials: Trial[]) {
	const found = fit(...trials).families.find((one) => one.family === family);
	if (!found) throw new Error(`no trial works with ${family}`);
	return found;
}

const repeated = (step: Fragment, takenUm: number, times: number) =>
	Array.from({ length: times }, (_, at) => trial(step, takenUm, { id: `t${at}` }));

describe("the prior", () => {
	const families: Fragment[] = [
		...enumerations.Carrier.map((carrier) => sand("P1500", { carrier })),
		...enumerations.LiquidClass.flatMap((liquid) => enumerations.PadKind.map((pad) => polish(liquid, pad))),
	];

	it("is the middle and the spread that the forecast has for each family", () => {
		for (const step of families) {
			const row = cuttingRow(step);
			const coverage = coverageOf(row);
			if (coverage === null) throw new Error("no coverage");
			const { midUm, family, familyVariance } = removalOf(row, coverage);
			const { families: found, trials } = fit(trial(step, 1));
			expect(found.map((one) => one.family)).toEqual([family]);
			expect(logSigma(found[0]?.prior.spread ?? 0)).toBeCloseTo(Math.sqrt(familyVariance), 12);
			expect(trials[0]?.priorUm.mid).toBeCloseTo(midUm, 12);
		}
	});

	it("stays where no trial is, and where the one trial says nothing", () => {
		expect(fit()).toEqual({ coefficients: [], root: [], families: [], trials: [], notUsable: [] });
		const blind = { ...shop, limits: { ...shop.limits, gaugeErrorUm: 1e6 } };
		const { gauge: _, ...ungauged } = trial(sand("P1500"), 5);
		for (const { prior, posterior } of fitTrials([ungauged], blind).families) {
			expect(posterior.mid).toBeCloseTo(prior.mid, 9);
			expect(posterior.spread).toBeCloseTo(prior.spread, 9);
		}
	});
});

describe("one coefficient agrees with quadrature over a grid", () => {
	const sigma = logSigma(1.6);

	// Normal about the mode, the posterior is right to first order. What is left is its skewness: a tenth of its
	// standard deviation in the middle, a tenth of the width; less, the more the readings say.
	it.each<[string, number, Omit<Observation, "coefficients">[]]>([
		["where the gauge says all", 0.01, [{ midUm: 3.5, ownSigma: 0, differenceUm: 4.4, errorUm: 0.02 }]],
		["where it says much", 0.07, [{ midUm: 3.5, ownSigma: 0, differenceUm: 4.4, errorUm: 0.2 }]],
		["where it says little", 0.07, [{ midUm: 3.5, ownSigma: 0, differenceUm: 5, errorUm: 2 }]],
		["where the difference is 0", 0.1, [{ midUm: 1.1, ownSigma: 0, differenceUm: 0, errorUm: 0.5 }]],
		["where the film seems to have grown", 0.1, [{ midUm: 1.1, ownSigma: 0, differenceUm: -0.6, errorUm: 0.7 }]],
		[
			"with several trials, each with its own hand",
			0.11,
			[
				{ midUm: 3.5, ownSigma: 0.19, differenceUm: 4.9, errorUm: 0.5 },
				{ midUm: 0.68, ownSigma: 0.19, differenceUm: -0.2, errorUm: 0.5 },
				{ midUm: 2.9, ownSigma: 0.19, differenceUm: 2.4, errorUm: 0.3 },
			],
		],
	])("%s", (_, tolerance, given) => {
		const { shifts, root } = posteriorOf(
			given.map((one) => ({ ...one, coefficients: [0] })),
			[sigma],
		);
		const { mean, sd } = quadrature(given, sigma);
		expect(Math.abs((shifts[0] ?? 0) - mean) / sd).toBeLessThan(tolerance);
		expect(Math.abs(Math.abs(root[0]?.[0] ?? 0) / sd - 1)).toBeLessThan(tolerance);
	});
});

/** Mean and standard deviation of the shift, by sums over a grid of the shift and of what is peculiar to each trial. */
function quadrature(observations: readonly Omit<Observation, "coefficients">[], sigma: number) {
	const fine = Array.from({ length: 8001 }, (_, at) => (at - 4000) / 800);
	const grid = Array.from({ length: 201 }, (_, at) => (at - 100) / 20);
	const hasOwn = observations.some(({ ownSigma }) => ownSigma > 0);
	let [sum, first, second] = [0, 0, 0];
	for (const z of hasOwn ? grid : fine) {
		const shift = sigma * z;
		let density = Math.exp((-z * z) / 2);
		for (const { midUm, ownSigma, differenceUm, errorUm } of observations) {
			const likelihood = (own: number) =>
				Math.exp(-(((differenceUm - midUm * Math.exp(shift + own)) / errorUm) ** 2) / 2);
			density *=
				ownSigma === 0
					? likelihood(0)
					: grid.reduce((total, y) => total + Math.exp((-y * y) / 2) * likelihood(ownSigma * y), 0);
		}
		sum += density;
		first += density * shift;
		second += density * shift * shift;
	}
	const mean = first / sum;
	return { mean, sd: Math.sqrt(second / sum - mean * mean) };
}

describe("trials", () => {
	it("share what a precise gauge finds between coefficient and hand by their variances", () => {
		const [sigma, ownSigma] = [0.24, 0.12];
		const one = { coefficients: [0], midUm: 3.5, ownSigma, differenceUm: 5, errorUm: 1e-6 };
		expect(posteriorOf([one], [sigma]).shifts[0]).toBeCloseTo(0.8 * Math.log(5 / 3.5), 9);
	});

	it("that read no less after the work, or more, lower the coefficient and narrow it", () => {
		const plain = familyOf("foam", trial(refineP3000, 1));
		for (const takenUm of [0, -0.6]) {
			const { prior, posterior } = familyOf("foam", trial(refineP3000, takenUm));
			expect(posterior.mid).toBeLessThan(plain.posterior.mid);
			expect(posterior.spread).toBeLessThan(prior.spread);
		}
	});

	it("done alike bring the coefficient to what they all found, and its interval closes in", () => {
		const found = [1, 4, 16, 64].map((times) => familyOf("film", ...repeated(sand("P1500"), 5, times)));
		const [one, four, sixteen, many] = found.map(({ posterior }) => posterior);
		const hardness = coefficientOf("hardness.refinish", ...repeated(sand("P1500"), 5, 64));
		const work = fit(trial(sand("P1500"), 5)).trials[0]?.workKpaM ?? 0;
		expect((many?.mid ?? 0) * hardness.posterior.mid * work).toBeCloseTo(5, 0);
		expect(found.map(({ trials }) => trials)).toEqual([1, 4, 16, 64]);
		expect(one?.spread).toBeGreaterThan(four?.spread ?? 0);
		expect(four?.spread).toBeGreaterThan(sixteen?.spread ?? 0);
		expect(sixteen?.spread).toBeGreaterThan(many?.spread ?? 0);
	});

	it("say of single coefficients less than of their product", () => {
		const { coefficients, trials } = fit(...repeated(sand("P1500"), 5, 64));
		expect(coefficients.map(({ key }) => key)).toEqual(["abrasive.rate", "carrier.film", "hardness.refinish"]);
		for (const { posterior } of coefficients) expect(posterior.spread).toBeGreaterThan(1.2);
		// What is left for the same work done once more is the hand, ×/÷ 1.45.
		const again = trials[0]?.posteriorUm;
		expect(Math.sqrt((again?.high ?? 0) / (again?.low ?? 1))).toBeLessThan(1.47);
	});

	it("of a liquid on one pad reach the liquid on another, halfway", () => {
		const onWool = repeated(compound("heavy-cut", "wool-twisted", passes(12)), 9, 20);
		const { prior, posterior } = familyOf("heavy-cut on microfibre", ...onWool, {
			...trial(compound("heavy-cut", "microfibre", passes(1)), 0.4),
			gauge: "coarse",
			beforeUm: [100],
			afterUm: [100],
		});
		expect(posterior.mid).toBeGreaterThan(prior.mid * 1.05);
		expect(posterior.spread).toBeLessThan(prior.spread);
	});

	it("draw together by their root: carrier and rate are each wide, and against each other", () => {
		const { root } = fit(...repeated(sand("P1500"), 5, 16));
		const covariance = (one: number, other: number) =>
			(root[one] ?? []).reduce((sum, entry, at) => sum + entry * (root[other]?.[at] ?? 0), 0);
		expect(covariance(0, 1)).toBeLessThan(0);
		expect(covariance(0, 0)).toBeCloseTo(
			logSigma(coefficientOf("abrasive.rate", ...repeated(sand("P1500"), 5, 16)).posterior.spread) ** 2,
			12,
		);
	});

	it("give the same figures each time, and are left as they were", () => {
		const trials = repeated(sand("P1500"), 5, 3);
		const before = structuredClone(trials);
		expect(fit(...trials)).toEqual(fit(...trials));
		expect(trials).toEqual(before);
	});

	it("predict: measured lies near the posterior where the table was wrong", () => {
		const [first] = fit(...repeated(sand("P1500"), 5.5, 10)).trials;
		expect(first?.priorUm.mid).toBeCloseTo(3.52, 2);
		expect(first?.measuredUm.mid).toBeCloseTo(5.5, 9);
		expect(first?.posteriorUm.mid).toBeGreaterThan(5);
		expect(first?.posteriorUm.low).toBeLessThan(5.5);
	});
});

describe("an outlier", () => {
	const others = repeated(sand("P1500"), 3.6, 6);

	it.each([
		["that took off far more", 20, 1],
		["that took off nothing", -3, -1],
	])("%s is named, and only it", (_, takenUm, sign) => {
		const { trials } = fit(...others, trial(sand("P1500"), takenUm, { id: "slip" }));
		expect(trials.filter(({ isOutlier }) => isOutlier).map((one) => one.trial.id)).toEqual(["slip"]);
		expect(Math.sign(trials.at(-1)?.residual ?? 0)).toBe(sign);
	});

	it("is found alone, too, against the table", () => {
		expect(fit(trial(sand("P1500"), 30)).trials[0]?.isOutlier).toBe(true);
		expect(fit(trial(sand("P1500"), 3)).trials[0]?.isOutlier).toBe(false);
	});
});

describe("2,000 simulated shops whose truth is drawn from the prior", () => {
	const planned: Trial[] = [
		...["a", "b", "c"].map((id) => trial(sand("P1500"), 0, { id })),
		...["d", "e"].map((id) => trial(sand("P2000", { carrier: "paper" }), 0, { id, clearCoat: "factory" })),
		...["f", "g"].map((id) => trial(refineP3000, 0, { id })),
		...["h", "i"].map((id) => trial(compound("heavy-cut", "wool-twisted"), 0, { id, clearCoat: "factory" })),
		trial(compound("heavy-cut", "microfibre"), 0, { id: "j" }),
		...["k", "l"].map((id) => trial(polish("medium-cut", "foam-medium"), 0, { id })),
		trial(polish("medium-cut", "foam-medium"), 0, { id: "m", gauge: "coarse" }),
	];
	const runs = 2000;
	const normal = seededNormal(20);
	const { coefficients } = fit(...planned);
	const works = planned.map((one) => {
		const work = trialWork(one, shop);
		if ("why" in work) throw new Error(work.why);
		return work;
	});
	const predicted = "the same work done once more";
	const inside = new Map<string, number>();
	const count = (name: string, truth: number, { low, high }: { low: number; high: number }) =>
		inside.set(name, (inside.get(name) ?? 0) + (truth >= low && truth <= high ? 1 : 0));
	let [outliers, negative, squares] = [0, 0, 0];
	for (let run = 0; run < runs; run += 1) {
		const truth = new Map(coefficients.map(({ key, prior }) => [key, prior.mid * prior.spread ** (normal() / z95)]));
		const productOf = (keys: readonly string[]) => keys.reduce((product, key) => product * (truth.get(key) ?? 0), 1);
		const trials = planned.map((one, at) => {
			const work = works[at];
			if (work === undefined) return one;
			const keys = [...work.familyKeys, work.hardnessKey ?? ""];
			const takenUm = work.workKpaM * productOf(keys) * Math.exp(work.ownSigma * normal());
			// Every other trial is read to whole micrometres, from somewhere between two of them.
			const stepUm = at % 2 === 0 ? 0.1 : 1;
			const scatterUm = (one.gauge === "fine" ? 1 : 3) / z95;
			const read = (um: number) =>
				Array.from({ length: 5 }, () => Math.round((um + scatterUm * normal()) / stepUm) * stepUm);
			const filmUm = 100 + normal();
			return { ...one, beforeUm: read(filmUm), afterUm: read(filmUm - takenUm) };
		});
		const found = fit(...trials);
		for (const { key, posterior } of found.coefficients) count(key, truth.get(key) ?? 0, posterior);
		for (const { family, keys, posterior } of found.families) count(family, productOf(keys), posterior);
		for (const [at, { keys, workKpaM, posteriorUm, measuredUm, residual, isOutlier }] of found.trials.entries()) {
			const hand = Math.exp((works[at]?.ownSigma ?? 0) * normal());
			count(predicted, workKpaM * productOf(keys) * hand, posteriorUm);
			outliers += isOutlier ? 1 : 0;
			negative += measuredUm.mid <= 0 ? 1 : 0;
			squares += residual ** 2;
		}
	}

	it.each(
		[...inside].map(([name, times]) => [name, times / runs / (name === predicted ? planned.length : 1)] as const),
	)("hold the truth of %s in its 95-percent interval 93 to 97 times in a hundred", (_, share) => {
		expect(share).toBeGreaterThan(0.93);
		expect(share).toBeLessThan(0.97);
	});

	it("have differences at and below zero among them", () => {
		expect(negative).toBeGreaterThan(runs / 10);
	});

	it("have residuals of standard deviation 1, and name one trial in some hundreds by chance", () => {
		expect(Math.sqrt(squares / (runs * planned.length))).toBeCloseTo(1, 1);
		expect(outliers / (runs * planned.length)).toBeGreaterThan(0.001);
		expect(outliers / (runs * planned.length)).toBeLessThan(0.006);
	});
});

describe("the error of a difference", () => {
	const errorUm = (other: Partial<Trial>, where: Shop = shop) => {
		const work = trialWork(trial(sand("P1500"), 3, other), where);
		if ("why" in work) throw new Error(work.why);
		return work.measured.errorUm * z95;
	};
	const five = { beforeUm: [110, 111, 112, 110, 111], afterUm: [107, 108, 107, 108, 107] };
	const { gauge: _, ...ungauged } = trial(sand("P1500"), 3, five);
	const inMils: Shop = { ...shop, book: { ...shop.book, units: "mil" } };

	it.each<[string, number, number]>([
		["falls with the number of readings, rounding with it", errorUm(five), 0.727],
		["is larger for one reading before", errorUm({ ...five, beforeUm: [110] }), 1.256],
		["is smaller where tenths are read", errorUm({ ...five, beforeUm: [110.1, 111, 112, 110, 111] }), 0.633],
		["takes the accuracy where repeatability is not stated", errorUm({ ...five, gauge: "coarse" }), 1.931],
		[
			"takes the rounding of a mil gauge in a book of mils",
			errorUm({ beforeUm: [101.6], afterUm: [99.06] }, inMils),
			2.476,
		],
	])("%s", (__, found, expected) => {
		expect(found).toBeCloseTo(expected, 2);
	});

	it("takes the gauge error of the house where no gauge is named", () => {
		const work = trialWork(ungauged, { ...shop, limits: { ...shop.limits, gaugeErrorUm: 3 } });
		expect("why" in work ? work.why : work.measured.errorUm * z95).toBeCloseTo(1.931, 2);
	});

	it("does not average a rounding that is always the same", () => {
		const steady: Shop = {
			...shop,
			stock: {
				format: 1,
				gauges: [{ id: "fine", name: "", kind: "gauge", reads: [], layer: "clear", accuracyUm: 1, repeatUm: 0.1 }],
			},
		};
		const many = { beforeUm: Array.from({ length: 50 }, () => 110), afterUm: Array.from({ length: 50 }, () => 107) };
		expect(errorUm(many, steady)).toBeGreaterThan(0.8);
	});
});

describe("a trial that cannot be used says why", () => {
	it.each<[string, Trial, NotUsable]>([
		[
			"an abrasive nobody stocks",
			trial(sand("shiny-disc"), 3),
			{ why: "unknown-stock", field: "abrasive", text: "shiny-disc" },
		],
		["a grade no table has", trial(sand("P1501"), 3), { why: "unknown-stock", field: "abrasive", text: "P1501" }],
		[
			"a gauge nobody stocks",
			trial(sand("P1500"), 3, { gauge: "g9" }),
			{ why: "unknown-stock", field: "gauge", text: "g9" },
		],
		[
			"a row without backing",
			trial({ ...sand("P1500"), backing: undefined } as Fragment, 3),
			{ why: "incomplete-row", missing: ["backing"] },
		],
		["a wipe", trial({ stage: "wipe", wipe: "alcohol-wipe" }, 0), { why: "takes-nothing-off" }],
		["work until flush", trial(sand("P1500", { work: { unit: "until-flush" } }), 3), { why: "until-flush" }],
		["no passes", trial(sand("P1500", passes(0)), 3), { why: "no-work" }],
		[
			"a dial mark without a table",
			trial(sand("P1500", { speed: { unit: "dial", low: 4, high: 4 } }), 3),
			{ why: "dial-not-in-table" },
		],
		["no reading after", trial(sand("P1500"), 3, { afterUm: [] }), { why: "no-readings", when: "after" }],
		["no reading at all", trial(sand("P1500"), 3, { afterUm: [], beforeUm: [] }), { why: "no-readings", when: "both" }],
		[
			"a gauge that cannot read the panel",
			trial(sand("P1500"), 3, { substrate: "plastic" }),
			{ why: "gauge-unsuited", gauge: "Fine gauge", substrate: "plastic" },
		],
	])("%s", (_, one, reason) => {
		const good = trial(sand("P1500"), 3, { id: "good" });
		const { trials, notUsable } = fit(one, good);
		expect(notUsable).toEqual([{ trial: one, reason }]);
		expect(trials.map((found) => found.trial)).toEqual([good]);
	});
});

it("comes to an end with finite figures whatever was read", () => {
	const seen = fc.record({
		midUm: fc.double({ min: 1e-6, max: 1e4, noNaN: true }),
		ownSigma: fc.double({ min: 0.05, max: 0.6, noNaN: true }),
		differenceUm: fc.double({ min: -5000, max: 5000, noNaN: true }),
		errorUm: fc.double({ min: 0.003, max: 30, noNaN: true }),
		coefficients: fc.uniqueArray(fc.integer({ min: 0, max: 3 }), { minLength: 1, maxLength: 3 }),
	});
	fc.assert(
		fc.property(fc.array(seen, { maxLength: 8 }), (observations) => {
			const { shifts, root, residuals } = posteriorOf(observations, [0.17, 0.17, 0.15, 0.2]);
			for (const one of [...shifts, ...residuals, ...root.flat()]) expect(Number.isFinite(one)).toBe(true);
		}),
		{ seed: 1, numRuns: 500 },
	);
});
