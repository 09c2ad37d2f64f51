import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { Finding } from "../../../src/model/finding.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import { genericShop } from "../../../src/model/shop.ts";
import { findingsAt, phrasesOf, worstOf } from "../../../src/workbench/facts/summary.ts";

const demo = (id: string) =>
	JSON.parse(readFileSync(`procedures/quillfeather/${id}.procedure.json`, "utf8")) as Procedure;
const strip = (procedure: Procedure, language: "en" | "es") =>
	phrasesOf(procedure, genericShop, language).map(({ text }) => text);

describe("phrasesOf", () => {
	it("reads like the head of a bench card", () => {
		expect(strip(demo("scratch-section"), "en")).toEqual([
			"Sanding scratch, pigtail",
			"steel, aluminium",
			"refinish, refinish fast",
			"dark, mid, light",
			"film read by total gauge",
			"cured 24 h, or baked 35 min at 60 °C, then 2 h of wait",
			"respirator, gloves, eye protection",
			"start when: 2",
			"give up when: 3",
		]);
	});

	it("names what every procedure needs where nothing is said, in the reader's language", () => {
		const phrases = phrasesOf({ format: 1, id: "new", title: {} }, genericShop, "es");
		expect(phrases.every(({ isEmpty }) => isEmpty)).toBe(true);
		expect(phrases.map(({ text }) => text)).toContain("aún sin defectos");
		expect(phrases.map(({ part }) => part)).not.toContain("exceptions");
	});

	it("says goals that fall short of gone, situations left out, the least left, and findings accepted", () => {
		const procedure: Procedure = {
			...demo("spot-etch-section"),
			scope: {
				defects: [{ defect: "orange-peel", goal: "match-neighbour" }],
				except: [{ tone: ["dark"], substrate: ["steel"] }],
			},
			film: { known: "none", leastLeftUm: 45 },
		};
		const said = strip(procedure, "en").join(" | ");
		for (const words of [
			"Orange peel (match the neighbour)",
			"except steel · dark",
			"film not read, at least 45 µm left",
			"1 finding accepted",
		])
			expect(said).toContain(words);
	});
});

describe("findingsAt", () => {
	const finding = (some: Partial<Finding>): Finding => ({
		rule: "x",
		level: "advice",
		row: null,
		rowId: null,
		field: "scope",
		pointer: "/scope",
		situations: [{}],
		data: {},
		basis: { kind: "house", name: "", value: null, unit: null },
		accepted: null,
		...some,
	});
	const matt = finding({ pointer: "/scope/clearCoats/1", level: "stop" });
	const whole = finding({});
	const film = finding({ field: "film", pointer: "" });
	const accepted = finding({ accepted: { by: "Ada", on: "2026-01-01", until: null, reason: "seen" } });
	const ofRow = finding({ row: 0 });
	const all = [matt, whole, film, accepted, ofRow];

	it.each([
		["at their part", "scope", undefined, [matt, whole]],
		["at the member they point into", "scope", "clearCoats", [matt]],
		["of the whole scope at its first phrase", "scope", "defects", [whole]],
		["that stand at the procedure for want of a value", "film", undefined, [film]],
	])("finds those %s", (_, part, member, expected) => {
		expect(findingsAt(all, part, member)).toEqual(expected);
	});

	it("knows the worst level", () => {
		expect(worstOf([whole, matt])).toBe("stop");
		expect(worstOf([])).toBeNull();
	});
});
