import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { inLanguage, sayDate, saying } from "../../src/workbench/words.ts";

describe("words", () => {
	it("fills a sentence in, and leaves a name without a value", () => {
		const say = saying({ rows: { en: "{count} rows of {book}", es: "{count} filas" } }, "en");
		expect(say("rows", { count: 3 })).toBe("3 rows of {book}");
	});

	it.each([
		[{ en: "Nib", es: "Mota" }, "Mota"],
		[{ en: "Nib" }, "Nib"],
		[null, ""],
	])("takes of %j %j", (text, words) => expect(inLanguage(text, "es")).toBe(words));

	it.each([
		["2026-05-12", "en", "12 May 2026"],
		["2026-05-12", "es", "12 de mayo de 2026"],
		["2026-13-40", "en", "2026-13-40"],
		["spring", "en", "spring"],
	] as const)("says %s in %s as %s", (date, language, words) => expect(sayDate(date, language)).toBe(words));
});

describe("the texts of every folder", () => {
	// The vocabulary is one file a language; a test of the model compares the two.
	const files = readdirSync("src", { recursive: true, encoding: "utf8" })
		.filter((path) => path.endsWith(".json") && !/words\.(en|es|shared)\.json$/.test(path))
		.map((path) => ({ path, pairs: pairsIn(JSON.parse(readFileSync(`src/${path}`, "utf8")), "") }))
		.filter(({ pairs }) => pairs.length > 0);

	it("are found", () => {
		const paths = files.map(({ path }) => path.replaceAll("\\", "/"));
		expect(paths.filter((path) => path.endsWith("/words.json")).length).toBeGreaterThan(6);
		expect(paths).toEqual(expect.arrayContaining(["model/data/problems.json", "print/data/cautions.json"]));
	});

	it.each(files)("say everything in both languages, with the same values in them: $path", ({ pairs }) => {
		for (const { at, en, es } of pairs) expect(namesIn(es), at).toEqual(namesIn(en));
	});
});

interface Pair {
	at: string;
	en: unknown;
	es: unknown;
}

/** Every place that says something in one of the languages. */
function pairsIn(data: unknown, at: string): Pair[] {
	if (typeof data !== "object" || data === null) return [];
	if ("en" in data || "es" in data) {
		const { en, es, ...others } = data as Record<string, unknown>;
		return [{ at, en, es }, ...pairsIn(others, at)];
	}
	return Object.entries(data).flatMap(([key, value]) => pairsIn(value, `${at}/${key}`));
}

/** What a text has in braces; for texts under keys the same of each. A text that is missing or empty has nothing to compare. */
function namesIn(text: unknown): unknown {
	if (typeof text === "string" && text.trim() !== "") return [...new Set(text.match(/\{\w+\}/g))].toSorted();
	if (Array.isArray(text)) return text.map(namesIn);
	if (typeof text === "object" && text !== null)
		return Object.fromEntries(Object.entries(text).map(([key, value]) => [key, namesIn(value)]));
	throw new RangeError(`no text: ${JSON.stringify(text)}`);
}
