import { Command, CommanderError } from "commander";
import { WrongUse } from "./command-file.ts";
import { commands } from "./generated/commands.ts";
import { wrap } from "./layout.ts";
import type { ExitCode, World } from "./world.ts";

/**
 * Runs the command line and answers with its exit code; the process itself is left alone.
 *
 * @param words what the user typed after the program's name
 */
export async function run(words: readonly string[], { err, ...rest }: World): Promise<ExitCode> {
	// Remarks and errors keep to the page as findings do.
	const world: World = {
		...rest,
		err: (text) => err(text.replace(/.{81,}/g, (line) => wrap(line.trim(), "", "  "))),
	};
	let code: ExitCode = 0;
	const program = new Command("gritwright")
		.description("Checks, forecasts, reads and writes a body shop's paint-finishing procedures.")
		.helpCommand(false)
		.exitOverride()
		.configureOutput({
			writeOut: (text) => world.out(text),
			writeErr: (text) => world.err(text),
			getOutHelpWidth: () => 80,
			getErrHelpWidth: () => 80,
			getOutHasColors: () => false,
			getErrHasColors: () => false,
		})
		.showHelpAfterError("(add --help to see how it is used)")
		.addHelpText(
			"after",
			"\nExit codes: 0 clean, 1 findings at or above the asked level, 2 wrong use,\n3 unreadable input, 4 a fault of this program.\n\nExample: gritwright check procedures/",
		);
	for (const file of commands) {
		const command = program.command(file.id);
		command.copyInheritedSettings(program);
		file.define(command);
		command.action(async () => {
			code = await file.run(command.args, command.opts(), world);
		});
	}
	try {
		await program.parseAsync([...words], { from: "user" });
		return code;
	} catch (failure) {
		if (failure instanceof WrongUse) {
			world.err(`${failure.message}\n`);
			return 2;
		}
		if (failure instanceof CommanderError) return failure.exitCode === 0 ? 0 : 2;
		world.err(
			`A fault of gritwright itself; nothing was written by this command after it.\n${failure instanceof Error ? failure.stack : String(failure)}\n`,
		);
		return 4;
	}
}
