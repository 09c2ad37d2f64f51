import type { ReactiveController, ReactiveControllerHost } from "lit";
import type { SheetStore } from "./sheet-store.ts";
import type { SheetState } from "./state.ts";

type Followed = Pick<SheetStore, "subscribe" | "state">;

/** Renders its host again after changes of the store, and follows it when the host is given another store. */
export class StoreController implements ReactiveController {
	readonly #host: ReactiveControllerHost;
	readonly #store: () => Followed | null | undefined;
	readonly #shows: (state: SheetState) => readonly unknown[];
	#followed: Followed | null = null;
	#shown: readonly unknown[] = [];
	#unsubscribe: (() => void) | null = null;

	/**
	 * @param store reads the store off the host, which may not have one yet
	 * @param shows the parts of the state that the host shows: while they are the same objects, nothing is rendered
	 */
	constructor(
		host: ReactiveControllerHost,
		store: () => Followed | null | undefined,
		shows: (state: SheetState) => readonly unknown[] = (state) => [state],
	) {
		this.#host = host;
		this.#store = store;
		this.#shows = shows;
		host.addController(this);
	}

	hostConnected(): void {
		this.#follow();
	}

	hostUpdate(): void {
		this.#follow();
	}

	hostDisconnected(): void {
		this.#unsubscribe?.();
		this.#unsubscribe = null;
		this.#followed = null;
	}

	#follow(): void {
		const store = this.#store() ?? null;
		if (store === this.#followed) return;
		this.#unsubscribe?.();
		this.#followed = store;
		this.#shown = store === null ? [] : this.#shows(store.state);
		this.#unsubscribe = store?.subscribe(() => this.#changed(store.state)) ?? null;
	}

	#changed(state: SheetState): void {
		const shown = this.#shows(state);
		const isSame = sameParts(shown, this.#shown);
		this.#shown = shown;
		if (!isSame) this.#host.requestUpdate();
	}
}

/** Whether each part is the very same. */
export function sameParts(a: readonly unknown[], b: readonly unknown[]): boolean {
	return a.length === b.length && a.every((part, at) => part === b[at]);
}
