import { cpSync, mkdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { nib, nibPath, servedBook } from "./served-book.ts";

const served = servedBook();
const limit = { value: 2, reason: "House rule.", by: "A", on: "2026-01-01" };
const put = (name: string, content: unknown) =>
	writeFileSync(join(served.shop, name), typeof content === "string" ? content : JSON.stringify(content));

describe("GET of the books", () => {
	it("lists each with its name and the number of its procedures", async () => {
		const { status, json } = await served.send("GET", "/api/books");
		expect([status, json]).toEqual([200, [{ id: "shop", name: "The Shop", procedures: 1 }]]);
	});

	it("tells two books of the same id apart by their folders, and lists one that does not open", async () => {
		mkdirSync(join(served.books, "copy"));
		writeFileSync(
			join(served.books, "copy/book.json"),
			'{ "format": 1, "id": "shop", "name": "The Shop", "gradeScale": "P" }',
		);
		mkdirSync(join(served.books, "broken"));
		writeFileSync(join(served.books, "broken/book.json"), "{");
		const { json } = await served.send("GET", "/api/books");
		expect(json).toEqual([
			{ id: "broken", name: "broken", procedures: 0 },
			{ id: "copy", name: "The Shop", procedures: 0 },
			{ id: "shop", name: "The Shop", procedures: 1 },
		]);
		expect(await served.send("GET", "/api/books/broken")).toMatchObject({
			status: 409,
			json: { code: "not-readable", problem: { code: "not-json" } },
		});
	});

	it("follows no link to a book", async () => {
		mkdirSync(join(served.books, "../outside"));
		writeFileSync(
			join(served.books, "../outside/book.json"),
			'{ "format": 1, "id": "o", "name": "O", "gradeScale": "P" }',
		);
		symlinkSync(join(served.books, "../outside"), join(served.books, "linked"));
		expect((await served.send("GET", "/api/books")).json).toHaveLength(1);
		expect(await served.send("GET", "/api/books/linked")).toMatchObject({
			status: 404,
			json: { code: "no-such-book" },
		});
	});

	it("says so when the folder of books has gone, and goes on when it is back", async () => {
		rmSync(served.books, { recursive: true });
		for (const path of ["/api/books", "/api/books/shop", "/api/books/shop/procedures", nibPath])
			expect(await served.send("GET", path)).toMatchObject({ status: 409, json: { code: "not-readable" } });
		mkdirSync(served.books);
		expect(await served.send("GET", "/api/books")).toMatchObject({ status: 200, json: [] });
		expect(served.faults).toEqual([]);
	});
});

describe("GET of a book", () => {
	it("hands out what procedures are judged by, as far as it is valid, and says what is wrong", async () => {
		put("stock.json", {
			format: 1,
			pads: [
				{ id: "blue", name: "Pad", kind: "foam-soft" },
				{ id: "red", name: 7, kind: "x" },
			],
		});
		put("limits.json", { format: 1, values: { gradeStepRatio: limit } });
		put("trials.json", "{");
		const { status, json } = await served.send("GET", "/api/books/shop");
		expect(status).toBe(200);
		expect(json.book).toMatchObject({ id: "shop", name: "The Shop" });
		expect(json.stock.pads[0]).toMatchObject({ id: "blue" });
		expect(json.limits).toEqual({ format: 1, values: { gradeStepRatio: limit } });
		expect(json.problems).toEqual(
			expect.arrayContaining([
				{ name: "trials.json", problem: expect.objectContaining({ code: "not-json" }) },
				{
					name: "stock.json",
					problem: expect.objectContaining({ code: "not-allowed-word", place: { pointer: "/pads/1/kind" } }),
				},
			]),
		);
	});

	it("knows no book that is not listed", async () => {
		expect(await served.send("GET", "/api/books/other")).toMatchObject({ status: 404, json: { code: "no-such-book" } });
	});
});

describe("GET of the procedures", () => {
	const list = async () => (await served.send("GET", "/api/books/shop/procedures")).json;

	it("sums each up: findings by level, film, minutes, the code on its card", async () => {
		const { procedures, problems } = await list();
		expect(problems).toEqual([]);
		expect(procedures).toHaveLength(1);
		expect(procedures[0]).toMatchObject({
			id: "nib",
			title: { en: "Nib" },
			state: "draft",
			revision: null,
			rows: 1,
			code: expect.stringMatching(/^[0-9A-HJKMNP-TV-Z]{10}$/),
			accepted: 0,
		});
		expect(procedures[0].counts.stop + procedures[0].counts.caution).toBeGreaterThan(0);
	});

	it("counts apart what somebody accepted on purpose, and leaves unknown what is unknown", async () => {
		cpSync(new URL("../../procedures/quillfeather", import.meta.url), join(served.books, "quillfeather"), {
			recursive: true,
		});
		const { procedures } = (await served.send("GET", "/api/books/quillfeather/procedures")).json;
		const accepting = procedures.find(({ id }: { id: string }) => id === "spot-etch-section");
		expect(accepting).toMatchObject({ accepted: 1, counts: { stop: 0 }, state: "released" });
		for (const quantity of ["takenUm", "leftUm", "minutes"]) {
			expect(Object.keys(accepting[quantity]).toSorted()).toEqual(["high", "low", "mid"]);
			expect((await list()).procedures[0][quantity]).toBeNull();
		}
	});

	it("sees at once that a file, the stock, a limit or the date has changed", async () => {
		await list();
		put("nib.procedure.json", { ...nib, title: { en: "Other" } });
		const second = await list();
		expect(second.procedures[0].title).toEqual({ en: "Other" });
		put("limits.json", { format: 1, values: { gradeStepRatio: limit } });
		expect((await list()).procedures[0].code).not.toBe(second.procedures[0].code);
		put("nib.procedure.json", { ...nib, reviewBy: "2026-06-01" });
		const fresh = (await list()).procedures[0].counts;
		served.today = "2026-07-01";
		expect((await list()).procedures[0].counts).not.toEqual(fresh);
		served.today = "2026-03-02";
	});

	it("names what does not open, what has another id than its name, and lists the others", async () => {
		put("broken.procedure.json", "{");
		put("name.procedure.json", { ...nib, id: "id" });
		symlinkSync(join(served.shop, "nib.procedure.json"), join(served.shop, "link.procedure.json"));
		mkdirSync(join(served.shop, "folder.procedure.json"));
		const { procedures, problems } = await list();
		expect(procedures.map(({ id }: { id: string }) => id)).toEqual(["name", "nib"]);
		expect(
			problems.map(({ name, problem }: { name: string; problem: { code: string } }) => [name, problem.code]),
		).toEqual([
			["broken.procedure.json", "not-json"],
			["folder.procedure.json", "not-a-file"],
			["link.procedure.json", "link"],
			["name.procedure.json", "other-id"],
		]);
	});
});

describe("GET of a procedure", () => {
	it("hands out the file as it is, unknown and invalid parts too, with an ETag of its bytes", async () => {
		const odd = { ...nib, ours: { kept: true }, steps: [{ id: "a", stage: "buff" }] };
		put("nib.procedure.json", odd);
		const first = await served.send("GET", nibPath);
		expect(first).toMatchObject({ status: 200, json: { value: odd, readOnly: [] } });
		expect(first.headers.etag).toMatch(/^"[0-9a-f]{64}"$/);
		put("nib.procedure.json", `${JSON.stringify(odd)}\n`);
		const second = await served.send("GET", nibPath);
		expect(second.json.value).toEqual(odd);
		expect(second.headers.etag).not.toBe(first.headers.etag);
	});

	it("answers 304 to one who has it already", async () => {
		const { headers } = await served.send("GET", nibPath);
		const again = await served.send("GET", nibPath, { headers: { "if-none-match": String(headers.etag) } });
		expect([again.status, again.text, again.headers.etag]).toEqual([304, "", headers.etag]);
		expect((await served.send("GET", nibPath, { headers: { "if-none-match": '"0"' } })).status).toBe(200);
	});

	it("says why a file must not be written", async () => {
		put("nib.procedure.json", '{ "format": 1, "id": "nib", "title": { "en": "a" }, "title": { "en": "b" } }');
		expect((await served.send("GET", nibPath)).json.readOnly).toMatchObject([{ code: "repeated-key" }]);
	});

	it.each([
		["is no JSON", "{", "not-json"],
		["is of a newer format", JSON.stringify({ ...nib, format: 99 }), "newer-format"],
		["is larger than 2 MiB", " ".repeat(2 * 1024 * 1024 + 1), "file-too-large"],
	])("says so of a file that %s", async (_, content, code) => {
		put("nib.procedure.json", content);
		expect(await served.send("GET", nibPath)).toMatchObject({
			status: 409,
			json: { code: "not-readable", problem: { code } },
		});
	});

	it("answers HEAD as GET, without the body", async () => {
		const get = await served.send("GET", nibPath);
		const head = await served.send("HEAD", nibPath);
		expect([head.status, head.headers.etag, head.text]).toEqual([200, get.headers.etag, ""]);
	});
});

it("forbids every answer to be guessed, framed or handed to other origins", async () => {
	for (const path of ["/api/books", nibPath, "/api/books/none", "/nowhere", "/paper"]) {
		const { headers } = await served.send("GET", path, { headers: { origin: "http://elsewhere.example" } });
		expect(headers).toMatchObject({ "x-content-type-options": "nosniff", "referrer-policy": "no-referrer" });
		expect(headers["content-security-policy"]).toMatch(/default-src 'none'.*frame-ancestors '(none|self)'/);
		expect(Object.keys(headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
	}
});
