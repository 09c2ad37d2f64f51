import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { checkFile } from "../../src/check/check.ts";
import { forecastReport } from "../../src/check/forecast-report.ts";
import { importSheet } from "../../src/exchange/sheet-in.ts";
import { canonicalText } from "../../src/model/canonical.ts";
import { openFile } from "../../src/model/document.ts";
import { genericShop } from "../../src/model/shop.ts";
import { madeProcedure, seeded } from "../made-procedures.ts";

/** How many broken inputs of each kind: `npm run soak` asks for more. */
const count = Number(process.env.GRITWRIGHT_FUZZ_COUNT ?? 1000);
const seed = Number(process.env.GRITWRIGHT_FUZZ_SEED ?? 7);

const junk = [
	"",
	" ",
	"null",
	"nan",
	"-1",
	"1e999",
	"P",
	"P0",
	"P99999999999999999999",
	"µ",
	"–",
	"=1+1",
	"\u0000",
	"\ud800",
	"😀",
	"a".repeat(5000),
	"1200-",
	"until",
	"3x3x3",
	"{}",
	"[]",
	'"',
	";;;",
	"\t",
	"__proto__",
	"true",
	"31/02/2026",
	"dial 99",
] as const;
const values = [
	null,
	true,
	-1,
	0,
	1e308,
	0.1,
	"",
	"P1700",
	"steel",
	[],
	{},
	[[]],
	{ mid: "x" },
	[null],
	"constructor",
] as const;

describe("any input", () => {
	it(`of ${count} broken procedure files is read or refused, and never crashes (seed ${seed})`, () => {
		const random = seeded(seed);
		for (let index = 0; index < count; index += 1) {
			const procedure = madeProcedure(random, "fuzzed");
			const text =
				random() < 0.5 ? brokenValue(procedure, random) : brokenText(canonicalText("procedure", procedure), random);
			told(text, () => {
				const opened = openFile("procedure", text);
				if ("problem" in opened) {
					expect(opened.problem.message.length).toBeGreaterThan(10);
					return;
				}
				const one = { procedure: opened.readable, problems: opened.problems, shop: genericShop, today: "2026-03-02" };
				for (const language of ["en", "es"] as const) {
					const { findings } = checkFile("fuzzed", one, language, ({ pointer }) => opened.place(pointer));
					for (const { message } of findings) expect(message).not.toMatch(/undefined|NaN|\[object/);
				}
				JSON.stringify(forecastReport(opened.readable, genericShop));
			});
		}
	});

	it(`of ${count} broken sheets is read or refused, and never crashes (seed ${seed})`, () => {
		const random = seeded(seed + 1);
		const home = new URL("../exchange/sheets/", import.meta.url);
		const sheets = readdirSync(home).map((name) => readFileSync(new URL(name, home), "utf8"));
		for (let index = 0; index < count; index += 1) {
			const text = brokenText(sheets[Math.floor(random() * sheets.length)] ?? "", random);
			told(text, () => {
				const read = importSheet({ text, name: "fuzzed.csv", shop: genericShop });
				if ("problem" in read) {
					expect(read.problem.message.length).toBeGreaterThan(10);
					return;
				}
				const { procedure, placeOf } = read;
				const one = { procedure, problems: [], shop: genericShop, today: "2026-03-02" };
				checkFile("fuzzed", one, "en", ({ row, field }) => placeOf(row, field), true);
				JSON.stringify(forecastReport(procedure, genericShop));
			});
		}
	});
});

/** One to five values anywhere in the file replaced, taken out, or given other names. */
function brokenValue(procedure: object, random: () => number): string {
	const root = structuredClone(procedure) as Record<string, unknown>;
	const times = 1 + Math.floor(random() * 5);
	for (let time = 0; time < times; time += 1) {
		let at: Record<string, unknown> = root;
		for (let depth = 0; depth < 6; depth += 1) {
			const keys = Object.keys(at);
			const key = keys[Math.floor(random() * keys.length)];
			if (key === undefined) break;
			const inner = at[key];
			if (inner !== null && typeof inner === "object" && random() < 0.8) {
				at = inner as Record<string, unknown>;
				continue;
			}
			if (random() < 0.2) delete at[key];
			else at[random() < 0.1 ? `x-${key}` : key] = (random() < 0.5 ? values : junk)[Math.floor(random() * 15)];
			break;
		}
	}
	return JSON.stringify(root);
}

/** Pieces cut, doubled, swapped or replaced. */
function brokenText(text: string, random: () => number): string {
	let broken = text;
	const times = 1 + Math.floor(random() * 4);
	for (let time = 0; time < times; time += 1) {
		const from = Math.floor(random() * broken.length);
		const to = Math.min(broken.length, from + Math.floor(random() * 30));
		const put = [junk[Math.floor(random() * junk.length)] ?? "", broken.slice(from, to).repeat(2), "", ";", ",", "\n"];
		broken = broken.slice(0, from) + put[Math.floor(random() * put.length)] + broken.slice(to);
	}
	return broken;
}

/** A failure shows the input that caused it. */
function told(input: string, work: () => void): void {
	try {
		work();
	} catch (failure) {
		throw new Error(`on this input: ${JSON.stringify(input.slice(0, 3000))}`, { cause: failure });
	}
}
