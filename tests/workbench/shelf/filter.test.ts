import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
	type Entry,
	type Filter,
	filterQuery,
	grouped,
	matching,
	noFilter,
	readCode,
	readFilter,
} from "../../../src/workbench/shelf/filter.ts";
import { listed } from "./listed.ts";

const reader = { language: "en" as const, book: { defects: [] } };

const shelf = [
	listed("nib-blade", { title: { en: "Dirt nib: blade", es: "Mota: cuchilla" }, code: "Z20HRBYY3M" }),
	listed("peel-discs", {
		title: { en: "Texture: dry film discs" },
		scope: { defects: [{ defect: "orange-peel" }, { defect: "dry-spray" }], clearCoats: ["factory"] },
		counts: { stop: 1, caution: 0, advice: 2 },
		state: "draft",
		code: "TGQ148RKPD",
	}),
	listed("bumper", {
		scope: { substrates: ["plastic"] },
		counts: { stop: 0, caution: 3, advice: 0 },
		state: "withdrawn",
		code: "VBQGSS0QNP",
	}),
];

describe("matching", () => {
	const finds = (some: Partial<Filter>) => matching(shelf, { ...noFilter, ...some }, reader).map(({ id }) => id);

	it.each<[string, Partial<Filter>, string[]]>([
		["everything without a filter", {}, ["nib-blade", "peel-discs", "bumper"]],
		["words of a title in any order and case", { text: "BLADE nib" }, ["nib-blade"]],
		["words of a title in the other language", { text: "cuchilla" }, ["nib-blade"]],
		["the name of a defect, begun", { text: "orange pe" }, ["peel-discs"]],
		["the plural of a defect", { text: "nibs" }, ["nib-blade"]],
		["a substrate", { text: "plastic" }, ["bumper"]],
		["nothing where one word is missing", { text: "blade plastic" }, []],
		["the code of a card, as read aloud", { text: "z2O-hrb yy3m" }, ["nib-blade"]],
		["a level of findings", { findings: "advice" }, ["peel-discs"]],
		["procedures without open findings", { findings: "none" }, ["nib-blade"]],
		["a state", { state: "withdrawn" }, ["bumper"]],
		["a defect that stands second", { defect: "dry-spray" }, ["peel-discs"]],
		["only what fits every choice", { findings: "stop", state: "released" }, []],
	])("finds %s", (_, some, expected) => {
		expect(finds(some)).toEqual(expected);
	});

	it("finds a defect of the shop's own by its name", () => {
		const own = { id: "lint", name: { en: "Booth lint" }, position: "proud" as const, polishable: true };
		const one = listed("own", { scope: { defects: [{ defect: "lint" }] } });
		const found = matching([one], { ...noFilter, text: "booth" }, { language: "en", book: { defects: [own] } });
		expect(found).toEqual([one]);
	});
});

describe("the query of the address", () => {
	it("gives back the filter it was made from", () => {
		const filter = fc.record<Filter>({
			text: fc.string(),
			findings: fc.constantFrom("stop", "caution", "advice", "none", null),
			state: fc.constantFrom("draft", "in-review", "released", "withdrawn", null),
			defect: fc.option(fc.stringMatching(/^[a-z]{1,9}$/)),
		});
		fc.assert(
			fc.property(filter, (one) => {
				expect(readFilter(filterQuery(one))).toEqual(one);
			}),
			{ seed: 20260512 },
		);
	});

	it("is empty without a filter", () => expect(filterQuery(noFilter)).toBe(""));

	it("asks for nothing where it says what it does not know", () => {
		expect(readFilter("?findings=grave&state=lost&page=2")).toEqual(noFilter);
	});
});

describe("readCode", () => {
	it.each([
		["Z20HRBYY3M", "Z20HRBYY3M"],
		["tgqi48-rkpd", "TGQ148RKPD"],
		["TGQL48 RKPD", "TGQ148RKPD"],
		["ZZO0000000", "ZZ00000000"],
		["Z20HRBYY3", null],
		["Z20HRBYY3U", null],
		["", null],
	])("reads %j as %j", (text, code) => expect(readCode(text)).toBe(code));
});

describe("grouped", () => {
	const shown = (entries: readonly Entry[]): unknown[] =>
		entries.map(({ procedure, variants }) =>
			variants.length === 0 ? procedure.id : [procedure.id, ...shown(variants)],
		);
	const groups = (procedures: Parameters<typeof grouped>[0]) =>
		grouped(procedures).map(({ defect, entries }) => [defect, ...shown(entries)]);
	const of = (defect: string) => ({ defects: [{ defect }] });

	it("puts groups in the order of the trade's list, the shop's own after, and the unnamed last", () => {
		const all = [
			listed("none", { scope: {} }),
			listed("own", { scope: of("lint") }),
			listed("swirl", { scope: of("swirl") }),
			listed("nib"),
		];
		expect(groups(all)).toEqual([
			["dirt-nib", "nib"],
			["swirl", "swirl"],
			["lint", "own"],
			[null, "none"],
		]);
	});

	it("puts a variant under what it varies, whatever its own first defect", () => {
		const all = [
			listed("quick", { variantOf: "long", scope: of("swirl") }),
			listed("long"),
			listed("quicker", { variantOf: "quick" }),
		];
		expect(groups(all)).toEqual([["dirt-nib", ["long", ["quick", "quicker"]]]]);
	});

	it("lets a variant stand alone where what it varies is not shown", () => {
		expect(groups([listed("quick", { variantOf: "long" })])).toEqual([["dirt-nib", "quick"]]);
	});

	it("shows procedures that vary each other once each", () => {
		const all = [
			listed("a", { variantOf: "b" }),
			listed("b", { variantOf: "a" }),
			listed("c", { variantOf: "c" }),
			listed("d", { variantOf: "a" }),
		];
		expect(groups(all)).toEqual([["dirt-nib", ["a", "b", "d"], "c"]]);
	});
});
