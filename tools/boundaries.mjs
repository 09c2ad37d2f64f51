/**
 * Checks which folder of `src/` may import which, and that the checker really saw every module: with a
 * missing parser it finds none and is content.
 *
 *   node tools/boundaries.mjs [ROOT]
 */
import { readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { cruise } from "dependency-cruiser";

/** The folders of the core, each with what it may import before it. */
export const core = ["model", "forecast", "rules", "check", "compare", "print", "exchange"];

/** What each folder may import besides itself. Each folder of the core may import those before it. */
const allowed = {
	...Object.fromEntries(core.map((folder, place) => [folder, core.slice(0, place)])),
	api: ["model"],
	book: ["model"],
	server: [...core, "book", "api"],
	command: [...core, "api", "book", "server"],
	workbench: [...core, "api"],
};

/** Nothing but the core and what the browser offers may reach these. */
const withoutNode = [...core, "api", "workbench"];

const rules = [
	...Object.entries(allowed).map(([folder, others]) => ({
		name: `${folder}-imports-only-${others.join("-") || "itself"}`,
		from: { path: `^src/${folder}/` },
		to: { path: "^src/", pathNot: `^src/(${[folder, ...others].join("|")})/` },
	})),
	{
		name: "every-file-in-a-known-folder",
		from: { path: "^src/", pathNot: `^src/(${Object.keys(allowed).join("|")})/` },
		to: {},
	},
	{
		name: "no-node-module-in-core-or-browser",
		from: { path: `^src/(${withoutNode.join("|")})/` },
		to: { dependencyTypes: ["core"] },
	},
	{ name: "nothing-from-outside-src", from: { path: "^src/" }, to: { path: "^(tests|tools|dist)/" } },
	{
		name: "only-declared-packages",
		from: { path: "^src/" },
		to: { dependencyTypes: ["npm-dev", "npm-no-pkg", "npm-unknown"] },
	},
	{ name: "no-circle", from: { path: "^src/" }, to: { circular: true } },
	{ name: "every-import-found", from: { path: "^src/" }, to: { couldNotResolve: true } },
].map((rule) => ({ ...rule, severity: "error" }));

/**
 * Every import of `src/` that is not allowed, as one sentence each, and the number of modules seen.
 * `root` is an absolute path of a folder that has a `src`.
 */
export async function checkBoundaries(root) {
	const { output } = await cruise(["src"], {
		baseDir: root,
		validate: true,
		ruleSet: { forbidden: rules },
		parser: "swc",
		// Types count: a folder that needs another's types depends on it.
		tsPreCompilationDeps: true,
		doNotFollow: { path: "node_modules" },
		// Some packages name their parts in `exports` alone.
		enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "node", "default"] },
	});
	const problems = output.summary.violations.map(({ rule, from, to, cycle }) =>
		cycle ? `${rule.name}: ${[from, ...cycle.map(({ name }) => name)].join(" → ")}` : `${rule.name}: ${from} → ${to}`,
	);
	const seen = output.modules.map(({ source }) => source).filter(isOurModule);
	const there = readdirSync(join(root, "src"), { recursive: true })
		.map((path) => `src/${path.replaceAll("\\", "/")}`)
		.filter(isOurModule);
	for (const path of there.filter((path) => !seen.includes(path))) problems.push(`${path} was not seen by the checker`);
	if (seen.length === 0) problems.push("the checker saw no module at all");
	return { problems: [...new Set(problems)], modules: seen.length };
}

function isOurModule(path) {
	return path.startsWith("src/") && path.endsWith(".ts") && !path.endsWith(".d.ts");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
	const { problems, modules } = await checkBoundaries(resolve(process.argv[2] ?? "."));
	for (const problem of problems) console.error(problem);
	console.log(`${modules} modules, ${problems.length} problems`);
	process.exitCode = problems.length > 0 ? 1 : 0;
}
