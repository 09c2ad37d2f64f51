import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { run } from "../../src/command/run.ts";

/**
 * Each file of `scenarios/` is a list of scenes. A scene is:
 *
 *     === what it does
 *     --- name of a file            its text follows, up to the next mark
 *     $ words of the command        one or more, run in order in the same folder
 *     < expected exit code
 *     > expected line of standard output   (`> …` stands for any number of lines)
 *     ! expected line of standard error    (`! …` likewise)
 */
const home = new URL("./scenarios/", import.meta.url);

let folder = "";
beforeEach(() => {
	folder = mkdtempSync(join(tmpdir(), "gritwright-scene-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

for (const file of readdirSync(home).toSorted()) {
	describe(file.replace(".txt", ""), () => {
		for (const scene of readFileSync(new URL(file, home), "utf8").split(/^=== /m).slice(1)) {
			const [title = "", ...lines] = scene.split("\n");
			it(title, async () => {
				const { files, calls } = sceneOf(lines);
				for (const [name, text] of files) {
					mkdirSync(dirname(join(folder, name)), { recursive: true });
					writeFileSync(join(folder, name), text);
				}
				for (const call of calls) await play(call);
			});
		}
	});
}

interface Call {
	words: string[];
	code: number;
	out: string[];
	err: string[];
}

function sceneOf(lines: readonly string[]): { files: [string, string][]; calls: Call[] } {
	const files: [string, string][] = [];
	const calls: Call[] = [];
	for (const line of lines) {
		const call = calls.at(-1);
		if (line.startsWith("--- ")) files.push([line.slice(4), ""]);
		else if (line.startsWith("$ ")) calls.push({ words: wordsOf(line.slice(2)), code: 0, out: [], err: [] });
		else if (call === undefined) {
			const file = files.at(-1);
			if (file) file[1] += `${line}\n`;
		} else if (line.startsWith("< ")) call.code = Number(line.slice(2));
		else if (line.startsWith(">")) call.out.push(line.slice(2));
		else if (line.startsWith("!")) call.err.push(line.slice(2));
		else if (line.trim() !== "") throw new Error(`a line of a scene that says nothing: ${line}`);
	}
	return { files, calls };
}

function wordsOf(text: string): string[] {
	return [...text.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain ?? "");
}

async function play({ words, code, out, err }: Call): Promise<void> {
	const said = { out: "", err: "" };
	const got = await run(words, {
		out: (text) => {
			said.out += text;
		},
		err: (text) => {
			said.err += text;
		},
		folder,
		today: "2026-03-02",
		environment: {},
		clock: () => "2026-03-02",
		workbench: folder,
		untilStopped: async () => {},
	});
	const command = `gritwright ${words.join(" ")}`;
	expect({ command, code: got, err: said.err }).toMatchObject({ command, code });
	expectLines(said.out, out, command);
	// What is too long for one line goes on indented; a scene has it on one.
	expectLines(said.err.replace(/\n {2}(?=\S)/g, " "), err, command);
	for (const line of said.err.split("\n"))
		if (line.trim().includes(" ")) expect(line.length, `${command}: ${line}`).toBeLessThanOrEqual(80);
	for (const line of said.out.split("\n"))
		if (!words.includes("json") && !words.includes("csv") && !words.includes("card") && !words.includes("sarif"))
			expect(line.length, `${command}: ${line}`).toBeLessThanOrEqual(80);
}

/** Compares line by line; a `…` line takes any number of lines, a `…` inside a line any text. */
function expectLines(text: string, expected: readonly string[], command: string): void {
	if (expected.length === 0) return;
	const escaped = expected.map((line) =>
		line === "…" ? "[\\s\\S]*?" : `${line.replace(/[.*+?^${}()|[\]\\]/g, "\\$&").replaceAll("…", ".*")}\\n?`,
	);
	const pattern = new RegExp(`^${escaped.join("")}\\s*$`);
	if (!pattern.test(text.replaceAll(folder, "FOLDER")))
		expect(`${command}\n${text}`).toBe(`${command}\n${expected.join("\n")}\n`);
}
