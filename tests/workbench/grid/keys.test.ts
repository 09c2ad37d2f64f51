import { describe, expect, it } from "vitest";
import { commandOf, gridKeys, gridKeysInWords } from "../../../src/workbench/grid/keys.ts";
import words from "../../../src/workbench/grid/words.json" with { type: "json" };

const none = { ctrlKey: false, metaKey: false, shiftKey: false, altKey: false };

describe("keys of the rows", () => {
	it.each([
		[
			{ key: "d", ctrlKey: true },
			{ command: "fill", extend: false },
		],
		[
			{ key: "D", ctrlKey: true, shiftKey: true },
			{ command: "duplicate", extend: false },
		],
		[
			{ key: "z", metaKey: true },
			{ command: "undo", extend: false },
		],
		[
			{ key: "ArrowDown", shiftKey: true },
			{ command: "down", extend: true },
		],
		[
			{ key: "ArrowDown", altKey: true },
			{ command: "move-down", extend: false },
		],
		[
			{ key: "Tab", shiftKey: true },
			{ command: "previous", extend: false },
		],
		[{ key: "Delete", shiftKey: true }, null],
		[{ key: "a" }, null],
		[{ key: "s", ctrlKey: true }, null],
	])("read %j", (event, expected) => {
		expect(commandOf({ ...none, ...event })).toEqual(expected);
	});

	it("mean one thing each", () => {
		const all = gridKeys.flatMap(({ keys }) => keys);
		expect(new Set(all).size).toBe(all.length);
	});

	it.each(["en", "es"] as const)("are all explained in %s", (language) => {
		for (const { keys, does } of gridKeysInWords(language)) {
			expect(does).not.toMatch(/^does-/);
			expect(keys.join()).not.toMatch(/key-|Arrow/);
		}
		for (const [key, sentence] of Object.entries(words)) expect(sentence[language], key).toBeTruthy();
	});
});
