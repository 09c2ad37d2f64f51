import { expect, it } from "vitest";
import { applyEdit } from "../../src/model/edits.ts";
import type { Procedure, Wear } from "../../src/model/generated/types.ts";
import { genericShop } from "../../src/model/shop.ts";
import { exampleProcedure } from "../../src/rules/example.ts";
import { type Fragment, liquid, sand } from "../../src/rules/example-rows.ts";
import { judge, remediesFor } from "../../src/rules/judge.ts";
import gloves from "../../src/rules/people/gloves-missing.ts";
import respirator from "../../src/rules/people/respirator-missing.ts";

const steps = [sand("P1500"), sand("P2000"), liquid("fine", "foam-medium")];
const paper: Wear = { item: "respirator", filter: "P100", stages: ["sand"] };
const vapour: Wear = { item: "respirator", filter: "A2", stages: ["polish"] };

it.each<[string, readonly Fragment[], Wear[], object | null]>([
	["named for all", steps, [{ item: "gloves" }], null],
	[
		"named for the stages that need it, in two entries",
		steps,
		[
			{ item: "gloves", stages: ["sand"] },
			{ item: "gloves", stages: ["polish"] },
		],
		null,
	],
	[
		"named for sanding only",
		steps,
		[{ item: "gloves", stages: ["sand"] }],
		{ named: true, rows: ["3"], stages: ["polish"] },
	],
	["not named", steps, [{ item: "apron" }], { named: false, rows: ["1", "2", "3"], stages: ["sand", "polish"] }],
	[
		"named for a stage, and a row has none",
		[{ ...sand("P1500"), stage: undefined }],
		[{ item: "gloves", stages: ["sand"] }],
		{ named: true, rows: ["1"], stages: [] },
	],
	["not asked for by rows that are not whole", [{ stage: "sand" }], [], null],
])("finds gear %s", (_, rows, wear, expected) => {
	const found = judge(caseOf(rows, { wear }), [gloves]);
	expect(found.map(({ data }) => data)).toEqual(expected === null ? [] : [{ gear: "gloves", ...expected }]);
});

it("names the situations in which rows need it", () => {
	const when = [{ tone: ["dark" as const] }];
	const procedure = { wear: [], scope: { tones: ["dark" as const, "light" as const] } };
	expect(judge(caseOf([liquid("finest", "foam-soft", { when })], procedure), [gloves])).toMatchObject([
		{ row: null, field: "wear", situations: [{ tone: ["dark"] }] },
	]);
});

it.each<[string, Wear[] | undefined, Wear[]]>([
	["adds it where nothing is worn", undefined, [{ item: "respirator" }]],
	["adds it to what is worn", [{ item: "gloves" }], [{ item: "gloves" }, { item: "respirator" }]],
	[
		"has it worn in all stages",
		[paper, { item: "gloves" }],
		[{ item: "gloves" }, { item: "respirator", filter: "P100" }],
	],
])("%s when the remedy is taken, and the finding is gone", (_, wear, expected) => {
	const one = caseOf(steps, { wear });
	const [finding] = judge(one, [respirator]);
	if (finding === undefined) throw new Error("nothing found");
	const [remedy] = remediesFor(finding, one, [respirator]);
	const result = applyEdit(one.procedure, remedy?.edit ?? []);
	if ("problem" in result) throw new Error(JSON.stringify(result.problem));
	expect(result.procedure.wear).toEqual(expected);
	expect(judge({ ...one, procedure: result.procedure }, [respirator])).toEqual([]);
});

it("leaves it to a person which of two filters serves all stages", () => {
	const one = caseOf([...steps, { stage: "wipe", wipe: "solvent-wipe" }], { wear: [paper, vapour] });
	const [finding] = judge(one, [respirator]);
	expect(finding?.data.rows).toEqual(["4"]);
	expect(finding && remediesFor(finding, one, [respirator])).toEqual([]);
});

function caseOf(rows: readonly Fragment[], { wear, ...more }: Partial<Procedure>) {
	const { wear: _usual, ...procedure } = exampleProcedure({ title: "Worn", steps: rows, procedure: more });
	return {
		procedure: { ...procedure, ...(wear === undefined ? {} : { wear }) },
		problems: [],
		shop: genericShop,
		today: "2026-03-02",
	};
}
