import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, symlinkSync, utimesSync, writeFileSync } from "node:fs";
import { hostname, tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { lockName, withLock } from "../../src/book/lock.ts";
import { addProcedure, readProcedure, saveProcedure } from "../../src/book/procedures.ts";
import { canonicalText } from "../../src/model/canonical.ts";
import type { Procedure } from "../../src/model/generated/types.ts";

const nib: Procedure = { format: 1, id: "nib", title: { en: "Nib" }, steps: [] };

let home: string;
beforeEach(() => {
	home = mkdtempSync(join(tmpdir(), "book-"));
	writeFileSync(join(home, "nib.procedure.json"), JSON.stringify(nib));
});
afterEach(() => rmSync(home, { recursive: true }));

const lockText = (holder: object) => writeFileSync(join(home, lockName), JSON.stringify(holder));
const names = () => readdirSync(home).toSorted();

describe("withLock", () => {
	it("lets one after the other work, and leaves no lock behind, also after work that failed", async () => {
		let inside = 0;
		const work = async () => {
			expect(++inside).toBe(1);
			await new Promise((resolve) => setTimeout(resolve, 2));
			inside -= 1;
			return "done";
		};
		const all = await Promise.all(Array.from({ length: 10 }, () => withLock(home, work, 60_000)));
		expect(all).toEqual(Array.from({ length: 10 }, () => ({ done: "done" })));
		await expect(withLock(home, () => Promise.reject(new RangeError("mine")))).rejects.toThrow("mine");
		expect(names()).toEqual(["nib.procedure.json"]);
	});

	it("waits no longer than it is told for one who works", async () => {
		const outcome = await withLock(home, () => withLock(home, () => "inner", 50));
		expect(outcome).toEqual({ done: { busy: true } });
	});

	it.each([
		["a living process of this machine", { process: process.ppid, host: hostname(), token: "x" }],
		["a process of another machine", { process: 1, host: "elsewhere", token: "x" }],
	])("does not take the lock from %s", async (_, holder) => {
		lockText(holder);
		expect(await withLock(home, () => "mine", 50)).toEqual({ busy: true });
		expect(readFileSync(join(home, lockName), "utf8")).toBe(JSON.stringify(holder));
	});

	it("takes over what an earlier process of its own number left behind", async () => {
		lockText({ process: process.pid, host: hostname(), token: "earlier" });
		expect(await withLock(home, () => "mine", 1000)).toEqual({ done: "mine" });
	});

	it.each([
		["from anyone", JSON.stringify({ process: 1, host: "elsewhere", token: "x" })],
		["half written", ""],
	])("takes over a lock that has lain for more than a minute: %s", async (_, text) => {
		writeFileSync(join(home, lockName), text);
		expect(await withLock(home, () => "mine", 50)).toEqual({ busy: true });
		const old = new Date(Date.now() - 61_000);
		utimesSync(join(home, lockName), old, old);
		expect(await withLock(home, () => "mine", 1000)).toEqual({ done: "mine" });
		expect(names()).toEqual(["nib.procedure.json"]);
	});

	it("says so where no lock can be set", async () => {
		expect(await withLock(join(home, "gone"), () => "mine")).toMatchObject({
			problem: { code: "not-writable", data: { why: "ENOENT" } },
		});
	});
});

describe("saveProcedure", () => {
	it("writes through no link laid where its temporary file goes", async () => {
		const outside = mkdtempSync(join(tmpdir(), "outside-"));
		writeFileSync(join(outside, "precious"), "precious");
		symlinkSync(join(outside, "precious"), join(home, `.nib.procedure.json.${process.pid}.tmp`));
		const read = readProcedure(home, "nib");
		if ("problem" in read) throw new Error(read.problem.message);
		expect(await saveProcedure(home, "nib", nib, [read.digest])).toHaveProperty("digest");
		expect(readFileSync(join(outside, "precious"), "utf8")).toBe("precious");
		expect(names()).toEqual(["nib.procedure.json"]);
		rmSync(outside, { recursive: true });
	});
});

describe("several processes", () => {
	let scratch: string;
	beforeAll(async () => {
		scratch = mkdtempSync(join(tmpdir(), "writers-"));
		await build({
			stdin: { contents: writer, resolveDir: join(import.meta.dirname, "../../src/book"), loader: "ts" },
			bundle: true,
			platform: "node",
			format: "esm",
			outfile: join(scratch, "writer.mjs"),
		});
	});
	afterAll(() => rmSync(scratch, { recursive: true }));
	const start = (...words: string[]) =>
		spawn(process.execPath, [join(scratch, "writer.mjs"), home, ...words], { stdio: ["ignore", "pipe", "inherit"] });

	it("lose none of each other's saves", async () => {
		const codes = await Promise.all([0, 1, 2].map(() => ended(start("add", "20"))));
		expect(codes).toEqual([0, 0, 0]);
		expect(readProcedure(home, "nib")).toMatchObject({ file: { value: { revision: 60 } } });
		expect(names()).toEqual(["nib.procedure.json"]);
	});

	it("are not held up by one that died while it wrote, even when all of them find its lock", async () => {
		const dying = start("hold");
		await new Promise((resolve) => dying.stdout?.once("data", resolve));
		expect(names()).toContain(lockName);
		dying.kill("SIGKILL");
		await ended(dying);
		expect(names()).toContain(lockName);
		const codes = await Promise.all([0, 1, 2].map(() => ended(start("add", "5"))));
		expect(codes).toEqual([0, 0, 0]);
		expect(readProcedure(home, "nib")).toMatchObject({ file: { value: { revision: 15 } } });
		expect(names()).toEqual(["nib.procedure.json"]);
	});
});

/** `add N` counts the revision up N times, each time over the state it has read; `hold` takes the lock and stays. */
const writer = `
import { withLock } from "./lock.ts";
import { addProcedure, readProcedure, saveProcedure } from "./procedures.ts";
const [folder, what, times] = process.argv.slice(2);
if (what === "hold") {
	await withLock(folder, () => {
		console.log("held");
		return new Promise((resolve) => setTimeout(resolve, 60_000));
	});
}
for (let done = 0; done < Number(times ?? 0); ) {
	const read = readProcedure(folder, "nib");
	if ("problem" in read) throw new Error(read.problem.message);
	const { value } = read.file;
	const saved = await saveProcedure(folder, "nib", { ...value, revision: (value.revision ?? 0) + 1 }, [read.digest]);
	if ("digest" in saved) done += 1;
	else if (saved.refused !== "changed-meanwhile") throw new Error(saved.refused);
}
`;

function ended(child: ChildProcess): Promise<number | null> {
	return new Promise((resolve) => child.once("close", resolve));
}

describe("addProcedure", () => {
	const procedure = (id: string): Procedure => ({ ...nib, id });

	it("writes the canonical form under the id, and leaves nothing else behind", async () => {
		expect(await addProcedure(home, procedure("new"))).toEqual({ path: join(home, "new.procedure.json") });
		expect(names()).toEqual(["new.procedure.json", "nib.procedure.json"]);
		expect(readFileSync(join(home, "new.procedure.json"), "utf8")).toBe(canonicalText("procedure", procedure("new")));
	});

	it("writes nothing over a file that is there", async () => {
		const before = readFileSync(join(home, "nib.procedure.json"), "utf8");
		expect(await addProcedure(home, { ...nib, title: { en: "Other" } })).toMatchObject({
			problem: { code: "already-there" },
		});
		expect(readFileSync(join(home, "nib.procedure.json"), "utf8")).toBe(before);
	});

	it.each(["../out", "a/b", "a\\b", "c:x"])("refuses the id %s, which leads out of the folder", async (id) => {
		expect(await addProcedure(home, procedure(id))).toMatchObject({ problem: { code: "bad-name" } });
		expect(names()).toEqual(["nib.procedure.json"]);
	});

	it("says so where the folder does not exist", async () => {
		expect(await addProcedure(join(home, "gone"), procedure("new"))).toMatchObject({
			problem: { code: "not-writable", data: { why: "ENOENT" } },
		});
	});

	it("writes nothing while another process writes to the book", async () => {
		lockText({ process: process.ppid, host: hostname(), token: "x" });
		expect(await addProcedure(home, procedure("new"))).toMatchObject({ problem: { code: "busy" } });
		expect(names()).toEqual([lockName, "nib.procedure.json"]);
	});
});
