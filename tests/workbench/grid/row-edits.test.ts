import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyEdit, type Edit, invertEdit } from "../../../src/model/edits.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import {
	duplicateRows,
	editsInTurn,
	fillCells,
	insertRows,
	moveRows,
	oneFurther,
	removeRows,
} from "../../../src/workbench/grid/row-edits.ts";
import { columnOf } from "../../../src/workbench/store/columns.ts";

const four = {
	format: 1,
	id: "four",
	title: { en: "Four" },
	steps: [
		{ id: "a", stage: "sand", abrasive: "P1500", backing: "soft-block" },
		{ id: "b", stage: "refine", asTyped: { backing: "something soft", note: "x" } },
		{ id: "c", stage: "compound", pad: "foam-firm", ifNot: { back: "b" } },
		{ id: "d", stage: "inspect" },
	],
} as unknown as Procedure;

/** The procedure after an edit, which must also go back. */
function after(edit: Edit, before = four): Procedure {
	const done = applyEdit(before, edit);
	if ("problem" in done) throw new Error(done.problem.message);
	const back = applyEdit(done.procedure, invertEdit(edit));
	if ("problem" in back) throw new Error(back.problem.message);
	expect(back.procedure).toEqual(before);
	return done.procedure;
}

const idsAfter = (edit: Edit) =>
	after(edit)
		.steps?.map(({ id }) => id)
		.join("");

describe("edits of rows", () => {
	it.each<[string, Edit, string]>([
		["inserts several in order", insertRows([{ id: "x" }, { id: "y" }], "b"), "abxycd"],
		["inserts at the top", insertRows([{ id: "x" }], null), "xabcd"],
		["removes rows that stand apart", removeRows(four, ["a", "c", "d"]), "b"],
		["removes rows given in any order", removeRows(four, ["d", "b"]), "ac"],
		["moves a row up", moveRows(four, ["c"], "a"), "acbd"],
		["moves two together", moveRows(four, ["a", "b"], "d"), "cdab"],
		["gathers rows that stood apart", moveRows(four, ["a", "d"], null), "adbc"],
	])("%s", (_, edit, expected) => {
		expect(idsAfter(edit)).toBe(expected);
	});

	it("does nothing where rows stand already", () => {
		expect(moveRows(four, ["b", "c"], "a")).toEqual([]);
	});

	it("duplicates rows behind the last, each going back to where its original does", () => {
		const ids = ["x", "y"];
		const steps = after(duplicateRows(four, ["c", "b"], () => ids.shift() ?? "")).steps ?? [];
		expect(steps.map(({ id }) => id).join("")).toBe("abcxyd");
		expect(steps[4]).toEqual({ ...four.steps?.[2], id: "y" });
	});

	it.each([
		["up", ["b"], null],
		["up", ["c", "d"], "a"],
		["up", ["a"], undefined],
		["down", ["a", "b"], "c"],
		["down", ["d"], undefined],
	] as const)("finds the place one further %s for %j", (way, ids, expected) => {
		expect(oneFurther(four, ids, way)).toBe(expected);
	});

	it("fills a joined column whole, unread text too", () => {
		const steps = after(fillCells(four, ["b", "c"], [columnOf("backing")], "a")).steps ?? [];
		expect(steps[1]).toEqual({ id: "b", stage: "refine", backing: "soft-block", asTyped: { note: "x" } });
		expect(steps[2]).toEqual({ id: "c", stage: "compound", backing: "soft-block", ifNot: { back: "b" } });
		expect(after(fillCells(four, ["a"], [columnOf("backing")], "b")).steps?.[0]).toEqual({
			id: "a",
			stage: "sand",
			abrasive: "P1500",
			asTyped: { backing: "something soft" },
		});
	});

	it("empties cells", () => {
		const steps = after(fillCells(four, ["a", "b"], [columnOf("stage"), columnOf("backing")], null)).steps ?? [];
		expect(steps.slice(0, 2)).toEqual([
			{ id: "a", abrasive: "P1500" },
			{ id: "b", asTyped: { note: "x" } },
		]);
	});

	it("joins edits that rest on each other", () => {
		const edit = editsInTurn(four, [
			() => insertRows([{ id: "x" }], "d"),
			(at) => fillCells(at, ["x"], [columnOf("stage")], "a"),
			(at) => moveRows(at, ["x"], null),
		]);
		expect(after(edit).steps?.[0]).toEqual({ id: "x", stage: "sand" });
	});

	describe("where the list holds something that is no row", () => {
		const odd = { ...four, steps: [null, ...(four.steps ?? []), "sand"] } as unknown as Procedure;
		const marks = (edit: Edit) =>
			(after(edit, odd).steps as unknown[])
				.map((one) => (one === null ? "0" : typeof one === "string" ? "s" : (one as { id: string }).id))
				.join("");

		it.each<[string, Edit, string]>([
			["inserts a row", insertRows([{ id: "x" }], "d"), "0abcdxs"],
			["removes the row beside it", removeRows(odd, ["a"]), "0bcds"],
			["removes it", removeRows(odd, ["not-row-0", "not-row-5"]), "abcd"],
			["moves rows past it", moveRows(odd, ["a", "b"], null), "ab0cds"],
			["moves rows behind it", moveRows(odd, ["b"], "not-row-0"), "0bacds"],
			["duplicates the row before it", duplicateRows(odd, ["d"], () => "x"), "0abcdxs"],
		])("%s, and loses nothing", (_, edit, expected) => {
			expect(marks(edit)).toBe(expected);
		});

		it("finds the place one further past it", () => {
			expect(oneFurther(odd, ["a"], "up")).toBe(null);
			expect(oneFurther(odd, ["d"], "down")).toBe("not-row-5");
		});
	});

	it("keeps every row in any move, and the rest in their order", () => {
		const anyMove = fc.record({
			ids: fc.uniqueArray(fc.constantFrom("a", "b", "c", "d"), { minLength: 1, maxLength: 3 }),
			after: fc.constantFrom(null, "a", "b", "c", "d"),
		});
		fc.assert(
			fc.property(anyMove, ({ ids, after: behind }) => {
				if (behind !== null && ids.includes(behind)) return;
				const rest = (["a", "b", "c", "d"] as const).filter((id) => !ids.includes(id));
				const moved = (["a", "b", "c", "d"] as const).filter((id) => ids.includes(id));
				const at = behind === null ? 0 : rest.indexOf(behind) + 1;
				expect(idsAfter(moveRows(four, ids, behind))).toBe(
					[...rest.slice(0, at), ...moved, ...rest.slice(at)].join(""),
				);
			}),
			{ seed: 20260611 },
		);
	});
});
