import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CheckedFile } from "../../src/check/check.ts";
import { exports } from "../../src/exchange/generated/exports.ts";
import csv from "../../src/exchange/out/csv.ts";
import json from "../../src/exchange/out/json.ts";
import { importSheet } from "../../src/exchange/sheet-in.ts";
import { canonicalText } from "../../src/model/canonical.ts";
import { stepFields } from "../../src/model/fields/columns.ts";
import { defects } from "../../src/model/defects.ts";
import { enumerations } from "../../src/model/generated/enumerations.ts";
import type { Box, Procedure, Step } from "../../src/model/generated/types.ts";
import * as validators from "../../src/model/generated/validators.js";
import { genericShop } from "../../src/model/shop.ts";
import type { Language } from "../../src/model/words.ts";

/** Neither format says anything of findings. */
const check: CheckedFile = { path: "x", procedure: "x", rows: 0, findings: [] };

function exported(procedure: Procedure, language: Language): string {
	return csv.write({ procedure, shop: genericShop, today: "2026-05-12", language, check });
}

function readBack(text: string, language: Language): Procedure {
	const sheet = importSheet({ text, name: "again.csv", shop: genericShop, language });
	if ("problem" in sheet) throw new Error(`${sheet.problem.message}\n${text}`);
	expect(sheet.unread).toEqual([]);
	return sheet.procedure;
}

/** Steps with the number of a row in place of its id, since ids are not in a sheet. */
function numbered(steps: readonly Step[] = []): unknown[] {
	const ids = steps.map(({ id }) => id);
	return steps.map(({ id, ifNot, ...step }, at) => ({
		...step,
		id: at,
		...(ifNot === undefined
			? {}
			: { ifNot: ifNot.back === undefined ? ifNot : { ...ifNot, back: ids.indexOf(ifNot.back) } }),
	}));
}

const of = <T>(values: readonly T[]) => fc.constantFrom(...values);
const words = fc
	.string({ minLength: 1, maxLength: 30, unit: fc.constantFrom(..."abc P1500,;\"'=+-@|:\n()µñ") })
	.map((text) => text.trim())
	.filter((text) => text !== "" && !/^[-–—./]*$/.test(text));
const oneDecimal = (most: number) => fc.integer({ min: 1, max: most * 10 }).map((value) => value / 10);
const span = (most: number) =>
	fc
		.tuple(fc.integer({ min: 1, max: most }), fc.integer({ min: 0, max: 50 }))
		.map(([low, more]) => ({ low, high: Math.min(low + more, most) }));
const text = fc.record({ en: words, es: words }, { requiredKeys: [] }).filter((one) => Object.keys(one).length > 0);
const estimate = fc
	.tuple(oneDecimal(60), oneDecimal(20), oneDecimal(20))
	.map(([low, a, b]) => ({ low, mid: Number((low + a).toFixed(1)), high: Number((low + a + b).toFixed(1)) }));
const box: fc.Arbitrary<Box> = fc.record(
	{
		defect: fc.uniqueArray(of(defects.map(({ id }) => id)), { minLength: 1, maxLength: 3 }),
		substrate: fc.uniqueArray(of(enumerations.Substrate), { minLength: 1, maxLength: 3 }),
		clearCoat: fc.uniqueArray(of(enumerations.ClearCoat), { minLength: 1, maxLength: 3 }),
		tone: fc.uniqueArray(of(enumerations.Tone), { minLength: 1, maxLength: 3 }),
	},
	{ requiredKeys: [] },
);

const id = fc.string({ minLength: 10, maxLength: 10, unit: fc.constantFrom(..."abcdefghijklmnopqrstuvwxyz") });
const step: fc.Arbitrary<Step> = fc.record(
	{
		id,
		stage: of(enumerations.Stage),
		instruction: text,
		place: of(enumerations.Place),
		spotMm: oneDecimal(90).map((mm) => mm + 1),
		edges: of(["taped", "kept-off", "by-hand", "free"] as const),
		tool: of(enumerations.ToolKind),
		abrasive: of(["P1500", "P3000", "JIS 2000", "CAMI 600", "16 µm", "4.5 µm"]),
		carrier: of(enumerations.Carrier),
		holes: of(enumerations.Holes),
		backing: of(enumerations.BackingKind),
		interfaceMm: oneDecimal(20),
		pad: of(enumerations.PadKind),
		padUse: of(["fresh", "cleaned", "same-as-row"] as const),
		padCare: text,
		wetness: of(enumerations.Wetness),
		wetWith: of(["water", "soapy-water"] as const),
		liquid: of(enumerations.LiquidClass),
		wipe: of(["wash", "solvent-wipe", "alcohol-wipe", "dry-cloth"] as const),
		speed: fc
			.tuple(of(["rpm", "opm"] as const), span(9000))
			.map(([unit, range]) => ({ unit, low: range.low + 50, high: range.high + 50 })),
		work: fc.oneof(
			fc.tuple(of(["passes", "strokes", "minutes"] as const), span(60)).map(([unit, range]) => ({ unit, ...range })),
			fc.constant({ unit: "until-flush" as const }),
			span(60).map((range) => ({ unit: "until-flush" as const, ...range })),
		),
		pattern: of(["one-way", "crosswise", "lengthwise"] as const),
		forceN: oneDecimal(90),
		overlap: of([0.25, 0.5, 0.75]),
		armSpeedMs: of([0.1, 0.12, 0.25]),
		sectionM2: of([0.25, 0.5, 1]),
		amountMl: oneDecimal(50),
		discEvery: fc.record({ unit: of(["section", "panel"] as const), count: fc.integer({ min: 1, max: 9 }) }),
		waitMinutes: fc.integer({ min: 0, max: 600 }),
		waitFor: of(["cool", "flash", "cure", "dry"] as const),
		need: of(["always", "if-needed"] as const),
		when: fc.array(box, { minLength: 1, maxLength: 2 }),
		check: text,
		light: text,
		by: of(["same-person", "second-person"] as const),
		mustNotVary: fc.uniqueArray(of(["speed", "work", "liquid", "tool"]), { minLength: 1, maxLength: 3 }),
		note: words,
	},
	{ requiredKeys: ["id"] },
);

/** Steps whose ids differ, some going back to a row, some with text that could not be read in fields that are empty. */
const steps = fc
	.tuple(
		fc.uniqueArray(step, { minLength: 1, maxLength: 5, selector: (one) => one.id }),
		fc.array(fc.record({ at: fc.nat(), back: fc.nat(), ask: fc.boolean() }), { maxLength: 2 }),
		fc.array(fc.record({ at: fc.nat(), field: of(stepFields), typed: words }), { maxLength: 3 }),
	)
	.map(([list, goingBack, unread]): Step[] => {
		const rows: Step[] = list.map((one) => ({ ...one }));
		const at = (place: number) => rows[place % rows.length] as Step;
		for (const { at: from, back, ask } of goingBack)
			at(from).ifNot = { back: at(back).id, atMost: 2, ...(ask ? { ask: true } : {}) };
		for (const { at: place, field, typed } of unread) {
			const row = at(place);
			if (row[field] === undefined) row.asTyped = { ...row.asTyped, [field]: typed };
		}
		return rows;
	});

const outside = fc.record(
	{
		title: text,
		purpose: text,
		scope: fc.record(
			{
				defects: fc.uniqueArray(
					fc.record(
						{
							defect: of(defects.map(({ id: defect }) => defect)),
							goal: of(["gone", "match-neighbour"] as const),
							um: estimate,
						},
						{ requiredKeys: ["defect"] },
					),
					{ minLength: 1, maxLength: 3, selector: ({ defect }) => defect },
				),
				substrates: fc.uniqueArray(of(enumerations.Substrate), { minLength: 1 }),
				clearCoats: fc.uniqueArray(of(enumerations.ClearCoat), { minLength: 1 }),
				tones: fc.uniqueArray(of(enumerations.Tone), { minLength: 1 }),
				features: fc.uniqueArray(
					of(["flat", "gentle-curve", "body-line", "edge", "recess", "horizontal", "vertical"] as const),
					{ minLength: 1 },
				),
				except: fc.array(box, { minLength: 1, maxLength: 2 }),
			},
			{ requiredKeys: ["tones"] },
		),
		film: fc.record(
			{
				known: of(["clear-reading", "total-reading", "none"] as const),
				underUm: estimate,
				assumed: fc.dictionary(of(enumerations.ClearCoat), estimate, { minKeys: 1, maxKeys: 4, noNullPrototype: true }),
				startReadingUm: oneDecimal(90),
				leastLeftUm: oneDecimal(60),
			},
			{ requiredKeys: ["leastLeftUm"] },
		),
		cure: fc.record(
			{
				hours: fc.integer({ min: 1, max: 200 }),
				bake: fc.record(
					{
						celsius: fc.integer({ min: 40, max: 90 }),
						minutes: fc.integer({ min: 5, max: 60 }),
						waitHours: fc.integer({ min: 1, max: 9 }),
					},
					{ requiredKeys: ["celsius", "minutes"] },
				),
			},
			{ requiredKeys: ["hours"] },
		),
		wear: fc.uniqueArray(
			fc.record(
				{ item: of(enumerations.Gear), stages: fc.uniqueArray(of(enumerations.Stage), { minLength: 1, maxLength: 3 }) },
				{ requiredKeys: ["item"] },
			),
			{ minLength: 1, selector: ({ item }) => item },
		),
		setUp: fc.record(
			{ extraction: fc.boolean(), light: text, panelC: fc.integer({ min: 15, max: 40 }) },
			{ requiredKeys: ["panelC"] },
		),
		writtenBy: words,
		revision: fc.integer({ min: 1, max: 40 }),
		reviewBy: of(["2027-01-31", "2028-02-29"]),
		notes: fc.record({ en: words }),
	},
	{ requiredKeys: ["title"] },
);

describe("a procedure written as a sheet", () => {
	it.each(["en", "es"] as const)(
		"reads back as the same rows, scope, film and conditions, in %s",
		(language) => {
			fc.assert(
				fc.property(outside, steps, (parts, rows) => {
					const procedure: Procedure = { format: 1, id: "again", ...parts, steps: rows };
					expect(validators.procedure(procedure), JSON.stringify(validators.procedure.errors)).toBe(true);
					const again = readBack(exported(procedure, language), language);
					expect(numbered(again.steps)).toEqual(numbered(rows));
					const { steps: _, notes, ...others } = again;
					const { steps: __, notes: said, ...wanted } = procedure;
					expect(others).toEqual(wanted);
					expect(Object.values(notes ?? {})).toEqual(Object.values(said ?? {}));
				}),
				{ seed: 11, numRuns: 300 },
			);
		},
		60_000,
	);

	it("has the headers of the language, and semicolons beside decimal commas", () => {
		const procedure: Procedure = {
			format: 1,
			id: "x",
			title: { en: "X" },
			steps: [{ id: "abcdefghij", work: { unit: "passes", low: 2.5, high: 2.5 } }],
		};
		expect(exported(procedure, "es")).toContain(
			"N.º;Etapa;Abrasivo;Respaldo;Boina;Humedad;Líquido;Limpieza;Herramienta;Velocidad;Trabajo\n1;;;;;;;;;;2,5 pasadas\n",
		);
		expect(exported(procedure, "en")).toContain(
			"No.,Stage,Abrasive,Backing,Pad,Wetness,Liquid,Wipe,Tool,Speed,Work\n1,,,,,,,,,,2.5 passes\n",
		);
	});

	it("lets no cell be taken for a formula", () => {
		const procedure: Procedure = {
			format: 1,
			id: "x",
			title: { en: "=1+1" },
			steps: [{ id: "abcdefghij", stage: "wait", note: "@SUM(A1)" }],
		};
		expect(exported(procedure, "en")).toMatch(/^Title,"'=1\+1"$/m);
		expect(exported(procedure, "en")).toContain("'@SUM(A1)");
	});
});

describe("the formats", () => {
	it("write the canonical file, byte for byte", () => {
		const procedure: Procedure = { format: 1, id: "x", title: { en: "X" }, steps: [] };
		expect(json.write({ procedure, shop: genericShop, today: "2026-05-12", language: "en", check })).toBe(
			canonicalText("procedure", procedure),
		);
	});
	it("are listed, each under its own name", () => {
		const ids = exports.map(({ id: name }) => name);
		expect(ids).toEqual(expect.arrayContaining(["csv", "json"]));
		expect(new Set(ids).size).toBe(ids.length);
	});
});
