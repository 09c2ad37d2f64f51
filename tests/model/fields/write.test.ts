import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stepFields } from "../../../src/model/fields/columns.ts";
import { quantities, readFilm } from "../../../src/model/fields/quantity.ts";
import { type FieldValue, read, type StepField } from "../../../src/model/fields/read.ts";
import { write } from "../../../src/model/fields/write.ts";
import { generators, rows, stock } from "./values.ts";

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
