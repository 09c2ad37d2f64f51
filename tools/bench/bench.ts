/**
 * How long the check takes: one procedure of 12 rows in 72 situations, and 10,000 generated files from disk,
 * beside the least that reading them costs. One process, one thread; medians over repeated runs.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readBook } from "../../src/book/book.ts";
import { assess } from "../../src/check/assess.ts";
import { checkFile } from "../../src/check/check.ts";
import { canonicalText } from "../../src/model/canonical.ts";
import { openFile } from "../../src/model/document.ts";
import type { Procedure, Step } from "../../src/model/generated/types.ts";
import * as validators from "../../src/model/generated/validators.js";
import { genericShop, type Shop } from "../../src/model/shop.ts";
import { situationsOf } from "../../src/model/situations.ts";
import { judge } from "../../src/rules/judge.ts";
import { madeProcedure, seeded } from "../../tests/made-procedures.ts";
import { plainLinter } from "./plain-linter.ts";

const fileCount = 10_000;
const sample = 500;
const today = "2026-03-02";
const letters = "abcdefghijklmnopqrstuvwxyz";

console.log(`Node ${process.version}, ${process.platform} ${process.arch}\n`);
oneProcedure();
longProcedures();
await manyFiles();

function oneProcedure(): void {
	const procedure: Procedure = {
		...madeProcedure(seeded(12), "twelve-rows", 12),
		scope: {
			defects: ["dirt-nib", "orange-peel", "sand-scratch"].map((defect) => ({ defect, goal: "gone" as const })),
			substrates: ["steel", "aluminium"],
			clearCoats: ["factory", "refinish"],
			tones: ["dark", "mid", "light"],
			features: ["flat"],
		},
	};
	const situations = situationsOf(procedure.scope).length;
	const one = { procedure, problems: [], shop: genericShop, today };
	for (let run = 0; run < 2000; run += 1) judge(one);
	const times = Array.from({ length: 2000 }, () => timed(() => judge(one)));
	console.log(`One procedure, 12 rows, ${situations} situations, check alone after warm-up`);
	console.log(`  median ${us(median(times))}, 95 % below ${us(quantile(times, 0.95))}   (aim: 300 µs)\n`);
}

/** A demo procedure repeated to a length, one row edited between two runs as the Sheet does at every gesture. */
function longProcedures(): void {
	const { procedure, shop } = demoProcedure("quillfeather", "nib-spot-blade");
	const situations = situationsOf(procedure.scope).length;
	console.log(`Findings and forecast after an edit of one row, ${situations} situations, ${procedure.id} repeated`);
	for (const [rows, aim] of [
		[12, ""],
		[100, "   (aim: 4 ms)"],
		[500, "   (aim: 20 ms)"],
	] as const) {
		let edited = { ...procedure, steps: repeated(procedure.steps ?? [], rows) };
		const times = Array.from({ length: 200 }, (_, run) => {
			edited = {
				...edited,
				steps: edited.steps.with(run % rows, { ...(edited.steps[run % rows] as Step), note: `${run}` }),
			};
			return timed(() => assess({ procedure: edited, problems: [], shop, today }));
		}).slice(100);
		const [middle, upper] = [median(times), quantile(times, 0.95)];
		console.log(`  ${String(rows).padStart(3)} rows: median ${us(middle)}, 95 % below ${us(upper)}${aim}`);
	}
	console.log("");
}

function demoProcedure(bookId: string, id: string): { procedure: Procedure; shop: Shop } {
	const book = readBook(join("procedures", bookId));
	if ("problem" in book) throw new Error(book.problem.message);
	const file = book.procedures.find(({ name }) => name === `${id}.procedure.json`);
	if (file === undefined) throw new Error(`no procedure ${id} in ${bookId}`);
	return { procedure: file.file.readable, shop: book.shop };
}

/** The rows over and over, each with an id of its own. */
function repeated(steps: readonly Step[], count: number): Step[] {
	const idOf = (at: number) =>
		at
			.toString(26)
			.padStart(10, "0")
			.replace(/./g, (digit) => letters[Number.parseInt(digit, 26)] ?? "");
	return Array.from({ length: count }, (_, at) => {
		const { ifNot: _ifNot, ...step } = steps[at % steps.length] as Step;
		return { ...step, id: idOf(at) };
	});
}

async function manyFiles(): Promise<void> {
	const folder = mkdtempSync(join(tmpdir(), "gritwright-bench-"));
	try {
		const random = seeded(2026);
		for (let index = 0; index < fileCount; index += 1) {
			const id = `made-${String(index).padStart(5, "0")}`;
			writeFileSync(join(folder, `${id}.procedure.json`), canonicalText("procedure", madeProcedure(random, id)));
		}
		const files = readdirSync(folder).map((name) => join(folder, name));
		console.log(`${fileCount} generated procedures from disk (seed 2026)`);
		report("JSON.parse alone", () => files.forEach((file) => JSON.parse(readFileSync(file, "utf8"))), fileCount);
		report(
			"and schema validation",
			() => files.forEach((file) => validators.procedure(JSON.parse(readFileSync(file, "utf8")))),
			fileCount,
		);
		let findings = 0;
		report(
			"whole check, sentences included",
			() => {
				findings = 0;
				for (const file of files) {
					const opened = openFile("procedure", readFileSync(file, "utf8"));
					if ("problem" in opened) throw new Error(`${file}: ${opened.problem.message}`);
					const one = { procedure: opened.readable, problems: opened.problems, shop: genericShop, today };
					findings += checkFile(file, one, "en", ({ pointer }) => opened.place(pointer)).findings.length;
				}
			},
			fileCount,
			"   (aim: 8 s)",
		);
		console.log(`  ${findings} findings`);
		const linter = plainLinter();
		const few = files.slice(0, sample).map((file) => readFileSync(file, "utf8"));
		const start = performance.now();
		for (const text of few) await linter(text);
		line(`a general JSON rule linter, 20 trivial rules, ${sample} files`, performance.now() - start, sample);
	} finally {
		rmSync(folder, { recursive: true });
	}
}

function report(name: string, work: () => void, count: number, note = ""): void {
	work();
	line(name, median([timed(work), timed(work), timed(work)]), count, note);
}

function line(name: string, milliseconds: number, count: number, note = ""): void {
	const each = us(milliseconds / count);
	console.log(
		`  ${name.padEnd(58)} ${(milliseconds / 1000).toFixed(2).padStart(6)} s  ${each.padStart(9)} a file${note}`,
	);
}

function timed(work: () => void): number {
	const start = performance.now();
	work();
	return performance.now() - start;
}

function median(values: readonly number[]): number {
	return quantile(values, 0.5);
}

function quantile(values: readonly number[], share: number): number {
	const sorted = [...values].toSorted((a, b) => a - b);
	return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

function us(milliseconds: number): string {
	return `${(milliseconds * 1000).toFixed(0)} µs`;
}
