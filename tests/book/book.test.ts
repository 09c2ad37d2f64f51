import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { findBooks, isBook, readBook, readShop } from "../../src/book/book.ts";
import type { Procedure } from "../../src/model/generated/types.ts";

let home: string;
beforeEach(() => {
	home = mkdtempSync(join(tmpdir(), "book-"));
});
afterEach(() => rmSync(home, { recursive: true }));

const procedure = (id: string): Procedure => ({ format: 1, id, title: { en: id }, steps: [] });
const put = (name: string, content: unknown) =>
	writeFileSync(join(home, name), typeof content === "string" ? content : JSON.stringify(content));
const putBook = () => put("book.json", { format: 1, id: "shop", name: "Shop", gradeScale: "JIS" });
const read = () => {
	const book = readBook(home);
	if ("problem" in book) throw new Error(book.problem.message);
	return book;
};

describe("readBook", () => {
	it("reads every part that is there, and every procedure in the order of their names", () => {
		putBook();
		put("stock.json", { format: 1, pads: [{ id: "blue", name: "Pad", kind: "foam-soft" }] });
		put("trials.json", { format: 1 });
		for (const id of ["b", "a"]) put(`${id}.procedure.json`, procedure(id));
		put("notes.txt", "not of the book");
		const { shop, parts, procedures, problems } = read();
		expect(shop).toMatchObject({ generic: false, book: { gradeScale: "JIS" }, stock: { pads: [{ id: "blue" }] } });
		expect(parts.map(({ name, file }) => [name, file.kind])).toEqual([
			["book.json", "book"],
			["stock.json", "stock"],
			["trials.json", "trials"],
		]);
		expect(procedures.map(({ file }) => file.readable)).toEqual([procedure("a"), procedure("b")]);
		expect(problems).toEqual([]);
	});

	it("goes by defaults where stock and limits are missing", () => {
		putBook();
		const { shop } = read();
		expect(shop.stock).toEqual({ format: 1 });
		expect(shop.limits.gradeStepRatio).toBeGreaterThan(1);
	});

	it.each([
		["is no JSON", "x.procedure.json", "{", "not-json"],
		["has a newer format", "x.procedure.json", { ...procedure("x"), format: 9 }, "newer-format"],
		["is too large", "x.procedure.json", " ".repeat(2 * 1024 * 1024 + 1), "file-too-large"],
		["has another id than its name", "x.procedure.json", procedure("y"), "other-id"],
		["is a stock that is no record", "stock.json", [], "not-an-object"],
	])("tells of a file that %s, and reads the others", (_, name, content, code) => {
		putBook();
		put("good.procedure.json", procedure("good"));
		put(name, content);
		const { problems, procedures } = read();
		expect(problems).toMatchObject([{ name, problem: { code } }]);
		expect(procedures.map((one) => one.name)).toContain("good.procedure.json");
	});

	it("follows no link and reads no folder as a file", () => {
		putBook();
		put("elsewhere.json", procedure("linked"));
		symlinkSync(join(home, "elsewhere.json"), join(home, "linked.procedure.json"));
		mkdirSync(join(home, "folder.procedure.json"));
		const { problems, procedures } = read();
		expect(problems.map(({ name, problem }) => [name, problem.code])).toEqual([
			["folder.procedure.json", "not-a-file"],
			["linked.procedure.json", "link"],
		]);
		expect(procedures).toEqual([]);
	});

	it("refuses a folder without a book.json, and one whose book.json does not open", () => {
		expect(readBook(home)).toMatchObject({ problem: { code: "not-a-book", data: { name: home } } });
		put("book.json", "[]");
		expect(readBook(home)).toMatchObject({ problem: { code: "not-an-object" } });
		expect(readShop(home)).toMatchObject({ problem: { code: "not-an-object" } });
	});
});

describe("findBooks", () => {
	it("finds the folder itself, or the books directly inside it by name", () => {
		for (const name of ["two", "one", "none", "deep", "deep/book"]) mkdirSync(join(home, name));
		for (const name of ["one", "two", "deep/book"]) put(join(name, "book.json"), { format: 1, id: "x", name: "X" });
		expect(findBooks(home)).toEqual({ books: [join(home, "one"), join(home, "two")] });
		expect(findBooks(join(home, "one"))).toEqual({ books: [join(home, "one")] });
		expect(findBooks(join(home, "none"))).toEqual({ books: [] });
		expect(isBook(join(home, "none"))).toBe(false);
	});

	it.each(["missing", "file"])("tells of a %s instead of a folder", (name) => {
		put("file", "text");
		expect(findBooks(join(home, name))).toMatchObject({ problem: { code: "not-readable" } });
	});
});
