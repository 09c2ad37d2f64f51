import type { ReactiveControllerHost } from "lit";
import type { BookListed, BookOpened, ProblemDetails, ProceduresListed } from "../../api/types.ts";
import type { Answer, Server } from "../server.ts";
import type { Draft, DraftKeeper } from "../store/draft.ts";

/** What is known of the books. The host is rendered again as more is; answers to what is no longer asked are dropped. */
export class BookLoading {
	/** Null while they load. */
	books: readonly BookListed[] | null = null;
	/** The parts of the book that is shown. */
	opened: { id: string; parts: BookOpened } | null = null;
	/** Its procedures. */
	listed: { id: string; procedures: ProceduresListed } | null = null;
	/** Its drafts in this browser: those of this tab, and of tabs that are gone. */
	drafts: readonly Draft[] = [];
	readonly #host: ReactiveControllerHost;

	constructor(host: ReactiveControllerHost) {
		this.#host = host;
	}

	async loadBooks(server: Pick<Server, "books">, stale: Stale): Promise<ProblemDetails | null> {
		return this.#take(await server.books(), stale, (books) => {
			this.books = books;
		});
	}

	async loadParts(server: Pick<Server, "book">, id: string, stale: Stale): Promise<ProblemDetails | null> {
		if (this.opened !== null && this.opened.id !== id) this.opened = null;
		return this.#take(await server.book(id), stale, (parts) => {
			this.opened = { id, parts };
		});
	}

	async loadListing(server: Pick<Server, "procedures">, id: string, stale: Stale): Promise<ProblemDetails | null> {
		return this.#take(await server.procedures(id), stale, (procedures) => {
			this.listed = { id, procedures };
		});
	}

	async loadDrafts(keeper: DraftKeeper, book: string, stale: Stale): Promise<void> {
		const own = await keeper.ownIn(book);
		const left = (await keeper.unclaimed(book, null)).drafts;
		if (!stale()) this.showDrafts([...new Map([...left, ...own].map((one) => [one.id, one])).values()]);
	}

	showDrafts(drafts: readonly Draft[]): void {
		this.drafts = drafts;
		this.#host.requestUpdate();
	}

	#take<T extends object>(answer: Answer<T>, stale: Stale, take: (answer: T) => void): ProblemDetails | null {
		if ("problem" in answer) return answer.problem as ProblemDetails;
		if (stale()) return null;
		take(answer);
		this.#host.requestUpdate();
		return null;
	}
}

/** Whether the person has gone on since. */
type Stale = () => boolean;
