import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalText } from "../../src/model/canonical.ts";
import { applyEdit, type Edit, editBetween, invertEdit, isEmpty, joinEdits } from "../../src/model/edits.ts";
import type { Procedure, Step } from "../../src/model/generated/types.ts";
import { changed, changes, procedures, rowId } from "./procedures.ts";

const [a, b, c, d] = ["a", "b", "c", "d"].map(rowId) as [string, string, string, string];
const procedure = (...steps: Step[]): Procedure => ({ format: 1, id: "test", title: { en: "Test" }, steps });
const three = procedure({ id: a, stage: "sand" }, { id: b, abrasive: "P1500" }, { id: c });

const applied = (before: Procedure, edit: Edit): Procedure => {
	const result = applyEdit(before, edit);
	if ("problem" in result) throw new Error(`${result.problem.code} ${JSON.stringify(result.problem.place)}`);
	return result.procedure;
};

/** The laws every edit keeps. */
function provesLaws(before: Procedure, edit: Edit): Procedure {
	const text = canonicalText("procedure", before);
	const after = applied(before, edit);
	expect(canonicalText("procedure", before)).toBe(text);
	const back = applied(after, invertEdit(edit));
	expect(back).toEqual(before);
	expect(canonicalText("procedure", back)).toBe(text);
	expect(JSON.parse(JSON.stringify(edit))).toEqual(edit);
	expect(applied(before, JSON.parse(JSON.stringify(edit)))).toEqual(after);
	expect(invertEdit(invertEdit(edit))).toEqual(edit);
	expect(joinEdits(edit, invertEdit(edit))).toEqual([]);
	return after;
}

const ids = ({ steps }: Procedure) => (steps ?? []).map(({ id }) => id[0]).join("");

describe("applyEdit", () => {
	it.each<[string, Edit, object]>([
		["sets a field", [{ op: "set", row: a, field: "stage", from: "sand", to: "refine" }], { id: a, stage: "refine" }],
		["fills an absent field", [{ op: "set", row: a, field: "note", to: "x" }], { id: a, stage: "sand", note: "x" }],
		["empties a field", [{ op: "set", row: a, field: "stage", from: "sand" }], { id: a }],
		[
			"sets a field of unread text",
			[{ op: "set", row: a, field: "asTyped", to: { speed: "?" } }],
			{ id: a, stage: "sand", asTyped: { speed: "?" } },
		],
	])("%s", (_, edit, first) => {
		const after = provesLaws(three, edit);
		expect(after.steps?.[0]).toEqual(first);
		expect(after.steps?.[1]).toBe(three.steps?.[1]);
		expect(after.title).toBe(three.title);
	});

	it.each<[string, Edit, string]>([
		["inserts a row behind another", [{ op: "insert", step: { id: d }, after: a }], "adbc"],
		["inserts a row at the top", [{ op: "insert", step: { id: d }, after: null }], "dabc"],
		["removes a row", [{ op: "remove", step: { id: b, abrasive: "P1500" }, after: a }], "ac"],
		["moves a row down", [{ op: "move", row: a, from: null, after: c }], "bca"],
		["moves a row up", [{ op: "move", row: c, from: b, after: null }], "cab"],
		["leaves a moved row where it is", [{ op: "move", row: b, from: a, after: a }], "abc"],
		[
			"does one operation after the other",
			[
				{ op: "insert", step: { id: d }, after: c },
				{ op: "move", row: d, from: c, after: a },
			],
			"adbc",
		],
	])("%s", (_, edit, order) => {
		expect(ids(provesLaws(three, edit))).toBe(order);
	});

	it.each<[string, Edit, (after: Procedure) => unknown, unknown]>([
		[
			"sets a part",
			[{ op: "setPart", pointer: "/title/es", to: "Prueba" }],
			({ title }) => title,
			{ en: "Test", es: "Prueba" },
		],
		["takes a part out", [{ op: "setPart", pointer: "/title/en", from: "Test" }], ({ title }) => title, {}],
		[
			"puts in a record",
			[{ op: "setPart", pointer: "/film", to: { known: "none" } }],
			({ film }) => film,
			{ known: "none" },
		],
		[
			"sets the rows as a whole",
			[{ op: "setPart", pointer: "/steps", from: three.steps, to: [] }],
			({ steps }) => steps,
			[],
		],
	])("%s", (_, edit, of, expected) => {
		expect(of(provesLaws(three, edit))).toEqual(expected);
	});

	it("replaces an element of a list", () => {
		const before = { ...three, sources: [{ title: "x" }, { title: "y" }] };
		const after = provesLaws(before, [{ op: "setPart", pointer: "/sources/1/title", from: "y", to: "z" }]);
		expect(after.sources).toEqual([{ title: "x" }, { title: "z" }]);
	});

	it.each<[string, Edit]>([
		["the value is another", [{ op: "set", row: a, field: "stage", from: "refine", to: "polish" }]],
		["the value was there already", [{ op: "set", row: a, field: "stage", to: "polish" }]],
		["the row is gone", [{ op: "set", row: d, field: "stage", to: "polish" }]],
		["the inserted row is there already", [{ op: "insert", step: { id: a }, after: null }]],
		["the row to stand behind is gone", [{ op: "insert", step: { id: d }, after: rowId("e") }]],
		["the row to remove has changed", [{ op: "remove", step: { id: a }, after: null }]],
		["the row to remove stands elsewhere", [{ op: "remove", step: { id: c }, after: a }]],
		["the row to move stands elsewhere", [{ op: "move", row: c, from: a, after: null }]],
		["the row to move behind is itself", [{ op: "move", row: c, from: b, after: c }]],
		["the part is another", [{ op: "setPart", pointer: "/title/en", from: "x", to: "y" }]],
		["nothing holds the part", [{ op: "setPart", pointer: "/film/known", to: "none" }]],
		["a list would grow", [{ op: "setPart", pointer: "/scope/tones/1", to: "dark" }]],
		[
			"a later operation is stale",
			[
				{ op: "set", row: a, field: "note", to: "x" },
				{ op: "set", row: a, field: "note", to: "y" },
			],
		],
	])("is stale where %s", (_, edit) => {
		const before = { ...three, scope: { tones: ["dark" as const] } };
		expect(applyEdit(before, edit)).toMatchObject({ problem: { code: "edit-stale" } });
	});

	it.each<[string, Edit]>([
		["an unsafe field", [{ op: "set", row: a, field: "__proto__", to: { x: 1 } }]],
		["a constructor", [{ op: "set", row: a, field: "constructor", to: 1 }]],
		["a row id", [{ op: "set", row: a, field: "id", from: a, to: d }]],
		["an unsafe pointer", [{ op: "setPart", pointer: "/title/__proto__/x", to: 1 }]],
		["a prototype", [{ op: "setPart", pointer: "/prototype", to: 1 }]],
		["a place inside the rows", [{ op: "setPart", pointer: "/steps/0/stage", from: "sand", to: "refine" }]],
		["the whole procedure", [{ op: "setPart", pointer: "", to: {} }]],
	])("refuses %s", (_, edit) => {
		expect(applyEdit(three, edit)).toMatchObject({ problem: { code: "edit-refused" } });
		expect(({} as Record<string, unknown>).x).toBeUndefined();
	});

	it("finds nothing to set in a list's length", () => {
		const before = { ...three, sources: [{ title: "x" }] };
		const edit: Edit = [{ op: "setPart", pointer: "/sources/length", to: 0 }];
		expect(applyEdit(before, edit)).toHaveProperty("problem.code", "edit-stale");
	});
});

describe("joinEdits", () => {
	const set = (row: string, field: string, from: unknown, to: unknown): Edit => [{ op: "set", row, field, from, to }];

	it("joins successive sets of one cell", () => {
		expect(joinEdits(set(a, "note", "x", "y"), set(a, "note", "y", "z"))).toEqual(set(a, "note", "x", "z"));
	});

	it("joins them across another cell, not across the row's coming and going", () => {
		const across = joinEdits([...set(a, "note", "x", "y"), ...set(b, "note", "x", "y")], set(a, "note", "y", "z"));
		expect(across).toEqual([...set(a, "note", "x", "z"), ...set(b, "note", "x", "y")]);
		const step = { id: a, note: "y" };
		const gone: Edit = [
			...set(a, "note", "x", "y"),
			{ op: "remove", step, after: null },
			{ op: "insert", step: { id: a, note: "q" }, after: null },
		];
		expect(joinEdits(gone, set(a, "note", "q", "z")).length).toBe(4);
	});

	it("is empty where the second takes the first back", () => {
		expect(isEmpty(joinEdits(set(a, "note", "x", "y"), set(a, "note", "y", "x")))).toBe(true);
		expect(isEmpty(set(a, "note", "x", "y"))).toBe(false);
	});

	it("joins moves of one row", () => {
		const first: Edit = [{ op: "move", row: a, from: null, after: b }];
		expect(joinEdits(first, [{ op: "move", row: a, from: b, after: c }])).toEqual([
			{ op: "move", row: a, from: null, after: c },
		]);
	});
});

describe("editBetween", () => {
	it("moves as few rows as possible", () => {
		const before = procedure({ id: a }, { id: b }, { id: c }, { id: d });
		expect(editBetween(before, procedure({ id: b }, { id: c }, { id: d }, { id: a }))).toEqual([
			{ op: "move", row: a, from: null, after: d },
		]);
	});

	it("sets no more than what differs", () => {
		const after = {
			...three,
			title: { en: "Test", es: "Prueba" },
			steps: [{ id: a, stage: "refine" }, { id: b, abrasive: "P1500" }, { id: c }],
		} as Procedure;
		expect(editBetween(three, after)).toEqual([
			{ op: "setPart", pointer: "/title/es", to: "Prueba" },
			{ op: "set", row: a, field: "stage", from: "sand", to: "refine" },
		]);
	});

	it.each([
		["repeated row ids", { ...three, steps: [{ id: a }, { id: a, note: "x" }] }],
		["rows that are no records", { ...three, steps: [3] }],
		["no rows", { format: 1, id: "test", title: {} }],
	])("sets the rows as a whole where there are %s", (_, odd) => {
		const other = odd as unknown as Procedure;
		expect(provesLaws(three, editBetween(three, other))).toEqual(other);
		expect(provesLaws(other, editBetween(other, three))).toEqual(three);
	});
});

describe("the laws of edits", () => {
	it("hold between any two procedures", () => {
		fc.assert(
			fc.property(procedures, procedures, (before, after) => {
				const edit = editBetween(before, after);
				expect(provesLaws(before, edit)).toEqual(after);
				expect(isEmpty(editBetween(before, before))).toBe(true);
			}),
			{ seed: 31, numRuns: 1000 },
		);
	});

	it("hold for the edits of gestures, and joining them changes nothing", () => {
		fc.assert(
			fc.property(procedures, changes, changes, (start, first, second) => {
				const middle = changed(start, first, "x");
				const end = changed(middle, second, "y");
				const [one, two] = [editBetween(start, middle), editBetween(middle, end)];
				expect(provesLaws(start, one)).toEqual(middle);
				const joined = joinEdits(one, two);
				expect(joined.length).toBeLessThanOrEqual(one.length + two.length);
				expect(provesLaws(start, joined)).toEqual(end);
			}),
			{ seed: 32, numRuns: 1000 },
		);
	});
});
