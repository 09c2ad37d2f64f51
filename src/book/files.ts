import { closeSync, fsyncSync, lstatSync, openSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { type Problem, problemOf } from "../model/problem.ts";

/** Largest file that is read, in bytes. */
export const mostBytes = 2 * 1024 * 1024;

/** The bytes of a plain file of at most 2 MiB; a link, a folder, a larger or an unreadable one is a problem. */
export function readBytes(path: string): { bytes: Uint8Array } | { problem: Problem } {
	try {
		const found = lstatSync(path);
		if (found.isSymbolicLink()) return { problem: problemOf("link", null, { name: path }) };
		// A pipe or a device would be waited for without end.
		if (!found.isFile()) return { problem: problemOf("not-a-file", null, { name: path }) };
		if (found.size > mostBytes)
			return { problem: problemOf("file-too-large", null, { bytes: found.size, most: mostBytes }) };
		return { bytes: readFileSync(path) };
	} catch (failure) {
		return { problem: problemOf("not-readable", null, { name: path, why: whyOf(failure) }) };
	}
}

/** The text of a plain UTF-8 file of at most 2 MiB. */
export function readText(path: string): { text: string } | { problem: Problem } {
	const read = readBytes(path);
	return "problem" in read ? read : textOf(read.bytes);
}

/** The text that bytes are in UTF-8; a byte order mark stays in it. */
export function textOf(bytes: Uint8Array): { text: string } | { problem: Problem } {
	try {
		return { text: new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes) };
	} catch {
		return { problem: problemOf("not-text", null, { byte: firstBadByte(bytes) }) };
	}
}

/**
 * Writes a file so that a reader sees the old text or the new one, never half: to a temporary file beside it,
 * flushed, then renamed; retried for a second where the system refuses the rename.
 */
export function writeText(path: string, text: string): { problem: Problem } | undefined {
	const draft = join(dirname(path), `.${basename(path)}.${process.pid}.tmp`);
	try {
		// What lies there was left by a process of this number, or is a link that somebody laid.
		rmSync(draft, { force: true });
		const file = openSync(draft, "wx");
		try {
			writeFileSync(file, text);
			fsyncSync(file);
		} finally {
			closeSync(file);
		}
		renamePatiently(draft, path);
		return undefined;
	} catch (failure) {
		rmSync(draft, { force: true });
		return { problem: problemOf("not-writable", null, { name: path, why: whyOf(failure) }) };
	}
}

/** The system's own word for why: ENOENT, EACCES … */
export function whyOf(failure: unknown): string {
	return failure instanceof Error && "code" in failure ? String(failure.code) : String(failure);
}

function renamePatiently(from: string, to: string): void {
	const until = Date.now() + 1000;
	for (;;) {
		try {
			renameSync(from, to);
			return;
		} catch (failure) {
			if (Date.now() > until || !["EPERM", "EACCES", "EBUSY"].includes(whyOf(failure))) throw failure;
			Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 50);
		}
	}
}

/** Where the first character starts that is not UTF-8: behind all that the longest front part decodes to. */
function firstBadByte(bytes: Uint8Array): number {
	const front = (length: number) =>
		new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes.subarray(0, length), { stream: true });
	let good = 0;
	let bad = bytes.length;
	while (bad - good > 1) {
		const middle = Math.floor((good + bad) / 2);
		try {
			front(middle);
			good = middle;
		} catch {
			bad = middle;
		}
	}
	return Buffer.byteLength(front(good));
}
