import { listBooks } from "../../book/procedures.ts";
import { sayProblem } from "../../model/problem.ts";
import { startServer } from "../../server/server.ts";
import { type CommandFile, WrongUse } from "../command-file.ts";
import { placeOf } from "../files.ts";
import { wrap } from "../layout.ts";

/** Where the workbench is found when nothing else is asked for. */
const usualPort = 4717;

export default {
	id: "serve",
	define(command) {
		command
			.description("Serves the workbench to a browser on this computer, until it is stopped.")
			.option("--books <folder>", "a folder of books, or one book; by default the current folder")
			.option("--port <number>", `by default ${usualPort}; 0 picks a free one`)
			.addHelpText("after", "\nExample: gritwright serve --books procedures/");
	},
	async run(_, options, world) {
		const port = portOf(options.port);
		const named = options.books ?? ".";
		const books = placeOf(named, world.folder);
		const listed = listBooks(books);
		if ("problem" in listed) {
			world.err(`${sayProblem(listed.problem, "en")}\n`);
			return 3;
		}
		if (listed.books.length === 0) {
			world.err(`${named}: no book lies here to serve: a book is a folder with a book.json. Name one with --books.\n`);
			return 3;
		}
		const { workbench, clock } = world;
		const started = await startServer(
			{
				books,
				workbench,
				today: clock,
				onFault: (failure) =>
					world.err(
						`A fault of the server; it goes on.\n${failure instanceof Error ? failure.stack : String(failure)}\n`,
					),
			},
			port,
		);
		if ("refused" in started) {
			world.err(`${refusal(started.refused, port)}\n`);
			return 2;
		}
		world.out(`The workbench is at ${started.address}\n`);
		world.out(`${wrap(`It serves ${listed.books.map(({ id }) => id).join(", ")} from ${books}`, "", "  ")}\n`);
		world.out(`${wrap(safety, "", "")}\n`);
		world.out("Ctrl+C stops it.\n");
		await world.untilStopped();
		await started.close();
		return 0;
	},
} satisfies CommandFile;

const safety =
	"A forecast is an estimate: a gauge reading on the panel decides. Safety data sheets, tool manuals, local codes and trained practice come first.";

function portOf(given: string | undefined): number {
	if (given === undefined) return usualPort;
	const port = /^\d{1,5}$/.test(given) ? Number(given) : Number.NaN;
	if (!(port <= 65_535)) throw new WrongUse(`--port takes a number from 0 to 65535; "${given}" is none.`);
	return port;
}

function refusal(why: string, port: number): string {
	if (why === "EADDRINUSE")
		return `Port ${port} is taken by another program; if that is Gritwright, it is open at http://127.0.0.1:${port}/ already. Stop it, or give another port: --port ${port < 65_535 ? port + 1 : usualPort}, or --port 0 to have a free one picked.`;
	return `Port ${port} cannot be used (${why}). Give another: --port ${usualPort}, or --port 0 to have a free one picked.`;
}
