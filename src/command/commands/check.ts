import { type CheckedFile, countFindings, type ReportedFinding } from "../../check/check.ts";
import { boxesInWords } from "../../check/situation-words.ts";
import { sarif } from "../../exchange/reports/sarif.ts";
import { levels } from "../../model/finding.ts";
import { label, type Language } from "../../model/words.ts";
import { checkTarget } from "../check-target.ts";
import type { CommandFile } from "../command-file.ts";
import { targetsOf } from "../files.ts";
import words from "../data/check.json" with { type: "json" };
import { wrap } from "../layout.ts";
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
		const parts: string[] = [];
		let spoken = language;
		for (const target of targets) {
			const outcome = checkTarget(target, { today, language, folder: world.folder });
			checked.push(...outcome.checked);
			for (const entry of outcome.checked) parts.push(entryText(entry, outcome.language));
			spoken ??= outcome.language;
			problems.push(...outcome.problems);
			notes.push(...outcome.notes);
		}
		for (const sentence of [...problems, ...notes]) world.err(`${sentence}\n`);
		if (problems.length > 0) codes.push(3);
		const counts = countFindings(checked);
		if (levels.slice(0, levels.indexOf(level) + 1).some((one) => counts[one] > 0)) codes.push(1);

		if (form === "json") world.out(`${JSON.stringify({ checked, counts }, null, 2)}\n`);
		else if (form === "sarif") world.out(`${JSON.stringify(sarif(checked, spoken ?? "en", version), null, 2)}\n`);
		else world.out(`${[...parts, totalText(checked, spoken ?? "en")].join("\n\n")}\n`);
		return gravest(codes);
	},
} satisfies CommandFile;

function entryText({ path, rows, findings }: CheckedFile, language: Language): string {
	const say = words[language];
	const open = findings.filter(({ accepted }) => accepted === null);
	const accepted = findings.filter((one) => one.accepted !== null);
	const lines = [rows === null ? path : `${path}  (${rows} ${say.rows})`];
	if (open.length === 0) lines.push(`  ${say.nothing}`);
	for (const finding of open) lines.push(findingText(finding, language));
	for (const finding of accepted) lines.push(acceptedText(finding, language));
	return lines.join("\n");
}

/** "17 checked: 0 stop, 2 caution, 1 advice", in the language of the first book where none is asked for. */
function totalText(checked: readonly CheckedFile[], language: Language): string {
	const counts = countFindings(checked);
	const total = levels.map((level) => `${counts[level]} ${label("level", level, language)}`).join(", ");
	return `${checked.length} ${words[language].checked}: ${total}`;
}

function findingText({ level, message, situations, rule }: ReportedFinding, language: Language): string {
	const word = label("level", level, language);
	const width = 1 + Math.max(...levels.map((one) => label("level", one, language).length));
	// What stops a release is seen before anything is read.
	const mark = (level === "stop" ? word.toUpperCase() : word).padEnd(width);
	const where = boxesInWords(situations, language);
	const only = where === "" ? "" : ` ${words[language].only.replace("{where}", where)}`;
	return wrap(`${message}${only} [${rule}]`, `  ${mark}`, " ".repeat(width + 2));
}

function acceptedText({ accepted, rule, row }: ReportedFinding, language: Language): string {
	const say = words[language];
	const at = row === null ? "" : `${say.row} ${row}, `;
	const until = accepted?.until ? ` ${say.until} ${accepted.until}` : "";
	return wrap(
		`${at}${rule}, ${say.by} ${accepted?.by}${until}: ${accepted?.reason}`,
		`  ${say.accepted} `,
		" ".repeat(11),
	);
}
