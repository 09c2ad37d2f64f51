import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { applyEdit } from "../../src/model/edits.ts";
import type { Finding } from "../../src/model/finding.ts";
import { limitTable } from "../../src/model/limits.ts";
import type { Language } from "../../src/model/words.ts";
import { exampleProcedure, exampleShop } from "../../src/rules/example.ts";
import { rules } from "../../src/rules/generated/rules.ts";
import { type Case, judge, remediesFor } from "../../src/rules/judge.ts";
import type { Example, Rule } from "../../src/rules/rule.ts";
import { sayer } from "../../src/rules/sayer.ts";

const home = new URL("../../src/rules/", import.meta.url);
const folders = readdirSync(home, { withFileTypes: true })
	.filter((entry) => entry.isDirectory() && !["generated", "data"].includes(entry.name))
	.map(({ name }) => name);
const languages: Language[] = ["en", "es"];

describe("the list of rules", () => {
	it("has every file of every folder, each called like its rule and lying in the folder of its group", () => {
		const files = folders.flatMap((folder) =>
			readdirSync(new URL(`${folder}/`, home)).map((file) => `${folder}/${file}`),
		);
		const expected = rules.map(({ id, group }) => `${group.replace(/,? /g, "-")}/${id}.ts`);
		expect(files.toSorted()).toEqual(expected.toSorted());
	});
});

describe.each(rules.map((rule) => [rule.id, rule] as const))("%s", (id, rule) => {
	it("says why, in both languages, and whose rule it is", () => {
		for (const language of languages) expect(rule.why[language]?.length ?? 0).toBeGreaterThan(20);
		expect(rule.why.en).not.toBe(rule.why.es);
		expect(rule.source.name).not.toBe("");
		if (rule.source.kind === "house" && rule.source.value !== null)
			expect(limitTable.find(({ key }) => key === rule.source.name)?.value).toBe(rule.source.value);
		expect(rule.examples.good.length).toBeGreaterThan(0);
		expect(rule.examples.bad.length).toBeGreaterThan(0);
	});

	it.each(rule.examples.good.map((example) => [example.title, example] as const))("is silent on: %s", (_, example) => {
		expect(judge(caseOf(example)).filter((finding) => finding.rule === id)).toEqual([]);
	});

	it.each(rule.examples.bad.map((example) => [example.title, example] as const))("speaks once on: %s", (_, example) => {
		const own = judge(caseOf(example)).filter((finding) => finding.rule === id);
		expect(own.map(({ row, field }) => ({ row: row === null ? null : row + 1, field }))).toEqual([example.at]);
		expect(own[0]?.level).toBe(example.level ?? rule.level);
	});

	it.each(rule.examples.bad.map((example) => [example.title, example] as const))(
		"words in both languages: %s",
		(_, example) => {
			const finding = judge(caseOf(example)).find((one) => one.rule === id);
			if (finding === undefined) throw new Error("the bad example finds nothing");
			const said = languages.map((language) => sayer(language, "um")(finding));
			for (const { message, expected } of said) {
				expect(message).not.toMatch(/undefined|NaN|null|\[object|\.\.|[a-z]Um\b/);
				expect(message.length).toBeLessThan(420);
				expect(expected).not.toBe("");
			}
			expect(said[0]?.message).not.toBe(said[1]?.message);
			for (const value of Object.values(finding.data))
				expect(value === null || ["string", "number", "boolean"].includes(typeof value) || Array.isArray(value)).toBe(
					true,
				);
		},
	);

	it("reads no axis that it does not declare", () => {
		for (const example of [...rule.examples.good, ...rule.examples.bad]) guarded(rule, caseOf(example));
	});

	it("changes nothing it is given", () => {
		for (const example of [...rule.examples.good, ...rule.examples.bad]) {
			const one = caseOf(example);
			const before = JSON.stringify(one);
			judge(one, [rule]);
			expect(JSON.stringify(one)).toBe(before);
		}
	});

	it.each(rule.examples.bad.map((example) => [example.title, example] as const))(
		"mends what it says is sure: %s",
		(_, example) => {
			const one = caseOf(example);
			const before = judge(one);
			const finding = before.find((found) => found.rule === id);
			if (finding === undefined) throw new Error("the bad example finds nothing");
			for (const remedy of remediesFor(finding, one)) {
				const result = applyEdit(one.procedure, remedy.edit);
				if ("problem" in result) throw new Error(`the remedy does not apply: ${JSON.stringify(result.problem)}`);
				for (const language of languages) expect(remedy.say[language].length).toBeGreaterThan(5);
				if (remedy.kind !== "sure") continue;
				const after = judge({ ...one, procedure: result.procedure });
				expect(after.filter((found) => found.rule === id)).toEqual([]);
				const seen = new Set(before.map(placeOf));
				expect(after.map(placeOf).filter((place) => !seen.has(place))).toEqual([]);
			}
		},
	);
});

it("gives each rule with remedies a bad example on which one is offered", () => {
	const withRemedies = rules.filter(({ remedies }) => remedies !== undefined);
	for (const rule of withRemedies) {
		const offered = rule.examples.bad.some((example) => {
			const one = caseOf(example);
			return judge(one).some((finding) => finding.rule === rule.id && remediesFor(finding, one).length > 0);
		});
		expect(offered, rule.id).toBe(true);
	}
});

function caseOf(example: Example): Case {
	return {
		procedure: exampleProcedure(example),
		problems: [],
		shop: exampleShop(example),
		today: example.today ?? "2026-03-02",
	};
}

/** A finding by what it says where, whatever moved. */
function placeOf({ rule, level, rowId, field }: Finding): string {
	return `${rule} ${level} ${rowId} ${field}`;
}

/** Runs a rule with situations that throw when an undeclared axis is read. */
function guarded(rule: Rule, one: Case): void {
	const watching: Rule = {
		...rule,
		// The input stays the prototype: copying it would call the getter of the forecast, which some rules may not read.
		check: (input) => [
			...rule.check(
				Object.create(input, {
					situation: {
						value: new Proxy(input.situation, {
							get(target, axis) {
								if (typeof axis === "string" && ["defect", "substrate", "clearCoat", "tone"].includes(axis))
									if (!rule.axes.includes(axis as never))
										throw new RangeError(`${rule.id} reads ${axis} without declaring it`);
								return Reflect.get(target, axis);
							},
						}),
					},
				}),
			),
		],
	};
	judge(one, [watching]);
}

it("finds the source file of every rule within reading length", () => {
	for (const rule of rules) {
		const file = new URL(`${rule.group.replace(/,? /g, "-")}/${rule.id}.ts`, home);
		expect(readFileSync(file, "utf8").split("\n").length, rule.id).toBeLessThan(260);
	}
});
