import { describe, expect, it } from "vitest";
import { applyEdit, invertEdit } from "../../../src/model/edits.ts";
import { exampleProcedure, exampleShop } from "../../../src/rules/example.ts";
import { rules } from "../../../src/rules/generated/rules.ts";
import { type Case, judge, remediesFor } from "../../../src/rules/judge.ts";
import { type Mended, sureMends } from "../../../src/workbench/sheet/sure-mends.ts";

const today = "2026-06-10";

function mended(one: Case): Mended {
	const mends = sureMends(one.procedure, one);
	for (;;) {
		const { value, done } = mends.next();
		if (done) return value;
	}
}

const cases = rules.flatMap((rule) =>
	rule.examples.bad.map((example) => ({
		name: `${rule.id}: ${example.title}`,
		one: {
			procedure: exampleProcedure(example),
			problems: [],
			shop: exampleShop(example),
			today: example.today ?? today,
		} satisfies Case,
	})),
);

const hasSure = (one: Case) =>
	judge(one).some((finding) => remediesFor(finding, one).some(({ kind }) => kind === "sure"));

describe("mending what is sure", () => {
	it("mends every example that has a sure remedy, adds no finding, and one inverse takes all of it back", () => {
		const mendable = cases.filter(({ one }) => hasSure(one));
		expect(mendable.length).toBeGreaterThan(15);
		for (const { name, one } of mendable) {
			const { edit, count } = mended(one);
			expect(count, name).toBeGreaterThan(0);
			const applied = applyEdit(one.procedure, edit);
			if ("problem" in applied) throw new Error(`${name}: ${applied.problem.message}`);
			expect(judge({ ...one, procedure: applied.procedure }).length, name).toBeLessThan(judge(one).length);
			expect(applyEdit(applied.procedure, invertEdit(edit)), name).toEqual({ procedure: one.procedure });
		}
	});

	it("changes nothing where nothing is sure", () => {
		for (const { name, one } of cases.filter(({ one }) => !hasSure(one)))
			expect(mended(one), name).toEqual({ edit: [], count: 0 });
	});

	it("mends each row once", () => {
		const { one } = cases.find(({ one }) => hasSure(one)) ?? {};
		if (one === undefined) throw new Error("no example has a sure remedy");
		const { edit } = mended(one);
		const rows = edit.flatMap((operation) => ("row" in operation ? [operation.row] : []));
		expect(new Set(rows).size).toBe(rows.length);
	});
});
