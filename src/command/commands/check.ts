import { type CheckedFile, countFindings, type ReportedFinding } from "../../check/check.ts";
import { boxesInWords } from "../../check/situation-words.ts";
import { sarif } from "../../exchange/reports/sarif.ts";
import { type Level, levels } from "../../model/finding.ts";
import type { Language } from "../../model/units.ts";
import { checkTarget } from "../check-target.ts";
import type { CommandFile } from "../command-file.ts";
import { targetsOf } from "../files.ts";
import { pageWidth, wrap } from "../layout.ts";
import { dateOf, languageOf, levelOf, oneOf } from "../options.ts";
import { version } from "../version.ts";
import { type ExitCode, gravest } from "../world.ts";

export default {
	id: "check",
	define(command) {
		command
			.description("Checks procedures, books and spreadsheets, and lists what was found.")
			.argument("<path...>", "a book, a folder of books, a procedure file, or a CSV or TSV sheet")
			.option("--as <form>", "text, json or sarif", "text")
			.option("--level <level>", "stop, caution or advice: what counts for the exit code", "caution")
			.option("--language <language>", "en or es; by default the language of the book")
			.option("--today <date>", "date of the check, year-month-day")
			.addHelpText("after", "\nExample: gritwright check procedures/ --level stop");
	},
	async run(paths, options, world) {
		const form = oneOf("--as", options.as, ["text", "json", "sarif"], "text");
		const level = levelOf(options.level);
		const language = options.language === undefined ? undefined : languageOf(options.language);
		const today = dateOf(options.today, world.today);
		const { targets, problems } = targetsOf(paths, world.folder);
		const codes: ExitCode[] = [];
		const checked: CheckedFile[] = [];
		const notes: string[] = [];
		for (const target of targets) {
			const outcome = checkTarget(target, { today, language, folder: world.folder });
			checked.push(...outcome.checked);
			problems.push(...outcome.problems);
			notes.push(...outcome.notes);
		}
		for (const sentence of [...problems, ...notes]) world.err(`${sentence}\n`);
		if (problems.length > 0) codes.push(3);
		const counts = countFindings(checked);
		if (levels.slice(0, levels.indexOf(level) + 1).some((one) => counts[one] > 0)) codes.push(1);

		if (form === "json") world.out(`${JSON.stringify({ checked, counts }, null, 2)}\n`);
		else if (form === "sarif") world.out(`${JSON.stringify(sarif(checked, language ?? "en", version), null, 2)}\n`);
		else world.out(`${asText(checked, language ?? "en")}\n`);
		return gravest(codes);
	},
} satisfies CommandFile;

function asText(checked: readonly CheckedFile[], language: Language): string {
	const parts = checked.map(({ path, rows, findings }) => {
		const open = findings.filter(({ accepted }) => accepted === null);
		const accepted = findings.filter((one) => one.accepted !== null);
		const size = rows === null ? "" : `  (${rows} rows)`;
		const lines = [`${path}${size}`];
		if (open.length === 0) lines.push("  nothing found");
		for (const finding of open) lines.push(findingText(finding, language));
		for (const finding of accepted) lines.push(acceptedText(finding));
		return lines.join("\n");
	});
	const { stop, caution, advice } = countFindings(checked);
	const total = `${checked.length} checked: ${stop} stop, ${caution} caution, ${advice} advice`;
	return [...parts, "-".repeat(Math.min(pageWidth, total.length)), total]
		.join("\n\n")
		.replace(/\n\n(-+)\n\n/, "\n\n$1\n");
}

const marks: Record<Level, string> = { stop: "STOP    ", caution: "caution ", advice: "advice  " };

function findingText({ level, message, situations, rule }: ReportedFinding, language: Language): string {
	const where = boxesInWords(situations, language);
	const only = { en: `(${where} only)`, es: `(solo ${where})` }[language];
	return wrap(`${message}${where === "" ? "" : ` ${only}`} [${rule}]`, `  ${marks[level]}`, " ".repeat(10));
}

function acceptedText({ accepted, rule, row }: ReportedFinding): string {
	const at = row === null ? "" : `row ${row}, `;
	const until = accepted?.until ? ` until ${accepted.until}` : "";
	return wrap(`${at}${rule}, by ${accepted?.by}${until}: ${accepted?.reason}`, "  accepted  ", " ".repeat(12));
}
