import { describe, expect, it } from "vitest";
import { cellOf, withCell } from "../../src/model/cells.ts";
import type { Step } from "../../src/model/generated/types.ts";

const row: Step = { id: "a".repeat(10), stage: "sand", asTyped: { speed: "slow", pad: "the soft one" } };

describe("a cell", () => {
	it.each([
		["stage", { value: "sand", asTyped: undefined }],
		["speed", { value: undefined, asTyped: "slow" }],
		["tool", { value: undefined, asTyped: undefined }],
	])("holds in %s %j", (field, cell) => expect(cellOf(row, field)).toEqual(cell));

	it.each([
		[
			"a value takes the place of a text",
			"speed",
			{ value: 900 },
			{ ...row, speed: 900, asTyped: { pad: "the soft one" } },
		],
		[
			"a text takes the place of a value",
			"stage",
			{ asTyped: "rub" },
			{ id: row.id, asTyped: { ...row.asTyped, stage: "rub" } },
		],
		["neither empties it", "stage", {}, { id: row.id, asTyped: row.asTyped }],
		[
			"both stand together",
			"pad",
			{ value: "foam-soft", asTyped: "soft" },
			{ ...row, pad: "foam-soft", asTyped: { speed: "slow", pad: "soft" } },
		],
	])("where %s", (_, field, cell, after) => expect(withCell(row, field, cell)).toEqual(after));

	it("leaves no empty list of texts behind", () => {
		const typed = { id: row.id, asTyped: { speed: "slow" } };
		expect(withCell(typed, "speed", {})).toEqual({ id: row.id });
	});

	it("keeps what a file has in the place of the texts", () => {
		const odd = { id: row.id, asTyped: "slow" } as unknown as Step;
		expect(withCell(odd, "speed", { value: 900 })).toEqual({ id: row.id, asTyped: "slow", speed: 900 });
		expect(cellOf(odd, "speed")).toEqual({ value: undefined, asTyped: undefined });
	});
});
