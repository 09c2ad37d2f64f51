import { problemDetails } from "../api/problems.ts";
import { routes } from "../api/routes.ts";
import type { BookListed, BookOpened, ProblemDetails, ProceduresListed, ProcedureOpened } from "../api/types.ts";
import type { Procedure } from "../model/generated/types.ts";

/** What the server answered, or what went wrong; a server that is dead or too slow is the problem `no-answer`. */
export type Answer<T> = T | { problem: ProblemDetails };

/** The server as the workbench asks it. Nothing here throws: everything that can go wrong is an answer. */
export class Server {
	readonly #fetch: typeof globalThis.fetch;
	readonly #patienceMs: number;

	/** @param patienceMs how long an answer may take, from asking to its last byte */
	constructor(fetch: typeof globalThis.fetch, patienceMs = 15_000) {
		this.#fetch = fetch;
		this.#patienceMs = patienceMs;
	}

	books(): Promise<Answer<BookListed[]>> {
		return this.#get<BookListed[]>(routes.books());
	}

	book(book: string): Promise<Answer<BookOpened>> {
		return this.#get<BookOpened>(routes.book(book));
	}

	procedures(book: string): Promise<Answer<ProceduresListed>> {
		return this.#get<ProceduresListed>(routes.procedures(book));
	}

	/** A procedure, and the ETag of its file as it was read. */
	async procedure(book: string, id: string): Promise<Answer<ProcedureOpened & { etag: string }>> {
		const answer = await this.#ask(routes.procedure(book, id));
		return "problem" in answer ? answer : { ...(answer.data as ProcedureOpened), etag: answer.etag };
	}

	/**
	 * Saves a procedure to the file called by that id, over the state with that ETag, or as a new one. Where the answer never came the server may have
	 * written it or not: the next save over the same ETag tells.
	 *
	 * @returns the ETag of the file as it is now
	 */
	async save(
		book: string,
		id: string,
		procedure: Procedure,
		over: { etag: string } | "new",
	): Promise<{ etag: string } | { problem: ProblemDetails }> {
		const basis: Record<string, string> = over === "new" ? { "if-none-match": "*" } : { "if-match": over.etag };
		const answer = await this.#ask(routes.procedure(book, id), {
			method: "PUT",
			headers: { "content-type": "application/json", ...basis },
			body: JSON.stringify(procedure),
		});
		return "problem" in answer ? answer : { etag: answer.etag };
	}

	async #get<T>(address: string): Promise<Answer<T>> {
		const answer = await this.#ask(address);
		return "problem" in answer ? answer : (answer.data as T);
	}

	async #ask(
		address: string,
		request: RequestInit = {},
	): Promise<{ data: unknown; etag: string } | { problem: ProblemDetails }> {
		const stop = new AbortController();
		const timer = setTimeout(() => stop.abort(), this.#patienceMs);
		// A browser's own fetch may not be called as a method of anything but the window.
		const fetch = this.#fetch;
		try {
			const answer = await fetch(address, { cache: "no-cache", ...request, signal: stop.signal });
			const data: unknown = await answer.json();
			if (answer.ok) return { data, etag: answer.headers.get("etag") ?? "" };
			return { problem: isProblem(data) ? data : problemDetails("no-answer") };
		} catch {
			// No connection, too late, or something else than this server at its address.
			return { problem: problemDetails("no-answer") };
		} finally {
			clearTimeout(timer);
		}
	}
}

function isProblem(data: unknown): data is ProblemDetails {
	return typeof data === "object" && data !== null && "code" in data && "detail" in data;
}
