/** Builds everything that is built: the command line, to `dist/command/`. */
import { chmodSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { installPackages, root } from "./set-up.mjs";

/** The built command line. */
export const commandLine = join(root, "dist/command/gritwright.js");

export async function build() {
	const { build: bundle } = await import("vite");
	await bundle({ configFile: join(root, "tools/vite.command.config.mjs"), logLevel: "warn" });
	chmodSync(commandLine, 0o755);
}

/** Whether the build is missing or anything it is made of is newer. */
export function isStale() {
	const built = changedAt(commandLine);
	return newest(["src", "tools/vite.command.config.mjs", "package-lock.json"].map((path) => join(root, path))) > built;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
	installPackages();
	await build();
}

function newest(paths) {
	return Math.max(
		...paths.map((path) => {
			const own = changedAt(path);
			// A folder's own time tells of files that were removed.
			return statSync(path).isDirectory()
				? Math.max(own, newest(readdirSync(path).map((name) => join(path, name))))
				: own;
		}),
	);
}

function changedAt(path) {
	return statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0;
}
