import { describe, expect, it } from "vitest";
import type { Stock } from "../../../src/model/generated/types.ts";
import { suggestionsFor } from "../../../src/workbench/grid/suggestions.ts";

const stock = {
	format: 1,
	abrasives: [
		{ id: "film-1500", name: "Fine film", grade: "P1500" },
		{ id: "old-film", name: "Old film", grade: "P1500", withdrawn: true },
	],
	backings: [{ id: "blue-block", name: "Blue block", kind: "rigid-block" }],
	pads: [{ id: "lamb", name: "Lamb bonnet", kind: "wool-lamb" }],
} as unknown as Stock;

const texts = (...asked: Parameters<typeof suggestionsFor>) => suggestionsFor(...asked).map(({ text }) => text);

describe("suggestions", () => {
	it("begin with what the stock holds, of every field of the column, then the kinds", () => {
		const all = suggestionsFor(["backing", "pad"], "", stock, "en");
		expect(all.slice(0, 2).map(({ text, from }) => [text, from])).toEqual([
			["Blue block", "stock"],
			["Lamb bonnet", "stock"],
		]);
		expect(all.slice(2).every(({ from }) => from === "kind")).toBe(true);
		expect(all.map(({ text }) => text)).toContain("soft block");
	});

	it("leave out items that are withdrawn", () => {
		expect(texts(["abrasive"], "", stock, "en")).toEqual(["Fine film"]);
	});

	it.each([
		["by name", "abrasive", "fine", "Fine film"],
		["by grade", "abrasive", "1500", "Fine film"],
		["by another spelling of the trade", "tool", "dual action", "random orbital"],
		["by the words of the reader", "stage", "insp", "inspect"],
	] as const)("are found %s", (_, field, typed, expected) => {
		expect(texts([field], typed, stock, "en")).toContain(expected);
	});

	it("speak the reader's language", () => {
		expect(texts(["stage"], "lij", stock, "es").length).toBeGreaterThan(0);
	});

	it("are none for numbers", () => {
		expect(texts(["forceN"], "", stock, "en")).toEqual([]);
	});

	it("tell the grade that a name does not", () => {
		expect(suggestionsFor(["abrasive"], "", stock, "en")[0]?.aside).toBe("P1500");
	});
});
