import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Box, Scope } from "../../src/model/generated/types.ts";
import {
	type Axis,
	axes,
	boxesOf,
	boxHolds,
	boxSurelyHolds,
	claimedValues,
	projections,
	type Situation,
	situationsOf,
} from "../../src/model/situations.ts";

const seed = 20260302;

const values = {
	defect: ["dirt-nib", "run", "swirl", "own-defect"],
	substrate: ["steel", "aluminium", "plastic"],
	clearCoat: ["factory", "refinish", "tinted"],
	tone: ["dark", "mid-effect", "light", "light-effect"],
} as const;

const some = <T>(from: readonly T[]) => fc.shuffledSubarray([...from]);

const box = fc.record(
	{
		defect: fc.shuffledSubarray([...values.defect], { minLength: 1 }),
		substrate: fc.shuffledSubarray([...values.substrate], { minLength: 1 }),
		clearCoat: fc.shuffledSubarray([...values.clearCoat], { minLength: 1 }),
		tone: fc.shuffledSubarray([...values.tone, "dark-effect"], { minLength: 1 }),
	},
	{ requiredKeys: [] },
) as fc.Arbitrary<Box>;

const scope = fc.record({
	defects: some(values.defect).map((list) => list.map((defect) => ({ defect }))),
	substrates: some(values.substrate),
	clearCoats: some(values.clearCoat),
	tones: some(values.tone),
	except: fc.array(box, { maxLength: 2 }),
}) as fc.Arbitrary<Scope>;

const onto = fc.subarray([...axes]);

const text = (situation: Situation) => axes.map((axis) => situation[axis] ?? "").join("|");

describe("the situations of a scope", () => {
	it("are all combinations, in the order of the axes and of the scope", () => {
		const all = situationsOf({
			defects: [{ defect: "swirl" }, { defect: "run" }],
			substrates: ["steel"],
			tones: ["light-effect", "mid-effect"],
		});
		expect(all.map(text)).toEqual([
			"swirl|steel||light-effect",
			"swirl|steel||mid-effect",
			"run|steel||light-effect",
			"run|steel||mid-effect",
		]);
	});

	it.each([
		["dark", ["dark", "dark-effect"]],
		["mid", ["mid", "mid-effect"]],
		["light", ["light", "light-effect"]],
		["dark-effect", ["dark-effect"]],
	] as const)("take %s for %s", (tone, expected) => {
		expect(claimedValues({ tones: [tone] }).tone).toEqual(expected);
	});

	it("are one, of which nothing is known, where the scope names nothing", () => {
		expect(situationsOf(undefined)).toEqual([{}]);
		expect(situationsOf({ defects: [], tones: [] })).toEqual([{}]);
	});

	it("leave out what is excepted, and its metallic form with it", () => {
		const tones: Scope["tones"] = ["dark", "light"];
		expect(situationsOf({ tones, except: [{ tone: ["dark"] }] }).map(({ tone }) => tone)).toEqual([
			"light",
			"light-effect",
		]);
		expect(situationsOf({ tones, except: [{ tone: ["dark-effect"] }] }).map(({ tone }) => tone)).toEqual([
			"dark",
			"light",
			"light-effect",
		]);
	});

	it("are none where all are excepted", () => {
		expect(situationsOf({ tones: ["dark"], except: [{}] })).toEqual([]);
	});

	it("stay where an exception turns on an axis that the scope does not name", () => {
		expect(situationsOf({ substrates: ["steel"], except: [{ tone: ["dark"] }] })).toEqual([{ substrate: "steel" }]);
	});

	it("are distinct, and none lies in an exception", () => {
		fc.assert(
			fc.property(scope, (one) => {
				const all = situationsOf(one);
				expect(new Set(all.map(text)).size).toBe(all.length);
				for (const situation of all)
					expect(one.except?.some((except) => boxSurelyHolds(except, situation)) ?? false).toBe(false);
			}),
			{ seed },
		);
	});
});

describe("a box", () => {
	it.each<[Box, Situation, boolean, boolean]>([
		[{}, {}, true, true],
		[{ tone: ["dark"] }, { tone: "dark" }, true, true],
		[{ tone: ["dark"] }, { tone: "dark-effect" }, true, true],
		[{ tone: ["dark-effect"] }, { tone: "dark" }, false, false],
		[{ tone: ["dark"], substrate: ["steel"] }, { tone: "dark", substrate: "plastic" }, false, false],
		[{ tone: ["dark"] }, { substrate: "steel" }, true, false],
	])("%j holds %j: perhaps %s, surely %s", (one, situation, perhaps, surely) => {
		expect(boxHolds(one, situation)).toBe(perhaps);
		expect(boxSurelyHolds(one, situation)).toBe(surely);
	});
});

describe("projections", () => {
	it("are distinct, on the asked axes only, and every situation has one", () => {
		fc.assert(
			fc.property(scope, onto, (one, some) => {
				const all = situationsOf(one);
				const seen = projections(all, some);
				expect(new Set(seen.map(text)).size).toBe(seen.length);
				for (const projection of seen) expect(some).toEqual(expect.arrayContaining(Object.keys(projection)));
				const keys = new Set(seen.map(text));
				const expected = new Set(
					all.map((situation) => text(Object.fromEntries(some.map((axis) => [axis, situation[axis]])) as Situation)),
				);
				expect(keys).toEqual(expected);
			}),
			{ seed },
		);
	});

	it("are one, of nothing, on no axis", () => {
		expect(projections(situationsOf({ tones: ["dark", "light"] }), [])).toEqual([{}]);
		expect(projections([], ["tone"])).toEqual([]);
	});
});

describe("the boxes of a set of projections", () => {
	/** A box cannot say a solid tone without its metallic form: the two go together, as no rule tells them apart. */
	const solid = ({ tone, ...others }: Situation) => text({ ...others, tone: tone?.replace("-effect", "") as never });

	it("hold these projections and no other of the scope", () => {
		fc.assert(
			fc.property(scope, onto, fc.func(fc.boolean()), (one, some, isIn) => {
				const seen = projections(situationsOf(one), some);
				const chosen = seen.filter((projection) => isIn(solid(projection)));
				const boxes = boxesOf(chosen, one);
				for (const projection of seen)
					expect(
						boxes.some((box) => boxHolds(box, projection)),
						`${text(projection)} in ${JSON.stringify(boxes)}`,
					).toBe(chosen.includes(projection));
			}),
			{ seed, numRuns: 500 },
		);
	});

	it("name no axis of which every claimed value is in", () => {
		const claimed: Scope = { substrates: ["steel", "plastic"], tones: ["dark", "light"] };
		expect(boxesOf(situationsOf(claimed), claimed)).toEqual([{}]);
		expect(boxesOf([], claimed)).toEqual([]);
	});

	it.each<[string, Axis[], (situation: Situation) => boolean, Box[]]>([
		[
			"dark for itself and its metallic form",
			["tone"],
			({ tone }) => tone?.startsWith("dark") ?? false,
			[{ tone: ["dark"] }],
		],
		["a metallic form alone", ["tone"], ({ tone }) => tone === "dark-effect", [{ tone: ["dark-effect"] }]],
		[
			"one box where two axes agree",
			["substrate", "tone"],
			({ substrate, tone }) => substrate !== "steel" && tone?.startsWith("light") === true,
			[{ substrate: ["aluminium", "plastic"], tone: ["light"] }],
		],
		[
			"two boxes where they do not",
			["substrate", "tone"],
			({ substrate, tone }) => substrate === "steel" || tone?.startsWith("light") === true,
			[{ substrate: ["steel"], tone: ["dark"] }, { tone: ["light"] }],
		],
	])("say %s", (_, some, isIn, expected) => {
		const claimed: Scope = { substrates: ["steel", "aluminium", "plastic"], tones: ["dark", "light"] };
		expect(boxesOf(projections(situationsOf(claimed), some).filter(isIn), claimed)).toEqual(expected);
	});
});
