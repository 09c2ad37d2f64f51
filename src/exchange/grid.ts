import Papa from "papaparse";

/** A cell as read: its text without blanks around it, and where it begins in the file, line and character from 1. */
export interface Cell {
	text: string;
	line: number;
	column: number;
}

/** A line of a sheet that holds something; lines of an empty sheet are left out. */
export type GridLine = Cell[];

/** What may stand between cells. */
export const delimiters = [",", ";", "\t", "|"] as const;

/**
 * The cells of a sheet. Quotes, line breaks in cells, all three line ends, ruled lines of a text table, the first line
 * `sep=;` of some spreadsheets. A quote that is never closed is taken as an inch mark or a slip: the sheet is read without quotes.
 *
 * @param mostLines where given, reading stops there
 * @param blank whether lines that hold nothing stay where they stand between others: in a block each is a row
 */
export function readGrid(text: string, delimiter: string, mostLines = 0, blank = false): GridLine[] {
	const plain = text.replace(/\r\n?/g, "\n");
	const hint = /^sep=.\n/i.exec(plain)?.[0] ?? "";
	const quoted = parseLines(plain, delimiter, mostLines, '"');
	const read = quoted.unclosed ? parseLines(plain, delimiter, mostLines, "\u0000").lines : quoted.lines;
	const lines = hint === "" ? read : read.filter((line) => line[0]?.line !== 1);
	if (blank) return lines.slice(0, 1 + lines.findLastIndex((line) => line.some(({ text }) => text !== "")));
	return lines.filter(
		(line) => line.some(({ text }) => text !== "") && !line.every(({ text }) => /^[:\-=_\s]*$/.test(text)),
	);
}

/** The separator that a sheet names in its own first line; undefined where it names none. */
export function namedDelimiter(text: string): string | undefined {
	return /^sep=(.)\r?\n?/i.exec(text)?.[1];
}

function parseLines(
	text: string,
	delimiter: string,
	preview: number,
	quoteChar: string,
): { lines: GridLine[]; unclosed: boolean } {
	const lines: GridLine[] = [];
	let start = 0;
	let line = 1;
	let unclosed = false;
	Papa.parse<string[]>(text, {
		delimiter,
		newline: "\n",
		quoteChar,
		preview,
		step: ({ data, meta, errors }) => {
			unclosed ||= errors.some(({ code }) => code === "MissingQuotes");
			const raw = text.slice(start, meta.cursor);
			lines.push(placed(data, raw, line, delimiter));
			line += raw.split("\n").length - 1;
			start = meta.cursor;
		},
	});
	return { lines, unclosed };
}

/** Cells with their place: the parser gives only where a record ends, so each cell's written length is counted again. */
function placed(data: readonly string[], raw: string, firstLine: number, delimiter: string): GridLine {
	let at = 0;
	return data.map((value) => {
		const begin = at + (raw.slice(at).match(/^[^\S\n\t]*/)?.[0].length ?? 0);
		const before = raw.slice(0, Math.min(begin, raw.length)).split("\n");
		const quoted = raw[at] === '"' && raw.slice(at, at + value.length) !== value;
		const written = quoted ? value.length + 2 + (value.split('"').length - 1) : value.length;
		at += written;
		// A slip in the quotes makes the count wrong: the next separator is then the next best place.
		if (raw[at] !== delimiter) at = Math.max(raw.indexOf(delimiter, at), at);
		at += 1;
		return {
			text: withoutEscape(value.trim()),
			line: firstLine + before.length - 1,
			column: (before.at(-1)?.length ?? 0) + 1,
		};
	});
}

/** Without the apostrophe that keeps a spreadsheet from taking a text for a formula. */
function withoutEscape(text: string): string {
	return /^'+[=+\-@]/.test(text) ? text.slice(1) : text;
}
