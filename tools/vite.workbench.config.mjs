import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";

/** The workbench as the server hands it out; `__nonce__` becomes the nonce of each response. */
export default defineConfig({
	root: fileURLToPath(new URL("../src/workbench", import.meta.url)),
	base: "/",
	html: { cspNonce: "__nonce__" },
	build: {
		outDir: fileURLToPath(new URL("../dist/workbench", import.meta.url)),
		emptyOutDir: true,
		target: "es2022",
		// Listed with every file, so that the sizes a person downloads can be added up.
		manifest: true,
		modulePreload: { polyfill: false },
	},
});
