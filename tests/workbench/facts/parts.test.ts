import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyEdit, type Edit, invertEdit } from "../../../src/model/edits.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import { pointerParts, valueAt } from "../../../src/model/pointer.ts";
import { chosen, moved, partEdit, without } from "../../../src/workbench/facts/parts.ts";

const bare: Procedure = { format: 1, id: "nib", title: { en: "Nib" } };
const full: Procedure = {
	...bare,
	purpose: { en: "Takes out a nib" },
	scope: {
		defects: [
			{ defect: "dirt-nib", goal: "gone" },
			{ defect: "run", um: { mid: 100, low: 50, high: 200 } },
		],
		tones: ["dark"],
	},
	film: { assumed: { factory: { mid: 45, low: 35, high: 55 } } },
	startWhen: [{ text: { en: "Cool" } }, { text: { en: "Clean", es: "Limpio" }, readingBelowUm: 60 }],
	sources: [{ title: "Sheet" }],
};

/** The procedure after the edit; its inverse is proven to bring back the one before, and JSON to keep the edit. */
function after(procedure: Procedure, edit: Edit): Procedure {
	const applied = applyEdit(procedure, JSON.parse(JSON.stringify(edit)) as Edit);
	if ("problem" in applied) throw new Error(applied.problem.message);
	const back = applyEdit(applied.procedure, invertEdit(edit));
	expect(back).toEqual({ procedure });
	return applied.procedure;
}

describe("partEdit", () => {
	it.each([
		["sets a part", bare, "/writtenBy", "Ada", "/writtenBy"],
		["sets a member where the record is there", full, "/purpose/es", "Quita una mota", "/purpose/es"],
		["makes the records that are missing, in one operation", bare, "/cure/bake/celsius", 60, "/cure"],
		[
			"makes those below the deepest that is there",
			full,
			"/film/assumed/refinish",
			{ mid: 60, low: 50, high: 70 },
			"/film/assumed/refinish",
		],
		["sets a member of a list element", full, "/scope/defects/1/goal", "gone", "/scope/defects/1/goal"],
		["adds an element behind the last by setting the list", full, "/startWhen/2/text/en", "Dry", "/startWhen"],
		["begins a list that is not there", bare, "/giveUpWhen/0/text/es", "Parar", "/giveUpWhen"],
		["begins a list inside a record that is not there", bare, "/scope/tones", ["dark"], "/scope"],
	])("%s", (_, procedure, pointer, to, at) => {
		const edit = partEdit(procedure, pointer, to);
		expect(edit).toHaveLength(1);
		expect(edit[0]).toMatchObject({ op: "setPart", pointer: at });
		expect(valueAt(after(procedure, edit), pointerParts(pointer))).toEqual(to);
	});

	it.each([
		["takes a record out with its last member", "/purpose/en", undefined, "purpose"],
		["takes out every record that ends up empty", "/film/assumed/factory", undefined, "film"],
		["takes an empty list out", "/startWhen", [], "startWhen"],
		["takes a list out with the last member of its last element", "/sources/0/title", undefined, "sources"],
	])("%s", (_, pointer, to, part) => {
		expect(after(full, partEdit(full, pointer, to))).not.toHaveProperty(part);
	});

	it("keeps the title and the words of a condition as empty records, which the schema asks for", () => {
		expect(after(bare, partEdit(bare, "/title/en", undefined)).title).toEqual({});
		expect(after(full, partEdit(full, "/startWhen/0/text/en", undefined)).startWhen?.[0]).toEqual({ text: {} });
	});

	it("takes the middle out of a list whose next element would stand in its place", () => {
		const three = { ...full, sources: [{ title: "One" }, { title: "Two" }, { title: "Three" }] };
		const edit = partEdit(three, "/sources/1/title", undefined);
		expect(edit[0]).toMatchObject({ pointer: "/sources" });
		expect(after(three, edit).sources).toEqual([{ title: "One" }, { title: "Three" }]);
	});

	it("keeps what is unknown beside what it sets", () => {
		const odd = { ...full, film: { ...full.film, colour: "red" } } as Procedure;
		expect(after(odd, partEdit(odd, "/film/assumed/factory", undefined)).film).toEqual({ colour: "red" });
	});

	it("is empty where nothing changes", () => {
		expect(partEdit(full, "/scope/tones", ["dark"])).toEqual([]);
		expect(partEdit(bare, "/cure/hours", undefined)).toEqual([]);
	});

	it.each(["", "/steps", "/steps/0/tool", "/startWhen/5/text/en", "/startWhen/-/text"])("refuses %j", (pointer) => {
		expect(() => partEdit(full, pointer, "x")).toThrow(RangeError);
	});

	it("does exactly what was asked, and its inverse takes it back, whatever is set in whatever order", () => {
		const places = [
			"/purpose/en",
			"/film/known",
			"/film/assumed/refinish",
			"/film/leastLeftUm",
			"/cure/hours",
			"/cure/bake/minutes",
			"/setUp/light/es",
			"/scope/tones",
			"/startWhen/0/text/en",
			"/wear/0/filter",
		];
		const change = fc.tuple(fc.constantFrom(...places), fc.constantFrom(undefined, "x", 3, ["a"], []));
		fc.assert(
			fc.property(fc.array(change, { maxLength: 12 }), (changes) => {
				let procedure = full;
				for (const [pointer, to] of changes) {
					procedure = after(procedure, partEdit(procedure, pointer, to));
					const now = valueAt(procedure, pointerParts(pointer));
					if (to === undefined || (Array.isArray(to) && to.length === 0)) expect(now).not.toEqual(to ?? "x");
					else expect(now).toEqual(to);
				}
			}),
			{ seed: 20_260_512 },
		);
	});
});

describe("lists", () => {
	it("keep the order of the vocabulary when a value is ticked, with strange values last", () => {
		expect(chosen(["teal", "light"], "dark", true, ["dark", "mid", "light"])).toEqual(["dark", "light", "teal"]);
	});

	it("are gone with their last value", () => {
		expect(chosen(["dark"], "dark", false, ["dark"])).toBeUndefined();
		expect(without(["a"], 0)).toBeUndefined();
		expect(without(["a", "b"], 0)).toEqual(["b"]);
	});

	it("move an element by one place and no further than the ends", () => {
		expect(moved(["a", "b", "c"], 0, 1)).toEqual(["b", "a", "c"]);
		expect(moved(["a", "b", "c"], 2, -1)).toEqual(["a", "c", "b"]);
		expect(moved(["a", "b"], 0, -1)).toEqual(["a", "b"]);
		expect(moved(["a", "b"], 1, 1)).toEqual(["a", "b"]);
	});
});
