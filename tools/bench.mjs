/** `npm run bench`: installs what is missing, builds the benchmark as the product is built, and runs it. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { installPackages, root } from "./set-up.mjs";

installPackages();
const { build } = await import("vite");
await build({
	root,
	configFile: false,
	logLevel: "error",
	build: { ssr: "tools/bench/bench.ts", outDir: "dist/bench", target: "node20" },
});
const { status } = spawnSync(process.execPath, [join(root, "dist/bench/bench.js")], { cwd: root, stdio: "inherit" });
process.exitCode = status ?? 1;
