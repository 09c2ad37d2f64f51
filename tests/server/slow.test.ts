import { connect } from "node:net";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { nib, nibPath, servedBook } from "./served-book.ts";

const served = servedBook({ headersMs: 200, requestMs: 400, idleMs: 5000 });
let before: Record<string, string>;
beforeEach(() => {
	before = served.files();
});
afterEach(expectNothingWritten);

describe("a client that is too slow", () => {
	it("is cut off with 408 where its headers do not end", async () => {
		const told = await trickle(`GET /api/books HTTP/1.1\r\nHost: ${served.host}\r\nx: `, "y");
		expect(told).toMatch(/^HTTP\/1.1 408 [\s\S]*"code":"too-slow"/);
	});

	it("is cut off with 408 where its body does not end", async () => {
		const { headers } = await served.send("GET", nibPath);
		const head = `PUT ${nibPath} HTTP/1.1\r\nHost: ${served.host}\r\nOrigin: http://${served.host}\r\nContent-Type: application/json\r\nIf-Match: ${headers.etag}\r\n`;
		expect(await trickle(`${head}Content-Length: ${JSON.stringify(nib).length}\r\n\r\n{`, " ")).toMatch(
			/^HTTP\/1.1 408 [\s\S]*"code":"too-slow"/,
		);
		expect(await trickle(`${head}Transfer-Encoding: chunked\r\n\r\n1\r\n{\r\n`, "1\r\n \r\n")).toMatch(
			/^HTTP\/1.1 408 /,
		);
	});

	it("is cut off where it says nothing at all", async () => {
		expect(await served.raw("")).toMatch(/^(HTTP\/1.1 408 [\s\S]*)?$/);
	});

	it("keeps nobody else waiting", async () => {
		const slow = Array.from({ length: 50 }, () => served.raw("GET / HTTP/1.1\r\n"));
		expect((await served.send("GET", "/api/books")).status).toBe(200);
		for (const told of await Promise.all(slow)) expect(told).toMatch(/^HTTP\/1.1 408 /);
	});

	it("may hang up in the middle of a save", async () => {
		const { headers } = await served.send("GET", nibPath);
		const socket = connect(served.server.port, "127.0.0.1");
		socket.write(
			`PUT ${nibPath} HTTP/1.1\r\nHost: ${served.host}\r\nOrigin: http://${served.host}\r\nContent-Type: application/json\r\nIf-Match: ${headers.etag}\r\nContent-Length: 500\r\n\r\n{`,
		);
		await new Promise((resolve) => setTimeout(resolve, 50));
		socket.destroy();
		await new Promise((resolve) => setTimeout(resolve, 50));
		expect((await served.send("GET", nibPath)).status).toBe(200);
	});
});

/** Sends a beginning, then a little more again and again; answers with what came until the server hung up. */
function trickle(beginning: string, more: string): Promise<string> {
	return new Promise((resolve) => {
		const socket = connect(served.server.port, "127.0.0.1", () => socket.write(beginning));
		const drip = setInterval(() => socket.write(more), 50);
		let said = "";
		socket.on("data", (some) => {
			said += some;
			clearInterval(drip);
		});
		socket.on("error", () => {});
		socket.on("close", () => {
			clearInterval(drip);
			resolve(said);
		});
	});
}

function expectNothingWritten(): void {
	expect(served.files()).toEqual(before);
	expect(served.faults).toEqual([]);
}
