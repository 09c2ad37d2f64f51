import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalText } from "../../src/model/canonical.ts";
import { readJson } from "../../src/model/locate.ts";

describe("canonicalText", () => {
	it("puts known keys in the order of the schema, then unknown ones by code unit, at every depth", () => {
		const value = {
			zebra: 1,
			Zebra: 2,
			steps: [{ own: { b: 1, a: 2 }, asTyped: { work: "x", speed: "y" }, stage: "sand", id: "aaaaaaaaaa" }],
			title: { es: "dos", fr: "trois", en: "one" },
			id: "a",
			format: 1,
		};
		expect(canonicalText("procedure", value)).toBe(`{
  "format": 1,
  "id": "a",
  "title": {
    "en": "one",
    "es": "dos",
    "fr": "trois"
  },
  "steps": [
    {
      "id": "aaaaaaaaaa",
      "stage": "sand",
      "asTyped": {
        "speed": "y",
        "work": "x"
      },
      "own": {
        "a": 2,
        "b": 1
      }
    }
  ],
  "Zebra": 2,
  "zebra": 1
}
`);
	});

	it("orders keys that look like numbers by code unit too, behind the known ones", () => {
		expect(canonicalText("book", { "9": 1, "10": 2, format: 1, "-": [] })).toBe(
			'{\n  "format": 1,\n  "-": [],\n  "10": 2,\n  "9": 1\n}\n',
		);
	});

	it.each([
		[{}, "{}\n"],
		[[], "[]\n"],
		[{ name: undefined }, "{}\n"],
		["tab\t“é”", '"tab\\t“é”"\n'],
		["\ud800", '"\\ud800"\n'],
		[-0, "-0\n"],
		[Number.POSITIVE_INFINITY, "1e999\n"],
		[1e21, "1e+21\n"],
	])("writes %o as %j", (value, text) => {
		expect(canonicalText("book", value)).toBe(text);
	});

	it("refuses what no file can hold", () => {
		expect(() => canonicalText("book", { name: Number.NaN })).toThrow(RangeError);
	});

	it("writes any value so that it reads back the same and writes the same again", () => {
		const value = fc.jsonValue({ maxDepth: 5 });
		fc.assert(
			fc.property(fc.dictionary(fc.constantFrom("steps", "id", "title", "7", "12", "own"), value), (file) => {
				const text = canonicalText("procedure", file);
				const read = readJson(text);
				if ("problem" in read) throw new Error(read.problem.message);
				expect(read.value).toEqual(file);
				expect(canonicalText("procedure", read.value)).toBe(text);
			}),
			{ seed: 11, numRuns: 500 },
		);
	});
});
