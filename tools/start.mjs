/** `npm start`: installs and builds what is missing, checks the demo books, and says what to try next. */
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { join, relative } from "node:path";
import { build, commandLine, isStale } from "./build.mjs";
import { installPackages, root } from "./set-up.mjs";

try {
	installPackages();
	if (isStale()) {
		console.log("Building the command line …");
		await build();
	}
	process.exitCode = checkDemoBooks();
} catch (error) {
	console.error(error.message);
	process.exitCode = 4;
}

function checkDemoBooks() {
	const shops = readdirSync(join(root, "procedures"), { withFileTypes: true })
		.filter((entry) => entry.isDirectory())
		.map((entry) => `procedures/${entry.name}`);
	console.log(`Checking the demo books: ${shops.join(", ")}\n`);
	const { status } = spawnSync(process.execPath, [commandLine, "check", ...shops], { cwd: root, stdio: "inherit" });

	const gritwright = `node ${relative(root, commandLine).replaceAll("\\", "/")}`;
	const procedure = shops
		.flatMap((shop) => readdirSync(join(root, shop)).map((file) => `${shop}/${file}`))
		.find((path) => path.endsWith(".procedure.json"));
	console.log(`
What to try next:
  ${gritwright} forecast ${procedure}
  ${gritwright} export ${procedure} --as card --out card.pdf
  ${gritwright} check your-own-sheet.csv
  ${gritwright} --help`);
	return status ?? 4;
}
