import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { insertedRowId } from "../../src/rules/inserted-row-id.ts";

const rowId = fc.stringMatching(/^[a-z]{10}$/);

describe("the id of an inserted row", () => {
	it("is ten lower-case letters, the same for the same neighbours, and none that is taken", () => {
		fc.assert(
			fc.property(rowId, rowId, (before, after) => {
				const first = insertedRowId(before, after, [before, after]);
				expect(first).toMatch(/^[a-z]{10}$/);
				expect(insertedRowId(before, after, [before, after])).toBe(first);
				const second = insertedRowId(before, after, [before, after, first]);
				expect(second).not.toBe(first);
				expect(second).toMatch(/^[a-z]{10}$/);
			}),
			{ seed: 20260302 },
		);
	});

	it("tells the order of the neighbours apart", () => {
		expect(insertedRowId("aaaaaaaaaa", "bbbbbbbbbb", [])).not.toBe(insertedRowId("bbbbbbbbbb", "aaaaaaaaaa", []));
	});

	it("differs for each of twenty thousand pairs of neighbours", () => {
		const ids = new Set<string>();
		fc.assert(
			fc.property(rowId, rowId, (before, after) => {
				ids.add(insertedRowId(before, after, []));
			}),
			{ seed: 7, numRuns: 20000 },
		);
		// Some pairs that the generator makes are the same.
		expect(ids.size).toBeGreaterThan(19000);
	});

	it("exists before the first row, too", () => {
		expect(insertedRowId(null, "aaaaaaaaaa", ["aaaaaaaaaa"])).toMatch(/^[a-z]{10}$/);
	});
});
