import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";

export default defineConfig({
	root: fileURLToPath(new URL("..", import.meta.url)),
	build: {
		ssr: "src/command/gritwright.ts",
		outDir: "dist/command",
		target: "node20",
		rolldownOptions: { output: { banner: ({ isEntry }) => (isEntry ? "#!/usr/bin/env node" : "") } },
	},
});
