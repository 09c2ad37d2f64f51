import { describe, expect, it } from "vitest";
import { logNormal, logSigma, normalBelow, rounded, z95 } from "../../src/forecast/spread.ts";

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

describe("rounding", () => {
	it("leaves no minus before nothing and no noise after six places", () => {
		expect([rounded(-1e-9), rounded(0.1 + 0.2), rounded(2.0000004)]).toEqual([0, 0.3, 2]);
	});
});
