import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalText, type FileKind } from "../../src/model/canonical.ts";
import { openFile } from "../../src/model/document.ts";
import { unknownFields } from "../../src/model/unknown-fields.ts";
import { shapes } from "../../src/model/generated/shape.ts";
import * as validators from "../../src/model/generated/validators.js";
import { sayProblem } from "../../src/model/problem.ts";
import { procedures } from "./procedures.ts";

const opened = <K extends FileKind>(kind: K, value: unknown) => {
	const result = openFile(kind, typeof value === "string" ? value : JSON.stringify(value));
	if ("problem" in result) throw new Error(result.problem.message);
	return result;
};

const procedure = (parts: object) => ({ format: 1, id: "test", title: { en: "Test" }, ...parts });
const rows = (...steps: unknown[]) => opened("procedure", procedure({ steps }));
const a = "aaaaaaaaay";
const b = "aaaaaaaaaz";

describe("openFile", () => {
	it("trusts a valid file as it is, without a copy", () => {
		const file = rows({ id: a }, { id: b, stage: "sand", asTyped: { speed: "fast" }, own: 1 });
		expect(file.problems).toEqual([]);
		expect(file.readable).toBe(file.value);
		expect(file.pointerInFile("/steps/1/own")).toBe("/steps/1/own");
	});

	it.each([
		["not-allowed-word", { stage: "sandd" }, "stage", "Row 1, Stage: “sandd” is not one of clean, mask"],
		["not-a-number", { waitMinutes: "3" }, "waitMinutes", "Row 1, Wait (min): a number is expected, not “3”."],
		["too-large", { overlap: 2 }, "overlap", "Row 1, Overlap: 2 is more than the most allowed, 0.95."],
		["too-small", { speed: { unit: "rpm", low: -1, high: 2 } }, "speed", "Row 1, Speed, Low: -1 is less than"],
		["missing", { speed: { low: 1, high: 2 } }, "speed", "Row 1, Speed, Unit: missing."],
		["wrong-type", { note: [] }, "note", "Row 1, Note: text is expected, not a list."],
		[
			"not-a-whole-number",
			{ ifNot: { atMost: 1.5 } },
			"ifNot",
			"Row 1, If not met, At most: 1.5 is not a whole number.",
		],
		["too-few", { when: [] }, "when", "Row 1, When: the list needs at least 1."],
	])("says %s at its cell and leaves that out of what rules may trust", (code, cell, field, sentence) => {
		const file = rows({ id: a, ...cell });
		expect(file.problems).toMatchObject([{ code, row: 0, rowId: a, field }]);
		expect(file.problems.map((one) => sayProblem(one, "en"))[0]?.startsWith(sentence)).toBe(true);
		expect(file.readable.steps).toEqual([{ id: a, ...(field === "ifNot" ? { ifNot: {} } : {}) }]);
		expect(file.value).toHaveProperty(["steps", "0", field]);
	});

	it("names a part outside the rows, and keeps the sound elements of its list", () => {
		const file = opened("procedure", procedure({ scope: { tones: ["dark", "blue"] }, state: 1, reviewBy: "12 May" }));
		expect(file.problems.map(({ code, pointer, row, field }) => [code, pointer, row, field])).toEqual([
			["wrong-type", "/state", null, "state"],
			["not-allowed-word", "/scope/tones/1", null, "scope"],
			["not-a-date", "/reviewBy", null, "reviewBy"],
		]);
		expect(file.readable).toEqual(procedure({ scope: { tones: ["dark"] } }));
	});

	it("says one problem a cell, at its deepest place", () => {
		const file = rows({ id: a, when: [{ tone: ["blue", "green"] }, 3] });
		expect(file.problems).toMatchObject([{ code: "not-allowed-word", pointer: "/steps/0/when/0/tone/0" }]);
	});

	it("leaves out rows that are no records, and still knows where the others stand", () => {
		const file = rows({ id: a }, 3, null, { id: b, stage: "x" });
		expect(file.readable.steps).toEqual([{ id: a }, { id: b }]);
		expect(file.pointerInFile("/steps/1/stage")).toBe("/steps/3/stage");
		expect(file.problems.map(({ code, row }) => [code, row])).toEqual([
			["wrong-type", 1],
			["wrong-type", 2],
			["not-allowed-word", 3],
		]);
	});

	it("keeps the neighbours of an element that lacks several things", () => {
		const sound = { rule: "grade-jump", reason: "r", by: "b", on: "2024-05-01" };
		const file = opened("procedure", procedure({ exceptions: [{ rule: "x" }, sound, {}] }));
		expect(file.readable.exceptions).toEqual([sound]);
		expect(file.pointerInFile("/exceptions/0/reason")).toBe("/exceptions/1/reason");
	});

	it("gives rows without a usable id one of their own, and references follow", () => {
		const file = rows({ id: "r1" }, { stage: "sand" }, { id: a, ifNot: { back: "r1" } });
		const [first, second, third] = file.readable.steps ?? [];
		expect(new Set([first?.id, second?.id, third?.id]).size).toBe(3);
		expect(third).toEqual({ id: a, ifNot: { back: first?.id } });
		expect(file.problems).toMatchObject([
			{ code: "bad-form", row: 0, rowId: "r1" },
			{ code: "missing", row: 1, rowId: null, pointer: "/steps/1/id" },
		]);
	});

	it("names repeated row ids and tells the rows apart", () => {
		const file = rows({ id: a, stage: "sand" }, { id: b }, { id: a });
		expect(file.problems).toMatchObject([{ code: "repeated-row-id", row: 2, rowId: a, data: { firstRow: 1 } }]);
		expect(file.readable.steps?.[0]).toEqual({ id: a, stage: "sand" });
		expect(new Set(file.readable.steps?.map(({ id }) => id)).size).toBe(3);
	});

	it("judges the first 500 rows of more", () => {
		const id = (index: number) =>
			index
				.toString(26)
				.replace(/./g, (digit) => String.fromCharCode(97 + Number.parseInt(digit, 26)))
				.padStart(10, "a");
		const file = rows(...Array.from({ length: 503 }, (_, index) => ({ id: id(index) })));
		expect(file.problems).toMatchObject([
			{ code: "too-many-rows", row: null, field: "steps", data: { found: 503, most: 500 } },
		]);
		expect(file.readable.steps?.length).toBe(500);
	});

	it.each([
		["procedure", "[]", "not-an-object"],
		["procedure", "null", "not-an-object"],
		["stock", '"x"', "not-an-object"],
		["procedure", '{"format":1}', "no-id"],
		["procedure", '{"format":1,"id":7}', "no-id"],
		["book", '{"format":1,"id":" "}', "no-id"],
		["book", '{"format":9,"id":"x"}', "newer-format"],
		["limits", "{", "not-json"],
	] as const)("refuses %s %s", (kind, text, code) => {
		expect(openFile(kind, text)).toMatchObject({ problem: { code } });
	});

	it("has a stand-in for everything a file must have", () => {
		for (const kind of Object.keys(shapes) as FileKind[]) {
			const file = opened(kind, { id: "My Shop's" });
			expect(validators[kind](file.readable)).toBe(true);
			expect(file.problems.map(({ code }) => code)).toContain("missing");
		}
	});

	it("says the place in the words of the screens, in either language", () => {
		const file = opened(
			"procedure",
			procedure({ film: { leastLeftUm: "x" }, steps: [{ id: a, speed: { low: 1, high: 2 } }] }),
		);
		expect(file.problems.map((one) => sayProblem(one, "es"))).toEqual([
			"Película, Least left (µm): se espera un número, no «x».",
			"Fila 1, Velocidad, Unit: falta.",
		]);
		expect(file.problems.map((one) => sayProblem(one, "en"))).toEqual([
			"Film, Least left (µm): a number is expected, not “x”.",
			"Row 1, Speed, Unit: missing.",
		]);
	});

	it("opens lossy text read-only and says what would be lost", () => {
		const file = opened("procedure", '{"format":1,"id":"x","title":{},\n"id":"y"}');
		expect(file.readOnly).toMatchObject([{ code: "repeated-key", line: 2, column: 1 }]);
		expect(sayProblem(file.readOnly[0] as never, "en")).toContain("“id” stands twice");
	});

	it("tells of a byte order mark", () => {
		const file = opened("stock", '\uFEFF{"format":1}');
		expect(file.problems).toMatchObject([{ code: "byte-order-mark", row: null, field: null }]);
		expect(file.readOnly).toEqual([]);
	});

	it("saves an unchanged canonical file without changing a byte", () => {
		fc.assert(
			fc.property(procedures, (value) => {
				const text = canonicalText("procedure", value);
				const file = opened("procedure", text);
				expect(file.readOnly).toEqual([]);
				expect(file.problems).toEqual([]);
				expect(canonicalText("procedure", file.value)).toBe(text);
			}),
			{ seed: 21, numRuns: 500 },
		);
	});

	it("makes something valid, with a sentence for each problem, out of any record", () => {
		const junk = fc.oneof(
			fc.jsonValue({ maxDepth: 3 }),
			fc.constantFrom<unknown>(a, "r1", [{}, {}], [1, {}], { en: 1 }, Number.POSITIVE_INFINITY),
		);
		const record = (kind: FileKind) =>
			fc.dictionary(
				fc.constantFrom(...Object.keys(shapes[kind].keys ?? {}), "own"),
				fc.oneof(
					junk,
					fc.array(fc.dictionary(fc.constantFrom("id", "stage", "speed", "when", "ifNot", "rule", "kind", "um"), junk)),
				),
			);
		fc.assert(
			fc.property(
				fc
					.constantFrom(...(Object.keys(shapes) as FileKind[]))
					.chain((kind) => fc.tuple(fc.constant(kind), record(kind))),
				([kind, value]) => {
					// A newer format is refused, which has its own test.
					fc.pre(typeof value.format !== "number" || value.format <= 1);
					const before = canonicalText(kind, { ...value, id: "x" });
					const file = opened(kind, before);
					expect(validators[kind](file.readable)).toBe(true);
					expect(canonicalText(kind, file.value)).toBe(before);
					expect(file.readable === file.value).toBe(file.problems.length === 0);
					for (const problem of [...file.problems, ...file.readOnly])
						for (const language of ["en", "es"] as const)
							expect(sayProblem(problem, language)).not.toMatch(/undefined|\{\w+\}/);
				},
			),
			{ seed: 22, numRuns: 1000 },
		);
	});
});

describe("unknownFields", () => {
	it("points at every member the schema does not know, once, at the top of it", () => {
		const value = procedure({
			own: { deep: 1 },
			steps: [{ id: a, asTyped: { anything: "x" }, "a/b": 1, speed: { unit: "rpm", low: 1, high: 2, x: 1 } }],
			exceptions: [{ restedOn: { free: 1 }, who: "x" }],
		});
		expect(unknownFields("procedure", value)).toEqual([
			"/own",
			"/steps/0/a~1b",
			"/steps/0/speed/x",
			"/exceptions/0/who",
		]);
		expect(unknownFields("limits", { values: { free: { value: 1, x: 1 } } })).toEqual(["/values/free/x"]);
	});

	it.each([null, [], 3, { steps: 3, scope: [] }])("takes %j without complaint", (value) => {
		expect(unknownFields("procedure", value)).toEqual([]);
	});
});
