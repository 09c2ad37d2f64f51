import { createHash } from "node:crypto";
import { lstatSync, readdirSync, realpathSync } from "node:fs";
import { basename, join } from "node:path";
import { canonicalText } from "../model/canonical.ts";
import { type OpenFile, openFile } from "../model/document.ts";
import type { Procedure } from "../model/generated/types.ts";
import { type Problem, problemOf } from "../model/problem.ts";
import { idOfFile, procedureFile } from "../model/procedure-file.ts";
import { findBooks, partNames } from "./book.ts";
import { mostBytes, readBytes, textOf, whyOf, writeText } from "./files.ts";
import { withLock } from "./lock.ts";

/** A procedure as its file holds it; `digest` is the SHA-256 of the file's bytes, in hexadecimal. */
export interface ReadProcedure {
	file: OpenFile<"procedure">;
	digest: string;
}

/** Why a procedure was not saved, as a word; nothing was written. */
export type Refusal =
	/** The file is not, or no longer, what the writer builds on. */
	| "changed-meanwhile"
	/** Something of this name is in the book already. */
	| "already-there"
	/** The file holds what writing would lose. */
	| "read-only"
	/** The file is no procedure that can be compared with. */
	| "not-readable"
	/** In the form a file has it is larger than any file that is read. */
	| "body-too-large"
	/** Another program is writing to the book, and did not finish in time. */
	| "busy"
	/** The system did not take it. */
	| "not-saved";

/**
 * The books of a folder (itself, or those directly inside it), each with the name of its folder as its id. A book that
 * is reached through a link is none, the folder itself apart.
 */
export function listBooks(folder: string): { books: { id: string; folder: string }[] } | { problem: Problem } {
	let real: string;
	try {
		real = realpathSync(folder);
	} catch (failure) {
		return { problem: problemOf("not-readable", null, { name: folder, why: whyOf(failure) }) };
	}
	const found = findBooks(real);
	if ("problem" in found) return found;
	return { books: found.books.filter(isReal).map((book) => ({ id: basename(book), folder: book })) };
}

/** Ids of the procedures of a book, each from the name of its file, in their order; also of files that do not open. */
export function procedureIds(folder: string): { ids: string[] } | { problem: Problem } {
	try {
		return {
			ids: readdirSync(folder)
				.flatMap((name) => idOfFile(name) ?? [])
				.toSorted(),
		};
	} catch (failure) {
		return { problem: problemOf("not-readable", null, { name: folder, why: whyOf(failure) }) };
	}
}

/** SHA-256 of the bytes of a procedure's file, in hexadecimal; null where it is not a file that is read. */
export function procedureDigest(folder: string, id: string): string | null {
	return digestOfFile(join(folder, procedureFile(id)));
}

/** What every procedure of a book is judged by, as one digest of the bytes of its parts. */
export function partsDigest(folder: string): string {
	return digest(partNames.map((name) => digestOfFile(join(folder, name)) ?? "").join(" "));
}

/** Reads the procedure of an id that the book lists. */
export function readProcedure(folder: string, id: string): ReadProcedure | { problem: Problem } {
	const read = readBytes(join(folder, procedureFile(id)));
	if ("problem" in read) return read;
	const decoded = textOf(read.bytes);
	if ("problem" in decoded) return decoded;
	const file = openFile("procedure", decoded.text);
	return "problem" in file ? file : { file, digest: digest(read.bytes) };
}

/**
 * Writes a procedure in canonical form under `<id>.procedure.json`, if the file still is what the writer builds on:
 * compared and written while no other process writes to the book.
 *
 * @param id one that the book lists, or a new one that is a slug
 * @param basis digests of which the file must have one, or that there must be no file yet
 */
export async function saveProcedure(
	folder: string,
	id: string,
	procedure: unknown,
	basis: readonly string[] | "new",
): Promise<{ digest: string } | { refused: Refusal; problem?: Problem }> {
	const path = join(folder, procedureFile(id));
	const text = canonicalText("procedure", procedure);
	const bytes = Buffer.byteLength(text);
	if (bytes > mostBytes)
		return { refused: "body-too-large", problem: problemOf("file-too-large", null, { bytes, most: mostBytes }) };
	const locked = await withLock(folder, () => {
		const refused = basis === "new" ? refuseToCreate(path) : refuseToReplace(folder, id, basis);
		if (refused !== null) return refused;
		const failed = writeText(path, text);
		return failed === undefined ? { digest: digest(text) } : { refused: "not-saved" as const, problem: failed.problem };
	});
	if ("done" in locked) return locked.done;
	return "busy" in locked ? { refused: "busy" } : { refused: "not-saved", problem: locked.problem };
}

/**
 * Puts a new procedure into a book under its id. A file that is there already is not written over.
 *
 * @returns the path of its file
 */
export async function addProcedure(
	folder: string,
	procedure: Procedure,
): Promise<{ path: string } | { problem: Problem }> {
	const name = procedureFile(procedure.id);
	const path = join(folder, name);
	// An id with a slash in it would name a file somewhere else.
	if (/[/\\:]/.test(name)) return { problem: problemOf("bad-name", null, { name }) };
	const saved = await saveProcedure(folder, procedure.id, procedure, "new");
	if ("digest" in saved) return { path };
	if (saved.refused === "already-there") return { problem: problemOf("already-there", null, { name: path }) };
	return { problem: saved.problem ?? problemOf("busy", null) };
}

function isReal(folder: string): boolean {
	try {
		return realpathSync(folder) === folder;
	} catch {
		return false;
	}
}

function refuseToCreate(path: string): { refused: Refusal; problem?: Problem } | null {
	// A link that leads nowhere is there, too.
	return lstatSync(path, { throwIfNoEntry: false }) === undefined ? null : { refused: "already-there" };
}

function refuseToReplace(
	folder: string,
	id: string,
	basis: readonly string[],
): { refused: Refusal; problem?: Problem } | null {
	if (lstatSync(join(folder, procedureFile(id)), { throwIfNoEntry: false }) === undefined)
		return { refused: "changed-meanwhile" };
	const read = readProcedure(folder, id);
	if ("problem" in read) return { refused: "not-readable", problem: read.problem };
	if (!basis.includes(read.digest)) return { refused: "changed-meanwhile" };
	const [loss] = read.file.readOnly;
	if (loss === undefined) return null;
	const { code, line, column, pointer, data } = loss;
	return { refused: "read-only", problem: problemOf(code, { line, column, pointer }, data) };
}

function digestOfFile(path: string): string | null {
	const read = readBytes(path);
	return "problem" in read ? null : digest(read.bytes);
}

function digest(content: Uint8Array | string): string {
	return createHash("sha256").update(content).digest("hex");
}
