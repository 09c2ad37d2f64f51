/**
 * `npm run bench [core|workbench]`: installs what is missing, builds as the product is built, and times the check, then
 * the workbench in Chromium.
 */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { build as buildProduct } from "./build.mjs";
import { installChromium, installPackages, root } from "./set-up.mjs";

installPackages();
const [only] = process.argv.slice(2);
if (only !== "workbench") await core();
if (only !== "core") await workbench();

async function core() {
	const { build } = await import("vite");
	await build({
		root,
		configFile: false,
		logLevel: "error",
		build: { ssr: "tools/bench/bench.ts", outDir: "dist/bench", target: "node20" },
	});
	const { status } = spawnSync(process.execPath, [join(root, "dist/bench/bench.js")], { cwd: root, stdio: "inherit" });
	process.exitCode = status ?? 1;
}

async function workbench() {
	await installChromium();
	await buildProduct();
	const { firstViews } = await import("./bench/first-views.mjs");
	const { commitToMarks } = await import("./bench/commit-to-marks.mjs");
	await firstViews();
	await commitToMarks();
}
