/**
 * Builds everything that is built: the command line to `dist/command/`, the workbench to `dist/workbench/`. Each is
 * made in a folder beside and then put in place, so that nobody meets half of it.
 */
import {
	chmodSync,
	existsSync,
	readdirSync,
	readFileSync,
	renameSync,
	rmSync,
	statSync,
	utimesSync,
	writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { installPackages, root } from "./set-up.mjs";

/** The built command line. */
export const commandLine = join(root, "dist/command/gritwright.js");

/** The built page of the workbench. */
const workbenchPage = join(root, "dist/workbench/index.html");

export async function build() {
	// What is changed from here on is newer than the build.
	const started = new Date();
	await buildInto("command", (folder) => chmodSync(join(folder, "gritwright.js"), 0o755));
	if (existsSync(join(root, "src/workbench/main.ts"))) await buildInto("workbench", packAssets);
	for (const path of [commandLine, workbenchPage].filter((path) => existsSync(path)))
		utimesSync(path, started, started);
}

/** Whether the build is missing or anything it is made of is newer. */
export function isStale() {
	const built = Math.min(changedAt(commandLine), changedAt(workbenchPage));
	const sources = ["src", "tools/vite.command.config.mjs", "tools/vite.workbench.config.mjs", "package-lock.json"];
	return newest(sources.map((path) => join(root, path))) > built;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
	installPackages();
	await build();
}

async function buildInto(name, finish) {
	const { build: bundle } = await import("vite");
	const place = join(root, "dist", name);
	// Of this process alone: two may build at once.
	const fresh = `${place}.${process.pid}`;
	const old = `${fresh}.old`;
	try {
		await bundle({
			configFile: join(root, `tools/vite.${name}.config.mjs`),
			logLevel: "warn",
			build: { outDir: fresh, emptyOutDir: true },
		});
		finish(fresh);
		if (existsSync(place)) renameSync(place, old);
		renameSync(fresh, place);
	} finally {
		for (const folder of [fresh, old]) rmSync(folder, { recursive: true, force: true });
	}
}

/** Lays a packed copy beside each file, as the server hands it out. */
function packAssets(folder) {
	const assets = join(folder, "assets");
	if (!existsSync(assets)) return;
	for (const name of readdirSync(assets))
		writeFileSync(join(assets, `${name}.gz`), gzipSync(readFileSync(join(assets, name)), { level: 9 }));
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
