import { execFileSync } from "node:child_process";
import { existsSync, readFileSync, statSync } from "node:fs";
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
	it("is found and shows a page with the flags for it", { timeout: 60_000 }, () => {
		const page = execFileSync(findChromium()!, [...chromiumFlags, "--dump-dom", "data:text/html,<p>P1500</p>"], {
			encoding: "utf8",
			stdio: ["ignore", "pipe", "ignore"],
		});
		expect(page).toContain("<p>P1500</p>");
	});
});
