import { existsSync } from "node:fs";
import { dirname, extname } from "node:path";
import { writeText } from "../../book/files.ts";
import { checkFile } from "../../check/check.ts";
import { exports as formats } from "../../exchange/generated/exports.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { problemOf, sayProblem } from "../../model/problem.ts";
import { type CommandFile, WrongUse } from "../command-file.ts";
import { placeOf } from "../files.ts";
import { type OpenProcedure, openProcedure } from "../open-procedure.ts";
import { languageOf, oneOf } from "../options.ts";
import { printPdf } from "../print-pdf.ts";

export default {
	id: "export",
	define(command) {
		command
			.description("Writes a procedure for other tools or for the bench, to standard output or to a file.")
			.argument("<file>", "a procedure file, or a CSV or TSV sheet")
			.requiredOption("--as <form>", formats.map(({ id }) => id).join(", "))
			.option("--out <file>", "file to write; a card becomes PDF where the name ends in .pdf")
			.option("--language <language>", "en or es; by default the language of the book")
			.addHelpText("after", "\nExample: gritwright export nibs.procedure.json --as card --out nibs.pdf");
	},
	async run([path = ""], options, world) {
		const id = oneOf(
			"--as",
			options.as,
			formats.map((format) => format.id),
			"json",
		);
		const format = formats.find((one) => one.id === id);
		if (format === undefined) throw new RangeError(`no format is called ${id}`);
		const asPdf = options.out !== undefined && extname(options.out).toLowerCase() === ".pdf";
		if (asPdf && id !== "card") throw new WrongUse(`Only a card becomes PDF; --as ${id} does not.`);
		const opened = openProcedure(path, world.folder);
		if ("problem" in opened) {
			world.err(`${opened.problem}\n`);
			return 3;
		}
		const { procedure, shop, problems, where, notes } = opened;
		for (const note of notes) world.err(`${note}\n`);
		const language = languageOf(options.language, shop.book.language);
		const check = checkFile(path, { procedure, problems, shop, today: world.today }, language, where);
		for (const problem of problems) world.err(`${path}: ${sayProblem(problem, language)}\n`);
		// What is exported is the file as it is kept, so that nothing a rule could not read gets lost.
		const kept = opened.file === null ? procedure : (opened.file.value as typeof procedure);
		const text = format.write({
			procedure: id === "json" ? kept : withRefused(procedure, opened),
			shop,
			today: world.today,
			language,
			check,
		});
		if (options.out === undefined) {
			world.out(text);
			return 0;
		}
		const place = placeOf(options.out, world.folder);
		if (!existsSync(dirname(place))) {
			const missing = problemOf("no-folder", null, { name: options.out, folder: dirname(options.out) });
			world.err(`${sayProblem(missing, language)}\n`);
			return 3;
		}
		const failure = asPdf ? await printPdf(text, place, world.environment) : writeText(place, text);
		if (failure !== undefined) {
			world.err(`${typeof failure === "string" ? failure : sayProblem(failure.problem, language)}\n`);
			return 3;
		}
		world.err(`wrote ${options.out}\n`);
		return 0;
	},
} satisfies CommandFile;

/** The procedure with what the schema refuses shown as typed in its cell, so that no sheet or card drops it silently. */
function withRefused(procedure: Procedure, { file, problems }: OpenProcedure): Procedure {
	const raw = (file?.value as { steps?: Record<string, unknown>[] } | undefined)?.steps ?? [];
	const steps = (procedure.steps ?? []).map((step) => {
		const typed: Record<string, string> = {};
		for (const { row, rowId, field } of problems) {
			const value = rowId === step.id && field !== null && field !== "id" ? raw[row ?? -1]?.[field] : undefined;
			if (value !== undefined) typed[field ?? ""] = typeof value === "string" ? value : JSON.stringify(value);
		}
		if (Object.keys(typed).length === 0) return step;
		const kept = Object.entries(step).filter(([field]) => !Object.hasOwn(typed, field));
		return { ...Object.fromEntries(kept), id: step.id, asTyped: { ...step.asTyped, ...typed } };
	});
	return { ...procedure, steps };
}
