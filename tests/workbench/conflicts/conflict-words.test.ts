import { describe, expect, it } from "vitest";
import { editBetween } from "../../../src/model/edits.ts";
import type { Procedure, Step } from "../../../src/model/generated/types.ts";
import { type Conflict, merge } from "../../../src/model/merge.ts";
import { genericShop } from "../../../src/model/shop.ts";
import { conflictAt } from "../../../src/workbench/conflicts/conflict-at.ts";
import { joinedInWords, placeInWords, sideInWords } from "../../../src/workbench/conflicts/conflict-words.ts";

const a = "aaaaaaaaaa";
const b = "bbbbbbbbbb";
const c = "cccccccccc";
const base: Procedure = {
	format: 1,
	id: "small",
	title: { en: "Small" },
	scope: { defects: [{ defect: "scuff" }], tones: ["dark"] },
	film: { startReadingUm: 120 },
	steps: [
		{ id: a, stage: "sand", abrasive: "P1500", speed: { unit: "rpm", low: 1200, high: 1500 } },
		{ id: b, stage: "refine", abrasive: "P3000" },
		{ id: c, stage: "polish", liquid: "fine" },
	],
};
const around = { procedure: base, shop: genericShop, language: "en" as const };

const withStep = (id: string, some: object): Procedure => ({
	...base,
	steps: base.steps?.map((step) => (step.id === id ? { ...step, ...some } : step)) ?? [],
});
const without = (id: string): Procedure => ({ ...base, steps: base.steps?.filter((step) => step.id !== id) ?? [] });
const ordered = (...ids: string[]): Procedure => ({
	...base,
	steps: ids.map((id) => base.steps?.find((step) => step.id === id) as Step),
});

function said(mine: Procedure, theirs: Procedure, language: "en" | "es" = "en"): string[] {
	const { merged, conflicts } = merge(base, mine, theirs);
	const words = { ...around, procedure: merged, language };
	const [one] = conflicts as [Conflict];
	return [
		placeInWords(one, words),
		...(["base", "mine", "theirs"] as const).map((side) => sideInWords(one, one[side], words)),
	];
}

describe("a conflict in words", () => {
	const cases: [name: string, mine: Procedure, theirs: Procedure, said: (string | RegExp)[]][] = [
		[
			"a grade",
			withStep(a, { abrasive: "P2000" }),
			withStep(a, { abrasive: "P1000" }),
			["Row 1, Abrasive", "P1500", "P2000", "P1000"],
		],
		[
			"a speed, one side unread",
			withStep(a, { speed: { unit: "rpm", low: 900, high: 900 } }),
			withStep(a, { speed: undefined, asTyped: { speed: "slow" } }),
			["Row 1, Speed", /1200.1500 rpm/, "900 rpm", "“slow”, not read"],
		],
		[
			"a value that the schema does not allow",
			withStep(a, { abrasive: 7 }),
			withStep(a, { abrasive: { grade: 8 } }),
			["Row 1, Abrasive", "P1500", "7", "grade: 8"],
		],
		[
			"a row that one side took out",
			without(b),
			withStep(b, { abrasive: "P2500" }),
			["A row that is not there", /Abrasive: P3000/, "the row is taken out", /Stage: refine; Abrasive: P2500/],
		],
		["a number of the film", film(110), film(130), [/^Film, /, "120", "110", "130"]],
		[
			"a title",
			{ ...base, title: { en: "Mine" } },
			{ ...base, title: { en: "Theirs" } },
			["Title, English", "Small", "Mine", "Theirs"],
		],
		[
			"an order",
			ordered(b, a, c),
			ordered(a, c, b),
			["Order of the rows", /^Rows 2, 1, 3/, /^Rows 1, 2, 3/, /^Rows 2, 3, 1/],
		],
	];
	for (const [name, mine, theirs, expected] of cases) {
		it(`says ${name}`, () => {
			const words = said(mine, theirs);
			expect(words).toHaveLength(expected.length);
			for (const [index, one] of expected.entries()) {
				if (typeof one === "string") expect(words[index]).toBe(one);
				else expect(words[index]).toMatch(one);
			}
		});
	}

	it("leaves a free text alone that is also a word of the trade, and says the words of what is one of a set", () => {
		const by = (writtenBy: string): Procedure => ({ ...base, writtenBy });
		expect(said(by("light"), by("factory"), "es").slice(2)).toEqual(["light", "factory"]);
		const withTone = (tone: "mid" | "light"): Procedure => ({ ...base, scope: { ...base.scope, tones: [tone] } });
		expect(said(withTone("mid"), withTone("light"), "es").slice(1)).toEqual(["oscuro", "medio", "claro"]);
	});

	it("speaks Spanish", () => {
		const words = said(withStep(c, { stage: "finish" }), withStep(c, { stage: "compound" }), "es");
		expect(words[0]).toMatch(/^Fila 3, /);
		expect(words[2]).not.toBe("finish");
	});
});

describe("what was joined", () => {
	it("is said line by line", () => {
		const theirs: Procedure = {
			...withStep(a, { abrasive: "P1000" }),
			scope: { defects: [{ defect: "scuff" }, { defect: "run" }], tones: [] },
			steps: [
				{ id: c, stage: "polish", liquid: "fine" },
				{ id: a, stage: "sand", abrasive: "P1000" },
				{ id: "dddddddddd", stage: "inspect" },
			],
		};
		const lines = joinedInWords(editBetween(base, theirs), { ...around, procedure: theirs });
		expect(lines).toHaveLength(7);
		expect(lines).toContain("Row 2, Abrasive: P1000");
		expect(lines).toContain("Row 2, Speed: nothing");
		expect(lines.some((line) => /^Row [12] was moved\.$/.test(line))).toBe(true);
		expect(lines).toContain("Row 3 is new. Stage: inspect");
		expect(lines).toContain("A row was taken out. Stage: refine; Abrasive: P3000");
		expect(lines.some((line) => /^Scope, .*: nothing$/.test(line))).toBe(true);
		expect(lines.some((line) => /^Scope, .*: scuff.*, run/i.test(line))).toBe(true);
	});
});

describe("conflictAt", () => {
	const side = { base: {}, mine: {}, theirs: {} };
	const cell: Conflict = { code: "changed-both", row: a, field: "speed", pointer: null, ...side };
	const row: Conflict = { code: "removed-and-changed", row: b, field: null, pointer: null, ...side };

	it("finds that of the cell, or that of its whole row", () => {
		const all = [cell, row];
		expect(conflictAt(all, a, "speed")).toBe(cell);
		expect(conflictAt(all, a, "work")).toBeNull();
		expect(conflictAt(all, b, "work")).toBe(row);
		expect(conflictAt(all, c, "work")).toBeNull();
	});
});

function film(startReadingUm: number): Procedure {
	return { ...base, film: { startReadingUm } };
}
