import { describe, expect, it } from "vitest";
import { keptByText, sheetCommandOf, sheetKeys, sheetKeysInWords } from "../../../src/workbench/sheet/sheet-keys.ts";

const plain = { ctrlKey: false, metaKey: false, shiftKey: false, altKey: false };

describe("the keys of the Sheet", () => {
	it("each say what they do", () => {
		for (const language of ["en", "es"] as const)
			for (const { keys, does } of sheetKeysInWords(language)) {
				expect(does).not.toMatch(/^key-/);
				expect(keys.length).toBeGreaterThan(0);
			}
	});

	it.each([
		[{ ...plain, key: "s", ctrlKey: true }, "save"],
		[{ ...plain, key: "s", metaKey: true }, "save"],
		[{ ...plain, key: "Z", ctrlKey: true, shiftKey: true }, "redo"],
		[{ ...plain, key: "?", shiftKey: true }, "keys"],
		[{ ...plain, key: "?" }, "keys"],
		[{ ...plain, key: "PageDown", altKey: true }, "next"],
		[{ ...plain, key: "PageUp", altKey: true }, "previous"],
		[{ ...plain, key: "PageDown" }, null],
		[{ ...plain, key: "s" }, null],
		[{ ...plain, key: "s", ctrlKey: true, altKey: true }, null],
	])("read %o as %s", (event, command) => {
		expect(sheetCommandOf(event)).toBe(command);
	});

	it("save, print and walk through the findings from inside a text field too", () => {
		const always = sheetKeys.map(({ command }) => command).filter((command) => !keptByText.has(command));
		expect(always).toEqual(["save", "next", "previous", "print"]);
	});
});
