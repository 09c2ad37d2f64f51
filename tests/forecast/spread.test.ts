import { describe, expect, it } from "vitest";
import {
	independentSum,
	logNormal,
	logSigma,
	normalBelow,
	propagated,
	rounded,
	scaled,
	z95,
} from "../../src/forecast/spread.ts";

describe("the normal distribution", () => {
	// Exact to the digits given: tables of Φ, from memory; the first and last follow from symmetry and from z95.
	it.each([
		[0, 0.5],
		[1, 0.841344746],
		[-1, 0.158655254],
		[2, 0.977249868],
		[-3, 0.001349898],
		[z95, 0.975],
	])("puts below %d the share %d, within the error of the approximation", (z, share) => {
		expect(Math.abs(normalBelow(z) - share)).toBeLessThan(1e-7);
	});

	it("agrees with the integral of its density", () => {
		const steps = 20000;
		const width = 8 / steps;
		let sum = 0;
		for (let step = 0; step < steps; step++) {
			sum += (Math.exp(-((-8 + (step + 0.5) * width) ** 2) / 2) * width) / Math.sqrt(2 * Math.PI);
			const z = -8 + (step + 1) * width;
			if (step % 1000 === 999) expect(Math.abs(normalBelow(z) - sum)).toBeLessThan(2e-7);
		}
	});
});

describe("a log-normal quantity", () => {
	it("has the interval middle times and divided by its spread", () => {
		const { mid, low, high } = logNormal(10, logSigma(1.6));
		expect([mid, low, high]).toEqual([10, expect.closeTo(6.25, 12), expect.closeTo(16, 12)]);
	});
});

describe("a sum of independent estimates", () => {
	const three = { mid: 3, low: 2, high: 5 };
	const four = { mid: 4, low: 3, high: 8 };

	it("adds the ends in quadrature, each side for itself", () => {
		const { mid, low, high } = independentSum([three, four]) ?? three;
		expect([mid, low, high]).toEqual([7, expect.closeTo(7 - Math.SQRT2, 12), expect.closeTo(7 + Math.sqrt(20), 12)]);
	});

	it("is never below nothing, not known where one is not, and nothing of none", () => {
		expect(independentSum([{ mid: 1, low: -2, high: 1 }])?.low).toBe(0);
		expect(independentSum([three, null])).toBeNull();
		expect(independentSum([])).toEqual({ mid: 0, low: 0, high: 0 });
	});

	it("of twice the same is less sure than the estimate times two", () => {
		expect(scaled(three, 2)).toEqual({ mid: 6, low: 4, high: 10 });
		expect(independentSum([three, three])?.high).toBeCloseTo(6 + 2 * Math.SQRT2, 12);
		expect(scaled(null, 2)).toBeNull();
	});
});

describe("a quantity made of uncertain inputs", () => {
	const product = (one: number, other: number) => one * other;

	it("of log-normal inputs has the interval of their product", () => {
		const found = propagated(product, [logNormal(2, logSigma(1.5)), logNormal(3, logSigma(1.2))], "ratio");
		const exact = logNormal(6, Math.hypot(logSigma(1.5), logSigma(1.2)));
		expect([found.mid, found.low, found.high]).toEqual([
			6,
			expect.closeTo(exact.low, 12),
			expect.closeTo(exact.high, 12),
		]);
	});

	it("falls where an input rises that it falls with", () => {
		const found = propagated(
			(one, other) => 10 + one - other,
			[
				{ mid: 3, low: 2, high: 5 },
				{ mid: 4, low: 3, high: 8 },
			],
		);
		expect(found).toEqual({ mid: 9, low: 9 - Math.hypot(1, 4), high: 9 + Math.hypot(2, 1) });
	});

	it("is never below nothing, and may rise from nothing", () => {
		expect(propagated((one) => one - 5, [{ mid: 6, low: 1, high: 7 }])).toEqual({ mid: 1, low: 0, high: 2 });
		expect(propagated((one) => one, [{ mid: 0, low: 0, high: 2 }], "ratio")).toEqual({ mid: 0, low: 0, high: 2 });
	});
});

describe("rounding", () => {
	it("leaves no minus before nothing and no noise after six places", () => {
		expect([rounded(-1e-9), rounded(0.1 + 0.2), rounded(2.0000004)]).toEqual([0, 0.3, 2]);
	});
});
