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
