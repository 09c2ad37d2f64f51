import { spawn } from "node:child_process";
import { existsSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { whyOf } from "../book/files.ts";

/** Where Chromium usually lies; `CHROMIUM` in the environment comes first. */
const usualPlaces = [
	"/usr/bin/chromium",
	"/usr/bin/chromium-browser",
	"/Applications/Chromium.app/Contents/MacOS/Chromium",
];

/** Longest a page may take to print, in milliseconds. */
const patience = 60_000;

/**
 * Prints an HTML page to a PDF file with Chromium.
 *
 * @returns a sentence where it cannot; then no file is written
 */
export async function printPdf(
	html: string,
	to: string,
	environment: Record<string, string | undefined>,
): Promise<string | undefined> {
	const chromium = [environment.CHROMIUM, ...usualPlaces].find((place) => place !== undefined && existsSync(place));
	if (chromium === undefined)
		return "PDF needs Chromium, and none was found. Install it, name it in CHROMIUM, or write --out card.html and print that page from any browser.";
	const folder = mkdtempSync(join(tmpdir(), "gritwright-card-"));
	try {
		const page = join(folder, "card.html");
		writeFileSync(page, html);
		const code = await runQuietly(chromium, [
			"--headless",
			...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
			"--disable-gpu",
			"--disable-quic",
			"--no-first-run",
			"--disable-background-networking",
			"--disable-component-update",
			"--disable-sync",
			`--user-data-dir=${join(folder, "profile")}`,
			"--no-pdf-header-footer",
			`--print-to-pdf=${to}`,
			pathToFileURL(page).href,
		]);
		if (code === 0 && existsSync(to)) return undefined;
		return `${to} was not written: Chromium (${chromium}) ended with ${code}. The card as HTML: --out card.html.`;
	} catch (failure) {
		return `${to} was not written: Chromium (${chromium}) did not start (${whyOf(failure)}).`;
	} finally {
		rmSync(folder, { recursive: true, force: true, maxRetries: 5 });
	}
}

function runQuietly(program: string, words: readonly string[]): Promise<number | string> {
	return new Promise((resolve, reject) => {
		const child = spawn(program, words, { stdio: "ignore", timeout: patience });
		child.on("error", reject);
		child.on("exit", (code, signal) => resolve(code ?? signal ?? "an unknown state"));
	});
}
