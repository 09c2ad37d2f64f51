import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readJson } from "../../src/model/locate.ts";

const read = (text: string) => {
	const result = readJson(text);
	if ("problem" in result) throw new Error(result.problem.message);
	return result;
};

const losses = (text: string) =>
	read(text).lossy.map(({ code, pointer, line, column }) => [code, pointer, line, column]);

describe("readJson", () => {
	it.each([
		['{"a":\n}', 2, 1],
		['{"a":1', 1, 7],
		["[1 2]", 1, 4],
		["[\r\n1,\r\n x]", 3, 2],
		['{"a":"x\ny"}', 1, 8],
		["", 1, 1],
		["{'a':1}", 1, 2],
		["\uFEFF[1 2]", 1, 4],
	])("says where %j stops being JSON", (text, line, column) => {
		expect(readJson(text)).toMatchObject({ problem: { code: "not-json", place: { line, column } } });
	});

	it.each([
		["repeated keys", '{"a":1,\n "a":2}', [["repeated-key", "/a", 2, 2]]],
		["a key repeated inside a repeated one", '{"a":{"b":1},"a":{"b":2}}', [["repeated-key", "/a", 1, 14]]],
		["keys repeated by escape", '{"a":1,"\\u0061":2}', [["repeated-key", "/a", 1, 8]]],
		["numbers too large", "[1e999]", [["number-not-kept", "/0", 1, 2]]],
		["numbers too small", "[1e-400]", [["number-not-kept", "/0", 1, 2]]],
		["numbers too fine", "[0.1000000000000000055]", [["number-not-kept", "/0", 1, 2]]],
		["whole numbers too long", "[12345678901234567890]", [["number-not-kept", "/0", 1, 2]]],
		[
			"negative zero",
			"[-0, -0.0]",
			[
				["number-not-kept", "/0", 1, 2],
				["number-not-kept", "/1", 1, 6],
			],
		],
		["raw half characters", '["a\ud800"]', [["broken-character", "/0", 1, 2]]],
		["escaped half characters", '[\n  "\\ud800"\n]', [["broken-character", "/0", 2, 3]]],
		["half characters in keys", '{"\\udc00": 1}', [["broken-character", "/\udc00", 1, 2]]],
		["unsafe names", '{\n  "__proto__": {\n    "x": 1\n  }\n}\n', [["unsafe-name", "/__proto__", 2, 3]]],
		["unsafe names by escape", '{"__pr\\u006fto__":1}', [["unsafe-name", "/__proto__", 1, 2]]],
	])("tells of %s", (_, text, expected) => {
		expect(losses(text)).toEqual(expected);
	});

	it.each([
		"[1.0, 1e3, 0.10, 100, 1E+2, 1.5e-7, 0e9, 5e-324, 1.7976931348623157e308]",
		'["\\ud83d\\ude00", "😀", "\\u0000", "constructor", "__proto__"]',
		'{"a/b": 1, "a~b": 2, "": 3}',
		'\t{"a" :\r\n[ ] }\r\n',
	])("finds nothing lost in %s", (text) => {
		expect(losses(text)).toEqual([]);
	});

	it("keeps an unsafe name as an ordinary member", () => {
		const { value } = read('{"__proto__": {"polluted": true}}');
		expect(Object.keys(value as object)).toEqual(["__proto__"]);
		expect(({} as Record<string, unknown>).polluted).toBeUndefined();
	});

	it("reads over a byte order mark and says so", () => {
		const { value, byteOrderMark, place } = read('\uFEFF{"a": 1}');
		expect([value, byteOrderMark]).toEqual([{ a: 1 }, true]);
		expect(place("/a")).toEqual({ line: 1, column: 7, offset: 7 });
	});

	it("refuses what lies too deep, however deep", () => {
		expect(read(`${"[".repeat(200)}${"]".repeat(200)}`).lossy).toEqual([]);
		for (const deep of ["[".repeat(201), '{"a":'.repeat(200_000), `"[[" ${"[".repeat(500_000)}`])
			expect(readJson(deep)).toMatchObject({ problem: { code: "too-deep" } });
	});

	it("does not count brackets in text as depth", () => {
		expect(read(`["${"[".repeat(300)}\\"${"{".repeat(300)}"]`).lossy).toEqual([]);
	});
});

describe("place", () => {
	const text = `{
  "id": "x",
  "steps": [
    { "id": "a", "speed": {"low": 1} },
    { "id": "b", "a/b~c": [10, 20] }
  ]
}
`;
	it.each([
		["", 1, 1],
		["/id", 2, 9],
		["/steps/0/speed/low", 4, 35],
		["/steps/1/a~1b~0c/1", 5, 32],
		["/steps/0/speed/high", 4, 27],
		["/steps/0/stage", 4, 5],
		["/steps/7/stage", 3, 12],
		["/nowhere/at/all", 1, 1],
	])("finds %j, or what is nearest around it", (pointer, line, column) => {
		expect(read(text).place(pointer)).toMatchObject({ line, column });
	});

	it("finds the later of two repeated keys, the one that counts", () => {
		expect(read('{"a":1,\n"a":2}').place("/a")).toEqual({ line: 2, column: 5, offset: 12 });
	});

	it("points at the text of every value of any file", () => {
		fc.assert(
			fc.property(fc.jsonValue({ maxDepth: 4 }), fc.constantFrom(undefined, 2, "\t"), (value, indent) => {
				const json = JSON.stringify(value, null, indent);
				const { place, lossy } = read(json);
				const check = (part: unknown, pointer: string) => {
					const own = JSON.stringify(part);
					const { offset, line, column } = place(pointer);
					const rest = json.slice(offset);
					if (part === null || typeof part !== "object") expect(rest.startsWith(own)).toBe(true);
					else expect(rest[0]).toBe(own[0]);
					expect(json.split("\n")[line - 1]?.slice(column - 1)).toBe(rest.split("\n")[0]);
					if (part === null || typeof part !== "object") return;
					for (const [key, member] of Object.entries(part))
						check(member, `${pointer}/${key.replaceAll("~", "~0").replaceAll("/", "~1")}`);
				};
				check(value, "");
				if (!/__proto__|constructor|prototype/.test(json)) expect(lossy).toEqual([]);
			}),
			{ seed: 12, numRuns: 500 },
		);
	});
});
