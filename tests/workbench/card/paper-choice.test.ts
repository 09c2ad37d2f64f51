import { describe, expect, it } from "vitest";
import { keepPaperChoice, paperChoice } from "../../../src/workbench/card/paper-choice.ts";

describe("the choice of paper", () => {
	it.each([
		["en-US", "Letter"],
		["es-MX", "Letter"],
		["en-GB", "A4"],
		["es-ES", "A4"],
		["es-419", "A4"],
		["en", "A4"],
		["", "A4"],
	])("is by default that of the country: %s", (locale, paper) => {
		expect(paperChoice(inMemory(), locale)).toEqual({ paper, language: null, withDrawing: false });
	});

	it("is the one made last, whatever the country", () => {
		const storage = inMemory();
		keepPaperChoice(storage, { paper: "A4", language: "es", withDrawing: true });
		expect(paperChoice(storage, "en-US")).toEqual({ paper: "A4", language: "es", withDrawing: true });
	});

	it.each(["{", "null", "7", '{"paper":"A3","language":"fr","withDrawing":"yes"}'])(
		"falls back where what is kept is %s",
		(kept) => {
			expect(paperChoice({ getItem: () => kept }, "en-US")).toEqual({
				paper: "Letter",
				language: null,
				withDrawing: false,
			});
		},
	);

	it("does without a storage that refuses", () => {
		const refuse = () => {
			throw new Error("full");
		};
		expect(() =>
			keepPaperChoice({ setItem: refuse }, { paper: "A4", language: null, withDrawing: false }),
		).not.toThrow();
		expect(paperChoice({ getItem: refuse }, "de-DE")).toEqual({ paper: "A4", language: null, withDrawing: false });
	});
});

function inMemory(): Pick<Storage, "getItem" | "setItem"> {
	const kept = new Map<string, string>();
	return { getItem: (key) => kept.get(key) ?? null, setItem: (key, value) => void kept.set(key, value) };
}
