import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stepFields } from "../../../src/model/fields/columns.ts";
import { quantities, readFilm } from "../../../src/model/fields/quantity.ts";
import { type FieldValue, read, type StepField } from "../../../src/model/fields/read.ts";
import { write } from "../../../src/model/fields/write.ts";
import type { Stock } from "../../../src/model/generated/types.ts";
import { gradeTables } from "../../../src/model/grades.ts";
import { axes } from "../../../src/model/situations.ts";
import { valuesOf, type WordKind } from "../../../src/model/words.ts";

type Language = "en" | "es";

const rows = ["aaaaaaaaaa", "bbbbbbbbbb", "cccccccccc"];
// Names that are awkward on purpose: a kind's own word, two alike, one that looks like a grade.
const stock: Stock = {
	format: 1,
	abrasives: [
		{ id: "odd-disc", name: "P2000 odd", grade: "P1500" },
		{ id: "even-disc", name: "Even disc", grade: "JIS 2000" },
	],
	backings: [{ id: "plate-a", name: "Firm plate", kind: "soft-plate" }],
	pads: [
		{ id: "pad-a", name: "Twin", kind: "foam-soft" },
		{ id: "pad-b", name: "twin", kind: "foam-firm" },
	],
	liquids: [{ id: "liquid-a", name: "Finest", class: "heavy-cut" }],
	tools: [{ id: "tool-a", name: "Rotary", kind: "random-orbital" }],
};

const words = (kind: WordKind) => fc.constantFrom(...(valuesOf(kind) as string[]));
const own = (language: Language) =>
	fc
		.string({ minLength: 1 })
		.map((text) => text.trim())
		.filter((text) => text !== "")
		.map((text) => ({ [language]: text }));
// Nothing on a panel is known to a millionth of its unit; below that a number is zero.
const number = (least: number, most: number) =>
	fc.double({ min: least, max: most, noNaN: true }).map((value) => (value < 1e-6 ? Math.max(least, 0) : value));
const within = (field: keyof typeof quantities) =>
	fc.oneof(
		number(quantities[field].least, quantities[field].most),
		fc.integer({ min: Math.ceil(quantities[field].least), max: Math.floor(quantities[field].most) }),
		number(quantities[field].least, quantities[field].most)
			.map((value) => Math.max(quantities[field].least, Number(value.toFixed(3))))
			.filter((value) => value <= quantities[field].most),
	);
const range = (least: number, most: number) =>
	fc
		.tuple(number(least, most), number(least, most))
		.map(([one, other]) => ({ low: Math.min(one, other), high: Math.max(one, other) }));
const ends = (most: number) =>
	fc.oneof(
		range(0, most),
		fc.integer({ min: 0, max: most }).map((value) => ({ low: value, high: value })),
		number(0, most).map((low) => ({ low })),
		number(0, most).map((high) => ({ high })),
	);
const scales = fc.constantFrom(
	...(["P", "JIS", "CAMI"] as const).flatMap((scale) =>
		[...gradeTables[scale].keys()].map((grit) => (scale === "P" ? `P${grit}` : `${scale} ${grit}`)),
	),
);
const boxes = fc.array(
	fc.record(
		Object.fromEntries(
			axes.map((axis) => [axis, fc.uniqueArray(words(axis), { minLength: 1, maxLength: 3 })]),
		) as Record<string, fc.Arbitrary<string[]>>,
		{ requiredKeys: [] },
	),
	{ minLength: 1, maxLength: 3 },
);

const generators = (language: Language): { [Field in StepField]-?: fc.Arbitrary<unknown> } => ({
	stage: words("stage"),
	instruction: own(language),
	place: words("place"),
	spotMm: within("spotMm"),
	edges: words("edges"),
	tool: fc.oneof(words("tool"), fc.constant("tool-a")),
	abrasive: fc.oneof(
		scales,
		fc.constantFrom("odd-disc", "even-disc", "2000", "16 µm", "12.5 µm", "P1700"),
		fc.integer({ min: 1, max: 3000 }).map((um) => `${um / 100} µm`),
	),
	carrier: words("carrier"),
	holes: words("holes"),
	backing: fc.oneof(words("backing"), fc.constant("plate-a")),
	interfaceMm: within("interfaceMm"),
	pad: fc.oneof(words("pad"), fc.constantFrom("pad-a", "pad-b")),
	padUse: words("padUse"),
	padCare: own(language),
	wetness: words("wetness"),
	wetWith: words("wetWith"),
	liquid: fc.oneof(words("liquid"), fc.constant("liquid-a")),
	wipe: words("wipe"),
	speed: fc.oneof(
		range(50, 30_000).map((span) => ({ unit: "rpm", ...span })),
		range(50, 30_000).map((span) => ({ unit: "opm", ...span })),
		range(1, 30_000).map((span) => ({ unit: "spm", ...span })),
		range(0, 10).map((span) => ({ unit: "dial", ...span })),
	),
	work: fc.oneof(
		ends(1000).map((span) => ({ unit: "passes", ...span })),
		ends(10_000).map((span) => ({ unit: "strokes", ...span })),
		ends(1440).map((span) => ({ unit: "minutes", ...span })),
		fc.constant({ unit: "until-flush" }),
		ends(10_000).map((span) => ({ unit: "until-flush", ...span })),
	),
	pattern: words("pattern"),
	forceN: within("forceN"),
	overlap: within("overlap"),
	armSpeedMs: within("armSpeedMs"),
	sectionM2: within("sectionM2"),
	amountMl: within("amountMl"),
	discEvery: fc.record({ unit: words("discUnit"), count: number(0, 100) }),
	waitMinutes: within("waitMinutes"),
	waitFor: words("waitFor"),
	need: words("need"),
	ifNot: fc.oneof(
		fc.constant({ ask: true }),
		fc.record({ back: fc.constantFrom(...rows) }),
		fc.record({ back: fc.constantFrom(...rows), atMost: fc.integer({ min: 0, max: 999 }) }),
		fc.record({ back: fc.constantFrom(...rows), atMost: fc.integer({ min: 0, max: 999 }), ask: fc.constant(true) }),
	),
	when: boxes,
	check: own(language),
	light: own(language),
	by: words("by"),
	mustNotVary: fc.uniqueArray(fc.constantFrom(...stepFields), { minLength: 1, maxLength: 5 }),
	note: fc
		.string({ minLength: 1 })
		.map((text) => text.trim())
		.filter((text) => text !== ""),
});

describe("write", () => {
	for (const language of ["en", "es"] as const)
		it.each(stepFields)(`writes every %s in ${language} so that it reads back the same`, (field) => {
			fc.assert(
				fc.property(generators(language)[field], fc.boolean(), fc.boolean(), (value, withStock, withRows) => {
					const context = {
						field,
						language,
						...(withStock ? { stock } : {}),
						...(withRows ? { rows } : {}),
					};
					if (!withStock && typeof value === "string" && /-(?:a|b|disc)$/.test(value)) return;
					expect(read(write(value as FieldValue, context), context)).toEqual({ value });
				}),
				{ seed: 5, numRuns: 200 },
			);
		});

	it.each([
		["speed", { unit: "dial", low: 4, high: 4 }, "dial 4", "posición 4"],
		["speed", { unit: "rpm", low: 1200, high: 1500 }, "1200–1500 rpm", "1200–1500 rpm"],
		["work", { unit: "passes", low: 1, high: 1 }, "1 pass", "1 pasada"],
		["work", { unit: "passes", low: 2, high: 3 }, "2–3 passes", "2–3 pasadas"],
		["work", { unit: "until-flush", high: 40 }, "until flush, up to 40", "hasta enrasar, hasta 40"],
		["overlap", 0.5, "50 %", "50 %"],
		["forceN", 29.5, "29.5 N", "29,5 N"],
		["abrasive", "12.5 µm", "12.5 µm", "12,5 µm"],
		["abrasive", "P1500", "P1500", "P1500"],
		["discEvery", { unit: "section", count: 2 }, "every 2 sections", "cada 2 secciones"],
		[
			"when",
			[{ tone: ["dark"], substrate: ["steel"] }],
			"substrate: steel; tone: dark",
			"sustrato: acero; tono: oscuro",
		],
		[
			"ifNot",
			{ back: "cccccccccc", atMost: 2 },
			"back to row 3, at most 2 times",
			"volver a la fila 3, como máximo 2 veces",
		],
		["mustNotVary", ["speed", "work"], "Speed, Work", "Velocidad, Trabajo"],
		["check", { es: "Sin cercos" }, "Sin cercos", "Sin cercos"],
	] as [StepField, FieldValue, string, string][])("writes the %s %j as %j and %j", (field, value, en, es) => {
		expect(write(value, { field, language: "en", rows })).toBe(en);
		expect(write(value, { field, language: "es", rows })).toBe(es);
	});
});

describe("quantities", () => {
	it("have the ends that the schema sets", () => {
		const schema = JSON.parse(readFileSync(new URL("../../../schemas/procedure.schema.json", import.meta.url), "utf8"));
		for (const [field, { least, most }] of Object.entries(quantities)) {
			const { minimum, maximum } = schema.$defs.Step.properties[field];
			expect([field, least, most]).toEqual([field, minimum, maximum]);
		}
	});

	it.each([
		["1.2 mil", "um", 30.48],
		["1,2 mil", "um", 30.48],
		["38 µm", "mil", 38],
		["38 μm", "mil", 38],
		["38", "um", 38],
		["1.5", "mil", 38.1],
		["45 micras", "mil", 45],
		["2 mils", "um", 50.8],
	] as const)("read film %j in a book that shows %s as %d µm", (text, bare, um) => {
		expect(readFilm(text, bare)).toEqual({ value: expect.closeTo(um, 10) });
	});
});
