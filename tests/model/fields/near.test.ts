import { describe, expect, it } from "vitest";
import { nearReadings } from "../../../src/model/fields/near.ts";
import type { StepField } from "../../../src/model/fields/reading.ts";
import type { Stock } from "../../../src/model/generated/types.ts";

const stock: Stock = {
	format: 1,
	abrasives: [{ id: "odd-disc", name: "Odd disc", grade: "P1500" }],
	pads: [{ id: "old-pad", name: "Velvety", kind: "foam-soft", withdrawn: true }],
};

describe("what is near a text that was not read", () => {
	it.each([
		["tool", "rotery", ["rotary"]],
		["tool", "rotary", []],
		["tool", "hand", []],
		["pad", "lana trensada", ["wool-twisted"]],
		["pad", "velvetty", []],
		["pad", "foam pad, soft one", []],
		["abrasive", "od disc", ["odd-disc"]],
		["abrasive", "coarse", []],
		["pattern", "crosswize", ["crosswise"]],
		["work", "3 pases o asi", []],
		["speed", "hasta 1500 rpm", [{ unit: "rpm", low: 1500, high: 1500 }]],
		["forceN", "at least 20 N", []],
	] as [StepField, string, unknown[]][])("under %s %j is %j", (field, text, near) => {
		expect(nearReadings(text, { field, language: "en", stock })).toEqual(near);
	});
});
