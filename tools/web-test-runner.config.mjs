/**
 * Component tests in a real Chromium, from source: `tests/browser/**`. A test that leaves a line of the grid
 * library's own complaints on the console fails.
 */
import { fileURLToPath } from "node:url";
import { esbuildPlugin } from "@web/dev-server-esbuild";
import { playwrightLauncher } from "@web/test-runner-playwright";
import { defaultReporter } from "@web/test-runner";
import { chromiumFlags, findChromium } from "./chromium.mjs";
import { countReporter } from "./web-test-runner.reporters.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));

export default {
	rootDir: root,
	files: ["tests/browser/**/*.test.ts"],
	nodeResolve: { exportConditions: ["development", "browser"] },
	concurrency: 2,
	testsFinishTimeout: 300_000,
	testFramework: { config: { timeout: 20_000 } },
	browsers: [
		playwrightLauncher({
			product: "chromium",
			launchOptions: { executablePath: findChromium(), args: chromiumFlags },
			createBrowserContext: ({ browser }) => browser.newContext({ viewport: { width: 1280, height: 800 } }),
		}),
	],
	mimeTypes: { "**/*.json": "js" },
	plugins: [
		jsonAsModule(),
		scriptAsModule(/\/papaparse(?:\.min)?\.js$/),
		esbuildPlugin({
			ts: true,
			target: "es2022",
			tsconfig: fileURLToPath(new URL("../tsconfig.json", import.meta.url)),
		}),
	],
	filterBrowserLogs: ({ args }) => !String(args[0]).startsWith("Lit is in dev mode"),
	reporters: [defaultReporter({ reportTestProgress: false }), countReporter(process.env.BROWSER_REPORT)],
};

/** A JSON file as the module that its importer expects; the browser would else refuse what is served as script. */
function jsonAsModule() {
	return {
		name: "json-as-module",
		transformImport({ source }) {
			return source.endsWith(".json") ? `${source}?module` : undefined;
		},
		transform(context) {
			if (!context.path.endsWith(".json")) return undefined;
			return { body: `export default ${context.body};`, headers: { "content-type": "text/javascript" } };
		},
	};
}

/** A dependency that comes as a script only, as the module that its importer expects; the build does the same. */
function scriptAsModule(path) {
	return {
		name: "script-as-module",
		transform(context) {
			if (!path.test(context.path)) return undefined;
			return `const module = { exports: {} }; const { exports } = module;\n(function () {\n${context.body}\n}).call(globalThis);\nexport default module.exports;`;
		},
	};
}
