import type { Command } from "commander";
import type { ExitCode, World } from "./world.ts";

/** One command of the command line: a file in `commands/`, called like the command. */
export interface CommandFile {
	id: string;
	/** Adds arguments, options and an example to the command of that name. */
	define(command: Command): void;
	run(names: string[], options: Record<string, string | undefined>, world: World): Promise<ExitCode>;
}

/** A command used wrongly: said to the user, exit code 2. */
export class WrongUse extends Error {}
