import { mkdirSync, mkdtempSync, readdirSync, readFileSync, realpathSync, rmSync, writeFileSync } from "node:fs";
import { type IncomingHttpHeaders, request as httpRequest } from "node:http";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach } from "vitest";
import { canonicalText } from "../../src/model/canonical.ts";
import type { Procedure } from "../../src/model/generated/types.ts";
import { type Patience, type RunningServer, startServer } from "../../src/server/server.ts";

/** What a server answered. */
export interface Reply {
	status: number;
	headers: IncomingHttpHeaders;
	text: string;
	/** The text read as JSON; null where it is none. */
	json: ReturnType<typeof JSON.parse>;
}

interface Asked {
	headers?: Record<string, string>;
	body?: string | Uint8Array | readonly (string | Uint8Array)[];
}

/** A server over a folder with one book, `shop`, that holds the procedure `nib`; started afresh for each test. */
export interface ServedBook {
	/** The folder of books, and the book in it. */
	books: string;
	shop: string;
	/** Folder of the built workbench. */
	workbench: string;
	server: RunningServer;
	host: string;
	faults: unknown[];
	/** Date of the server; a test may turn the page. */
	today: string;
	/** Sends exactly what it is told, the path unescaped and unchanged. */
	send(method: string, path: string, asked?: Asked): Promise<Reply>;
	/** A save as the workbench sends it; `headers` replace, an empty one leaves out. */
	put(path: string, body: Asked["body"], headers?: Record<string, string>): Promise<Reply>;
	/** Sends raw bytes, and answers with what came until the server hung up. */
	raw(text: string): Promise<string>;
	/** Every file of the folder with its text. */
	files(): Record<string, string>;
}

export const nib: Procedure = {
	format: 1,
	id: "nib",
	title: { en: "Nib" },
	scope: { defects: [{ defect: "dirt-nib", goal: "gone" }], clearCoats: ["factory"] },
	steps: [{ id: "aaaaaaaaaa", stage: "sand", abrasive: "P1500" }],
};

export const nibPath = "/api/books/shop/procedures/nib";

export function servedBook(patience?: Patience): ServedBook {
	const served = { today: "2026-03-02" } as ServedBook;
	let home = "";
	beforeEach(async () => {
		home = realpathSync(mkdtempSync(join(tmpdir(), "served-")));
		served.books = join(home, "books");
		served.shop = join(served.books, "shop");
		served.workbench = join(home, "workbench");
		served.faults = [];
		mkdirSync(served.shop, { recursive: true });
		mkdirSync(join(served.workbench, "assets"), { recursive: true });
		writeFileSync(
			join(served.shop, "book.json"),
			'{ "format": 1, "id": "shop", "name": "The Shop", "gradeScale": "P" }\n',
		);
		writeFileSync(join(served.shop, "nib.procedure.json"), canonicalText("procedure", nib));
		const server = await startServer(
			{
				books: served.books,
				workbench: served.workbench,
				today: () => served.today,
				onFault: (failure) => served.faults.push(failure),
			},
			0,
			patience,
		);
		if ("refused" in server) throw new Error(server.refused);
		served.server = server;
		served.host = `127.0.0.1:${server.port}`;
	});
	afterEach(async () => {
		await served.server.close();
		rmSync(home, { recursive: true });
	});
	served.send = (method, path, asked) => send(served.server.port, method, path, asked);
	served.put = (path, body, headers = {}) => {
		const all = { origin: `http://${served.host}`, "content-type": "application/json", ...headers };
		return served.send("PUT", path, {
			body,
			headers: Object.fromEntries(Object.entries(all).filter(([, value]) => value !== "")),
		});
	};
	served.raw = (text) =>
		new Promise((resolve) => {
			const socket = connect(served.server.port, "127.0.0.1", () => socket.write(text));
			let said = "";
			socket.on("data", (some) => (said += some));
			socket.on("error", () => {});
			socket.on("close", () => resolve(said));
		});
	served.files = () =>
		Object.fromEntries(
			readdirSync(home, { recursive: true, withFileTypes: true }).flatMap((entry) =>
				entry.isFile() ? [[entry.name, readFileSync(join(entry.parentPath, entry.name), "utf8")]] : [],
			),
		);
	return served;
}

function send(port: number, method: string, path: string, { headers = {}, body }: Asked = {}): Promise<Reply> {
	const parts = body === undefined ? [] : typeof body === "string" || body instanceof Uint8Array ? [body] : body;
	const whole =
		parts.length === 1 && parts[0] !== undefined ? { "content-length": String(Buffer.byteLength(parts[0])) } : {};
	return new Promise((resolve, reject) => {
		const request = httpRequest(
			{ host: "127.0.0.1", port, method, path, agent: false, headers: { ...whole, ...headers } },
			(answer) => {
				let text = "";
				answer.setEncoding("utf8");
				answer.on("data", (some) => (text += some));
				answer.on("error", reject);
				answer.on("end", () =>
					resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text, json: jsonOf(text) }),
				);
			},
		);
		request.on("error", reject);
		for (const part of parts) request.write(part);
		request.end();
	});
}

function jsonOf(text: string): unknown {
	try {
		return JSON.parse(text);
	} catch {
		return null;
	}
}
