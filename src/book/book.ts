import { type Dirent, existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import type { FileKind } from "../model/canonical.ts";
import { type OpenFile, openFile } from "../model/document.ts";
import { shapes } from "../model/generated/shape.ts";
import { type Problem, problemOf } from "../model/problem.ts";
import { idOfFile, procedureFile } from "../model/procedure-file.ts";
import { type Shop, shopOf } from "../model/shop.ts";
import { readText, whyOf } from "./files.ts";

/** A file of a book that opened, and its name in the folder. */
export interface BookFile<K extends FileKind = FileKind> {
	name: string;
	file: OpenFile<K>;
}

/** A book as read: what opened, and what did not. */
export interface ReadBook {
	folder: string;
	shop: Shop;
	/** Every part of the book but its procedures, as far as it is there and opens. */
	parts: BookFile[];
	/** In the order of their names. */
	procedures: BookFile<"procedure">[];
	/** Files that did not open; each is left as it is. */
	problems: { name: string; problem: Problem }[];
}

type PartKind = Exclude<FileKind, "procedure">;

/** The kinds of file a book has one of, as `<kind>.json`. */
const partKinds = (Object.keys(shapes) as FileKind[]).filter((kind): kind is PartKind => kind !== "procedure");

/** Names of the files that are parts of a book, procedures left out. */
export const partNames: readonly string[] = partKinds.map((kind) => `${kind}.json`);

/** The part of a book that a file is by its name: `stock.json` is the stock; null for any other. */
export function partOfName(name: string): PartKind | null {
	return partKinds.find((kind) => name === `${kind}.json`) ?? null;
}

/** Whether a folder is a book: it holds a `book.json`. */
export function isBook(folder: string): boolean {
	return existsSync(join(folder, "book.json"));
}

/** The folder itself where it is a book, else the books directly inside it, by name; links are not followed. */
export function findBooks(folder: string): { books: string[] } | { problem: Problem } {
	if (isBook(folder)) return { books: [folder] };
	const listed = entriesOf(folder);
	if ("problem" in listed) return listed;
	const folders = listed.entries.filter((entry) => entry.isDirectory()).map((entry) => join(folder, entry.name));
	return { books: folders.filter(isBook).toSorted() };
}

/** The shop of a book alone, without its procedures: what a single file of it is judged by. */
export function readShop(folder: string): Pick<ReadBook, "shop" | "parts" | "problems"> | { problem: Problem } {
	const parts: BookFile[] = [];
	const problems: ReadBook["problems"] = [];
	const read = <K extends PartKind>(kind: K): OpenFile<K> | undefined => {
		const name = `${kind}.json`;
		if (!existsSync(join(folder, name))) return undefined;
		const opened = readFile(folder, name, kind);
		if ("problem" in opened) {
			problems.push({ name, problem: opened.problem });
			return undefined;
		}
		parts.push({ name, file: opened });
		return opened;
	};
	const book = read("book");
	if (book === undefined) return { problem: problems[0]?.problem ?? problemOf("not-a-book", null, { name: folder }) };
	const stock = read("stock");
	const limits = read("limits");
	for (const kind of partKinds) if (kind !== "book" && kind !== "stock" && kind !== "limits") read(kind);
	return { shop: shopOf(book.readable, stock?.readable, limits?.readable), parts, problems };
}

/** Reads a whole book. A file that does not open is a problem of its own; the others are read all the same. */
export function readBook(folder: string): ReadBook | { problem: Problem } {
	const read = readShop(folder);
	if ("problem" in read) return read;
	const listed = entriesOf(folder);
	if ("problem" in listed) return listed;
	const procedures: BookFile<"procedure">[] = [];
	const names = listed.entries
		.map(({ name }) => name)
		.filter((name) => idOfFile(name) !== null)
		.toSorted();
	for (const name of names) {
		const opened = readFile(folder, name, "procedure");
		if ("problem" in opened) {
			read.problems.push({ name, problem: opened.problem });
			continue;
		}
		procedures.push({ name, file: opened });
		const { id } = opened.readable;
		if (name !== procedureFile(id))
			read.problems.push({ name, problem: problemOf("other-id", null, { name, found: id }) });
	}
	return { folder, ...read, procedures };
}

function readFile<K extends FileKind>(folder: string, name: string, kind: K): OpenFile<K> | { problem: Problem } {
	const read = readText(join(folder, name));
	return "problem" in read ? read : openFile(kind, read.text);
}

function entriesOf(folder: string): { entries: Dirent[] } | { problem: Problem } {
	try {
		return { entries: readdirSync(folder, { withFileTypes: true }) };
	} catch (failure) {
		return { problem: problemOf("not-readable", null, { name: folder, why: whyOf(failure) }) };
	}
}
