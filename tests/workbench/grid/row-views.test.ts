import { describe, expect, it } from "vitest";
import { assess } from "../../../src/check/assess.ts";
import type { Procedure, Step } from "../../../src/model/generated/types.ts";
import validator from "../../../src/model/generated/validators/procedure.js";
import { genericShop } from "../../../src/model/shop.ts";
import { validated } from "../../../src/model/validated.ts";
import { columnsInUse, figureColumns, newRow, numberColumn, RowViews } from "../../../src/workbench/grid/row-views.ts";
import type { SheetState } from "../../../src/workbench/store/state.ts";

function stateOf(steps: unknown[], some: Partial<SheetState> = {}): SheetState {
	const procedure = {
		format: 1,
		id: "views",
		title: { en: "Views" },
		scope: { defects: [{ defect: "orange-peel" }], clearCoats: ["factory"] },
		steps,
	} as unknown as Procedure;
	const { readable, problems } = validated("procedure", procedure as unknown as Record<string, unknown>, validator);
	const shop = genericShop;
	return {
		procedure,
		readable,
		problems,
		shop,
		conflicts: [],
		...assess({ procedure: readable, problems, shop, today: "2026-06-10" }, {}),
		...some,
	} as unknown as SheetState;
}

const sand = { id: "aaaaaaaaaa", stage: "sand", abrasive: "P1500", tool: "block" };
const refine = { id: "bbbbbbbbbb", stage: "refine", abrasive: "P3000", tool: "block" };
const check = { id: "cccccccccc", stage: "inspect", ifNot: { back: "bbbbbbbbbb" } };

describe("rows as they are shown", () => {
	it("end in an empty one", () => {
		const views = new RowViews().of(stateOf([sand]), "en");
		expect(views.map(({ id }) => id)).toEqual(["aaaaaaaaaa", newRow]);
		expect(views[1]?.cells).not.toHaveProperty("stage");
	});

	it.each([
		[null, "null"],
		["sand", '"sand"'],
		[3, "3"],
		[[], "[]"],
	])("mark %j in the place of a row, and number the rows without it", (found, text) => {
		const state = stateOf([sand, found, refine]);
		const views = new RowViews().of(state, "en");
		expect(views.map(({ cells }) => cells[numberColumn]?.text)).toEqual(["1", "", "2", "+"]);
		expect(views[1]?.cells.stage).toMatchObject({ text, unread: true });
		expect(columnsInUse(state).has("abrasive")).toBe(true);
	});

	it("are none where the file has no list of them", () => {
		const state = stateOf([]);
		const procedure = { ...state.procedure, steps: "sand" } as unknown as Procedure;
		expect(new RowViews().of({ ...state, procedure }, "en").map(({ id }) => id)).toEqual([newRow]);
		expect(columnsInUse({ ...state, procedure }).size).toBe(0);
	});

	it("stay the same objects where nothing about them changed", () => {
		const views = new RowViews();
		const before = views.of(stateOf([sand, refine]), "en");
		const after = views.of(stateOf([sand, structuredClone(refine)]), "en");
		expect(after.map((row, at) => row === before[at])).toEqual([true, true, true]);
	});

	it("change in the cells alone that changed", () => {
		const views = new RowViews();
		const before = views.of(stateOf([sand, refine]), "en");
		const after = views.of(stateOf([sand, { ...refine, note: "mind the edge" }]), "en");
		expect(after[0]).toBe(before[0]);
		const changed = Object.keys(after[1]?.cells ?? {}).filter((id) => after[1]?.cells[id] !== before[1]?.cells[id]);
		expect(changed).toEqual(["note"]);
	});

	it("name other rows by numbers that follow a move", () => {
		const views = new RowViews();
		expect(views.of(stateOf([sand, refine, check]), "en")[2]?.cells.ifNot?.text).toBe("back to row 2");
		expect(views.of(stateOf([refine, sand, check]), "en")[2]?.cells.ifNot?.text).toBe("back to row 1");
	});

	it("join what a column holds, and show unread text as typed", () => {
		const step = { ...sand, wetness: "damp", asTyped: { liquid: "milky stuff", speed: "briskly" } };
		const [view] = new RowViews().of(stateOf([step]), "en");
		expect(view?.cells.liquid?.text).toBe("milky stuff, damp");
		expect(view?.cells.liquid?.unread).toBe(true);
		expect(view?.cells.speed?.text).toBe("briskly");
	});

	it("tell what a text could mean where it reads several ways", () => {
		const [view] = new RowViews().of(stateOf([{ ...sand, asTyped: { pad: "wool pad" } }]), "en");
		expect(view?.cells.backing?.detail).toContain("wool");
	});

	it("show a value that the schema does not allow as the file has it", () => {
		const [view] = new RowViews().of(stateOf([{ ...sand, tool: "block", stage: 7, speed: { unit: "warp" } }]), "en");
		expect(view?.cells.stage).toMatchObject({ text: "7", unread: true });
		expect(view?.cells.speed).toMatchObject({ text: '{"unit":"warp"}', unread: true });
	});

	it("say a figure that is not known as a word, and why", () => {
		const [view] = new RowViews().of(stateOf([{ id: "aaaaaaaaaa", stage: "sand" }]), "en");
		for (const id of figureColumns) expect(view?.cells[id]?.text, id).not.toMatch(/^0?$/);
		expect(view?.cells.removedUm).toMatchObject({ text: "unknown" });
		expect(view?.cells.removedUm?.detail).not.toBe("");
	});

	it("show film in the reader's unit", () => {
		const work: Step["work"] = { unit: "passes", low: 3, high: 3 };
		const state = stateOf([{ ...sand, backing: "rigid-block", work }]);
		const mil = { ...state, shop: { ...state.shop, book: { ...state.shop.book, units: "mil" } } } as SheetState;
		expect(new RowViews().of(state, "en")[0]?.cells.removedUm?.text).toMatch(/ µm$/);
		expect(new RowViews().of(mil, "es")[0]?.cells.removedUm?.text).toMatch(/^\d+,\d+ mil$/);
	});

	it("carry findings at their cell, gravest first and accepted ones last, and those of a whole row at its number", () => {
		const finding = (level: string, field: string | null, accepted: unknown = null) => ({
			rule: "grade-jump",
			level,
			row: 0,
			rowId: "aaaaaaaaaa",
			field,
			accepted,
			data: {},
			situations: [{}],
		});
		const findings = [
			finding("stop", "pad", { by: "Ines Marlow" }),
			finding("advice", "pad"),
			finding("caution", "backing"),
			finding("stop", null),
		] as unknown as SheetState["findings"];
		const [view] = new RowViews().of(stateOf([sand], { findings }), "en");
		expect(view?.cells.backing?.findings.map(({ level }) => level)).toEqual(["caution", "advice", "stop"]);
		expect(view?.cells[numberColumn]?.findings.map(({ level }) => level)).toEqual(["stop"]);
	});

	it("mark a conflict at its cell", () => {
		const conflict = {
			code: "changed-both",
			row: "aaaaaaaaaa",
			field: "tool",
			pointer: null,
			base: {},
			mine: {},
			theirs: {},
		};
		const conflicts = [conflict] as unknown as SheetState["conflicts"];
		const [view] = new RowViews().of(stateOf([sand], { conflicts }), "en");
		expect(view?.cells.tool?.conflict).toBe(true);
		expect(view?.cells.stage?.conflict).toBe(false);
	});
});

describe("columns in use", () => {
	it("hold text in some row, typed text too, or a finding", () => {
		const state = stateOf(
			[
				{ ...sand, asTyped: { holes: "some" } },
				{ ...refine, note: "x" },
			],
			{ findings: [] },
		);
		expect([...columnsInUse(state)]).toEqual(["stage", "abrasive", "tool", "holes", "note"]);
	});
});
