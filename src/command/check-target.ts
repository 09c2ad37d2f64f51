import { join } from "node:path";
import { type BookFile, readBook } from "../book/book.ts";
import { checkFile, checkPart, type CheckedFile } from "../check/check.ts";
import { sayProblem } from "../model/problem.ts";
import type { Language } from "../model/words.ts";
import { placeOf, type Target } from "./files.ts";
import { openProcedure } from "./open-procedure.ts";

interface Setting {
	today: string;
	/** Absent: the language of the book. */
	language: Language | undefined;
	folder: string;
}

/** What came of checking one target: entries to report, sentences for what could not be read, and remarks. */
export interface CheckedTarget {
	checked: CheckedFile[];
	/** Language the entries are worded in. */
	language: Language;
	problems: string[];
	notes: string[];
}

/** Checks a book (its parts and every procedure) or a single file. */
export function checkTarget(target: Target, setting: Setting): CheckedTarget {
	return target.kind === "book" ? checkBook(target.path, setting) : checkOne(target.path, setting);
}

function checkBook(path: string, { today, language, folder }: Setting): CheckedTarget {
	const book = readBook(placeOf(path, folder));
	if ("problem" in book)
		return {
			checked: [],
			language: language ?? "en",
			problems: [`${path}: ${sayProblem(book.problem, language ?? "en")}`],
			notes: [],
		};
	const { shop, parts, procedures } = book;
	const spoken = language ?? shop.book.language ?? "en";
	const checked: CheckedFile[] = [];
	for (const { name, file } of parts) {
		const entry = checkPart(join(path, name), file, spoken);
		if (entry.findings.length > 0) checked.push(entry);
	}
	for (const { name, file } of procedures) {
		const one = { procedure: file.readable, problems: file.problems, shop, today };
		checked.push(checkFile(join(path, name), one, spoken, ({ pointer }) => file.place(file.pointerInFile(pointer))));
	}
	const problems = book.problems.map(({ name, problem }) => `${join(path, name)}: ${sayProblem(problem, spoken)}`);
	return {
		checked,
		language: spoken,
		problems,
		notes: [...parts, ...procedures].flatMap((one) => lossesOf(path, one, spoken)),
	};
}

/** Why a file opens read-only, with line and column. */
function lossesOf(path: string, { name, file }: BookFile | BookFile<"procedure">, language: Language): string[] {
	return file.readOnly.map((loss) => `${join(path, name)}:${loss.line}:${loss.column}: ${sayProblem(loss, language)}`);
}

function checkOne(path: string, { today, language, folder }: Setting): CheckedTarget {
	const opened = openProcedure(path, folder, language);
	if ("problem" in opened) return { checked: [], language: language ?? "en", problems: [opened.problem], notes: [] };
	const { procedure, problems, shop, where, sheet, notes } = opened;
	const spoken = language ?? shop.book.language ?? "en";
	const entry = checkFile(path, { procedure, problems, shop, today }, spoken, where, sheet !== null);
	return { checked: [entry], language: spoken, problems: [], notes };
}
