import { describe, expect, it } from "vitest";
import { coefficient, coefficientTable } from "../../src/forecast/coefficients.ts";
import { enumerations } from "../../src/model/generated/enumerations.ts";

describe("the table of coefficients", () => {
	it.each<[string, readonly string[]]>([
		["carrier", enumerations.Carrier],
		["wetness", enumerations.Wetness],
		["lifeM2", enumerations.Wetness],
		["hardness", enumerations.ClearCoat],
		["liquid", enumerations.LiquidClass],
		["residual", enumerations.LiquidClass],
		["pad", enumerations.PadKind],
		["residualPad", enumerations.PadKind],
		["edgePressure", [...enumerations.PadKind, ...enumerations.BackingKind]],
		["scratch", enumerations.BackingKind],
		["modulus", enumerations.BackingKind],
	])("has a %s for every kind", (group, kinds) => {
		for (const kind of kinds) expect(coefficient(group, kind).value).toBeGreaterThan(0);
	});

	it("names each once, with a spread, a title and where it comes from", () => {
		expect(new Set(coefficientTable.map(({ key }) => key)).size).toBe(coefficientTable.length);
		for (const { key, spread, title, source } of coefficientTable)
			expect([key, spread >= 1, title !== "", source]).toEqual([key, true, true, "common practice, no source"]);
	});

	it("refuses a kind it does not have", () => {
		expect(() => coefficient("pad", "sponge")).toThrow(new RangeError('no coefficient "pad.sponge" in the table'));
	});
});
