import { problemDetails, type ServerProblemCode } from "../../../src/api/problems.ts";
import {
	type Draft,
	type DraftContent,
	type DraftKeeper,
	draftSchema,
	isSettled,
	type Saved,
} from "../../../src/workbench/store/draft.ts";
import type { ProcedureServer, Refused } from "../../../src/workbench/store/sheet-store.ts";
import type { OpenCell } from "../../../src/workbench/store/state.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import type { Loss } from "../../../src/model/problem.ts";

/** A server that holds the files of one book in memory, and answers as the real one does. */
export class MemoryServer implements ProcedureServer {
	readonly files = new Map<string, { procedure: Procedure; etag: string; readOnly: readonly Loss[] }>();
	/** Procedures written, in order. */
	readonly written: Procedure[] = [];
	isDead = false;
	/** Loses the answer to the next save, which it carries out. */
	losesAnswer = false;
	/** Runs before a save is looked at: somebody else, in between. */
	meanwhile: (() => void) | null = null;
	/** A save waits for it. */
	gate: Promise<void> = Promise.resolve();
	#count = 0;

	/** Puts a file there as somebody else does; `id` is what it is called by. */
	put(procedure: Procedure, readOnly: readonly Loss[] = [], id = procedure.id): string {
		const etag = `"${++this.#count}"`;
		this.files.set(id, { procedure: structuredClone(procedure), etag, readOnly });
		return etag;
	}

	async procedure(_book: string, id: string) {
		if (this.isDead) return refused("no-answer");
		const file = this.files.get(id);
		return file === undefined ? refused("no-such-procedure") : structuredClone(file);
	}

	async save(_book: string, id: string, procedure: Procedure, etag: string | null) {
		const sent = structuredClone(procedure);
		await this.gate;
		if (this.isDead) return refused("no-answer");
		this.meanwhile?.();
		if (sent.id !== id) return refused("not-valid");
		const file = this.files.get(id);
		if (etag === null && file !== undefined) return refused("already-there");
		if (etag !== null && file === undefined) return refused("no-such-procedure");
		if (etag !== null && file?.etag !== etag) return refused("changed-meanwhile");
		const saved = this.put(sent, [], id);
		this.written.push(sent);
		if (this.losesAnswer) {
			this.losesAnswer = false;
			return refused("no-answer");
		}
		return { etag: saved };
	}
}

/** Drafts of one tab, in memory; other tabs are not known to it. */
export class MemoryDrafts implements DraftKeeper {
	readonly kept = new Map<string, Draft>();
	isFull = false;

	async keep(content: DraftContent) {
		if (this.isFull) return { code: "drafts-not-kept" as const, message: "full", place: null, data: {} };
		const { book, id } = content;
		this.kept.set(`${book}/${id}`, structuredClone({ ...content, schema: draftSchema, tab: "one", time: 0 }));
		return null;
	}

	async keepOpenCell(book: string, id: string, openCell: OpenCell | null) {
		const draft = this.kept.get(`${book}/${id}`);
		if (draft !== undefined) this.kept.set(`${book}/${id}`, { ...draft, openCell });
		return null;
	}

	async remove(book: string, id: string, saved?: Saved) {
		const draft = this.kept.get(`${book}/${id}`);
		if (saved === undefined || (draft !== undefined && isSettled(draft, saved))) this.kept.delete(`${book}/${id}`);
	}

	async own(book: string, id: string) {
		return this.kept.get(`${book}/${id}`) ?? null;
	}

	async unclaimed() {
		return { drafts: [], unknown: 0 };
	}

	async ownIn() {
		return [...this.kept.values()];
	}

	async claim(draft: Draft) {
		return draft;
	}

	async discard() {}
}

function refused(code: ServerProblemCode): Refused {
	return { refused: problemDetails(code) };
}
