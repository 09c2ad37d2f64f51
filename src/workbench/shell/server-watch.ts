/** Watches for a server that is gone. */
export class ServerWatch {
	readonly #answers: () => Promise<boolean>;
	readonly #onBack: () => void;
	readonly #everyMs: number;
	#timer: ReturnType<typeof setTimeout> | null = null;

	/**
	 * @param answers asks the server whether it is there
	 * @param onBack is called once it is
	 * @param everyMs between an answer that did not come and the next question
	 */
	constructor(answers: () => Promise<boolean>, onBack: () => void, everyMs: number) {
		this.#answers = answers;
		this.#onBack = onBack;
		this.#everyMs = everyMs;
	}

	/** Asks until the server answers; whoever starts it twice starts it once. */
	start(): void {
		if (this.#timer === null) this.#askLater();
	}

	/** Asks no more; an answer that is still to come is not heard. */
	end(): void {
		if (this.#timer !== null) clearTimeout(this.#timer);
		this.#timer = null;
	}

	#askLater(): void {
		const timer = setTimeout(() => void this.#ask(timer), this.#everyMs);
		this.#timer = timer;
	}

	async #ask(timer: ReturnType<typeof setTimeout>): Promise<void> {
		const isBack = await this.#answers();
		if (this.#timer !== timer) return;
		if (!isBack) {
			this.#askLater();
			return;
		}
		this.#timer = null;
		this.#onBack();
	}
}
