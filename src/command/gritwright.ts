import process from "node:process";
import { run } from "./run.ts";

const now = new Date();
const two = (part: number) => String(part).padStart(2, "0");

// A reader that closes the pipe early (`| head`) is no fault.
process.stdout.on("error", (failure: NodeJS.ErrnoException) => {
	if (failure.code !== "EPIPE") throw failure;
});

process.exitCode = await run(process.argv.slice(2), {
	out: (text) => process.stdout.write(text),
	err: (text) => process.stderr.write(text),
	folder: process.cwd(),
	today: `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`,
	environment: process.env,
});
