import { isBook, readShop } from "../../book/book.ts";
import { readBytes } from "../../book/files.ts";
import { addProcedure } from "../../book/procedures.ts";
import { contextInWords } from "../../exchange/context-words.ts";
import { decodeText } from "../../exchange/decode.ts";
import { type ImportedSheet, importSheet } from "../../exchange/sheet-in.ts";
import { headerOf } from "../../model/fields/columns.ts";
import { sayProblem } from "../../model/problem.ts";
import { procedureFile } from "../../model/procedure-file.ts";
import { genericShop } from "../../model/shop.ts";
import { type CommandFile, WrongUse } from "../command-file.ts";
import { placeOf } from "../files.ts";
import { table, wrap } from "../layout.ts";
import { languageOf, oneOf } from "../options.ts";

export default {
	id: "import",
	define(command) {
		command
			.description("Reads a CSV or TSV sheet as shops keep them; says what each column became and what was not read.")
			.argument("<sheet>", "a CSV or TSV sheet")
			.option("--into <book>", "folder of a book: writes the procedure there; without it nothing is written")
			.option("--as <form>", "text or json", "text")
			.option("--language <language>", "en or es", "en")
			.addHelpText("after", "\nExample: gritwright import nibs.csv --into procedures/quillfeather");
	},
	async run([path = ""], options, world) {
		const form = oneOf("--as", options.as, ["text", "json"], "text");
		const language = languageOf(options.language);
		const into = options.into === undefined ? undefined : placeOf(options.into, world.folder);
		if (into !== undefined && !isBook(into)) throw new WrongUse(`--into ${options.into}: no book.json lies there.`);
		const read = readBytes(placeOf(path, world.folder));
		if ("problem" in read) {
			world.err(`${path}: ${sayProblem(read.problem, language)}\n`);
			return 3;
		}
		const around = into === undefined ? { shop: genericShop } : readShop(into);
		if ("problem" in around) {
			world.err(`${options.into}: ${sayProblem(around.problem, language)}\n`);
			return 3;
		}
		const name = path.split(/[\\/]/).at(-1) ?? path;
		const sheet = importSheet({ text: decodeText(read.bytes).text, name, shop: around.shop, language });
		if ("problem" in sheet) {
			world.err(`${path}: ${sayProblem(sheet.problem, language)}\n`);
			return 3;
		}
		if (form === "json") {
			const { columns, context, procedure, unread } = sheet;
			world.out(`${JSON.stringify({ columns, context, procedure, unread }, null, 2)}\n`);
		} else world.out(`${asText(sheet, language)}\n`);
		if (into === undefined) return 0;
		const added = await addProcedure(into, sheet.procedure);
		if ("problem" in added) {
			world.err(`${sayProblem(added.problem, language)} Nothing was written.\n`);
			return 3;
		}
		world.err(`wrote ${options.into}/${procedureFile(sheet.procedure.id)}\n`);
		return 0;
	},
} satisfies CommandFile;

function asText({ columns, context, procedure, unread, notes, rows }: ImportedSheet, language: "en" | "es"): string {
	const became = columns.map(({ header, field }) => [
		`  ${header}`,
		field === null ? "not placed; its texts are kept in the rows' notes" : headerOf(field, language),
	]);
	const parts = [
		wrap(
			`${procedure.title[language] ?? procedure.title.en ?? procedure.title.es ?? procedure.id}: ${rows} rows`,
			"",
			"",
		),
		`Columns\n${table(became)}`,
	];
	const around = contextInWords(context, language).map(({ name, values }) => wrap(values, `  ${name}: `, "    "));
	if (around.length > 0) parts.push(`Around the table\n${around.join("\n")}`);
	if (notes.length > 0) parts.push(notes.map((note) => wrap(note, "", "  ")).join("\n"));
	parts.push(
		unread.length === 0
			? "Everything was read."
			: `Not read, kept as typed\n${unread.map(({ row, column, text, why }) => wrap(`${row === null ? "" : `row ${row}, `}${column ?? ""}: "${text}": ${why}`, "  ", "    ")).join("\n")}`,
	);
	return parts.join("\n\n");
}
