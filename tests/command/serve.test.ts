import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { type AddressInfo, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { run } from "../../src/command/run.ts";

let folder: string;
beforeEach(() => {
	folder = mkdtempSync(join(tmpdir(), "serve-"));
	writeFileSync(join(folder, "book.json"), '{ "format": 1, "id": "one", "name": "One", "gradeScale": "P" }');
});
afterEach(() => rmSync(folder, { recursive: true }));

const serve = async (port: number, untilStopped: (said: () => string) => Promise<void>) => {
	let said = "";
	const say = (text: string) => {
		said += text;
	};
	const code = await run(["serve", "--port", String(port)], {
		out: say,
		err: say,
		folder,
		today: "2026-03-02",
		clock: () => "2026-03-02",
		environment: {},
		workbench: folder,
		untilStopped: () => untilStopped(() => said),
	});
	return { code, said: said.replaceAll("\n  ", " ") };
};

it("answers until it is stopped, then no more", async () => {
	let address = "";
	const { code } = await serve(0, async (said) => {
		address = /http:\S+/.exec(said())?.[0] ?? "";
		expect(await (await fetch(`${address}api/books`)).json()).toMatchObject([{ name: "One" }]);
	});
	expect(code).toBe(0);
	await expect(fetch(`${address}api/books`)).rejects.toThrow("fetch failed");
});

it("says that a port is taken, and which to take instead", async () => {
	const other = createServer();
	await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
	const { port } = other.address() as AddressInfo;
	const { code, said } = await serve(port, () => Promise.reject(new Error("it ran")));
	other.close();
	expect(code).toBe(2);
	expect(said).toMatch(new RegExp(`Port ${port} is taken by another program.*--port ${port + 1}, or --port 0`));
});
