import { describe, expect, it } from "vitest";
import { checkFile } from "../../../src/check/check.ts";
import { openFile } from "../../../src/model/document.ts";
import { applyEdit } from "../../../src/model/edits.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import { genericShop, shopOf } from "../../../src/model/shop.ts";
import { exampleProcedure } from "../../../src/rules/example.ts";
import { type Fragment, rotary, sand, wash } from "../../../src/rules/example-rows.ts";
import { judge, remediesFor } from "../../../src/rules/judge.ts";
import { sayer } from "../../../src/rules/sayer.ts";
import rule from "../../../src/rules/record/unread-cell.ts";

const today = "2026-03-02";

describe("what the schema does not allow", () => {
	it.each<[string, unknown, unknown, string]>([
		["a word of a row", step({ stage: "grind" }), at(1, "stage"), "Row 1, Stage: “grind” is not one of clean, mask"],
		[
			"a number of a row",
			step({ spotMm: "big" }),
			at(1, "spotMm"),
			"Row 1, Spot size (mm): A number is expected, not “big”.",
		],
		[
			"a part of a cell",
			step({ speed: { unit: "opm", low: "slow", high: 9000 } }),
			at(1, "speed"),
			"Row 1, Speed: Low: a number is expected, not “slow”.",
		],
		["what a cell lacks", step({ speed: { unit: "opm", low: 8000 } }), at(1, "speed"), "Row 1, Speed: High: missing."],
		[
			"a part of the procedure",
			{ revision: "third" },
			at(null, "revision"),
			"Procedure, Revision: A number is expected",
		],
		[
			"an element of a part",
			{ scope: { substrates: ["steel", "wood"] } },
			at(null, "scope"),
			"Procedure, Scope: Substrates, 2: “wood” is not one of steel",
		],
	])("is said once, at its place: %s", (_, more, place, sentence) => {
		const { findings } = check(more as object);
		expect(findings.map(({ level, row, field }) => ({ level, row, field }))).toEqual([
			{ level: "stop", ...(place as object) },
		]);
		expect(findings[0]?.message).toContain(sentence);
		expect(findings[0]?.message).toContain("kept in the file");
	});

	it("is said at its row where a row before it is none", () => {
		const text = fileWith({
			steps: ["not a row", { id: "aaaaaaaaaa", stage: "grind" }, { id: "aaaaaaaaab", ...wash }],
		});
		const { findings, opened } = check(text);
		expect(findings.map(({ row, field, pointer }) => [row, field, pointer])).toEqual([
			[null, "steps", "/steps"],
			[1, "stage", "/steps/0/stage"],
		]);
		expect(findings[0]?.message).toContain("Row 1: a record in braces is expected");
		expect(opened.pointerInFile("/steps/0/stage")).toBe("/steps/1/stage");
	});

	it("is a caution for a row id that stands twice, and advice for a byte order mark", () => {
		const text = `\ufeff${fileWith({
			steps: [
				{ id: "aaaaaaaaaa", ...wash },
				{ id: "aaaaaaaaaa", ...wash },
			],
		})}`;
		const { findings } = check(text);
		expect(findings.map(({ row, level }) => [row, level])).toEqual([
			[null, "advice"],
			[2, "caution"],
		]);
	});

	it.each<[string, string, string, string]>([
		[
			"a title that is missing",
			fileWith({ title: undefined }),
			"Missing. Every procedure has it. Write it; until then all else is judged, and nothing in the file was changed.",
			"Todo procedimiento lo tiene.",
		],
		[
			"a row id that stands twice",
			fileWith({ steps: [wash, wash].map((row) => ({ id: "aaaaaaaaaa", ...row })) }),
			"Every row has an id of its own. Both rows are kept and judged",
			"Cada fila tiene un id propio.",
		],
		[
			"a row without an id",
			fileWith({ steps: [wash] }),
			"The row is kept and judged; give it an id",
			"La fila se conserva y se juzga; dele un id",
		],
		[
			"a row that is none",
			fileWith({ steps: ["wash it"] }),
			"A row is a record with an id. It is kept in the file, and not judged.",
			"Una fila es un registro con un id.",
		],
		[
			"too many rows",
			fileWith({
				steps: Array.from({ length: 501 }, (_, at) => ({
					id: `aaaaaaa${[at / 100, at / 10, at].map((digit) => "abcdefghij"[Math.floor(digit) % 10]).join("")}`,
					...wash,
				})),
			}),
			"A procedure holds no more rows than that. Split it in two, so that every row is judged.",
			"Divídalo en dos",
		],
		[
			"a byte order mark",
			`\ufeff${fileWith({})}`,
			"The files of a book do without one. All that follows it was read.",
			"Todo lo que le sigue se ha leído.",
		],
		[
			"a number that is too small",
			fileWith({ steps: [{ id: "aaaaaaaaaa", ...sand("P1500"), spotMm: -4 }] }),
			"A number within its limits belongs there, or nothing. What stands there is kept in the file",
			"Ahí va un número dentro de sus límites, o nada.",
		],
		[
			"a day that is none",
			fileWith({ revisionDate: "2026-02-31" }),
			"A day of the calendar belongs there, or nothing. What stands there is kept in the file",
			"Ahí va un día del calendario, o nada.",
		],
	])("says of %s what fits it", (_, text, english, spanish) => {
		for (const [language, words] of [
			["en", english],
			["es", spanish],
		] as const) {
			const { findings } = check(text, language);
			expect(findings).toHaveLength(1);
			expect(findings[0]?.message).toContain(words);
		}
	});

	it("holds in every situation, on a row that applies in none", () => {
		const one = caseOf([
			wash,
			sand("P1500", { when: [{ tone: ["light"] }], speed: undefined, asTyped: { speed: "slow" } }),
		]);
		expect(judge(one, [rule])).toMatchObject([{ row: 1, field: "speed", situations: [{}] }]);
	});
});

describe("text as typed", () => {
	it("is quoted, one finding a cell, and one that no column has too", () => {
		const one = caseOf([sand("P1500", { speed: undefined, asTyped: { speed: "slow", pad: "none", colour: "blue" } })]);
		expect(judge(one, [rule]).map(({ field, pointer, data }) => [field, pointer, data.text])).toEqual([
			["pad", "/steps/0/asTyped/pad", "none"],
			["speed", "/steps/0/asTyped/speed", "slow"],
			["asTyped", "/steps/0/asTyped/colour", "blue"],
		]);
	});

	it("that can be read in several ways offers each, and the cell then holds it", () => {
		const one = caseOf([rotary("heavy-cut", "foam-firm", { pad: undefined, asTyped: { pad: "wool pad", note: "x" } })]);
		const finding = judge(one, [rule]).find(({ field }) => field === "pad");
		if (finding === undefined) throw new Error("nothing found");
		const remedies = remediesFor(finding, one, [rule]);
		expect(remedies.map(({ say }) => say)).toEqual([
			{ en: "Read it as twisted wool", es: "Leerlo como lana trenzada" },
			{ en: "Read it as lambswool", es: "Leerlo como lana de cordero" },
			{ en: "Read it as knitted wool", es: "Leerlo como lana tejida" },
		]);
		const result = applyEdit(one.procedure, remedies[2]?.edit ?? []);
		if ("problem" in result) throw new Error(JSON.stringify(result.problem));
		expect(result.procedure.steps?.[0]).toMatchObject({ pad: "wool-knit", asTyped: { note: "x" } });
		expect(result.procedure.steps?.[0]?.asTyped).not.toHaveProperty("pad");
	});

	it.each<[string, string, string, unknown[]]>([
		["tool", "random orbitl", "Near it is “random orbital”", ["random-orbital"]],
		["tool", "rotery", "Near it is “rotary”", ["rotary"]],
		["tool", "hnad", "Near it is “hand block” or “bare hand”", ["block", "bare-hand"]],
		["tool", "hand", "It could mean “hand block” or “bare hand”", ["block", "bare-hand"]],
		["tool", "little aer", "Near it is “little-air”", ["little-air"]],
		["pad", "medum foam", "Near it is “medium foam”", ["foam-medium"]],
		["stage", "sandd", "Near it is “sand”", ["sand"]],
		["stage", "lijr", "Near it is “sand”", ["sand"]],
		["stage", "frobnicate", "Expected is a word", []],
		["tool", "xx", "Expected is a word", []],
		["speed", "1500 RPM max", "Near it is “1500 rpm”", [{ unit: "rpm", low: 1500, high: 1500 }]],
		["speed", "not fast", "Expected is a word", []],
	])("under %s %j is met with what is near it, and a press sets that", (field, text, words, values) => {
		const shop = shopOf(
			genericShop.book,
			{ format: 1, tools: [{ id: "little-air", name: "Little air", kind: "random-orbital" }] },
			undefined,
		);
		const one = { ...caseOf([{ asTyped: { [field]: text } }]), shop };
		const [finding] = judge(one, [rule]);
		if (finding === undefined) throw new Error("nothing found");
		expect(sayer("en", "um")(finding).message).toContain(words);
		const remedies = remediesFor(finding, one, [rule]);
		expect(remedies.every(({ kind }) => kind === "offered")).toBe(true);
		expect(
			remedies.map(({ edit }) => {
				const result = applyEdit(one.procedure, edit);
				if ("problem" in result) throw new Error(result.problem.message);
				const [row] = result.procedure.steps ?? [];
				expect(row?.asTyped).toBe(undefined);
				return row?.[field as "tool"];
			}),
		).toEqual(values);
	});

	it("that has come to be readable, as an item bought since, offers that", () => {
		const one = caseOf([sand("P1500", { speed: undefined, asTyped: { speed: "8000 opm" } })]);
		const [finding] = judge(one, [rule]);
		if (finding === undefined) throw new Error("nothing found");
		expect(remediesFor(finding, one, [rule]).map(({ edit }) => edit)).toEqual([
			[
				{ op: "set", row: "aaaaaaaaaa", field: "speed", to: { unit: "opm", low: 8000, high: 8000 } },
				{ op: "set", row: "aaaaaaaaaa", field: "asTyped", from: { speed: "8000 opm" } },
			],
		]);
	});
});

function at(row: number | null, field: string) {
	return { row, field };
}

function step(more: object): object {
	return { steps: [{ id: "aaaaaaaaaa", ...sand("P1500"), ...more }] };
}

function caseOf(steps: readonly Fragment[]) {
	return { procedure: exampleProcedure({ title: "Typed", steps }), problems: [], shop: genericShop, today };
}

function fileWith(more: object): string {
	return JSON.stringify({
		...exampleProcedure({ title: "Read", steps: [sand("P1500")] }),
		...more,
	} satisfies Procedure);
}

/** What the rule says of a file, opened and judged as the command line does. */
function check(of: object | string, language: "en" | "es" = "en") {
	const opened = openFile("procedure", typeof of === "string" ? of : fileWith(of));
	if ("problem" in opened) throw new Error(opened.problem.message);
	const { readable: procedure, problems } = opened;
	const { findings } = checkFile("read.json", { procedure, problems, shop: genericShop, today }, language, () => null);
	return { opened, findings: findings.filter((finding) => finding.rule === rule.id) };
}
