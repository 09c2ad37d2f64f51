import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cellText, doorOf, editForText } from "../../src/exchange/cell-in.ts";
import { applyEdit, invertEdit } from "../../src/model/edits.ts";
import { stepFields } from "../../src/model/fields/columns.ts";
import type { FieldValue, StepField } from "../../src/model/fields/reading.ts";
import { write } from "../../src/model/fields/write.ts";
import type { Procedure, Speed, Step, Stock, Work } from "../../src/model/generated/types.ts";
import * as validators from "../../src/model/generated/validators.js";
import { genericShop, type Shop, shopOf } from "../../src/model/shop.ts";
import { generators, rows, stock } from "../model/fields/values.ts";

const procedureOf = (step: Partial<Step>): Procedure => ({
	format: 1,
	id: "one",
	title: { en: "One" },
	steps: rows.map((id, at) => (at === 1 ? { ...step, id } : { id })),
});

/** What a row becomes when a text is typed into one of its columns, with the fields told beside. */
function typed(
	before: Partial<Step>,
	fields: readonly StepField[],
	text: string,
	shop: Shop = genericShop,
	language: "en" | "es" = "en",
) {
	const procedure = procedureOf(before);
	const { edit, also } = editForText({ procedure, row: rows[1] as string, fields, text, shop, language });
	const result = applyEdit(procedure, edit);
	if ("problem" in result) throw new Error(result.problem.message);
	expect(applyEdit(result.procedure, invertEdit(edit))).toEqual({ procedure });
	const [, row] = result.procedure.steps ?? [];
	const { id: _, ...after } = row as Step;
	return { after, also };
}

const passes = (low: number, high = low): Work => ({ unit: "passes", low, high });
const rpm = (low: number, high = low): Speed => ({ unit: "rpm", low, high });
const sanding: Partial<Step> = { stage: "sand", tool: "random-orbital" };
const cutting: Partial<Step> = { stage: "compound", tool: "rotary" };

describe("text typed into a cell of one field", () => {
	it.each([
		["abrasive", "p2000", {}, { abrasive: "P2000" }],
		["abrasive", "2000 P", {}, { abrasive: "P2000" }],
		["abrasive", " 1500 ", {}, { abrasive: "P1500" }],
		["abrasive", "P1500 film", {}, { abrasive: "P1500", carrier: "film" }],
		["abrasive", "P1500 film, damp", sanding, { ...sanding, abrasive: "P1500", carrier: "film", wetness: "damp" }],
		["speed", "1200-1500", cutting, { ...cutting, speed: rpm(1200, 1500) }],
		["speed", "dial 4", {}, { speed: { unit: "dial", low: 4, high: 4 } }],
		["work", "3x", {}, { work: passes(3) }],
		["work", "3x crosswise", {}, { work: passes(3), pattern: "crosswise" }],
		["work", "8–10 strokes", {}, { work: { unit: "strokes", low: 8, high: 10 } }],
		["work", "until flush", {}, { work: { unit: "until-flush" } }],
		["work", "10 min", { stage: "wait" }, { stage: "wait", waitMinutes: 10 }],
		["work", "2", { stage: "wait" }, { stage: "wait", work: passes(2) }],
		["tool", "DA", {}, { tool: "random-orbital" }],
		["tool", "rotary 1500 rpm", {}, { tool: "rotary", speed: rpm(1500) }],
		[
			"tool",
			"hand",
			{ stage: "sand", backing: "rigid-block" },
			{ stage: "sand", backing: "rigid-block", tool: "block" },
		],
		["stage", "wet sand", {}, { stage: "sand", wetness: "wet" }],
		["stage", "compound", { abrasive: "P2000" }, { abrasive: "P2000", stage: "compound" }],
		["check", "No halos", { check: { es: "Sin cercos" } }, { check: { es: "Sin cercos", en: "No halos" } }],
		["check", "—", {}, { check: { en: "—" } }],
		["ifNot", "back to row 1", {}, { ifNot: { back: rows[0] } }],
	] as [StepField, string, Partial<Step>, Partial<Step>][])("reads under %s %j", (field, text, before, after) => {
		expect(typed(before, [field], text).after).toEqual(after);
	});

	it.each([
		["abrasive", "P15O0 film"],
		["abrasive", "P1500 blorb"],
		["abrasive", "P1500 / P2000"],
		["abrasive", "P1500 not P2000"],
		["speed", "fast"],
		["speed", "1500"],
		["work", "3 cross passes"],
		["tool", "hand"],
		["stage", "frobnicate"],
		["pad", "wool"],
	] as [StepField, string][])("keeps under %s %j as typed, whole, and nothing else", (field, text) => {
		const before = { abrasive: "P800", speed: rpm(900), work: passes(1), stage: undefined, pad: "foam-soft" };
		const { [field]: _, ...others } = JSON.parse(JSON.stringify(before));
		expect(typed(JSON.parse(JSON.stringify(before)), [field], text)).toEqual({
			after: { ...others, asTyped: { [field]: text } },
			also: [],
		});
	});

	it("takes what it can tell and notes the size that no field holds", () => {
		expect(typed({ note: "Keep it cool" }, ["abrasive"], "P1500 film 150 mm")).toEqual({
			after: { abrasive: "P1500", carrier: "film", note: "Keep it cool\nAbrasive: P1500 film 150 mm" },
			also: ["carrier", "note"],
		});
	});

	it("puts a reading in the place of what was kept as typed, and the other way round", () => {
		expect(typed({ asTyped: { speed: "fast" } }, ["speed"], "1500 rpm").after).toEqual({ speed: rpm(1500) });
		expect(typed({ speed: rpm(1500) }, ["speed"], "fast").after).toEqual({ asTyped: { speed: "fast" } });
		expect(typed({ asTyped: { speed: "fast", pad: "wool" } }, ["speed"], "900 rpm").after).toEqual({
			speed: rpm(900),
			asTyped: { pad: "wool" },
		});
	});

	it.each(["", "  ", "-"])("clears with %j the field and what was kept as typed", (text) => {
		expect(typed({ speed: rpm(1500) }, ["speed"], text).after).toEqual({});
		expect(typed({ asTyped: { speed: "fast" } }, ["speed"], text).after).toEqual({});
	});

	it("lets the words typed now overrule what they name elsewhere in the row", () => {
		expect(typed({ carrier: "paper" }, ["abrasive"], "P1500 film")).toEqual({
			after: { carrier: "film", abrasive: "P1500" },
			also: ["carrier"],
		});
	});

	it("leaves own words of another language alone where they are shown and stay as they are", () => {
		expect(typed({ check: { es: "Sin cercos" } }, ["check"], "Sin cercos").after).toEqual({
			check: { es: "Sin cercos" },
		});
	});

	it("refuses a row that is not there", () => {
		const cell = { procedure: procedureOf({}), row: "zzzzzzzzzz", fields: ["work" as const], text: "3" };
		expect(() => editForText({ ...cell, shop: genericShop, language: "en" })).toThrow(RangeError);
	});
});

describe("text typed into a cell of several fields", () => {
	const behind: StepField[] = ["backing", "pad"];
	const wetting: StepField[] = ["liquid", "wetness", "wipe"];
	const working: StepField[] = ["work", "waitMinutes"];
	it.each([
		["firm plate", behind, {}, { backing: "firm-plate" }],
		["twisted wool", behind, { backing: "firm-plate" }, { pad: "wool-twisted" }],
		["hard", behind, sanding, { ...sanding, backing: "firm-plate" }],
		["hard", behind, cutting, { ...cutting, pad: "foam-firm" }],
		["hard", behind, {}, { asTyped: { backing: "hard" } }],
		["wool", behind, {}, { asTyped: { pad: "wool" } }],
		["wool", behind, sanding, { ...sanding, asTyped: { pad: "wool" } }],
		["soft plate, 5 mm interface", behind, sanding, { ...sanding, backing: "soft-plate", interfaceMm: 5 }],
		["damp", wetting, { liquid: "fine" }, { wetness: "damp" }],
		["damp, soapy water", wetting, sanding, { ...sanding, wetness: "damp", wetWith: "soapy-water" }],
		["medium cut", wetting, {}, { liquid: "medium-cut" }],
		["IPA", wetting, {}, { wipe: "alcohol-wipe" }],
		["medium cut on wool", wetting, cutting, { ...cutting, liquid: "medium-cut", asTyped: { pad: "wool" } }],
		[
			"medium cut on wool",
			wetting,
			{ ...cutting, pad: "wool-knit" },
			{ ...cutting, pad: "wool-knit", liquid: "medium-cut" },
		],
		["gloop", wetting, sanding, { ...sanding, asTyped: { wetness: "gloop" } }],
		["gloop", wetting, cutting, { ...cutting, asTyped: { liquid: "gloop" } }],
		["", wetting, { liquid: "fine", asTyped: { wetness: "moist" } }, {}],
		["5 min", working, { stage: "wait" }, { stage: "wait", waitMinutes: 5 }],
		["2 h", working, { stage: "wait" }, { stage: "wait", waitMinutes: 120 }],
		["5", working, { stage: "wait", waitMinutes: 10 }, { stage: "wait", waitMinutes: 5 }],
		["overnight", working, { stage: "wait" }, { stage: "wait", asTyped: { waitMinutes: "overnight" } }],
		["5 min", working, cutting, { ...cutting, work: { unit: "minutes", low: 5, high: 5 } }],
		["5 min", working, {}, { work: { unit: "minutes", low: 5, high: 5 } }],
		["3x", working, {}, { work: passes(3) }],
		["overnight", working, {}, { asTyped: { work: "overnight" } }],
		["", working, { stage: "wait", waitMinutes: 5 }, { stage: "wait" }],
	] as [string, StepField[], Partial<Step>, Partial<Step>][])(
		"reads %j under %j beside %j",
		(text, fields, before, after) => {
			expect(typed(before, fields, text).after).toEqual(after);
		},
	);
});

describe("text typed into a cell, and the other cells of its row", () => {
	const pair: Record<string, StepField[]> = {
		behind: ["backing", "pad"],
		wetting: ["liquid", "wetness", "wipe"],
		working: ["work", "waitMinutes"],
	};
	const sandP2000: Partial<Step> = { stage: "sand", abrasive: "P2000" };
	const kept = (before: Partial<Step>, field: StepField, text: string): Partial<Step> => ({
		...before,
		asTyped: { [field]: text },
	});
	it.each([
		["speed", "1500 -", sandP2000, kept(sandP2000, "speed", "1500 -")],
		["speed", "-1500", sandP2000, kept(sandP2000, "speed", "-1500")],
		["speed", "-1500", { stage: "sand" }, kept({ stage: "sand" }, "speed", "-1500")],
		["working", "3-", sandP2000, kept(sandP2000, "work", "3-")],
		["working", "-3", sandP2000, kept(sandP2000, "work", "-3")],
		["working", "#3", { stage: "sand" }, kept({ stage: "sand" }, "work", "#3")],
		["working", "P800", sandP2000, kept(sandP2000, "work", "P800")],
		["working", "P800", { stage: "sand" }, { stage: "sand", abrasive: "P800" }],
		["behind", "5", { stage: "sand" }, kept({ stage: "sand" }, "backing", "5")],
		["liquid", "5", { stage: "polish" }, kept({ stage: "polish" }, "liquid", "5")],
		["speed", "nº 2000", sandP2000, kept(sandP2000, "speed", "nº 2000")],
		["speed", "nº 2000", { stage: "sand" }, kept({ stage: "sand" }, "speed", "nº 2000")],
		["behind", "hand", { ...sanding, abrasive: "P2000" }, kept({ ...sanding, abrasive: "P2000" }, "backing", "hand")],
		["behind", "hand", sandP2000, { ...sandP2000, tool: "bare-hand" }],
		["tool", "rotary 1500 rpm", { speed: rpm(900) }, kept({ speed: rpm(900) }, "tool", "rotary 1500 rpm")],
		["tool", "rotary 900 rpm", { speed: rpm(900) }, { tool: "rotary", speed: rpm(900) }],
		["stage", "wet sand", { wetness: "dry" }, kept({ wetness: "dry" }, "stage", "wet sand")],
		["stage", "wet sand", { wetness: "wet" }, { stage: "sand", wetness: "wet" }],
		["abrasive", "P1500 paper", { abrasive: "P800", carrier: "film" }, { abrasive: "P1500", carrier: "paper" }],
		["abrasive", "paper", { abrasive: "P800", carrier: "film" }, kept({ carrier: "film" }, "abrasive", "paper")],
		["abrasive", "P1500 no holes", { holes: "open" }, { abrasive: "P1500", holes: "none" }],
		[
			"abrasive",
			"P1500, damp",
			{ ...sanding, wetness: "dry" },
			kept({ ...sanding, wetness: "dry" }, "abrasive", "P1500, damp"),
		],
		["work", "3x crosswise", { pattern: "one-way" }, { work: passes(3), pattern: "crosswise" }],
		[
			"speed",
			"1500 rpm crosswise",
			{ pattern: "one-way" },
			kept({ pattern: "one-way" }, "speed", "1500 rpm crosswise"),
		],
		["work", "10 min", { stage: "wait", waitMinutes: 5 }, kept({ stage: "wait", waitMinutes: 5 }, "work", "10 min")],
		[
			"wetting",
			"medium cut on wool",
			{ ...cutting, asTyped: { pad: "fluffy" } },
			{ ...cutting, asTyped: { pad: "fluffy", liquid: "medium cut on wool" } },
		],
	] as [string, string, Partial<Step>, Partial<Step>][])(
		"under %s %j beside %j gives %j",
		(column, text, before, after) => {
			expect(typed(before, pair[column] ?? [column as StepField], text).after).toEqual(after);
		},
	);

	it.each([
		"no 2000",
		"No. 2000",
		"nº 2000",
		"n° 2000",
		"nº P2000",
		"no. p2000",
		"núm. 2000",
		"sand 2000",
		"sand P2000",
	])("reads %j under the abrasive as a grade, and touches no other cell", (text) => {
		expect(typed({ stage: "sand" }, ["abrasive"], text).after).toEqual({ stage: "sand", abrasive: "P2000" });
	});

	it("keeps a denial of a grade as typed, and takes it for no word of holes", () => {
		for (const text of ["no P2000", "no"])
			expect(typed({ stage: "sand" }, ["abrasive"], text).after).toEqual({
				stage: "sand",
				asTyped: { abrasive: text },
			});
	});

	const pieces = fc.constantFrom(
		..."P1500 film paper foam wool 3x three 1500 2000 rpm damp wet dry hand no nº not / , - # 5 10 min soft plate IPA mm crosswise".split(
			" ",
		),
		..."holes interface block rotary DA wash edges taped spot only optional medium cut until flush dial panel grit clay".split(
			" ",
		),
	);
	const rowOf = fc.record(
		Object.fromEntries(stepFields.map((field) => [field, generators("en")[field]])) as Record<
			StepField,
			fc.Arbitrary<unknown>
		>,
		{ requiredKeys: [] },
	);
	it.each([...stepFields, "behind", "wetting", "working"].map((name) => [name]))(
		"typed under %s, any text leaves every filled cell of another column as it is",
		(name) => {
			const fields = pair[name] ?? [name as StepField];
			const shop = shopOf(genericShop.book, stock, undefined);
			/** What is said of the cell's own value in the same text, once that value was read. */
			const ofOwn: Partial<Record<StepField, StepField[]>> = { abrasive: ["carrier", "holes"], work: ["pattern"] };
			fc.assert(
				fc.property(
					rowOf,
					fc.constantFrom({}, { pad: "fluffy" }, { speed: "fast", tool: "thing", abrasive: "what" }),
					fc.oneof(
						fc.string(),
						fc.array(pieces, { minLength: 1, maxLength: 5 }).map((list) => list.join(" ")),
					),
					(values, unread, text) => {
						const asTyped = Object.fromEntries(
							Object.entries(unread).filter(([field]) => !(field in values)),
						) as Record<string, string>;
						const before = { ...values, ...(Object.keys(asTyped).length > 0 ? { asTyped } : {}) } as Partial<Step>;
						const { after } = typed(before, fields, text, shop);
						const excepted = fields.flatMap((field) => (after[field] === undefined ? [] : (ofOwn[field] ?? [])));
						for (const field of stepFields) {
							if (fields.includes(field) || excepted.includes(field)) continue;
							const was = before[field];
							if (field === "note" && was !== undefined) expect(after.note?.startsWith(was as string)).toBe(true);
							else if (was !== undefined) expect(after[field], `${field} by ${text}`).toEqual(was);
							const typedBefore = before.asTyped?.[field];
							if (typedBefore !== undefined) expect(after.asTyped?.[field], `${field} by ${text}`).toBe(typedBefore);
						}
					},
				),
				{ seed: 11, numRuns: 120 },
			);
		},
	);
});

describe("an item of the stock", () => {
	const items: Stock = {
		format: 1,
		abrasives: [
			{ id: "film-a", name: "Film A", grade: "P1500", carrier: "film", wetness: ["dry"] },
			{ id: "sheet-b", name: "Sheet B", grade: "P2000", wetness: ["damp", "wet"] },
		],
		liquids: [
			{
				id: "cut-a",
				name: "Cut A",
				class: "heavy-cut",
				pads: ["wool-knit"],
				speed: { unit: "rpm", low: 1200, high: 1800 },
				mlPerSection: 5,
			},
			{ id: "cut-b", name: "Cut B", class: "heavy-cut", pads: ["wool-knit", "foam-firm"] },
		],
		tools: [
			{ id: "two-speed", name: "Old iron", kind: "rotary", speed: { unit: "rpm", low: 600, high: 3000 } },
			{ id: "one-speed", name: "Little air", kind: "random-orbital", speed: { unit: "opm", low: 7500, high: 7500 } },
		],
	};
	const shop = shopOf(genericShop.book, items, undefined);
	it.each([
		["the one way it runs", "abrasive", "film a", {}, { wetness: "dry" }, ["wetness"]],
		["nothing where it runs two ways", "abrasive", "sheet b", {}, {}, []],
		[
			"the pad, the speed and the amount of a liquid",
			"liquid",
			"cut a",
			{ stage: "compound" },
			{ pad: "wool-knit", speed: rpm(1200, 1800), amountMl: 5 },
			["pad", "speed", "amountMl"],
		],
		["nothing where a liquid has two pads", "liquid", "cut b", {}, {}, []],
		[
			"no revolutions for an orbital",
			"liquid",
			"cut a",
			{ tool: "random-orbital" },
			{ pad: "wool-knit", amountMl: 5 },
			["pad", "amountMl"],
		],
		["no range that a tool can run", "tool", "old iron", {}, {}, []],
		["the one speed of a tool", "tool", "little air", {}, { speed: { unit: "opm", low: 7500, high: 7500 } }, ["speed"]],
		["nothing over what the row has", "liquid", "cut a", { pad: "foam-firm", speed: rpm(900), amountMl: 2 }, {}, []],
		[
			"nothing over what is kept as typed",
			"liquid",
			"cut a",
			{ asTyped: { pad: "wool", speed: "slow" } },
			{ amountMl: 5 },
			["amountMl"],
		],
	] as [string, StepField, string, Partial<Step>, Partial<Step>, StepField[]][])(
		"brings %s",
		(_, field, text, before, filled, also) => {
			const result = typed(before, [field], text, shop);
			expect(result.after).toEqual({
				...before,
				[field]: text
					.replace(/^(?:little air|old iron)$/, (name) => (name === "old iron" ? "two-speed" : "one-speed"))
					.replace(" ", "-"),
				...filled,
			});
			expect(result.also.toSorted()).toEqual(also.toSorted());
		},
	);

	it("brings nothing when it was there already", () => {
		expect(typed({ liquid: "cut-a" }, ["liquid"], "Cut A", shop).after).toEqual({ liquid: "cut-a" });
	});
});

describe("the round trip of a cell", () => {
	const column = (field: StepField): StepField[] => {
		if (field === "backing" || field === "pad") return ["backing", "pad"];
		return field === "liquid" || field === "wetness" || field === "wipe" ? ["liquid", "wetness", "wipe"] : [field];
	};
	const beside: Partial<Step>[] = [
		{},
		sanding,
		cutting,
		{ stage: "wipe" },
		{ stage: "inspect" },
		{ abrasive: "P2000" },
	];
	for (const language of ["en", "es"] as const)
		it.each(stepFields)(`sets every %s that was written in ${language}`, (field) => {
			fc.assert(
				fc.property(
					generators(language)[field],
					fc.constantFrom(...beside),
					fc.boolean(),
					fc.boolean(),
					(value, around, withStock, joined) => {
						if (!withStock && typeof value === "string" && /-(?:a|b|disc)$/.test(value)) return;
						const shop = withStock ? shopOf(genericShop.book, stock, undefined) : genericShop;
						// A bare grade takes the scale of the book, which this one sets.
						if (field === "abrasive" && value === "2000") return;
						const { [field]: _, ...before } = around;
						const door = doorOf(procedureOf(before), before as Step, shop, language);
						const text = write(value as FieldValue, { ...door, field });
						const { after } = typed(before, joined ? column(field) : [field], text, shop, language);
						expect(after[field], text).toEqual(value);
						expect(after.asTyped).toBe(undefined);
					},
				),
				{ seed: 7, numRuns: 150 },
			);
		});

	it("changes nothing where the text is what the cell shows", () => {
		const step: Partial<Step> = { stage: "sand", liquid: "fine", wetness: "damp", wipe: "wash" };
		const text = cellText(step as Step, ["liquid", "wetness", "wipe"], { language: "en" });
		expect(text).toBe("fine, damp, wash");
		expect(typed(step, ["liquid", "wetness", "wipe"], text).after).toEqual(step);
	});

	it("never throws, always gives a row that its schema allows, and loses no word", () => {
		const pieces = fc.constantFrom(
			"P1500",
			"film",
			"foam",
			"wool",
			"zqxwv",
			"3x",
			"1500",
			"rpm",
			"damp",
			"dry",
			"hand",
			"not",
			"/",
			",",
			"-",
			"10 min",
			"soft",
			"plate",
			"IPA",
			"mm",
			"150",
		);
		fc.assert(
			fc.property(
				fc.oneof(
					fc.string(),
					fc.array(pieces, { maxLength: 6 }).map((list) => list.join(" ")),
				),
				fc.constantFrom(...stepFields.map(column)),
				fc.constantFrom(...beside),
				(text, fields, before) => {
					const { after } = typed(before, fields, text);
					expect(validators.procedure(procedureOf(after)), JSON.stringify(validators.procedure.errors)).toBe(true);
					if (text.includes("zqxwv")) expect(JSON.stringify(after)).toContain("zqxwv");
				},
			),
			{ seed: 8, numRuns: 2000 },
		);
	});
});
