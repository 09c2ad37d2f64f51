import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { nib, nibPath, servedBook } from "./served-book.ts";

const served = servedBook();
const etagNow = async () => String((await served.send("GET", nibPath)).headers.etag);
const body = JSON.stringify({ ...nib, title: { en: "theirs" } });

/** Nothing here may write: the files are as before after every test, and the server has no fault to tell. */
let before: Record<string, string>;
beforeEach(() => {
	mkdirSync(join(served.books, "../outside"));
	writeFileSync(join(served.books, "../outside/secret.procedure.json"), JSON.stringify({ ...nib, id: "secret" }));
	before = served.files();
});
afterEach(expectNothingWritten);

describe("a request that names another host", () => {
	it.each([
		["a foreign name", () => "elsewhere.example"],
		["a foreign name with the port", () => `elsewhere.example:${served.server.port}`],
		["a name that only begins as ours", () => `127.0.0.1:${served.server.port}.elsewhere.example`],
		["a name that only ends as ours", () => `elsewhere.example@127.0.0.1:${served.server.port}`],
		["another port", () => "127.0.0.1:1"],
		["no port", () => "127.0.0.1"],
		["another spelling of loopback", () => `127.1:${served.server.port}`],
		["the address of every interface", () => `0.0.0.0:${served.server.port}`],
		["a dot at the end", () => `localhost.:${served.server.port}`],
	])("is answered with 421: %s", async (_, host) => {
		for (const path of ["/", "/api/books", nibPath])
			expect(await served.send("GET", path, { headers: { host: host() } })).toMatchObject({
				status: 421,
				json: { code: "foreign-host", status: 421 },
			});
		const origin = `http://${host()}`;
		expect((await served.put(nibPath, body, { host: host(), origin, "if-match": await etagNow() })).status).toBe(421);
	});

	it("is answered with 421 where it names none, or two", async () => {
		for (const none of ["", "Host:\r\n"])
			expect(await served.raw(`GET /api/books HTTP/1.1\r\n${none}Connection: close\r\n\r\n`)).toMatch(
				/^HTTP\/1.1 421 /,
			);
		const two = `GET /api/books HTTP/1.1\r\nHost: ${served.host}\r\nHost: elsewhere.example\r\nConnection: close\r\n\r\n`;
		expect(await served.raw(two)).toMatch(/^HTTP\/1.1 4(21|00) /);
	});

	it("names ours by each name this machine has for itself", async () => {
		for (const name of ["127.0.0.1", "localhost", "[::1]"])
			expect(
				(await served.send("GET", "/api/books", { headers: { host: `${name}:${served.server.port}` } })).status,
			).toBe(200);
	});

	it("is judged by its Host where its address names a host, too", async () => {
		const told = await served.raw(
			`GET http://elsewhere.example/api/books HTTP/1.1\r\nHost: elsewhere.example\r\nConnection: close\r\n\r\n`,
		);
		expect(told).toMatch(/^HTTP\/1.1 421 /);
	});
});

describe("a save from elsewhere", () => {
	it.each([
		["of a foreign origin", () => "http://elsewhere.example"],
		["of no origin", () => ""],
		["of a hidden origin", () => "null"],
		["of our host on another port", () => "http://127.0.0.1:1"],
		["of our host by another scheme", () => `https://${served.host}`],
		["of our host by another of its names", () => `http://localhost:${served.server.port}`],
		["of an origin that only begins as ours", () => `http://${served.host}.elsewhere.example`],
	])("is refused with 403: %s", async (_, origin) => {
		const etag = await etagNow();
		for (const method of ["PUT", "POST", "DELETE", "PATCH"]) {
			const headers = {
				"content-type": "application/json",
				"if-match": etag,
				...(origin() ? { origin: origin() } : {}),
			};
			expect(await served.send(method, nibPath, { headers, body })).toMatchObject({
				status: 403,
				json: { code: "foreign-origin" },
			});
		}
	});

	it("gets no leave beforehand either", async () => {
		const reply = await served.send("OPTIONS", nibPath, {
			headers: { origin: "http://elsewhere.example", "access-control-request-method": "PUT" },
		});
		expect(reply.status).toBe(405);
		expect(Object.keys(reply.headers).filter((name) => name.startsWith("access-control"))).toEqual([]);
	});
});

describe("an address that leads out of the book", () => {
	const ways = [
		"../outside/secret",
		"..%2foutside%2fsecret",
		"..%2F..%2Foutside%2Fsecret",
		"%2e%2e%2f%2e%2e%2foutside%2fsecret",
		"%2e%2e/%2e%2e/outside/secret",
		"..%252f..%252foutside%252fsecret",
		"%252e%252e%252foutside%252fsecret",
		"..%5c..%5coutside%5csecret",
		"..\\..\\outside\\secret",
		"%2fetc%2fpasswd",
		"/etc/passwd",
		"c:%5cwindows",
		"secret%00",
		"..%c0%af..%c0%afoutside%c0%afsecret",
		"%",
		"%zz",
		"..",
		"shop%2fnib",
		"nib.procedure.json",
		"__proto__",
		"constructor",
	];

	it.each(ways)("reads and writes nothing: %s", async (way) => {
		for (const path of [
			`/api/books/shop/procedures/${way}`,
			`/api/books/${way}/procedures/nib`,
			`/assets/${way}`,
			`/${way}`,
		]) {
			const got = await served.send("GET", path);
			expect(got.text).not.toMatch(/root:|"id":"(secret|nib)"/);
			if (path.startsWith("/api")) {
				for (const [name, value] of [
					["if-none-match", "*"],
					["if-match", await etagNow()],
				] as const)
					expect((await served.put(path, body, { [name]: value })).status, path).toBeGreaterThanOrEqual(400);
			}
		}
	});

	it.each([
		"..",
		"../x",
		"a/b",
		"a\\b",
		"c:x",
		".hidden",
		"Nib",
		"nib ",
		"",
		"a--b",
		"x".repeat(81),
		"nïb",
		"__proto__",
	])("gives no new procedure the name %j", async (id) => {
		const reply = await served.put(
			`/api/books/shop/procedures/${encodeURIComponent(id)}`,
			JSON.stringify({ ...nib, id }),
			{
				"if-none-match": "*",
			},
		);
		expect(reply.status).toBeGreaterThanOrEqual(400);
		expect(reply.status).toBeLessThan(500);
	});
});

describe("a link in a book", () => {
	beforeEach(() => {
		symlinkSync(join(served.books, "../outside/secret.procedure.json"), join(served.shop, "secret.procedure.json"));
		symlinkSync(join(served.books, "../outside/new.procedure.json"), join(served.shop, "new.procedure.json"));
		symlinkSync(join(served.books, "../outside"), join(served.books, "elsewhere"));
	});

	it("is not read", async () => {
		expect(await served.send("GET", "/api/books/shop/procedures/secret")).toMatchObject({
			status: 409,
			json: { code: "not-readable", problem: { code: "link" } },
		});
		expect((await served.send("GET", "/api/books/elsewhere/procedures/secret")).status).toBe(404);
	});

	it("is not written through, nor in its place", async () => {
		const put = (id: string, basis: Record<string, string>) =>
			served.put(`/api/books/shop/procedures/${id}`, JSON.stringify({ ...nib, id }), basis);
		expect(await put("secret", { "if-match": await etagNow() })).toMatchObject({
			status: 409,
			json: { code: "not-readable" },
		});
		expect(await put("secret", { "if-none-match": "*" })).toMatchObject({
			status: 412,
			json: { code: "already-there" },
		});
		// Where it leads there is nothing yet.
		expect(await put("new", { "if-none-match": "*" })).toMatchObject({ status: 412, json: { code: "already-there" } });
	});
});

describe("a save in the wrong form", () => {
	it.each([
		"text/plain",
		"application/x-www-form-urlencoded",
		"multipart/form-data; boundary=x",
		"application/jsonp",
		"text/json",
		"application/json; charset=utf-16",
		"",
	])("is refused with 415 as %j", async (type) => {
		const reply = await served.put(nibPath, body, { "content-type": type, "if-match": await etagNow() });
		expect(reply).toMatchObject({ status: 415, json: { code: "not-json" } });
	});

	it("is refused with 415 where it is packed", async () => {
		const reply = await served.put(nibPath, body, { "content-encoding": "gzip", "if-match": await etagNow() });
		expect(reply).toMatchObject({ status: 415, json: { code: "not-json" } });
	});

	it.each([
		["no precondition", {}],
		["any state", { "if-match": "*" }],
		["a state for If-None-Match", { "if-none-match": '"x"' }],
		["both at once", { "if-match": '"x"', "if-none-match": "*" }],
	])("is refused with 428 where it names %s", async (_, headers) => {
		expect(await served.put(nibPath, body, headers)).toMatchObject({ status: 428, json: { code: "no-precondition" } });
	});

	it.each([
		["another", () => `"${"0".repeat(64)}"`],
		["none at all", () => "nonsense"],
		["ours as a weak one", async () => `W/${await etagNow()}`],
		["ours without its quotes", async () => (await etagNow()).slice(1, -1)],
	])("is refused with 412 where the state is %s", async (_, tag) => {
		expect(await served.put(nibPath, body, { "if-match": await tag() })).toMatchObject({
			status: 412,
			json: { code: "changed-meanwhile" },
		});
	});

	it("is refused with 412 where there is no file of that name, or one where it should be new", async () => {
		const gone = JSON.stringify({ ...nib, id: "gone" });
		expect(await served.put("/api/books/shop/procedures/gone", gone, { "if-match": await etagNow() })).toMatchObject({
			status: 412,
			json: { code: "changed-meanwhile" },
		});
		expect(await served.put(nibPath, body, { "if-none-match": "*" })).toMatchObject({
			status: 412,
			json: { code: "already-there" },
		});
	});

	const nested = (depth: number) => `${"[".repeat(depth)}${"]".repeat(depth)}`;
	it.each([
		["nothing", "", "not-json"],
		["broken JSON", '{ "id": "nib", ', "not-json"],
		["a list", "[]", "not-an-object"],
		["a text", '"nib"', "not-an-object"],
		["null", "null", "not-an-object"],
		["a record without an id", '{ "format": 1 }', "no-id"],
		["another id than the address", JSON.stringify({ ...nib, id: "other" }), "other-id"],
		["a newer format", JSON.stringify({ ...nib, format: 99 }), "newer-format"],
		["a name that stands twice", '{ "format": 1, "id": "nib", "title": { "en": "a", "en": "b" } }', "repeated-key"],
		["an id that stands twice", '{ "format": 1, "id": "other", "id": "nib" }', "repeated-key"],
		["an unsafe name", '{ "format": 1, "id": "nib", "__proto__": { "polluted": true } }', "unsafe-name"],
		["an unsafe name deep inside", '{ "format": 1, "id": "nib", "x": [{ "constructor": {} }] }', "unsafe-name"],
		["an escaped unsafe name", '{ "format": 1, "id": "nib", "\\u005f_proto__": 1 }', "unsafe-name"],
		["a number that JSON cannot keep", '{ "format": 1, "id": "nib", "x": 1e999 }', "number-not-kept"],
		["half a character", '{ "format": 1, "id": "nib", "x": "\\ud800" }', "broken-character"],
		["lists too deep", `{ "format": 1, "id": "nib", "x": ${nested(100_000)} }`, "too-deep"],
	])("is refused with 422 where it is %s", async (_, text, code) => {
		expect(await served.put(nibPath, text, { "if-match": await etagNow() })).toMatchObject({
			status: 422,
			json: { code: "not-valid", problem: { code } },
		});
		expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
	});

	it("is refused with 422 where it is no UTF-8", async () => {
		const latin = Buffer.from('{ "format": 1, "id": "nib", "x": "piñón" }', "latin1");
		expect(await served.put(nibPath, latin, { "if-match": await etagNow() })).toMatchObject({
			status: 422,
			json: { problem: { code: "not-text" } },
		});
	});

	it("is refused with 409 where the file holds what writing would lose", async () => {
		writeFileSync(join(served.shop, "nib.procedure.json"), '{ "format": 1, "id": "nib", "a": 1, "a": 2 }');
		before = served.files();
		expect(await served.put(nibPath, body, { "if-match": await etagNow() })).toMatchObject({
			status: 409,
			json: { code: "read-only", problem: { code: "repeated-key" } },
		});
	});
});

describe("a body larger than 2 MiB", () => {
	const piece = "x".repeat(64 * 1024);
	const large = JSON.stringify({ ...nib, x: piece.repeat(32) });

	it("is refused with 413 by the length it declares, before it is read", async () => {
		const told = await served.raw(
			`PUT ${nibPath} HTTP/1.1\r\nHost: ${served.host}\r\nOrigin: http://${served.host}\r\nContent-Type: application/json\r\nIf-Match: ${await etagNow()}\r\nContent-Length: 999999999999\r\n\r\n{`,
		);
		expect(told).toMatch(/^HTTP\/1.1 413 [\s\S]*"code":"body-too-large"/);
	});

	it("is refused with 413 where it declares its length, and where it comes in pieces", async () => {
		const etag = await etagNow();
		expect(large.length).toBeGreaterThan(2 * 1024 * 1024);
		expect(await served.put(nibPath, large, { "if-match": etag })).toMatchObject({
			status: 413,
			json: { code: "body-too-large" },
		});
		const pieces = Array.from({ length: 33 }, () => piece);
		expect(await served.put(nibPath, pieces, { "if-match": etag })).toMatchObject({
			status: 413,
			json: { code: "body-too-large" },
		});
	});

	it("is refused with 413 where only the form on disk is too large to be read again", async () => {
		const many = JSON.stringify({ ...nib, x: Array.from({ length: 400_000 }, () => 1) });
		expect(many.length).toBeLessThan(2 * 1024 * 1024);
		expect(await served.put(nibPath, many, { "if-match": await etagNow() })).toMatchObject({
			status: 413,
			json: { code: "body-too-large", problem: { code: "file-too-large" } },
		});
	});
});

describe("a request nobody expects", () => {
	it.each([
		["POST", nibPath, "GET, HEAD, PUT"],
		["DELETE", nibPath, "GET, HEAD, PUT"],
		["PATCH", nibPath, "GET, HEAD, PUT"],
		["OPTIONS", nibPath, "GET, HEAD, PUT"],
		["PUT", "/api/books", "GET, HEAD"],
		["PUT", "/api/books/shop", "GET, HEAD"],
		["POST", "/api/books/shop/procedures", "GET, HEAD"],
		["POST", "/paper", "GET, HEAD"],
		["PUT", "/books/shop", "GET, HEAD"],
	])("is refused with 405: %s %s", async (method, path, allow) => {
		const reply = await served.send(method, path, {
			headers: { origin: `http://${served.host}`, "content-type": "application/json" },
		});
		expect(reply).toMatchObject({ status: 405, json: { code: "not-allowed" }, headers: { allow } });
	});

	it.each([
		"/api",
		"/api/",
		"/api/book",
		"/api/books/shop/procedures/nib/more",
		"/favicon.ico",
		"/assets",
		"/assets/",
		"/books/shop/other/x",
		"/index.html",
	])("is refused with 404: %s", async (path) => {
		expect(await served.send("GET", path)).toMatchObject({
			status: 404,
			headers: { "content-type": "application/problem+json" },
			json: { code: "no-such-page" },
		});
	});

	it.each([
		["no HTTP", "hello\r\n\r\n"],
		["a header that is none", `GET / HTTP/1.1\r\nHost: x\r\n: y\r\n\r\n`],
		["headers without end", `GET / HTTP/1.1\r\nHost: x\r\nx: ${"y".repeat(40_000)}\r\n\r\n`],
		["two lengths", `PUT ${nibPath} HTTP/1.1\r\nHost: x\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n{}`],
		[
			"a length and pieces",
			`PUT ${nibPath} HTTP/1.1\r\nHost: x\r\nContent-Length: 1\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n`,
		],
	])("is refused with 400: %s", async (_, text) => {
		expect(await served.raw(text)).toMatch(/^HTTP\/1.1 400 [\s\S]*"code":"not-understood"/);
	});
});

function expectNothingWritten(): void {
	expect(served.files()).toEqual(before);
	expect(served.faults).toEqual([]);
}
