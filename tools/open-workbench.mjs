/** Starts the built workbench on a copy of a book, and a Chromium to look at it: for journeys, screenshots, benchmarks. */
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { commandLine } from "./build.mjs";
import { chromiumFlags, findChromium } from "./chromium.mjs";
import { root } from "./set-up.mjs";

/** A copy of the demo books in a folder of its own. */
export function copyBooks() {
	const folder = mkdtempSync(join(tmpdir(), "gritwright-books-"));
	cpSync(join(root, "procedures"), folder, { recursive: true });
	return folder;
}

/**
 * The built program serving a folder of books.
 *
 * `address` without a final slash; `stop()` ends it as a person would, `kill()` as a power cut would.
 */
export async function serve(folder, port = 0) {
	const child = spawn(process.execPath, [commandLine, "serve", "--books", folder, "--port", String(port)], {
		stdio: ["ignore", "pipe", "pipe"],
	});
	const ended = new Promise((resolve) => child.once("close", resolve));
	const address = await new Promise((resolve, reject) => {
		let said = "";
		for (const stream of [child.stdout, child.stderr]) {
			stream.setEncoding("utf8");
			stream.on("data", (text) => {
				said += text;
				const found = /http:\/\/[\w.[\]:]+:\d+/.exec(said);
				if (found) resolve(found[0]);
			});
		}
		child.once("close", (code) =>
			reject(new Error(`the server ended with ${code} before it said its address:\n${said}`)),
		);
	});
	const end = async (signal) => {
		child.kill(signal);
		await ended;
	};
	return { address, folder, stop: () => end("SIGTERM"), kill: () => end("SIGKILL") };
}

/** Removes a copy of the books. */
export function removeBooks(folder) {
	rmSync(folder, { recursive: true, force: true });
}

/** A Chromium without a screen. */
export function launch() {
	return chromium.launch({ executablePath: findChromium(), args: chromiumFlags });
}
