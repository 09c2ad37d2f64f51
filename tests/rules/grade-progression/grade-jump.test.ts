import { describe, expect, it } from "vitest";
import { applyEdit } from "../../../src/model/edits.ts";
import type { Step, Stock } from "../../../src/model/generated/types.ts";
import { exampleProcedure, exampleShop } from "../../../src/rules/example.ts";
import { type Fragment, sand } from "../../../src/rules/example-rows.ts";
import rule from "../../../src/rules/grade-progression/grade-jump.ts";
import { judge, remediesFor } from "../../../src/rules/judge.ts";

describe("the row that closes a jump of grades", () => {
	const between: NonNullable<Stock["abrasives"]> = [
		{ id: "film-1000", name: "Film 1000", grade: "P1000", carrier: "film" },
		{ id: "paper-1200", name: "Paper 1200", grade: "P1200", carrier: "paper" },
		{ id: "old-film-1200", name: "Old film 1200", grade: "P1200", carrier: "film", withdrawn: true },
	];

	it.each<[string, Fragment[], Omit<Stock, "format">, string]>([
		["the grade halfway by ratio", [sand("P600"), sand("P2000")], {}, "P1200"],
		[
			"an item on the same carrier that is still stocked",
			[sand("P600"), sand("P2000")],
			{ abrasives: between },
			"film-1000",
		],
		["a grade of the scale of the finer row", [sand("P600"), sand("JIS 2000")], {}, "JIS 800"],
	])("takes %s, and the jump is gone", (_, steps, stock, abrasive) => {
		const one = caseOf(steps, stock);
		const [finding] = judge(one, [rule]);
		if (finding === undefined) throw new Error("no jump found");
		const [remedy] = remediesFor(finding, one, [rule]);
		if (remedy === undefined) throw new Error("no row offered");
		const result = applyEdit(one.procedure, remedy.edit);
		if ("problem" in result) throw new Error(JSON.stringify(result.problem));
		expect(result.procedure.steps?.map((step) => step.abrasive)).toEqual([
			steps[0]?.abrasive,
			abrasive,
			steps[1]?.abrasive,
		]);
		expect(judge({ ...one, procedure: result.procedure }, [rule])).toEqual([]);
	});

	it("is done like the row after it, without the words that were said of that row alone", () => {
		const own: Fragment = {
			check: { en: "no P600 scratch left" },
			note: "ask Ana",
			mustNotVary: ["abrasive"],
			edges: "kept-off",
		};
		const one = caseOf([sand("P600"), sand("P2000", own)], {});
		const [finding] = judge(one, [rule]);
		if (finding === undefined) throw new Error("no jump found");
		const [operation] = remediesFor(finding, one, [rule])[0]?.edit ?? [];
		const step = (operation as { step: Step }).step;
		expect(step).toEqual({ ...sand("P1200", { edges: "kept-off" }), id: step.id });
	});
});

function caseOf(steps: Fragment[], stock: Omit<Stock, "format">) {
	const example = { title: "jump", steps, stock };
	return { procedure: exampleProcedure(example), problems: [], shop: exampleShop(example), today: "2026-03-02" };
}
