import { describe, expect, it } from "vitest";
import { stepFields } from "../../../src/model/fields/columns.ts";
import groups from "../../../src/workbench/sheet/row-groups.json" with { type: "json" };

describe("the form of a row", () => {
	it("has each field once; own words of the instruction have their own place", () => {
		const grouped = Object.values(groups).flat();
		expect(grouped.toSorted()).toEqual(stepFields.filter((field) => field !== "instruction").toSorted());
	});
});
