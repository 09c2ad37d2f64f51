import { describe, expect, it } from "vitest";
import { applyEdit } from "../../../src/model/edits.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import { genericShop } from "../../../src/model/shop.ts";
import { type Case, judge } from "../../../src/rules/judge.ts";
import { acceptEdit, acceptorsOf, canBeAccepted, takeBackEdit } from "../../../src/workbench/sheet/acceptance.ts";
import { rules } from "../../../src/rules/generated/rules.ts";
import { exampleProcedure, exampleShop } from "../../../src/rules/example.ts";

const today = "2026-06-10";
const shop = {
	...genericShop,
	book: { ...genericShop.book, people: [{ name: "Ana Ruiz", signs: true }, { name: "Ben Okafor" }] },
};
const said = { reason: " Trial panel came out clean ", by: "Ana Ruiz", on: today, until: null };

/** Every bad example of the book of rules, as a case with its finding. */
const cases = rules.flatMap((rule) =>
	rule.examples.bad.map((example) => {
		const procedure = exampleProcedure(example);
		const one: Case = {
			procedure,
			problems: [],
			shop: { ...exampleShop(example), book: { ...exampleShop(example).book, people: shop.book.people } },
			today: example.today ?? today,
		};
		return { rule: rule.id, title: example.title, one };
	}),
);

function after(procedure: Procedure, edit: Parameters<typeof applyEdit>[1]): Procedure {
	const applied = applyEdit(procedure, edit);
	if ("problem" in applied) throw new Error(applied.problem.message);
	return applied.procedure;
}

describe("accepting a finding", () => {
	it("covers every finding that can be accepted, and nothing else, until it is taken back", () => {
		let accepted = 0;
		for (const { rule, title, one } of cases) {
			for (const finding of judge(one).filter((found) => found.rule === rule && canBeAccepted(found))) {
				const procedure = after(one.procedure, acceptEdit(finding, said, one.procedure));
				const findings = judge({ ...one, procedure });
				const same = findings.find(
					(now) => now.rule === finding.rule && now.pointer === finding.pointer && now.field === finding.field,
				);
				expect(same?.accepted, `${rule}: ${title}`).toMatchObject({
					by: "Ana Ruiz",
					reason: "Trial panel came out clean",
				});
				const last = (procedure.exceptions ?? []).length - 1;
				expect(
					findings.filter(({ rule: about, data }) => about === "exception-stale" && data.index === last),
					`${rule}: ${title}`,
				).toEqual([]);
				if (same === undefined) continue;
				const edit = takeBackEdit(same, procedure, { ...one, procedure });
				const open = judge({ ...one, procedure: after(procedure, edit ?? []) }).find(
					(now) => now.rule === finding.rule && now.pointer === finding.pointer && now.field === finding.field,
				);
				expect(open?.accepted, `${rule}: ${title}`).toBeNull();
				accepted += 1;
			}
		}
		expect(accepted).toBeGreaterThan(60);
	});

	it("takes the place of an exception that no longer covers the finding", () => {
		const one = cases.find(({ rule }) => rule === "exception-stale")?.one as Case;
		const finding = judge(one).find(({ rule, accepted }) => rule === "grade-jump" && accepted === null);
		if (finding === undefined) throw new Error("the example has no open grade-jump");
		const procedure = after(one.procedure, acceptEdit(finding, said, one.procedure));
		expect(procedure.exceptions).toHaveLength(1);
	});

	it("is not for what is said of exceptions themselves", () => {
		const one = cases.find(({ rule }) => rule === "exception-stale")?.one as Case;
		const about = judge(one).find(({ rule }) => rule === "exception-stale");
		expect(about && canBeAccepted(about)).toBe(false);
	});

	it("is for those who sign where the level is stop, else for everybody of the book", () => {
		const [finding] = judge(cases[0]?.one as Case);
		if (finding === undefined) throw new Error("the first bad example has no finding");
		expect(acceptorsOf({ ...finding, level: "stop" }, shop)).toEqual(["Ana Ruiz"]);
		expect(acceptorsOf({ ...finding, level: "advice" }, shop)).toEqual(["Ana Ruiz", "Ben Okafor"]);
	});
});
