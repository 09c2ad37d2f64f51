import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

export default defineConfig({
	root: fileURLToPath(new URL("..", import.meta.url)),
	test: {
		include: ["tests/**/*.test.ts"],
		// Those run in a browser: `web-test-runner.config.mjs` and `vitest.journeys.config.mjs`.
		exclude: ["tests/browser/**", "tests/journeys/**"],
		environment: "node",
		pool: "threads",
		maxWorkers: 2,
		// Long enough for a busy machine: no test is about time.
		testTimeout: 60_000,
	},
});
