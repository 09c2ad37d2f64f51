import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { checkBoundaries, core } from "../../tools/boundaries.mjs";

const root = join(import.meta.dirname, "../..");

/** What the checker says of a project of these files. */
async function problemsOf(files: Record<string, string>): Promise<string[]> {
	const folder = mkdtempSync(join(tmpdir(), "gritwright-boundaries-"));
	try {
		for (const [path, text] of Object.entries({ "package.json": "{}", ...files })) {
			mkdirSync(dirname(join(folder, path)), { recursive: true });
			writeFileSync(join(folder, path), text);
		}
		return (await checkBoundaries(folder)).problems;
	} finally {
		rmSync(folder, { recursive: true });
	}
}

const grades = { "src/model/grades.ts": "export type Grade = string;\nexport const finest = 1;\n" };

describe("the boundaries", () => {
	it("are content with an import of an earlier folder", async () => {
		expect(
			await problemsOf({
				...grades,
				"src/rules/jump.ts": `import { finest } from "../model/grades.ts";\nexport default finest;\n`,
			}),
		).toEqual([]);
	});

	it.each([
		["a later folder of the core", "src/model/a.ts", `export { b } from "../rules/b.ts";`, "model-imports-only-itself"],
		[
			"a later folder for its types",
			"src/model/a.ts",
			`export type { b } from "../rules/b.ts";`,
			"model-imports-only-itself",
		],
		["a shell from the core", "src/exchange/a.ts", `export { b } from "../command/b.ts";`, "exchange-imports-only-"],
		[
			"the model's next neighbour from a book",
			"src/book/a.ts",
			`export { b } from "../forecast/b.ts";`,
			"book-imports-only-model",
		],
		[
			"the workbench from the command line",
			"src/command/a.ts",
			`export { b } from "../workbench/b.ts";`,
			"command-imports-only-",
		],
		[
			"the disk from the core",
			"src/print/a.ts",
			`export { readFileSync as b } from "node:fs";`,
			"no-node-module-in-core-or-browser",
		],
		[
			"the disk from the core by its short name",
			"src/print/a.ts",
			`export { readFileSync as b } from "fs";`,
			"no-node-module-in-core-or-browser",
		],
		["a test", "src/command/a.ts", `export { b } from "../../tests/b.ts";`, "nothing-from-outside-src"],
		["a file that is not there", "src/model/a.ts", `export { b } from "./gone.ts";`, "every-import-found"],
		[
			"from a file outside the known folders",
			"src/a.ts",
			`export { finest as b } from "./model/grades.ts";`,
			"every-file-in-a-known-folder",
		],
	])("refuse to import %s", async (_, path, text, rule) => {
		const target = "export const b = 1;\n";
		const targets = Object.fromEntries(
			["src/rules/b.ts", "src/command/b.ts", "src/forecast/b.ts", "src/workbench/b.ts", "tests/b.ts"].map((file) => [
				file,
				target,
			]),
		);
		expect(await problemsOf({ ...grades, ...targets, [path]: text })).toEqual([expect.stringContaining(rule)]);
	});

	it("refuse a circle", async () => {
		const problems = await problemsOf({
			"src/model/a.ts": `import { b } from "./b.ts";\nexport const a = b;\n`,
			"src/model/b.ts": `import type { a } from "./a.ts";\nexport const b: typeof a = 1;\n`,
		});
		expect(problems).toEqual([expect.stringContaining("no-circle")]);
	});

	it("refuse a project of which they see no module", async () => {
		expect(await problemsOf({ "src/readme.txt": "nothing" })).toEqual(["the checker saw no module at all"]);
	});

	it("see every module of this project", async () => {
		const files = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" });
		const modules = files.filter((path) => path.endsWith(".ts") && !path.endsWith(".d.ts"));
		expect((await checkBoundaries(root)).modules).toBe(modules.length);
	});
});

describe("the core", () => {
	it("reads no clock", () => {
		const files = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" })
			.map((path) => path.replaceAll("\\", "/"))
			.filter((path) => path.endsWith(".ts") && core.includes(path.split("/")[0]!));
		expect(files).not.toEqual([]);
		const reading = files.filter((path) =>
			/\bnew Date\(\)|(?<!new )\bDate\(/.test(readFileSync(join(root, "src", path), "utf8")),
		);
		expect(reading).toEqual([]);
	});
});
