import type { ReactiveController, ReactiveControllerHost } from "lit";
import type { SheetStore } from "./sheet-store.ts";

/** Renders its host again after every change of the store, and follows it when the host is given another store. */
export class StoreController implements ReactiveController {
	readonly #host: ReactiveControllerHost;
	readonly #store: () => Pick<SheetStore, "subscribe"> | null | undefined;
	#followed: Pick<SheetStore, "subscribe"> | null = null;
	#unsubscribe: (() => void) | null = null;

	/** @param store reads the store off the host, which may not have one yet */
	constructor(host: ReactiveControllerHost, store: () => Pick<SheetStore, "subscribe"> | null | undefined) {
		this.#host = host;
		this.#store = store;
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
		this.#unsubscribe = store?.subscribe(() => this.#host.requestUpdate()) ?? null;
	}
}
