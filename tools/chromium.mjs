/** Finds the Chromium that tests print and look at pages with. Installs nothing: that is `set-up.mjs`. */
import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const cache = fileURLToPath(new URL("../node_modules/.cache/chromium", import.meta.url));

/**
 * The npm package that brings a Chromium of its own, where it is kept, and the program it unpacks there. That
 * build serves the debugging protocol only: `--print-to-pdf` and `--dump-dom` on its command line never end.
 */
export const packedChromium = {
	specifier: "@sparticuz/chromium@147.0.0",
	folder: cache,
	program: join(cache, "chromium"),
};

/** The path of Chromium: the one named in CHROMIUM, else Debian's, else the unpacked one; `undefined` without any. */
export function findChromium() {
	if (process.env.CHROMIUM) return process.env.CHROMIUM;
	return ["/usr/bin/chromium", packedChromium.program].find((path) => existsSync(path));
}

/** What a Chromium without a screen needs, and what keeps it from calling anyone. */
export const chromiumFlags = [
	"--headless",
	// Chromium refuses its sandbox to root.
	...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
	"--disable-gpu",
	"--disable-quic",
	"--no-first-run",
	"--disable-background-networking",
	"--disable-component-update",
	"--disable-sync",
];
