/** `npm run soak [count] [seed]`: the fuzz tests with many more broken inputs; a failing input is printed whole. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { installPackages, root } from "./set-up.mjs";

installPackages();
const [count = "50000", seed = String(Date.now() % 1_000_000)] = process.argv.slice(2);
console.log(`${count} broken inputs of each kind, seed ${seed}`);
const { status } = spawnSync(
	process.execPath,
	[
		join(root, "node_modules/vitest/vitest.mjs"),
		"run",
		"--config",
		"tools/vitest.config.mjs",
		"--testTimeout=0",
		"tests/check/fuzz.test.ts",
	],
	{ cwd: root, stdio: "inherit", env: { ...process.env, GRITWRIGHT_FUZZ_COUNT: count, GRITWRIGHT_FUZZ_SEED: seed } },
);
process.exitCode = status ?? 1;
