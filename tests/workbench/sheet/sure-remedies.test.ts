import { describe, expect, it } from "vitest";
import { applyEdit, invertEdit } from "../../../src/model/edits.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import { exampleProcedure, exampleShop } from "../../../src/rules/example.ts";
import { sand } from "../../../src/rules/example-rows.ts";
import { rules } from "../../../src/rules/generated/rules.ts";
import { type Case, judge, remediesFor } from "../../../src/rules/judge.ts";
import type { Example } from "../../../src/rules/rule.ts";
import { type Remedied, sureRemedies } from "../../../src/workbench/sheet/sure-remedies.ts";

const today = "2026-06-10";

function remedied(one: Case): Remedied {
	const remedies = sureRemedies(one.procedure, one);
	for (;;) {
		const { value, done } = remedies.next();
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

describe("pressing every sure remedy", () => {
	it("remedies every example that has a sure remedy, adds no finding, and one inverse takes all of it back", () => {
		const curable = cases.filter(({ one }) => hasSure(one));
		expect(curable.length).toBeGreaterThan(15);
		for (const { name, one } of curable) {
			const { edit, count } = remedied(one);
			expect(count, name).toBeGreaterThan(0);
			const applied = applyEdit(one.procedure, edit);
			if ("problem" in applied) throw new Error(`${name}: ${applied.problem.message}`);
			expect(judge({ ...one, procedure: applied.procedure }).length, name).toBeLessThan(judge(one).length);
			expect(applyEdit(applied.procedure, invertEdit(edit)), name).toEqual({ procedure: one.procedure });
		}
	});

	it("changes nothing where nothing is sure", () => {
		for (const { name, one } of cases.filter(({ one }) => !hasSure(one)))
			expect(remedied(one), name).toEqual({ edit: [], count: 0 });
	});

	it("changes each row once, and leaves its second finding to the person", () => {
		const foam = { carrier: "foam", form: "disc", grade: "P3000" } as const;
		const example: Example = {
			title: "A withdrawn foam disc, dry, in two rows",
			steps: [sand("foam-old", { carrier: undefined }), sand("P1500"), sand("foam-old", { carrier: undefined })],
			stock: {
				abrasives: [
					{ id: "foam-old", name: "Foam, old", ...foam, withdrawn: true, replacedBy: "foam-new" },
					{ id: "foam-new", name: "Foam, new", ...foam },
				],
			},
		};
		const one: Case = { procedure: exampleProcedure(example), problems: [], shop: exampleShop(example), today };
		const sureRows = (at: Case) =>
			judge(at)
				.filter((finding) => remediesFor(finding, at).some(({ kind }) => kind === "sure"))
				.map(({ row }) => row);
		expect(sureRows(one).toSorted((a, b) => Number(a) - Number(b))).toEqual([0, 0, 2, 2]);

		const { edit, count } = remedied(one);
		expect(count).toBe(2);
		const applied = applyEdit(one.procedure, edit);
		if ("problem" in applied) throw new Error(applied.problem.message);
		expect(sureRows({ ...one, procedure: applied.procedure }).toSorted((a, b) => Number(a) - Number(b))).toEqual([
			0, 2,
		]);
	});

	it("replaces what stands in the file where the readable part has nothing, as one press does", () => {
		const found = cases.flatMap(({ one }) => {
			const { edit } = remedied(one);
			const set = edit.find((operation) => operation.op === "set" && operation.from === undefined);
			return set?.op === "set" ? [{ one, set }] : [];
		});
		expect(found.length).toBeGreaterThan(0);
		const fits = found.filter(({ one, set }) => {
			// A value of no known form: not readable, but in the file.
			const steps = one.procedure.steps?.map((step) =>
				step.id === set.row ? { ...step, [set.field]: { odd: true } } : step,
			);
			const procedure = { ...one.procedure, steps } as Procedure;
			const { edit } = remedied({ ...one, procedure });
			const replaced = edit.find(
				(operation) => operation.op === "set" && operation.row === set.row && operation.field === set.field,
			);
			return replaced?.op === "set" && JSON.stringify(replaced.from) === '{"odd":true}';
		});
		expect(fits.length).toBeGreaterThan(0);
	});
});
