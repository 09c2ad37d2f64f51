/** `npm run bench`: installs what is missing, then runs the benchmark on the sources through tsx. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { installPackages, root } from "./set-up.mjs";

installPackages();
const { status } = spawnSync(process.execPath, ["--import", "tsx", join(root, "tools/bench/bench.ts")], {
	cwd: root,
	stdio: "inherit",
});
process.exitCode = status ?? 1;
