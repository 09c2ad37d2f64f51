import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { freeId, isSlug, newRowId, slugOf, withRowIds } from "../../src/model/ids.ts";

it("makes ten letters from any source of random numbers, and uses all of it", () => {
	fc.assert(
		fc.property(
			fc.array(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), { minLength: 10, maxLength: 10 }),
			(numbers) => {
				let at = 0;
				expect(newRowId(() => numbers[at++] as number)).toMatch(/^[a-z]{10}$/);
				expect(at).toBe(10);
			},
		),
		{ seed: 51 },
	);
	const ends = [0, 0.999999, 0.5];
	let at = 0;
	expect(newRowId(() => ends[at++ % 3] as number)).toBe("aznaznazna");
});

describe("new row ids", () => {
	const procedure = {
		steps: [
			{ id: "Row 1" },
			{ id: "b".repeat(10), ifNot: { back: "Row 1", atMost: 2 } },
			{ id: "b".repeat(10), ifNot: { back: "b".repeat(10) } },
			{ id: "c".repeat(10) },
		],
		exceptions: [
			{ rule: "grade-jump", step: "Row 1", reason: "tried", by: "Ines Marlow", on: "2026-02-01" },
			{ rule: "grade-jump", step: "b".repeat(10), reason: "tried", by: "Ines Marlow", on: "2026-02-01" },
		],
	};

	it("are followed by what refers to them, where no row keeps the old one", () => {
		const after = withRowIds(
			procedure,
			new Map([
				[0, "x".repeat(10)],
				[2, "y".repeat(10)],
			]),
		);
		expect(after.steps).toEqual([
			{ id: "x".repeat(10) },
			{ id: "b".repeat(10), ifNot: { back: "x".repeat(10), atMost: 2 } },
			{ id: "y".repeat(10), ifNot: { back: "b".repeat(10) } },
			{ id: "c".repeat(10) },
		]);
		expect(after.exceptions.map(({ step }) => step)).toEqual(["x".repeat(10), "b".repeat(10)]);
	});

	it("leave alone what is no row", () => {
		const odd = { steps: [null, "text", { ifNot: { atMost: 2 } }] } as unknown as { steps: [] };
		expect(withRowIds(odd, new Map([[2, "x".repeat(10)]]))).toEqual({
			steps: [null, "text", { ifNot: { atMost: 2 }, id: "x".repeat(10) }],
		});
	});
});

describe("ids in a book", () => {
	it.each([
		["Dirt nib: blade & spot", "dirt-nib-blade-spot"],
		["Arañazos de lija", "aranazos-de-lija"],
		["  ---  ", ""],
		["漆", ""],
		[`${"a".repeat(59)} b`, "a".repeat(59)],
	])("makes of %j %j", (title, slug) => expect(slugOf(title)).toBe(slug));

	it.each([
		["nib-2", true],
		["Nib", false],
		["nib--2", false],
		["-nib", false],
		["", false],
		["a".repeat(81), false],
	])("says of %j whether it is one: %j", (text, is) => expect(isSlug(text)).toBe(is));

	it("takes the first number that is free", () => {
		expect(freeId("nib", new Set())).toBe("nib");
		expect(freeId("nib", new Set(["nib", "nib-2"]))).toBe("nib-3");
		expect(freeId("nib-2", new Set(["nib-2"]))).toBe("nib-3");
		expect(freeId("p-1500", new Set(["p-1500"]))).toBe("p-1500-2");
		const longest = "a".repeat(80);
		expect(isSlug(freeId(longest, new Set([longest])))).toBe(true);
	});
});
