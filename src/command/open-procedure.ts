import { basename } from "node:path";
import type { Finding } from "../model/finding.ts";
import type { Procedure } from "../model/generated/types.ts";
import type { Shop } from "../model/shop.ts";
import type { Case, Place } from "../check/check.ts";
import { decodeText } from "../exchange/decode.ts";
import { importSheet, type ImportedSheet } from "../exchange/sheet-in.ts";
import { openFile, type OpenFile } from "../model/document.ts";
import { type Problem, sayProblem } from "../model/problem.ts";
import type { Language } from "../model/words.ts";
import { partOfName } from "../book/book.ts";
import { readBytes, readText } from "../book/files.ts";
import { placeOf, shopAround } from "./files.ts";

/** A procedure, from its own file or from a sheet, with the shop it is judged by. */
export interface OpenProcedure {
	/** The path as the user named it. */
	path: string;
	procedure: Procedure;
	shop: Shop;
	problems: Case["problems"];
	/** The file, where it is one of a book's form. */
	file: OpenFile<"procedure"> | null;
	/** The sheet, where it was one. */
	sheet: ImportedSheet | null;
	/** What the user should know of how it was read, as sentences. */
	notes: string[];
	/** Where a finding stands in the file as read. */
	where(finding: Finding): Place | null;
}

/**
 * Opens a procedure file or a sheet; the book whose folder it lies in gives the shop, else the generic one.
 *
 * @returns a sentence where the file cannot be read as either
 */
export function openProcedure(
	path: string,
	folder: string,
	language: Language = "en",
): OpenProcedure | { problem: string } {
	const part = partOfName(basename(path));
	if (part !== null)
		return { problem: `${path}: this is the ${part} of a book, not a procedure. Name the book's folder to check it.` };
	// A sheet may be in any encoding a spreadsheet program writes; a file of a book is UTF-8.
	const isSheet = isSheetName(path);
	const read = isSheet ? readSheet(placeOf(path, folder)) : readText(placeOf(path, folder));
	if ("problem" in read) return { problem: `${path}: ${sayProblem(read.problem, language)}` };
	const around = shopAround(path, folder);
	if ("problem" in around) return around;
	const open = isSheet ? openSheet : openJson;
	const opened = open(path, read.text, around.shop, language);
	return "problem" in opened ? opened : { ...opened, notes: [...around.problems, ...opened.notes] };
}

function readSheet(place: string): { text: string } | { problem: Problem } {
	const read = readBytes(place);
	return "problem" in read ? read : { text: decodeText(read.bytes).text };
}

/** Whether a file's name says that it is a sheet. */
function isSheetName(path: string): boolean {
	return /\.(csv|tsv|txt)$/i.test(path);
}

function openJson(path: string, text: string, shop: Shop, language: Language): OpenProcedure | { problem: string } {
	const file = openFile("procedure", text);
	if ("problem" in file) return { problem: `${path}: ${sayProblem(file.problem, language)}` };
	return {
		path,
		procedure: file.readable,
		shop,
		problems: file.problems,
		file,
		sheet: null,
		notes: file.readOnly.map((loss) => `${path}:${loss.line}:${loss.column}: ${sayProblem(loss, language)}`),
		where: ({ pointer }) => file.place(file.pointerInFile(pointer)),
	};
}

function openSheet(path: string, text: string, shop: Shop, language: Language): OpenProcedure | { problem: string } {
	const sheet = importSheet({ text, name: path.split(/[\\/]/).at(-1) ?? path, shop, language });
	if ("problem" in sheet) return { problem: `${path}: ${sayProblem(sheet.problem, language)}` };
	return {
		path,
		procedure: sheet.procedure,
		shop,
		problems: [],
		file: null,
		sheet,
		notes: sheet.notes.map((note) => `${path}: ${note}`),
		where: ({ row, field }) => sheet.placeOf(row, field),
	};
}
