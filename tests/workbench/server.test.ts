import { createServer, type RequestListener } from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach, describe, expect, it } from "vitest";
import { Server } from "../../src/workbench/server.ts";
import { nib, servedBook } from "../server/served-book.ts";

const served = servedBook();

/** A page's own fetch: addresses are of its server, and a save says where it comes from. */
const fetchOf =
	(host: string): typeof fetch =>
	(address, request) =>
		fetch(new URL(address as string, `http://${host}`), {
			...request,
			headers: { ...request?.headers, origin: `http://${host}` },
		});
const server = () => new Server(fetchOf(served.host));

describe("a live server", () => {
	it("answers with books, a book, and its procedures", async () => {
		expect(await server().books()).toEqual([{ id: "shop", name: "The Shop", procedures: 1 }]);
		expect(await server().book("shop")).toMatchObject({ book: { name: "The Shop" }, problems: [] });
		expect(await server().procedures("shop")).toMatchObject({ procedures: [{ id: "nib" }], problems: [] });
	});

	it("opens a procedure with its ETag, saves over it, and gives the ETag of the next save", async () => {
		const opened = await server().procedure("shop", "nib");
		if ("problem" in opened) throw new Error(opened.problem.detail);
		expect(opened).toMatchObject({ value: nib, readOnly: [] });
		const first = await server().save("shop", "nib", { ...opened.value, title: { en: "one" } }, { etag: opened.etag });
		if ("problem" in first) throw new Error(first.problem.detail);
		const second = await server().save("shop", "nib", { ...opened.value, title: { en: "two" } }, first);
		expect(second).toEqual({ etag: expect.stringMatching(/^"[0-9a-f]{64}"$/) });
		expect(await server().procedure("shop", "nib")).toMatchObject({ value: { title: { en: "two" } }, ...second });
	});

	it("creates a new one once", async () => {
		expect(await server().save("shop", "other", { ...nib, id: "other" }, "new")).toEqual({ etag: expect.any(String) });
		expect(await server().save("shop", "other", { ...nib, id: "other" }, "new")).toMatchObject({
			problem: { code: "already-there" },
		});
	});

	it("says what went wrong in the server's words", async () => {
		expect(await server().book("none")).toMatchObject({ problem: { code: "no-such-book", status: 404 } });
		expect(await server().procedure("shop", "none")).toMatchObject({ problem: { code: "no-such-procedure" } });
		expect(await server().save("shop", "nib", nib, { etag: `"${"0".repeat(64)}"` })).toMatchObject({
			problem: { code: "changed-meanwhile", status: 412 },
		});
	});
});

describe("a server that does not answer", () => {
	let close = () => {};
	afterEach(() => close());
	const strange = async (answer: RequestListener) => {
		const other = createServer(answer);
		await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
		close = () => {
			other.closeAllConnections();
			other.close();
		};
		return new Server(fetchOf(`127.0.0.1:${(other.address() as AddressInfo).port}`), 100);
	};
	const noAnswer = {
		problem: { code: "no-answer", status: 0, detail: expect.stringMatching(/does not answer.*is kept/) },
	};

	it("is a problem in words when it is dead", async () => {
		await served.server.close();
		for (const answer of [
			server().books(),
			server().procedure("shop", "nib"),
			server().save("shop", "nib", nib, "new"),
		])
			expect(await answer).toMatchObject(noAnswer);
	});

	it.each<[string, RequestListener]>([
		["never begins", () => {}],
		["never ends", (_, answer) => void answer.writeHead(200, { "content-type": "application/json" }).write("[")],
		["hangs up", (request) => request.socket.destroy()],
		["is something else", (_, answer) => void answer.end("<!doctype html>")],
		["is something else and refuses", (_, answer) => void answer.writeHead(502).end("{}")],
	])("is a problem in words when its answer %s", async (_, listener) => {
		const other = await strange(listener);
		expect(await other.books()).toMatchObject(noAnswer);
		expect(await other.save("shop", "nib", nib, "new")).toMatchObject(noAnswer);
	});
});
