import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { chromiumFlags, findChromium } from "../../tools/chromium.mjs";

const root = join(import.meta.dirname, "../..");
const text = (path: string): string => readFileSync(join(root, path), "utf8");
const { scripts, dependencies, devDependencies } = JSON.parse(text("package.json")) as Record<
	string,
	Record<string, string>
>;

describe("the lock file", () => {
	it("names no download address", () => {
		expect(text("package-lock.json")).not.toMatch(/"resolved": "(?!file:)|https?:\/\/[^"]*\.tgz/);
	});

	it("is of the packages that package.json names, in exact versions", () => {
		const { packages } = JSON.parse(text("package-lock.json")) as { packages: Record<string, { version: string }> };
		for (const [name, version] of Object.entries({ ...dependencies, ...devDependencies }))
			expect(packages[`node_modules/${name}`]?.version, name).toBe(version);
	});
});

describe("the scripts of package.json", () => {
	it.each(Object.entries(scripts!))("name only files that exist: %s", (_, command) => {
		for (const file of command.match(/\btools\/[\w.-]+/g) ?? []) expect(existsSync(join(root, file)), file).toBe(true);
	});
});

describe(".ci/run", () => {
	it("can be run and runs the tests", () => {
		expect(statSync(join(root, ".ci/run")).mode & 0o111).toBe(0o111);
		expect(text(".ci/run")).toMatch(/^exec npm .*\btest\b/m);
	});
});

describe("Chromium", () => {
	it("is found and shows a page with the flags for it", { timeout: 60_000 }, async () => {
		const profile = mkdtempSync(join(tmpdir(), "gritwright-chromium-"));
		const page = "data:text/html,<title>P1500</title>";
		const chromium = spawn(
			findChromium()!,
			[...chromiumFlags, "--remote-debugging-port=0", `--user-data-dir=${profile}`, page],
			{ stdio: ["ignore", "ignore", "pipe"] },
		);
		try {
			const host = await new Promise<string>((resolve, reject) => {
				let said = "";
				chromium.stderr.setEncoding("utf8").on("data", (words: string) => {
					said += words;
					const listening = /DevTools listening on ws:\/\/([^/]+)/.exec(said);
					if (listening) resolve(listening[1]!);
				});
				chromium.on("error", reject).on("exit", () => reject(new Error(said)));
			});
			await expect
				.poll(async () => (await fetch(`http://${host}/json`)).text(), { timeout: 20_000 })
				.toContain('"P1500"');
		} finally {
			chromium.removeAllListeners("exit");
			if (chromium.kill()) await once(chromium, "exit");
			// Processes that Chromium started may write a little longer than it lives itself.
			rmSync(profile, { recursive: true, force: true, maxRetries: 20, retryDelay: 200 });
		}
	});
});
