import { existsSync, readdirSync, statSync } from "node:fs";
import { dirname, isAbsolute, join, relative } from "node:path";
import { findBooks, isBook, readShop } from "../book/book.ts";
import { sayProblem } from "../model/problem.ts";
import { genericShop, type Shop } from "../model/shop.ts";

/** One thing to check. */
export type Target = { kind: "book"; path: string } | { kind: "file"; path: string };

/** The path as the file system needs it. */
export function placeOf(path: string, folder: string): string {
	return isAbsolute(path) ? path : join(folder, path);
}

/**
 * What the paths of a command name: books, the books inside a folder, the procedure files and sheets of a folder that
 * is no book, single files. A path that names nothing becomes a sentence.
 */
export function targetsOf(paths: readonly string[], folder: string): { targets: Target[]; problems: string[] } {
	const targets: Target[] = [];
	const problems: string[] = [];
	for (const path of paths) {
		const place = placeOf(path, folder);
		if (!existsSync(place)) problems.push(`${path}: there is no such file or folder.`);
		else if (!statSync(place).isDirectory()) targets.push({ kind: "file", path });
		else {
			const found = findBooks(place);
			if ("problem" in found) {
				problems.push(sayProblem(found.problem, "en"));
				continue;
			}
			const books = found.books.map((book): Target => ({ kind: "book", path: join(path, relative(place, book)) }));
			const files = isBook(place)
				? []
				: looseFiles(place).map((name): Target => ({ kind: "file", path: join(path, name) }));
			if (books.length + files.length === 0)
				problems.push(
					`${path}: nothing here to check: no book (a folder with book.json), no procedure file (*.procedure.json), no sheet (*.csv, *.tsv).`,
				);
			targets.push(...books, ...files);
		}
	}
	return { targets, problems };
}

/** The shop of the book that a file lies in; outside a book the generic one. */
export function shopAround(path: string, folder: string): { shop: Shop; problems: string[] } | { problem: string } {
	const home = dirname(placeOf(path, folder));
	if (!isBook(home)) return { shop: genericShop, problems: [] };
	const read = readShop(home);
	if ("problem" in read) return { problem: `${join(dirname(path), "book.json")}: ${sayProblem(read.problem, "en")}` };
	const problems = read.problems.map(
		({ name, problem }) => `${join(dirname(path), name)}: ${sayProblem(problem, "en")} Its figures are not used.`,
	);
	return { shop: read.shop, problems };
}

function looseFiles(place: string): string[] {
	return readdirSync(place)
		.filter((name) => /\.(procedure\.json|csv|tsv)$/i.test(name))
		.toSorted();
}
