/**
 * Puts in place what the project needs on a machine that has only Node: the packages of the lock file, and
 * for the tests git and Chromium. Uses Node's own modules alone, since nothing is installed yet.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { findChromium, packedChromium } from "./chromium.mjs";

export const root = fileURLToPath(new URL("..", import.meta.url));

/** Installs the packages of the lock file unless they were already installed from this very lock file. */
export function installPackages() {
	const stamp = join(root, "node_modules", ".installed-from");
	const lock = createHash("sha256")
		.update(readFileSync(join(root, "package-lock.json")))
		.digest("hex");
	if (existsSync(stamp) && readFileSync(stamp, "utf8").trim() === lock) return;
	console.log("Installing the packages of package-lock.json …");
	npm(["ci", "--include=dev", "--ignore-scripts", "--loglevel=error"]);
	writeFileSync(stamp, `${lock}\n`);
}

/** Installs git where it is missing; throws a sentence when it cannot. */
export function installGit() {
	if (spawnSync("git", ["--version"]).status === 0) return;
	if (installFromDebian("git")) return;
	throw new Error(
		"The tests need the git program, and it could not be installed from here: install git, then run again.",
	);
}

/** Installs Chromium where none is found; throws a sentence when it cannot, or when the one found does not start. */
export async function installChromium() {
	if (!findChromium() && !installFromDebian("chromium")) await unpackChromium();
	const found = findChromium();
	const start = found && spawnSync(found, ["--version"], { encoding: "utf8" });
	if (start?.status === 0) return;
	throw new Error(
		`The tests need Chromium. ${found ? `${found} does not start: ${start.stderr?.trim() || start.error}` : "None was found and none could be installed."} Install it, or name one in CHROMIUM, then run again.`,
	);
}

function npm(args) {
	// On Windows npm is a batch file, which only a shell starts.
	const { status } = spawnSync("npm", args, { cwd: root, stdio: "inherit", shell: process.platform === "win32" });
	if (status !== 0)
		throw new Error(`npm ${args.join(" ")} failed (${status}): see its words above. Nothing else was done.`);
}

function installFromDebian(name) {
	if (process.getuid?.() !== 0 || spawnSync("apt-get", ["--version"]).status !== 0) return false;
	console.log(`Installing ${name} from Debian …`);
	const options = {
		stdio: ["ignore", "ignore", "inherit"],
		env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
	};
	spawnSync("apt-get", ["update", "-qq"], options);
	return spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", name], options).status === 0;
}

/** The npm package brings its own binary; it is fetched only on machines without Debian's packages or without root. */
async function unpackChromium() {
	console.log("Fetching Chromium as an npm package …");
	const { folder, specifier } = packedChromium;
	mkdirSync(folder, { recursive: true });
	writeFileSync(join(folder, "package.json"), JSON.stringify({ private: true }));
	npm(["install", "--prefix", folder, "--ignore-scripts", "--loglevel=error", specifier]);
	// The package unpacks to the temporary folder, read from TMPDIR at that moment.
	const before = process.env.TMPDIR;
	process.env.TMPDIR = folder;
	try {
		const entry = createRequire(join(folder, "package.json")).resolve("@sparticuz/chromium");
		const { default: chromium } = await import(pathToFileURL(entry).href);
		await chromium.executablePath();
	} finally {
		if (before === undefined) delete process.env.TMPDIR;
		else process.env.TMPDIR = before;
	}
}
