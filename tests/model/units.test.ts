import fc from "fast-check";
import { describe, expect, it } from "vitest";
import * as units from "../../src/model/units.ts";
import reference from "../reference/units.json" with { type: "json" };

const published = (id: string) => {
	const entry = reference.find((one) => one.id === id);
	if (!entry) throw new Error(`no reference value ${id}`);
	return entry;
};

describe("conversions", () => {
	it("turn mils into micrometres as published, both ways", () => {
		expect(units.umPerMil).toBe(published("mil_um").value);
		for (const [mil = 0, um = 0] of published("mil_um").pairs ?? []) {
			expect(units.milToUm(mil)).toBeCloseTo(um, 9);
			expect(units.umToMil(um)).toBeCloseTo(mil, 9);
		}
	});

	it("turn Celsius into Fahrenheit as published, both ways", () => {
		for (const [celsius = 0, fahrenheit = 0] of published("celsius_fahrenheit").pairs ?? []) {
			expect(units.celsiusToFahrenheit(celsius)).toBeCloseTo(fahrenheit, 9);
			expect(units.fahrenheitToCelsius(fahrenheit)).toBeCloseTo(celsius, 9);
		}
	});

	it("hold the exact factors", () => {
		expect(units.newtonPerKgf).toBe(published("kgf_n").value);
		expect(units.newtonPerLbf).toBeCloseTo(0.45359237 * units.newtonPerKgf, 12);
		expect(units.mlPerFluidOunce).toBeCloseTo((231 * 16.387064) / 128, 9);
		expect(units.m2PerSquareFoot).toBeCloseTo(0.3048 ** 2, 12);
	});
});

describe("formatNumber", () => {
	it.each([
		[1.5, "en", 2, "1.5"],
		[1.5, "es", 2, "1,5"],
		[1500, "en", 0, "1500"],
		[1500, "es", 2, "1500"],
		[0.0004, "en", 2, "0"],
		[-0.0004, "en", 2, "0"],
		[-1.25, "es", 2, "-1,25"],
		[100, "en", 0, "100"],
		[1.005, "en", 1, "1"],
	] as const)("writes %d in %s with %d digits as %s", (value, language, digits, text) => {
		expect(units.formatNumber(value, language, digits)).toBe(text);
	});
});

describe("formatFilm", () => {
	it.each([
		[38.1, "mil", "en", "1.50 mil"],
		[38.1, "mil", "es", "1,50 mil"],
		[38.1, "um", "en", "38 µm"],
		[3.52, "um", "es", "3,5 µm"],
		[50.8, "mil", "en", "2.00 mil"],
		[0, "mil", "en", "0.00 mil"],
		[1.7, "mil", "en", "0.067 mil"],
		[0.32, "mil", "en", "0.013 mil"],
		[0.25, "mil", "es", "0,0098 mil"],
		[0.32, "um", "en", "0.32 µm"],
		[0.058, "um", "es", "0,06 µm"],
	] as const)("shows %d µm in %s, %s, as %s", (um, unit, language, text) => {
		expect(units.formatFilm(um, unit, language)).toBe(text);
	});
});

describe("readNumber", () => {
	it.each([
		["12", [12]],
		["1.5", [1.5]],
		["1,5", [1.5]],
		[",5", [0.5]],
		[".5", [0.5]],
		["1.500", [1.5, 1500]],
		["1,500", [1.5, 1500]],
		["0.125", [0.125]],
		["1 500", [1500]],
		["1.500.000", [1_500_000]],
		["1,500.5", [1500.5]],
		["1.500,5", [1500.5]],
		["12.3456", [12.3456]],
		["1,5,0", null],
		["1.500.5", null],
		["-1", null],
		["1e3", null],
		["", null],
		["x", null],
	])("reads %j as %j", (text, numbers) => {
		expect(units.readNumber(text)).toEqual(numbers);
	});

	it("reads back what formatNumber writes", () => {
		fc.assert(
			fc.property(
				fc.double({ min: 0, max: 1e6, noNaN: true }),
				fc.constantFrom("en", "es"),
				fc.integer({ min: 0, max: 6 }),
				(value, language, digits) => {
					expect(units.readNumber(units.formatNumber(value, language as "en", digits))).toContain(
						Number(value.toFixed(digits)),
					);
				},
			),
			{ seed: 2 },
		);
	});
});
