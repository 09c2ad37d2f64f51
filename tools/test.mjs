/**
 * `npm test`: installs what is missing, then runs every stage, also after one failed. A stage that passes
 * prints one line, one that fails prints what it said. The last line counts the tests plus one per stage.
 */
import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { installChromium, installGit, installPackages, root } from "./set-up.mjs";

const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
const scratch = mkdtempSync(join(tmpdir(), "gritwright-test-"));
const reports = {
	tests: join(scratch, "tests.json"),
	browser: join(scratch, "browser.json"),
	journeys: join(scratch, "journeys.json"),
};
const counting = (report) => ["--reporter=default", "--reporter=json", `--outputFile.json=${report}`];

const stages = [
	["set-up", setUp],
	["generated files", () => script("check:generated")],
	["types", () => script("check:types")],
	["lint", () => script("check:lint")],
	["format", () => script("check:format")],
	["unused code", () => script("check:unused")],
	["boundaries", () => script("check:boundaries")],
	["build", () => script("build")],
	["tests", () => script("check:tests", ...counting(reports.tests))],
	["browser tests", browserTests],
	["journeys", () => script("check:journeys", ...counting(reports.journeys))],
];

const counts = { passed: 0, failed: 0 };
for (const [name, run] of stages) {
	const started = performance.now();
	const { ok, output } = await run();
	const seconds = ((performance.now() - started) / 1000).toFixed(1);
	console.log(`${ok ? "passed" : "FAILED"}  ${name.padEnd(16)} ${seconds.padStart(6)} s`);
	if (!ok) console.log(`${output.trimEnd()}\n`);
	counts[ok ? "passed" : "failed"] += 1;
}

for (const report of Object.values(reports)) {
	const { numPassedTests, numFailedTests } = readReport(report);
	counts.passed += numPassedTests;
	counts.failed += numFailedTests;
}
rmSync(scratch, { recursive: true });
process.exitCode = counts.failed > 0 ? 1 : 0;
console.log(`${counts.passed} passed, ${counts.failed} failed`);

async function setUp() {
	try {
		installPackages();
		installGit();
		await installChromium();
		return { ok: true, output: "" };
	} catch (error) {
		return { ok: false, output: error.message };
	}
}

/** The runner does not know what its report refuses: complaints of the grid library. */
async function browserTests() {
	const { ok, output } = await script("check:browser");
	return { ok: ok && readReport(reports.browser).numFailedTests === 0, output };
}

/** Runs a script of package.json, so that a stage and the command a person types are the same. */
function script(name, ...more) {
	const path = join(root, "node_modules", ".bin") + delimiter + process.env.PATH;
	return new Promise((resolve) => {
		const child = spawn([scripts[name], ...more].join(" "), {
			cwd: root,
			shell: true,
			stdio: ["ignore", "pipe", "pipe"],
			env: {
				...process.env,
				PATH: path,
				BROWSER_REPORT: reports.browser,
				...(process.stdout.isTTY ? {} : { NO_COLOR: "1" }),
			},
		});
		let output = "";
		for (const stream of [child.stdout, child.stderr]) {
			stream.setEncoding("utf8");
			stream.on("data", (text) => (output += text));
		}
		child.on("error", (error) => resolve({ ok: false, output: String(error) }));
		child.on("close", (status) => resolve({ ok: status === 0, output }));
	});
}

/** What a test runner counted; nothing when it did not get that far, which its stage has then said. */
function readReport(report) {
	try {
		return JSON.parse(readFileSync(report, "utf8"));
	} catch {
		return { numPassedTests: 0, numFailedTests: 0 };
	}
}
