import { describe, expect, it } from "vitest";
import { nearestWords } from "../../src/model/nearest-words.ts";

describe("the words nearest to what was typed", () => {
	it.each([
		["sandd", ["sand", "seal", "sanding"], ["sand"]],
		["sandd", ["sand 2", "sandd3"], []],
		["rotery", ["rotary", "razor"], ["rotary"]],
		["hnad", ["hand", "lamp", "sand"], ["hand"]],
		["xx", ["da", "ro"], []],
		["", ["a"], []],
		["grade-jmp", ["grade-jump", "grade-mixed"], ["grade-jump"]],
		["Rotary", ["rotary"], ["rotary"]],
	])("of %j among %j are %j", (typed, words, near) => {
		expect(nearestWords(typed, words)).toEqual(near);
	});

	it("are those of the fewest slips alone, each once, three at most", () => {
		expect(nearestWords("wonder", ["wander", "wandr", "wander", "ponder", "yonder", "wonders"])).toEqual([
			"wander",
			"ponder",
			"yonder",
		]);
	});
});
