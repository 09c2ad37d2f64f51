/**
 * `npm start`: installs and builds what is missing, makes a working copy of the demo books at the first start, and
 * serves the workbench. What follows `npm start --` goes to `gritwright serve`: `--books FOLDER`, `--port N`.
 */
import { cpSync, existsSync, renameSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build, commandLine, isStale } from "./build.mjs";
import { installPackages, root } from "./set-up.mjs";

/** Where the demo books are worked on; git ignores it. */
const copy = join(root, ".books");

try {
	installPackages();
	if (isStale()) {
		console.log("Building the workbench and the command line …");
		await build();
	}
	const words = process.argv.slice(2);
	if (!words.some((word) => /^--(books|help)(=|$)|^-h$/.test(word))) {
		copyDemoBooks();
		words.unshift("--books", copy);
	}
	// npm runs this in the folder of package.json; a folder is named from where the person is.
	process.chdir(process.env.INIT_CWD ?? root);
	process.argv = [process.argv[0], commandLine, "serve", ...words];
	await import(pathToFileURL(commandLine).href);
} catch (error) {
	console.error(error.message);
	process.exitCode = 4;
}

/** A working copy that is there already has somebody's work in it: it is never written over. */
function copyDemoBooks() {
	if (existsSync(copy)) return;
	const fresh = `${copy}.${process.pid}`;
	cpSync(join(root, "procedures"), fresh, { recursive: true });
	renameSync(fresh, copy);
	console.log(`The demo books were copied from procedures/ to ${copy}; work there, the originals stay.`);
}
