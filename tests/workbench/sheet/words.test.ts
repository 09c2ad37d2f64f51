import { describe, expect, it } from "vitest";
import words from "../../../src/workbench/sheet/words.json" with { type: "json" };

describe("the words of the Sheet", () => {
	it("say everything in both languages, with the same values in them", () => {
		const names = (text: string) => (text.match(/\{\w+\}/g) ?? []).toSorted();
		for (const [key, { en, es }] of Object.entries(words)) {
			expect(en, key).not.toBe("");
			expect(es, key).not.toBe("");
			expect(names(es), key).toEqual(names(en));
		}
	});
});
