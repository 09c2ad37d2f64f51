/** What tabs say to each other; `number` tells two that say the same apart. */
type Word =
	| { say: "mine"; tab: string; since: number; number: number }
	| { say: "taken"; number: number }
	| { say: "who" }
	| { say: "here"; tab: string };

/** What of a storage a tab needs. */
type TabStorage = Pick<Storage, "getItem" | "setItem">;

/** A tab of the browser, known by an id that outlives a reload and that no other open tab has. */
export class Tab {
	#id: string;
	readonly #storage: TabStorage | null;
	readonly #channel: BroadcastChannel | null;
	readonly #since = Date.now();
	readonly #number = numbers(1)[0] as number;
	readonly #waitMs: number;
	/** The id it started with, which another tab may have. */
	readonly #claimed: string;
	readonly #heard = new Set<(word: Word) => void>();

	/**
	 * @param storage of the tab alone; null where there is none: then a reload is another tab
	 * @param channel reaches the other tabs; null where there is none: then none is known to be open
	 * @param waitMs how long other tabs have to answer
	 */
	static async open(storage: TabStorage | null, channel: BroadcastChannel | null, waitMs = 250): Promise<Tab> {
		const tab = new Tab(storage, channel, waitMs);
		await tab.#settle();
		return tab;
	}

	private constructor(storage: TabStorage | null, channel: BroadcastChannel | null, waitMs: number) {
		this.#storage = storage;
		this.#channel = channel;
		this.#waitMs = waitMs;
		this.#claimed = read(storage) ?? "";
		this.#id = this.#claimed;
		channel?.addEventListener("message", this.#listen);
	}

	get id(): string {
		return this.#id;
	}

	/** Ids of the other tabs that are open. */
	async living(): Promise<Set<string>> {
		const living = new Set<string>();
		await this.#ask({ say: "who" }, (word) => {
			if (word.say === "here") living.add(word.tab);
			return false;
		});
		return living;
	}

	/** Goes on under a new id. */
	renew(): void {
		this.#id = newTabId();
		try {
			this.#storage?.setItem(key, this.#id);
		} catch {
			// Known for as long as the page is open.
		}
	}

	/** Answers no longer, as if it were closed. */
	close(): void {
		this.#channel?.removeEventListener("message", this.#listen);
		this.#channel?.close();
	}

	/** A duplicated tab starts with a copy of the other's storage, and so with its id. */
	async #settle(): Promise<void> {
		if (this.#id === "") this.renew();
		else {
			const word = { say: "mine", tab: this.#id, since: this.#since, number: this.#number } as const;
			await this.#ask(word, (answer) => answer.say === "taken" && answer.number === this.#number);
		}
	}

	/** @returns true as soon as an answer is the one waited for; false after the wait */
	#ask(word: Word, isAnswer: (word: Word) => boolean): Promise<boolean> {
		if (this.#channel === null) return Promise.resolve(false);
		return new Promise((resolve) => {
			const hear = (answer: Word) => {
				if (isAnswer(answer)) end(true);
			};
			const end = (answered: boolean) => {
				clearTimeout(timer);
				this.#heard.delete(hear);
				resolve(answered);
			};
			const timer = setTimeout(() => end(false), this.#waitMs);
			this.#heard.add(hear);
			this.#send(word);
		});
	}

	readonly #listen = ({ data }: MessageEvent<Word>): void => {
		// An answer may come after the wait: then this tab goes on under another id all the same.
		if (data.say === "taken" && data.number === this.#number && this.#id === this.#claimed) this.renew();
		for (const hear of this.#heard) hear(data);
		if (data.say === "who") this.#send({ say: "here", tab: this.#id });
		if (data.say !== "mine" || data.tab !== this.#id) return;
		// Of two that start at once, one may not have been listening yet when the other spoke.
		if (this.#wasBefore(data)) this.#send({ say: "taken", number: data.number });
		else this.renew();
	};

	#send(word: Word): void {
		// oxlint-disable-next-line unicorn/require-post-message-target-origin -- a channel reaches its own origin only
		this.#channel?.postMessage(word);
	}

	/** Of two tabs with one id the older one keeps it. */
	#wasBefore({ since, number }: { since: number; number: number }): boolean {
		return this.#since < since || (this.#since === since && this.#number < number);
	}
}

/** An id that no tab has: 128 random bits. */
export function newTabId(): string {
	return [...numbers(4)].map((number) => number.toString(16).padStart(8, "0")).join("");
}

const key = "gritwright.tab";

function numbers(count: number): Uint32Array {
	return crypto.getRandomValues(new Uint32Array(count));
}

function read(storage: TabStorage | null): string | null {
	try {
		return storage?.getItem(key) ?? null;
	} catch {
		return null;
	}
}
