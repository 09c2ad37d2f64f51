import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gradeTables, jisBySedimentation, medianSource, readGrade } from "../../src/model/grades.ts";
import reference from "../reference/grades.json" with { type: "json" };

/** The medians of one reference table by their number. */
function published(id: string): [number, number][] {
	const table = reference.find((one) => one.id === id);
	if (!table) throw new Error(`no reference table ${id}`);
	return table.values.map((row) => [
		Number(("grade" in row ? row.grade : "").replace(/\D/g, "")),
		"um" in row ? row.um : Number.NaN,
	]);
}

describe("medians", () => {
	it.each(["fepa_p_macro_median", "fepa_p_micro_median"])("agree with the reference table %s", (id) => {
		for (const [number, um] of published(id)) expect([number, gradeTables.P.get(number)?.um]).toEqual([number, um]);
	});

	it("agree with the reference for JIS by either method", () => {
		for (const [number, um] of published("jis_r6001_electrical"))
			expect(gradeTables.JIS.get(number)).toMatchObject({
				um,
				method: "electrical resistance",
			});
		for (const [number, um] of published("jis_r6001_sedimentation"))
			expect(jisBySedimentation.get(number)).toMatchObject({
				um,
				method: "sedimentation",
			});
	});

	it("agree with the reference for CAMI, from memory at the fine end", () => {
		for (const [number, um] of published("cami_b74_18")) expect(gradeTables.CAMI.get(number)?.um).toBe(um);
	});

	it("lie within 1 % of the second open CAMI table at the coarse end, which is how far the two tables differ", () => {
		for (const [number, um] of published("cami_seen_table_2").filter(([number]) => gradeTables.CAMI.has(number)))
			expect(Math.abs((gradeTables.CAMI.get(number)?.um ?? 0) / um - 1)).toBeLessThanOrEqual(0.0125);
	});

	it("step finer by the published ratios from P240 to P2500", () => {
		const ratios = reference.find(({ id }) => id === "fepa_p_micro_step_ratio")?.values ?? [];
		expect(ratios).toHaveLength(12);
		for (const row of ratios) {
			if (!("ratio" in row)) throw new Error("a row without a ratio");
			const [from, to] = [readGrade(row.from), readGrade(row.to)];
			if (from?.kind !== "grade" || to?.kind !== "grade") throw new Error(`${row.from} or ${row.to} is unknown`);
			expect(from.um / to.um).toBeCloseTo(row.ratio, 4);
		}
	});

	it.each(["P", "JIS", "CAMI"] as const)("fall along the scale %s", (scale) => {
		const rows = [...gradeTables[scale]];
		for (const [index, [number, { um }]] of rows.entries()) {
			const before = rows[index - 1];
			if (before) expect(number > before[0] && um < before[1].um, `${scale} ${number}`).toBe(true);
		}
	});

	it("mark P3000 and P5000 as a stock datum without a neutral source", () => {
		for (const [text, um] of [
			["P3000", 6.5],
			["P5000", 4.5],
		] as const) {
			const grade = readGrade(text);
			expect(grade).toMatchObject({ kind: "grade", um });
			if (grade?.kind === "grade") expect(medianSource(grade)?.source).toContain("stock datum, no neutral source");
		}
	});
});

describe("readGrade", () => {
	it.each([
		["p2000", "P2000"],
		["P2000", "P2000"],
		["2000 P", "P2000"],
		["2000P", "P2000"],
		["P 2000", "P2000"],
		["P-2000", "P2000"],
		["  P2000 ", "P2000"],
		["FEPA P2000", "P2000"],
		["P1,500", "P1500"],
		["P 1.500", "P1500"],
		["P1 500", "P1500"],
		["P2000 grit", "P2000"],
		["p2000grit", "P2000"],
		["lija P1500", "P1500"],
		["#2000", "JIS 2000"],
		["JIS2000", "JIS 2000"],
		["JIS 2000", "JIS 2000"],
		["jis #2000", "JIS 2000"],
		["2000 JIS", "JIS 2000"],
		["CAMI 400", "CAMI 400"],
		["ANSI 400", "CAMI 400"],
		["400 cami", "CAMI 400"],
		["16 µm", "16 µm"],
		["16 μm", "16 µm"],
		["16um", "16 µm"],
		["16 micron", "16 µm"],
		["16 microns", "16 µm"],
		["16 micras", "16 µm"],
		["12,5 µm", "12.5 µm"],
		["0.5 µm", "0.5 µm"],
		["5 µ", "5 µm"],
	])("reads %s as %s", (text, grade) => {
		expect(readGrade(text)).toMatchObject({
			kind: "grade",
			text: grade,
			bare: false,
		});
	});

	it.each([
		["2000", undefined, "P2000"],
		["2000", "P", "P2000"],
		["2000", "JIS", "JIS 2000"],
		["400", "CAMI", "CAMI 400"],
		["2000 grit", undefined, "P2000"],
		["grit 2000", "P", "P2000"],
		["grano 2000", "P", "P2000"],
		["lija 1500", undefined, "P1500"],
		["1,500", "P", "P1500"],
	] as const)("reads the bare %s on the scale of the book, %s, as %s", (text, scale, grade) => {
		expect(readGrade(text, scale)).toMatchObject({
			kind: "grade",
			text: grade,
			bare: true,
		});
	});

	it.each([
		["P1700", ["P1500", "P2000"]],
		["1700", ["P1500", "P2000"]],
		["#1100", ["JIS 1000", "JIS 1200"]],
		["CAMI 700", ["CAMI 600", "CAMI 800"]],
		["P9000", ["P5000"]],
		["P3", ["P12"]],
		["1.500 µm", ["1.5 µm", "1500 µm"]],
	])("refuses %s and names %j", (text, nearest) => {
		expect(readGrade(text)).toMatchObject({ kind: "unknown", nearest });
	});

	it.each([
		"",
		"film",
		"P",
		"P1500/2000",
		"1500-2000",
		"P 2000 JIS",
		"0",
		"P0",
		"F400",
		"fine",
		"2000 rpm",
		"-16 µm",
		"99999 µm",
		"P1500 film",
		"x".repeat(10_000),
	])("finds no grade in %j", (text) => {
		expect(readGrade(text)).toBeNull();
	});

	it("gives one grade several spellings but never two grades one spelling", () => {
		const texts = new Map<string, number>();
		for (const scale of ["P", "JIS", "CAMI"] as const)
			for (const number of gradeTables[scale].keys()) {
				const grade = readGrade(scale === "P" ? `p ${number}` : `${number} ${scale}`);
				if (grade?.kind !== "grade") throw new Error(`${scale} ${number} is unread`);
				expect(texts.has(grade.text)).toBe(false);
				texts.set(grade.text, grade.um);
				expect(readGrade(grade.text)).toEqual(grade);
			}
		expect(texts.size).toBe(30 + 18 + 23);
	});

	it("answers any text, and the same however often it is asked", () => {
		fc.assert(
			fc.property(fc.string(), fc.constantFrom("P", "JIS", "CAMI"), (text, scale) => {
				expect(readGrade(text, scale as "P")).toEqual(readGrade(text, scale as "P"));
			}),
			{ seed: 1, numRuns: 500 },
		);
	});
});
