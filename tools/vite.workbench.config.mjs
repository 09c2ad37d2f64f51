import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";

/**
 * The Sheet says why a rule speaks, and shows no examples: they stay out of what a browser loads, 14 kB packed. Found
 * by the tree of the code, as the property `examples` of what a rule file exports.
 */
function withoutExamples() {
	return {
		name: "rules-without-examples",
		transform: {
			filter: { id: /\/src\/rules\/[\w-]+\/[\w-]+\.ts$/ },
			order: "post",
			handler(code) {
				const exported = this.parse(code).body.find(({ type }) => type === "ExportDefaultDeclaration")?.declaration;
				const rule = exported?.type === "CallExpression" ? exported.arguments[0] : exported;
				const examples = rule?.properties?.find(({ key }) => key?.name === "examples");
				if (examples === undefined) return undefined;
				const { start, end } = examples.value;
				return { code: `${code.slice(0, start)}{ good: [], bad: [] }${code.slice(end)}`, map: null };
			},
		},
	};
}

/** Where a figure comes from stands beside it in the data; no screen of a browser says it, so it stays on the shelf. */
function withoutSources() {
	return {
		name: "data-without-sources",
		enforce: "pre",
		transform: {
			filter: { id: /\/src\/(?:forecast\/data\/[\w-]+|model\/data\/limits)\.json$/ },
			handler: (code) => JSON.stringify(JSON.parse(code, (key, value) => (key === "source" ? undefined : value))),
		},
	};
}

/** The workbench as the server hands it out; `__nonce__` becomes the nonce of each response. */
export default defineConfig({
	root: fileURLToPath(new URL("../src/workbench", import.meta.url)),
	base: "/",
	plugins: [withoutExamples(), withoutSources()],
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
