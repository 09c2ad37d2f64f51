import { describe, expect, it } from "vitest";
import { headerOf, isStepField, stepFields } from "../../../src/model/fields/columns.ts";
import { sorts } from "../../../src/model/fields/sorts.ts";

describe("stepFields", () => {
	it("follows the order of the schema, without what nobody types", () => {
		expect(stepFields.slice(0, 4)).toEqual(["stage", "instruction", "place", "spotMm"]);
		expect(stepFields).not.toContain("id");
		expect(stepFields).not.toContain("asTyped");
	});

	it("names exactly the fields that can be read and written", () => {
		expect(Object.keys(sorts)).toEqual(stepFields);
	});
});

describe("isStepField", () => {
	it.each([
		["speed", true],
		["id", false],
		["toString", false],
		["", false],
	])("says of %j: %s", (name, answer) => {
		expect(isStepField(name)).toBe(answer);
	});
});

describe("headerOf", () => {
	it.each([
		["abrasive", "en", "Abrasive"],
		["abrasive", "es", "Abrasivo"],
		["scope", "en", "Scope"],
		["moonPhase", "en", "moonPhase"],
	] as const)("heads %s in %s with %s", (field, language, header) => {
		expect(headerOf(field, language)).toBe(header);
	});
});
