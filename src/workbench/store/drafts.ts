import { type DBSchema, type IDBPDatabase, openDB } from "idb";
import { type Problem, problemOf } from "../../model/problem.ts";
import { tabStorage } from "../browser-storage.ts";
import { type Draft, type DraftContent, type DraftKeeper, draftSchema, isSettled, type Saved } from "./draft.ts";
import type { OpenCell } from "./state.ts";
import { newTabId, Tab } from "./tab.ts";

/** Drafts in the browser's own database, each under the tab it was written in, so that two tabs never share one. */
export class BrowserDrafts implements DraftKeeper {
	readonly #tab: Tab;
	readonly #name: string;
	readonly #patienceMs: number;
	#opened: Promise<IDBPDatabase<Kept>> | null = null;

	/**
	 * @param name of the database
	 * @param patienceMs how long the database may take to answer; some that are broken never do
	 */
	constructor(tab: Tab, name = "gritwright.drafts", patienceMs = 4000) {
		this.#tab = tab;
		this.#name = name;
		this.#patienceMs = patienceMs;
		// A write that begins while the page closes must find it open.
		this.#database().catch(() => undefined);
	}

	async keep(content: DraftContent): Promise<Problem | null> {
		const { book, id, openCell } = content;
		return this.#kept(async (database) => {
			const tab = this.#tab.id;
			const write = database.transaction(["drafts", "cells"], "readwrite");
			const draft: Draft = { ...content, schema: draftSchema, tab, time: Date.now() };
			await Promise.all([
				write.objectStore("drafts").put(draft, [book, id, tab]),
				putCell(write.objectStore("cells"), [book, id, tab], openCell),
				write.done,
			]);
		});
	}

	async keepOpenCell(book: string, id: string, cell: OpenCell | null): Promise<Problem | null> {
		return this.#kept(async (database) => {
			const write = database.transaction("cells", "readwrite");
			await Promise.all([putCell(write.store, [book, id, this.#tab.id], cell), write.done]);
		});
	}

	async remove(book: string, id: string, saved?: Saved): Promise<void> {
		await this.#drop([book, id, this.#tab.id], saved);
	}

	async own(book: string, id: string): Promise<Draft | null> {
		const found = await this.#found(unread, async (database) => {
			const key: Key = [book, id, this.#tab.id];
			const draft = await database.get("drafts", key);
			if (draft === undefined) return null;
			return isOurs(draft) ? withCell(draft, await database.get("cells", key)) : unread;
		});
		if (found !== unread) return found;
		// What another program version wrote, or what could not be read now, this tab must not write over.
		this.#tab.renew();
		return null;
	}

	async ownIn(book: string): Promise<Draft[]> {
		return this.#found([], async (database) => {
			const all = await database.getAll("drafts", keysFrom([book]));
			return all.filter((draft) => draft.tab === this.#tab.id && isOurs(draft));
		});
	}

	async unclaimed(book: string, id: string | null): Promise<{ drafts: Draft[]; unknown: number }> {
		return this.#found({ drafts: [], unknown: 0 }, async (database) => {
			const range = keysFrom(id === null ? [book] : [book, id]);
			if ((await database.count("drafts", range)) === 0) return { drafts: [], unknown: 0 };
			const living = await this.#tab.living();
			const read = database.transaction(["drafts", "cells"]);
			const drafts: Draft[] = [];
			let unknown = 0;
			let cursor = await read.objectStore("drafts").openCursor(range);
			for (; cursor !== null; cursor = await cursor.continue()) {
				const tab = cursor.key[2];
				if (tab === this.#tab.id || living.has(tab)) continue;
				if (isOurs(cursor.value)) drafts.push(withCell(cursor.value, await read.objectStore("cells").get(cursor.key)));
				else unknown += 1;
			}
			return { drafts: drafts.toSorted((a, b) => b.time - a.time), unknown };
		});
	}

	async claim({ book, id, tab }: Draft): Promise<Draft | null> {
		return this.#found(null, async (database) => {
			const write = database.transaction(["drafts", "cells"], "readwrite");
			const [drafts, cells] = [write.objectStore("drafts"), write.objectStore("cells")];
			const move = async (draft: Draft, to: string): Promise<Draft> => {
				const key: Key = [book, id, draft.tab];
				const moved = { ...withCell(draft, await cells.get(key)), tab: to };
				await Promise.all([drafts.delete(key), cells.delete(key)]);
				await Promise.all([drafts.put(moved, [book, id, to]), putCell(cells, [book, id, to], moved.openCell)]);
				return moved;
			};
			const draft = await drafts.get([book, id, tab]);
			if (draft === undefined || !isOurs(draft)) return null;
			const own = await drafts.get([book, id, this.#tab.id]);
			if (own !== undefined && tab !== this.#tab.id) await move(own, newTabId());
			const claimed = await move(draft, this.#tab.id);
			await write.done;
			return claimed;
		});
	}

	async discard({ book, id, tab }: Draft): Promise<void> {
		await this.#drop([book, id, tab]);
	}

	/** Lets go of the database and of the id of the tab. */
	async close(): Promise<void> {
		this.#tab.close();
		const opened = this.#opened;
		this.#opened = null;
		await opened?.then(
			(database) => database.close(),
			() => undefined,
		);
	}

	/** @param saved left out: whatever is in it */
	async #drop(key: Key, saved?: Saved): Promise<void> {
		await this.#kept(async (database) => {
			const write = database.transaction(["drafts", "cells"], "readwrite");
			const [drafts, cells] = [write.objectStore("drafts"), write.objectStore("cells")];
			if (saved !== undefined) {
				const draft = await drafts.get(key);
				if (draft === undefined || !isSettled(withCell(draft, await cells.get(key)), saved)) return;
			}
			await Promise.all([drafts.delete(key), cells.delete(key), write.done]);
		});
	}

	async #kept(work: (database: IDBPDatabase<Kept>) => Promise<void>): Promise<Problem | null> {
		try {
			await this.#inTime(work);
			return null;
		} catch {
			return problemOf("drafts-not-kept", null);
		}
	}

	async #found<T>(nothing: T, work: (database: IDBPDatabase<Kept>) => Promise<T>): Promise<T> {
		try {
			return await this.#inTime(work);
		} catch {
			return nothing;
		}
	}

	#inTime<T>(work: (database: IDBPDatabase<Kept>) => Promise<T>): Promise<T> {
		return inTime(this.#database().then(work), this.#patienceMs);
	}

	#database(): Promise<IDBPDatabase<Kept>> {
		if (this.#opened !== null) return this.#opened;
		const opening = this.#open();
		// One that did not open in time is waited for once only, and used when it opens after all.
		const opened = inTime(opening, this.#patienceMs);
		this.#opened = opened;
		opening.then(
			() => {
				if (this.#opened === opened) this.#opened = opening;
			},
			() => {
				this.#opened = null;
			},
		);
		return opened;
	}

	async #open(): Promise<IDBPDatabase<Kept>> {
		return openDB<Kept>(this.#name, 1, {
			upgrade(database) {
				database.createObjectStore("drafts");
				database.createObjectStore("cells");
			},
			// A newer program in another tab wants to change the database: it waits for nobody.
			blocking: (_from, _to, event) => {
				this.#opened = null;
				(event.target as IDBDatabase).close();
			},
			terminated: () => {
				this.#opened = null;
			},
		});
	}
}

/** The drafts of this browser, as this tab sees them. */
export async function browserDrafts(): Promise<BrowserDrafts> {
	return new BrowserDrafts(await Tab.open(tabStorage(), tabChannel()));
}

/** Reaches the other tabs; null where the browser has none, or forbids it. */
function tabChannel(): BroadcastChannel | null {
	try {
		return new BroadcastChannel("gritwright.tabs");
	} catch {
		return null;
	}
}

/** Stands for what is there, but not to be read. */
const unread = Symbol("unread");

/** Rejects where it takes too long. */
function inTime<T>(work: Promise<T>, ms: number): Promise<T> {
	return new Promise((resolve, reject) => {
		const timer = setTimeout(() => reject(new Error(`nothing within ${ms} ms`)), ms);
		work.then(resolve, reject).finally(() => clearTimeout(timer));
	});
}

/** Book, id, tab. */
type Key = [string, string, string];

/** All keys that begin so: a list sorts behind every text. */
function keysFrom(start: string[]): IDBKeyRange {
	return IDBKeyRange.bound(start, [...start, []]);
}

interface Kept extends DBSchema {
	drafts: { key: Key; value: Draft };
	/** Texts of open cells, apart from the drafts they belong to: they are written with every letter. */
	cells: { key: Key; value: OpenCell };
}

interface Cells {
	put(value: OpenCell, key: Key): Promise<unknown>;
	delete(key: Key): Promise<void>;
}

async function putCell(cells: Cells, key: Key, cell: OpenCell | null): Promise<void> {
	if (cell === null) await cells.delete(key);
	else await cells.put(cell, key);
}

function isOurs(draft: Draft): boolean {
	return draft.schema === draftSchema;
}

function withCell(draft: Draft, cell: OpenCell | undefined): Draft {
	return { ...draft, openCell: cell ?? null };
}
