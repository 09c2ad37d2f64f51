import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readBytes, readText, writeText } from "../../src/book/files.ts";

let home: string;
beforeEach(() => {
	home = mkdtempSync(join(tmpdir(), "files-"));
});
afterEach(() => rmSync(home, { recursive: true }));

describe("readText", () => {
	it.each([
		["broken in the middle", [0x61, 0xff, 0x62], 1],
		["cut off inside a character", [0x61, 0x62, 0xe2, 0x82], 2],
		["in another encoding", [...Buffer.from("Proced", "latin1"), 0xe9, 0x20], 6],
	])("says where text %s stops being UTF-8", (_, bytes, byte) => {
		writeFileSync(join(home, "x"), Uint8Array.from(bytes));
		expect(readText(join(home, "x"))).toMatchObject({ problem: { code: "not-text", data: { byte } } });
	});

	it("keeps a byte order mark and whole characters of any length", () => {
		writeFileSync(join(home, "x"), "\uFEFF€ 😀");
		expect(readText(join(home, "x"))).toEqual({ text: "\uFEFF€ 😀" });
	});

	it("tells of a file that is not there", () => {
		expect(readBytes(join(home, "x"))).toMatchObject({ problem: { code: "not-readable", data: { why: "ENOENT" } } });
	});
});

describe("writeText", () => {
	it("replaces a file whole and leaves no draft", () => {
		const text = "ä€😀\n".repeat(200_000);
		writeFileSync(join(home, "x"), "before");
		expect(writeText(join(home, "x"), text)).toBeUndefined();
		expect(readFileSync(join(home, "x"), "utf8")).toBe(text);
		expect(readdirSync(home)).toEqual(["x"]);
	});

	it("leaves what was there, and no draft, where it cannot write", () => {
		mkdirSync(join(home, "x"));
		writeFileSync(join(home, "x", "inside"), "kept");
		expect(writeText(join(home, "x"), "text")).toMatchObject({ problem: { code: "not-writable" } });
		expect(readdirSync(home)).toEqual(["x"]);
		expect(readFileSync(join(home, "x", "inside"), "utf8")).toBe("kept");
	});
});
