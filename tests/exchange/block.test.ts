import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { blockEdit, openParts, type PastedBlock, type ReadBlock, readBlock } from "../../src/exchange/block-in.ts";
import { blockOut } from "../../src/exchange/block-out.ts";
import { importSheet } from "../../src/exchange/sheet-in.ts";
import { mostRows } from "../../src/model/most-rows.ts";
import { applyEdit } from "../../src/model/edits.ts";
import type { StepField } from "../../src/model/fields/reading.ts";
import type { Procedure, Step } from "../../src/model/generated/types.ts";
import { genericShop } from "../../src/model/shop.ts";
import { gridColumns } from "../../src/workbench/store/columns.ts";
import { generators } from "../model/fields/values.ts";

const columns = gridColumns.map(({ fields }) => fields);
const columnAt = (field: StepField) => columns.findIndex((fields) => fields.includes(field));

const row = (id: string, step: Partial<Step> = {}): Step => ({ ...step, id: id.repeat(10) });
const procedureOf = (...steps: Step[]): Procedure => ({ format: 1, id: "one", title: { en: "One" }, steps });

function block(text: string, more: Partial<PastedBlock> = {}): ReadBlock {
	const read = readBlock({
		text,
		shop: genericShop,
		language: "en",
		procedure: procedureOf(),
		columns,
		startColumn: 0,
		over: null,
		...more,
	});
	if ("problem" in read) throw new Error(read.problem.message);
	return read;
}

/** Rows without their ids. */
const plain = (steps: readonly Step[] = []) => steps.map(({ id: _, ...step }) => step);
const fieldsOf = ({ columns }: ReadBlock) => columns.map(({ fields }) => fields?.join("/") ?? null);

/** A source of numbers that is the same each time. */
function source(): () => number {
	let state = 1;
	return () => {
		state = (state * 16807) % 2147483647;
		return state / 2147483647;
	};
}

function pasted(
	procedure: Procedure,
	read: Pick<ReadBlock, "steps" | "columns" | "parts">,
	mode: "over" | "insert",
	at: string | null,
	withParts = false,
) {
	const made = blockEdit({ procedure, block: read, mode, row: at, withParts, random: source() });
	const result = applyEdit(procedure, made.edit);
	if ("problem" in result) throw new Error(result.problem.message);
	return { ...made, after: result.procedure };
}

describe("a block with a header", () => {
	const folder = fileURLToPath(new URL("sheets/", import.meta.url));
	it.each(readdirSync(folder))("of %s gives the rows that importing it gives", (name) => {
		const text = readFileSync(`${folder}${name}`, "utf8");
		const sheet = importSheet({ text, name, shop: genericShop });
		if ("problem" in sheet) throw new Error(sheet.problem.message);
		const read = block(text);
		expect(read.hasHeader).toBe(true);
		expect(read.steps).toEqual(sheet.procedure.steps);
		expect(read.unread).toEqual(sheet.unread);
		const { format: _, id: __, title: ___, steps: ____, ...parts } = sheet.procedure;
		expect(read.parts).toEqual(parts);
		expect(read.columns.map(({ header, field }) => ({ header, field }))).toEqual(sheet.columns);
	});

	it("takes what the person says a column holds, and leaves out what they leave out", () => {
		const text = "Stage\tWhirl\tPasses\nSand\t1500 rpm\t3\n";
		expect(plain(block(text).steps)).toEqual([
			{ stage: "sand", note: "Whirl: 1500 rpm", work: { unit: "passes", low: 3, high: 3 } },
		]);
		const read = block(text, {
			overrides: new Map<number, StepField[] | "out">([
				[1, ["speed"]],
				[2, "out"],
			]),
		});
		expect(plain(read.steps)).toEqual([{ stage: "sand", speed: { unit: "rpm", low: 1500, high: 1500 } }]);
		expect(read.columns.map(({ out }) => out)).toEqual([false, false, true]);
	});

	it("shows of each column what stands in it", () => {
		const [, second] = block("Stage\tGrade\nSand\tP1500\nSand\tP1500\nRefine\tP2000\n").columns;
		expect(second).toEqual({
			index: 1,
			header: "Grade",
			samples: ["P1500", "P2000"],
			fields: ["abrasive"],
			field: "abrasive",
			out: false,
			guessed: false,
		});
	});
});

describe("a block without a header", () => {
	it("falls on the columns where it is pasted", () => {
		const read = block(
			"Sand\tP1500 film\tfirm plate\tdamp\tDA\t8000\t3\nRefine\tP3000\tsoft plate\tdamp\tDA\t8000\t4\n",
		);
		expect(read.hasHeader).toBe(false);
		expect(plain(read.steps)).toEqual([
			{
				stage: "sand",
				abrasive: "P1500",
				carrier: "film",
				backing: "firm-plate",
				wetness: "damp",
				tool: "random-orbital",
				speed: { unit: "opm", low: 8000, high: 8000 },
				work: { unit: "passes", low: 3, high: 3 },
			},
			{
				stage: "refine",
				abrasive: "P3000",
				backing: "soft-plate",
				wetness: "damp",
				tool: "random-orbital",
				speed: { unit: "opm", low: 8000, high: 8000 },
				work: { unit: "passes", low: 4, high: 4 },
			},
		]);
		expect(read.columns.every(({ guessed }) => !guessed)).toBe(true);
	});

	it.each([
		["one cell", "P1500", "abrasive", ["abrasive"], [{ abrasive: "P1500" }]],
		["one cell with a comma", "damp, soapy water", "liquid", ["liquid/wetness/wipe"], null],
		["words that could be a header", "Polish\tSoft foam\n", "stage", ["stage", "backing/pad"], null],
		[
			"a column with an empty cell",
			"P1500\n\nP2000\n",
			"abrasive",
			["abrasive"],
			[{ abrasive: "P1500" }, {}, { abrasive: "P2000" }],
		],
		["a text nobody can read", "gloop", "speed", ["speed"], [{ asTyped: { speed: "gloop" } }]],
		[
			"lines of semicolons",
			"Sand;P1500;firm plate\nSand;P2000;firm plate",
			"stage",
			["stage", "abrasive", "backing/pad"],
			null,
		],
	] as [string, string, StepField, string[], object[] | null][])("may be %s", (_, text, at, fields, steps) => {
		const read = block(text, { startColumn: columnAt(at) });
		expect(fieldsOf(read)).toEqual(fields);
		if (steps) expect(plain(read.steps)).toEqual(steps);
	});

	it.each([
		["grades pasted on the stage", "P1500\nP2000\nP3000", "stage", ["abrasive"], [true]],
		[
			"a table one column too far left",
			"P1500\tfirm plate\tdamp\nP2000\tfirm plate\twet",
			"stage",
			["abrasive", "backing/pad", "liquid/wetness/wipe"],
			[true, true, true],
		],
		["numbers that fit where they fall", "1500\n2000", "speed", ["speed"], [false]],
	] as [string, string, StepField, string[], boolean[]][])("goes by its cells: %s", (_, text, at, fields, guessed) => {
		const read = block(text, { startColumn: columnAt(at) });
		expect(fieldsOf(read)).toEqual(fields);
		expect(read.columns.map((column) => column.guessed)).toEqual(guessed);
	});

	it("is read as the person says: with a header or without, and by their columns", () => {
		const text = "Stage\tGrade\nSand\tP1500\n";
		expect(block(text, { hasHeader: false }).steps).toHaveLength(2);
		expect(plain(block("P1500", { overrides: new Map<number, StepField[] | "out">([[0, ["note"]]]) }).steps)).toEqual([
			{ note: "P1500" },
		]);
	});

	it("knows the rows that it overwrites", () => {
		const procedure = procedureOf(
			row("a", { stage: "compound", tool: "rotary" }),
			row("b", { stage: "sand", tool: "random-orbital" }),
		);
		const speeds = { startColumn: columnAt("speed"), procedure, over: "a".repeat(10) };
		expect(plain(block("1500\n2500", speeds).steps).map(({ speed }) => speed?.unit)).toEqual(["rpm", "opm"]);
		const pads = { startColumn: columnAt("backing"), procedure, over: "a".repeat(10) };
		expect(plain(block("hard\nhard", pads).steps)).toEqual([{ pad: "foam-firm" }, { backing: "firm-plate" }]);
	});

	it.each([
		["nothing", " \n", "empty-sheet"],
		["a file that is no text", "PK\u0003\u0004rest", "not-a-table"],
	])("says what is wrong with %s", (_, text, code) => {
		const read = readBlock({
			text,
			shop: genericShop,
			language: "en",
			procedure: procedureOf(),
			columns,
			startColumn: 0,
			over: null,
		});
		expect("problem" in read && read.problem.code).toBe(code);
	});
});

describe("the edit of a block", () => {
	const three = procedureOf(
		row("a", { stage: "sand", abrasive: "P1200", note: "mind the edge" }),
		row("b", { stage: "sand", asTyped: { abrasive: "P15O0", speed: "fast" } }),
		row("c", { stage: "inspect" }),
	);
	const grades = (text: string) =>
		block(text, { startColumn: columnAt("abrasive"), procedure: three, over: "b".repeat(10) });

	it("overwrites the cells of its columns and appends what is left", () => {
		const { after, rows } = pasted(three, grades("P1500 film\nP2000\nP3000"), "over", "b".repeat(10));
		expect(after.steps?.slice(0, 3)).toEqual([
			three.steps?.[0],
			row("b", { stage: "sand", abrasive: "P1500", carrier: "film", asTyped: { speed: "fast" } }),
			row("c", { stage: "inspect", abrasive: "P2000" }),
		]);
		expect(plain(after.steps?.slice(3))).toEqual([{ abrasive: "P3000" }]);
		expect(rows).toEqual(after.steps?.slice(1).map(({ id }) => id));
	});

	it("empties cells where the block has empty ones", () => {
		const { after } = pasted(
			three,
			block("\nP2000", { startColumn: columnAt("abrasive"), procedure: three }),
			"over",
			"a".repeat(10),
		);
		expect(after.steps?.[0]).toEqual(row("a", { stage: "sand", note: "mind the edge" }));
	});

	it("inserts all as new rows behind a row, or at the end, with new ids", () => {
		const inserted = pasted(three, grades("P1500\nP2000"), "insert", "a".repeat(10)).after.steps ?? [];
		expect(inserted.map(({ abrasive }) => abrasive)).toEqual(["P1200", "P1500", "P2000", undefined, undefined]);
		const appended = pasted(three, grades("P1500\nP2000"), "over", null).after.steps ?? [];
		expect(appended.map(({ abrasive }) => abrasive)).toEqual(["P1200", undefined, undefined, "P1500", "P2000"]);
		for (const steps of [inserted, appended]) expect(new Set(steps.map(({ id }) => id)).size).toBe(5);
	});

	it("points at the rows as they stand after it", () => {
		const text = "No.\tStage\tIf it fails\n1\tSand\t\n2\tInspect\tback to row 1\n";
		const { after } = pasted(three, block(text, { procedure: three }), "insert", null);
		expect(after.steps?.[4]?.ifNot?.back).toBe(after.steps?.[3]?.id);
	});

	it("takes parts that the procedure has nothing of, and adds to its notes", () => {
		const text = "Film: 45 µm\nTone: dark\nFrobnicate: yes\nStage\tGrade\tTool\nSand\tP1500\tDA\n";
		const read = block(text);
		const mine: Procedure = { ...three, scope: { tones: ["light"] }, notes: { en: "mine" } };
		expect(openParts(mine, read.parts).toSorted()).toEqual(["film", "notes"]);
		const { after } = pasted(mine, read, "insert", null, true);
		expect(after.scope).toEqual({ tones: ["light"] });
		expect(after.film).toEqual(read.parts.film);
		expect(after.notes?.en).toMatch(/^mine\n.*Frobnicate/s);
		expect(pasted(mine, read, "insert", null, false).after.film).toBe(undefined);
	});

	it("fills a procedure up to its most rows, and leaves out the rest", () => {
		const full = procedureOf(...Array.from({ length: mostRows - 1 }, (_, at) => ({ id: `row${at}` })));
		const { after } = pasted(full, grades("P1500\nP2000\nP3000"), "insert", null);
		expect(after.steps).toHaveLength(mostRows);
	});
});

describe("a block that was copied", () => {
	it("reads back minutes of a wait, minutes and passes of work, under the header of both", () => {
		const procedure = procedureOf(
			row("a", { stage: "sand", abrasive: "P2000", work: { unit: "passes", low: 3, high: 3 } }),
			row("b", { stage: "wait", waitMinutes: 10 }),
			row("c", { stage: "polish", liquid: "fine", work: { unit: "minutes", low: 5, high: 5 } }),
		);
		const rows = procedure.steps?.map(({ id }) => id) ?? [];
		for (const language of ["en", "es"] as const) {
			const text = blockOut({ procedure, rows, columns, shop: genericShop, language, header: true });
			const read = block(text, { language, procedure, over: rows[0] ?? null, hasHeader: true });
			expect(pasted(procedure, read, "over", rows[0] ?? null).after.steps).toEqual(procedure.steps);
		}
		const typed = "Stage\tGrit\tWork / Wait (min)\nSand\tP2000\t4\nWait\t\t15\n";
		expect(plain(block(typed).steps)).toEqual([
			{ stage: "sand", abrasive: "P2000", work: { unit: "passes", low: 4, high: 4 } },
			{ stage: "wait", waitMinutes: 15 },
		]);
	});

	it("is text that a spreadsheet takes: cells with tabs, quotes and lines are quoted, and none is a formula", () => {
		const procedure = procedureOf(
			row("a", { stage: "sand", note: 'one\ttwo\n"three"' }),
			row("b", { asTyped: { speed: "=1+1" } }),
		);
		const rows = procedure.steps?.map(({ id }) => id) ?? [];
		expect(
			blockOut({
				procedure,
				rows,
				columns: [["stage"], ["note"], ["speed"]],
				shop: genericShop,
				language: "en",
				header: true,
			}),
		).toBe('Stage\tNote\tSpeed\nSand\t"one\ttwo\n""three"""\t\n\t\t\'=1+1\n'.replace("Sand", "sand"));
	});

	it("pastes back as it was, in either language, with a header and without", () => {
		const steps = (language: "en" | "es") =>
			fc.array(
				fc.record(
					Object.fromEntries(
						(["stage", "abrasive", "tool", "work", "place", "waitMinutes", "forceN", "need"] as StepField[]).map(
							(field) => [field, generators(language)[field]],
						),
					) as Record<string, fc.Arbitrary<unknown>>,
					{ requiredKeys: ["stage"] },
				),
				{ minLength: 1, maxLength: 6 },
			);
		for (const language of ["en", "es"] as const)
			fc.assert(
				fc.property(steps(language), fc.boolean(), (made, header) => {
					const procedure = procedureOf(
						...made.map((step, at) => row(String.fromCharCode(97 + at), step as Partial<Step>)),
					);
					// Names of the stock that this shop does not have, and a grade that takes the scale of the book.
					if (/"(?:tool-a|odd-disc|even-disc|2000)"/.test(JSON.stringify(made))) return;
					// What other shops call "finish" beside a grade is sanding, and a paste cannot know whose words they are.
					if (
						made.some(
							({ stage, abrasive }) =>
								abrasive !== undefined && ["compound", "polish", "finish"].includes(stage as string),
						)
					)
						return;
					// Work and wait share a column: minutes in it are the wait of a row that waits, and the work of any other.
					if (made.some((step) => (step.stage === "wait" ? "work" : "waitMinutes") in step)) return;
					const rows = procedure.steps?.map(({ id }) => id) ?? [];
					const text = blockOut({ procedure, rows, columns, shop: genericShop, language, header });
					const read = block(text, { language, procedure, over: rows[0] ?? null, hasHeader: header });
					expect(pasted(procedure, read, "over", rows[0] ?? null).after.steps).toEqual(procedure.steps);
				}),
				{ seed: 9, numRuns: 200 },
			);
	});
});
