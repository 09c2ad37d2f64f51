import { describe, expect, it } from "vitest";
import type { Finding, Level } from "../../src/model/finding.ts";
import type { Exception, Limits, Procedure, Step } from "../../src/model/generated/types.ts";
import { houseLimits } from "../../src/model/limits.ts";
import { genericShop } from "../../src/model/shop.ts";
import type { Axis, Situation } from "../../src/model/situations.ts";
import { type Fragment, liquid, sand, wash } from "../../src/rules/example-rows.ts";
import { rules as everyRule } from "../../src/rules/generated/rules.ts";
import { type Case, judge, remediesFor } from "../../src/rules/judge.ts";
import { common, type Found, house, type Rule, type RuleInput, rule } from "../../src/rules/rule.ts";
import { madeProcedure, seeded } from "../made-procedures.ts";

const today = "2026-03-02";
const wide: Procedure["scope"] = {
	defects: [{ defect: "swirl" }, { defect: "sand-scratch" }],
	substrates: ["steel", "plastic"],
	clearCoats: ["factory", "refinish"],
	tones: ["dark", "light"],
};

describe("a rule runs", () => {
	it.each<[string, Axis[], Situation[]]>([
		["once, knowing no situation, where it declares no axis", [], [{}]],
		[
			"once for each tone where it declares the tone",
			["tone"],
			[{ tone: "dark" }, { tone: "dark-effect" }, { tone: "light" }, { tone: "light-effect" }],
		],
		[
			"once for each pair where it declares two axes, in the order of the axes",
			["clearCoat", "substrate"],
			[
				{ substrate: "steel", clearCoat: "factory" },
				{ substrate: "steel", clearCoat: "refinish" },
				{ substrate: "plastic", clearCoat: "factory" },
				{ substrate: "plastic", clearCoat: "refinish" },
			],
		],
	])("%s", (_, axes, expected) => {
		expect(seenBy(axes, { scope: wide }).map(({ situation }) => situation)).toEqual(expected);
	});

	it("once more for each value that conditions of rows turn on", () => {
		const steps = [sand("P1500"), liquid("finest", "foam-soft", { when: [{ tone: ["dark"] }] })];
		const seen = seenBy(["substrate"], { scope: wide, steps });
		expect(seen.map(({ situation: { substrate, tone }, rows }) => [substrate, tone, rows.length])).toEqual([
			["steel", "dark", 2],
			["steel", "dark-effect", 2],
			["steel", "light", 1],
			["steel", "light-effect", 1],
			["plastic", "dark", 2],
			["plastic", "dark-effect", 2],
			["plastic", "light", 1],
			["plastic", "light-effect", 1],
		]);
	});

	it("on the rows that apply, each with its place among all, and can read all of them", () => {
		const steps = [wash, sand("P1500", { when: [{ substrate: ["plastic"] }] }), liquid("fine", "foam-medium")];
		const seen = seenBy([], { scope: wide, steps });
		expect(seen.map(({ rows }) => rows.map(({ index }) => index))).toEqual([
			[0, 2],
			[0, 1, 2],
		]);
		expect(seen.map(({ allRows }) => allRows.length)).toEqual([3, 3]);
	});

	it("with an axis absent where the scope names nothing on it", () => {
		expect(
			seenBy(["tone", "substrate"], { scope: { tones: ["mid-effect"] } }).map(({ situation }) => situation),
		).toEqual([{ tone: "mid-effect" }]);
	});

	it("once, knowing no situation, where all are excepted", () => {
		const scope = { ...wide, except: [{}] };
		expect(seenBy(["tone"], { scope }).map(({ situation }) => situation)).toEqual([{}]);
		expect(judge(caseOf({ scope }), [finder(["tone"], () => [at({})])])).toMatchObject([{ situations: [{}] }]);
	});

	it("not on the forecast without the axes it depends on", () => {
		const careless = finder(["defect"], ({ forecast }) => [at({ rows: forecast.rows.length })]);
		expect(() => judge(caseOf({ scope: wide }), [careless])).toThrow(RangeError);
		const careful = finder(["defect", "clearCoat"], ({ forecast }) => [at({ rows: forecast.rows.length })]);
		expect(judge(caseOf({ scope: wide }), [careful])).toMatchObject([{ data: { rows: 1 } }]);
	});
});

describe("a check that reads nothing of the situation", () => {
	it("runs once, and what it finds holds in all of them", () => {
		let runs = 0;
		const blind = finder(["tone"], ({ allRows: [row] }) => {
			runs += 1;
			return [{ ...at({}), row }];
		});
		expect(judge(caseOf({ scope: wide }), [blind])).toMatchObject([{ row: 0, situations: [{}] }]);
		expect(runs).toBe(1);
	});
});

describe("findings of one rule, row and field", () => {
	it("become one, which names its situations", () => {
		const onDark = finder(["tone"], ({ situation }) => (situation.tone?.startsWith("dark") ? [at({})] : []));
		expect(judge(caseOf({ scope: wide }), [onDark])).toMatchObject([{ situations: [{ tone: ["dark"] }] }]);
		const always = finder(["tone"], () => [at({})]);
		expect(judge(caseOf({ scope: wide }), [always])).toMatchObject([{ situations: [{}] }]);
	});

	it("quote the values and the basis of the situation with the greatest weight", () => {
		const heavy = finder(["clearCoat"], ({ situation: { clearCoat } }) => [
			at(
				{ clearCoat: clearCoat ?? "" },
				{ weight: clearCoat === "refinish" ? 2 : 1, basis: house("x", clearCoat ?? "", null) },
			),
		]);
		expect(judge(caseOf({ scope: wide }), [heavy])).toMatchObject([
			{ data: { clearCoat: "refinish" }, basis: { value: "refinish" }, situations: [{}] },
		]);
	});

	it("have the highest level of all, and quote the situation that has it, whatever its weight", () => {
		const mixed = finder(["clearCoat"], ({ situation: { clearCoat } }) => [
			at({ clearCoat: clearCoat ?? "" }, clearCoat === "factory" ? { level: "stop" } : { level: "advice", weight: 9 }),
		]);
		expect(judge(caseOf({ scope: wide }), [mixed])).toMatchObject([{ level: "stop", data: { clearCoat: "factory" } }]);
	});

	it("stay apart by row, by field and by pointer", () => {
		const apart = finder([], ({ rows: [row, other] }) => [
			at({}),
			at({}, { field: "wear" }),
			at({}, { field: "wear", pointer: "/wear/1" }),
			at({}, { row }),
			at({}, { row, field: "abrasive" }),
			at({}, { row: other }),
		]);
		const found = judge(caseOf({ steps: [sand("P1500"), sand("P2000")], wear: [] }), [apart]);
		expect(found.map(({ pointer }) => pointer)).toEqual([
			"",
			"/wear",
			"/wear/1",
			"/steps/0",
			"/steps/0/abrasive",
			"/steps/1",
		]);
	});
});

describe("a pointer", () => {
	it.each<[string, Fragment, keyof Step, string]>([
		["to the value", sand("P1500"), "speed", "/steps/0/speed"],
		["to the row where the value is missing", sand("P1500"), "pad", "/steps/0"],
		["to the text as typed", { stage: "sand", asTyped: { speed: "slow" } }, "speed", "/steps/0/asTyped/speed"],
	])("leads %s", (_, step, field, expected) => {
		const one = finder([], ({ rows: [row] }) => [at({}, { row, field })]);
		expect(judge(caseOf({ steps: [step] }), [one])).toMatchObject([{ pointer: expected, row: 0, rowId: "aaaaaaaaaa" }]);
	});
});

describe("the order of findings", () => {
	it("is: whole procedure, then rows, in them columns, levels and rule ids", () => {
		const places = (id: string, level: Level) =>
			finder(
				[],
				({ rows: [first, second] }) => [
					at({}, { row: second, field: "stage" }),
					at({}, { row: first, field: "work" }),
					at({}, { row: first, field: "tool" }),
					at({}, { row: first }),
					at({}),
				],
				{ id, level },
			);
		const found = judge(caseOf({ steps: [sand("P1500"), sand("P2000")] }), [
			places("b-caution", "caution"),
			places("a-advice", "advice"),
			places("c-stop", "stop"),
			places("a-caution", "caution"),
		]);
		const rules = ["c-stop", "a-caution", "b-caution", "a-advice"];
		const at5: [number | null, string | null][] = [
			[null, null],
			[0, null],
			[0, "tool"],
			[0, "work"],
			[1, "stage"],
		];
		expect(found.map(({ row, field, rule: id }) => [row, field, id])).toEqual(
			at5.flatMap(([row, field]) => rules.map((id) => [row, field, id])),
		);
	});

	/** Rules that read findings keep their order: they read what those before them found. */
	const otherOrder = [
		...everyRule.filter(({ readsFindings }) => !readsFindings).toReversed(),
		...everyRule.filter(({ readsFindings }) => readsFindings),
	];

	it("and every byte are the same on a second run, for procedures of every sort", () => {
		const random = seeded(4);
		let count = 0;
		for (let index = 0; index < 60; index += 1) {
			const procedure = madeProcedure(random, `made-${index}`);
			const one = { procedure, problems: [], shop: genericShop, today };
			const first = judge(one);
			count += first.length;
			const again = judge({ ...one, procedure: structuredClone(procedure) });
			expect(JSON.stringify(again)).toBe(JSON.stringify(first));
			expect(JSON.stringify(judge(one, otherOrder))).toBe(JSON.stringify(first));
		}
		expect(count).toBeGreaterThan(100);
	});

	it("does not hang on how small a figure is: it is rounded to 1e-6 of its unit", () => {
		const fine = finder([], () => [at({ sum: 0.1 + 0.2, none: null, words: ["a", "b"] })]);
		expect(judge(caseOf({}), [fine])[0]?.data).toEqual({ sum: 0.3, none: null, words: ["a", "b"] });
	});
});

describe("what a shop sets for a rule", () => {
	const because = { reason: "Our own trials", by: "Ana Ruiz", on: "2026-01-01" };
	const limited = rule<{ limit: number }, "limit">({
		...plain,
		id: "limited",
		parameters: { limit: 3 },
		axes: [],
		check: ({ parameters, rows }) => [
			at({ limit: parameters.limit }),
			at({ limit: parameters.limit }, { row: rows[0], level: "advice" }),
		],
	});

	it.each<[string, Limits["rules"], [Level, number][]]>([
		[
			"nothing",
			{},
			[
				["caution", 3],
				["advice", 3],
			],
		],
		[
			"its level, but not of findings that the rule itself puts elsewhere",
			{ limited: { level: "stop", ...because } },
			[
				["stop", 3],
				["advice", 3],
			],
		],
		[
			"a parameter",
			{ limited: { parameters: { limit: 5 }, ...because } },
			[
				["caution", 5],
				["advice", 5],
			],
		],
		["it off", { limited: { off: true, ...because } }, []],
		[
			"something of another rule",
			{ other: { off: true, ...because } },
			[
				["caution", 3],
				["advice", 3],
			],
		],
	])("counts: %s", (_, set, expected) => {
		const found = judge(caseOf({ steps: [wash] }, { limits: set }), [limited]);
		expect(found.map(({ level, data }) => [level, data.limit])).toEqual(expected);
	});
});

describe("an exception", () => {
	const exception: Exception = {
		rule: "found",
		step: "aaaaaaaaaa",
		field: "abrasive",
		restedOn: { grade: "P1500", depthUm: 1.5, words: "a, b" },
		reason: "The trial panel is clean",
		by: "Ana Ruiz",
		on: "2026-01-12",
		until: today,
	};
	const data = { grade: "P1500", depthUm: 1.5, words: ["a", "b"] };
	const found = (level: Level, tones = /./) =>
		finder(
			["tone"],
			({ rows: [row], situation }) => (tones.test(situation.tone ?? "") ? [at(data, { row, field: "abrasive" })] : []),
			{ id: "found", level },
		);
	const people = [{ name: "Ana Ruiz", signs: true }, { name: "Tom Dale" }];

	it.each<[string, Partial<Exception>]>([
		["on its last day", {}],
		["without a last day", { until: undefined }],
		["without values, of the whole row", { restedOn: undefined, field: undefined }],
		["of a higher level", { level: "stop" }],
		["in more situations than it holds in", { situations: [{ tone: ["dark", "light"] }] }],
	])("accepts a finding as it stood: %s", (_, more) => {
		expect(accepted("caution", more)).toEqual({
			by: "Ana Ruiz",
			on: "2026-01-12",
			until: "until" in more ? null : today,
			reason: "The trial panel is clean",
		});
	});

	it.each<[string, Partial<Exception>]>([
		["of another rule", { rule: "other" }],
		["of another row", { step: "aaaaaaaaab" }],
		["of the whole procedure", { step: undefined }],
		["of another field", { field: "tool" }],
		["after its last day", { until: "2026-03-01" }],
		["of another value", { restedOn: { grade: "P1200" } }],
		["of a value that the finding no longer has", { restedOn: { limit: 2 } }],
		["of another list", { restedOn: { words: "a" } }],
		["of a lower level", { level: "advice" }],
		["in some of its situations", { situations: [{ tone: ["dark"] }] }],
		["in situations that the scope does not name", { situations: [{ substrate: ["steel"] }] }],
	])("does not accept a finding: %s", (_, more) => {
		expect(accepted("caution", more)).toBeNull();
	});

	it.each([
		["somebody who signs", "Ana Ruiz", true],
		["somebody who does not", "Tom Dale", false],
		["somebody the book does not know", "Nobody", false],
	])("accepts a stop by %s: %s, %s", (_, by, isAccepted) => {
		expect(accepted("stop", { level: "stop", by }) !== null).toBe(isAccepted);
	});

	it("that names no level accepts no stop", () => {
		expect(accepted("stop", {})).toBeNull();
	});

	it("accepts only the situations it names, while no other comes in", () => {
		const more = { situations: [{ tone: ["dark" as const] }] };
		expect(accepted("caution", more, /^dark/)).not.toBeNull();
		expect(accepted("caution", more, /effect$/)).toBeNull();
	});

	it("accepts nothing that a rule says of exceptions, or one could vouch for itself", () => {
		const late = { ...found("caution"), readsFindings: true };
		expect(judge(excepted({}), [late])[0]?.accepted).toBeNull();
	});

	function excepted(more: Partial<Exception>): Case {
		const exceptions = [
			Object.fromEntries(Object.entries({ ...exception, ...more }).filter(([, one]) => one !== undefined)),
		];
		return caseOf(
			{ steps: [sand("P1500")], exceptions: exceptions as unknown as Exception[], scope: { tones: ["dark", "light"] } },
			{ people },
		);
	}

	function accepted(level: Level, more: Partial<Exception>, tones = /./): Finding["accepted"] {
		const [one] = judge(excepted(more), [found(level, tones)]);
		if (one === undefined) throw new Error("nothing found");
		return one.accepted;
	}
});

describe("a rule that reads findings", () => {
	const early = finder([], () => [at({}, { field: "wear" })], { id: "early" });
	const reader = (id: string) => ({
		...finder([], ({ findings }) => [at({ read: findings.map(({ rule: one }) => one) })], { id }),
		readsFindings: true,
	});

	it("runs after those that do not, and reads what they found", () => {
		const found = judge(caseOf({}), [reader("late"), reader("later"), early]);
		expect(found.map(({ rule: id, data }) => [id, data.read])).toEqual(
			[
				["early", undefined],
				["late", ["early"]],
				["later", ["early"]],
			].toSorted(([a], [b]) => (String(a) < String(b) ? -1 : 1)),
		);
	});

	it("is given nothing otherwise", () => {
		const blind = finder([], ({ findings }) => [at({ read: findings.length })], { id: "blind" });
		expect(judge(caseOf({}), [early, blind]).find(({ rule: id }) => id === "blind")?.data).toEqual({ read: 0 });
	});
});

describe("remedies", () => {
	const withRemedy = rule<{ clearCoat: string }>({
		...plain,
		id: "mended",
		axes: ["clearCoat"],
		check: ({ situation: { clearCoat = "" }, rows: [row] }) => [
			at({ clearCoat }, { row, field: "note", weight: clearCoat === "refinish" ? 2 : 1 }),
		],
		remedies: ({ row, data }, { situation }) => [
			{
				kind: "offered",
				say: { en: "Write it down", es: "Anotarlo" },
				edit: [
					{ op: "set", row: row?.step.id ?? "", field: "note", to: `${data.clearCoat} in ${situation.clearCoat}` },
				],
			},
		],
	});

	it("are made in the situation whose values the finding quotes", () => {
		const one = caseOf({ steps: [sand("P1500")], scope: wide });
		const [finding] = judge(one, [withRemedy]);
		if (finding === undefined) throw new Error("nothing found");
		expect(remediesFor(finding, one, [withRemedy]).map(({ edit }) => edit)).toEqual([
			[{ op: "set", row: "aaaaaaaaaa", field: "note", to: "refinish in refinish" }],
		]);
	});

	it("are none for a finding that is not there any more, and for a rule without any", () => {
		const one = caseOf({ steps: [sand("P1500")], scope: wide });
		const [finding] = judge(one, [withRemedy]);
		if (finding === undefined) throw new Error("nothing found");
		expect(remediesFor({ ...finding, row: 3 }, one, [withRemedy])).toEqual([]);
		expect(remediesFor(finding, one, [finder([], () => [], { id: "mended" })])).toEqual([]);
		expect(remediesFor(finding, one, [])).toEqual([]);
	});
});

/** Everything of a rule but what a test is about. */
const plain = {
	id: "plain",
	group: "record" as const,
	level: "caution" as const,
	source: common,
	why: { en: "A rule of the tests", es: "Una regla de las pruebas" },
	say: { en: () => ({ found: "", expected: "" }), es: () => ({ found: "", expected: "" }) },
	examples: { good: [], bad: [] },
};

function at<D extends Found["data"]>(data: D, more: Omit<Partial<Found>, "data"> = {}): Found<D> {
	return { data, ...more };
}

function finder(axes: Axis[], check: (input: RuleInput) => Found[], more: Partial<Rule> = {}): Rule {
	return { ...plain, axes, check, ...more };
}

/** What a rule with these axes is given, run by run. */
function seenBy(axes: Axis[], more: Parts): Pick<RuleInput, "situation" | "rows" | "allRows">[] {
	const seen: Pick<RuleInput, "situation" | "rows" | "allRows">[] = [];
	judge(caseOf(more), [
		finder(axes, ({ situation, rows, allRows }) => {
			seen.push({ situation, rows, allRows });
			return [];
		}),
	]);
	return seen;
}

type Parts = Omit<Partial<Procedure>, "steps"> & { steps?: readonly Fragment[] };

function caseOf(
	{ steps = [sand("P1500")], ...parts }: Parts,
	{ limits, people }: { limits?: Limits["rules"]; people?: { name: string; signs?: boolean }[] } = {},
): Case {
	const letters = "abcdefgh";
	return {
		procedure: {
			format: 1,
			id: "judged",
			title: { en: "Judged" },
			...parts,
			steps: steps.map((step, index) => ({ id: `aaaaaaaaa${letters[index]}`, ...step }) as Step),
		},
		problems: [],
		shop: {
			...genericShop,
			book: { ...genericShop.book, ...(people ? { people } : {}) },
			limits: houseLimits({ format: 1, ...(limits ? { rules: limits } : {}) }),
		},
		today,
	};
}
