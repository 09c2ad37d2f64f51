import { randomUUID } from "node:crypto";
import { closeSync, openSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { type Problem, problemOf } from "../model/problem.ts";
import { whyOf } from "./files.ts";

/** Name of the file that says that a program is writing to a book. */
export const lockName = ".lock";

/** How long a writer waits for another, ms: many times what a write takes. */
const patienceMs = 3000;

/** A lock older than this, ms, was left behind, whoever set it: no write takes so long. */
const staleMs = 60_000;

/** Who holds a lock, as its file says. */
interface Holder {
	process: number;
	host: string;
	/** Tells this taking of the lock from every other. */
	token: string;
}

/** Locks that this process holds. */
const held = new Set<string>();

/**
 * Does some work while no other process, and nobody else in this one, writes to the book. Waits briefly for another
 * writer; takes over a lock whose process has died.
 *
 * @returns `busy` where another one did not finish in time, else the problem why no lock could be set
 */
export async function withLock<T>(
	folder: string,
	work: () => T | Promise<T>,
	patience = patienceMs,
): Promise<{ done: T } | { busy: true } | { problem: Problem }> {
	const path = join(folder, lockName);
	const mine: Holder = { process: process.pid, host: hostname(), token: randomUUID() };
	const until = Date.now() + patience;
	for (;;) {
		const taken = take(path, mine);
		if (typeof taken === "object") return taken;
		if (taken) break;
		if (!takeOver(path) && Date.now() > until) return { busy: true };
		await pause(5 + Math.random() * 20);
	}
	held.add(mine.token);
	try {
		return { done: await work() };
	} finally {
		held.delete(mine.token);
		// After a minute of silence another one may have taken it over.
		if (holderOf(path)?.token === mine.token) rmSync(path, { force: true });
	}
}

/** Sets the lock, and says whether it was free. */
function take(path: string, mine: Holder): boolean | { problem: Problem } {
	try {
		const file = openSync(path, "wx");
		try {
			writeFileSync(file, `${JSON.stringify(mine)}\n`);
		} finally {
			closeSync(file);
		}
		return true;
	} catch (failure) {
		const why = whyOf(failure);
		return why === "EEXIST" ? false : { problem: problemOf("not-writable", null, { name: path, why }) };
	}
}

/**
 * Takes away a lock that was left behind. Only the holder of a second lock may, and it looks again first: of two that
 * saw the same stale lock, the slower one would else take away the new lock of the quicker one.
 */
function takeOver(path: string): boolean {
	if (!isStale(path)) return false;
	const guard = `${path}.taking-over`;
	try {
		closeSync(openSync(guard, "wx"));
	} catch {
		// One that died in this very moment leaves its guard behind.
		if (ageMs(guard) > staleMs) rmSync(guard, { force: true });
		return false;
	}
	try {
		if (!isStale(path)) return false;
		rmSync(path, { force: true });
		return true;
	} finally {
		rmSync(guard, { force: true });
	}
}

function isStale(path: string): boolean {
	if (ageMs(path) > staleMs) return true;
	const holder = holderOf(path);
	// Not yet written, or gone: a moment tells.
	if (holder === null || holder.host !== hostname()) return false;
	if (holder.process === process.pid) return !held.has(holder.token);
	try {
		process.kill(holder.process, 0);
		return false;
	} catch (failure) {
		return whyOf(failure) === "ESRCH";
	}
}

function ageMs(path: string): number {
	const found = statSync(path, { throwIfNoEntry: false });
	return found === undefined ? 0 : Date.now() - found.mtimeMs;
}

function holderOf(path: string): Holder | null {
	try {
		return JSON.parse(readFileSync(path, "utf8")) as Holder;
	} catch {
		return null;
	}
}
