import process from "node:process";
import { fileURLToPath } from "node:url";
import { run } from "./run.ts";

// A reader that closes the pipe early (`| head`) is no fault.
process.stdout.on("error", (failure: NodeJS.ErrnoException) => {
	if (failure.code !== "EPIPE") throw failure;
});

process.exitCode = await run(process.argv.slice(2), {
	out: (text) => process.stdout.write(text),
	err: (text) => process.stderr.write(text),
	folder: process.cwd(),
	today: dateOfToday(),
	environment: process.env,
	clock: dateOfToday,
	// Beside the folder of the built command line.
	workbench: fileURLToPath(new URL("../workbench", import.meta.url)),
	untilStopped: () =>
		new Promise((resolve) => {
			for (const signal of ["SIGINT", "SIGTERM"]) process.on(signal, () => resolve());
		}),
});

function dateOfToday(): string {
	const now = new Date();
	const two = (part: number) => String(part).padStart(2, "0");
	return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
