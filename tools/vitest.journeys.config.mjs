import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

/** Journeys through the built product in a real Chromium, one after the other: each has a server and a book of its own. */
export default defineConfig({
	root: fileURLToPath(new URL("..", import.meta.url)),
	test: {
		include: ["tests/journeys/**/*.test.ts"],
		environment: "node",
		fileParallelism: false,
		testTimeout: 60_000,
		hookTimeout: 60_000,
	},
});
