import { isRecord } from "../model/pointer.ts";
import type { FilmUnit } from "../model/units.ts";
import { type Language, languages, valuesOf } from "../model/words.ts";

/** Colours of the screens. */
type Theme = (typeof themes)[number];
const themes = ["light", "dark"] as const;

/** What a person sets for this browser; nothing of it is in any book. */
export interface Settings {
	/** Language of the screens; null: that of the book. */
	language: Language | null;
	/** Unit in which film is shown; null: that of the book. */
	filmUnit: FilmUnit | null;
	/** `null`: as the system has it. */
	theme: Theme | null;
	/** Who writes, by book: a name from the book's list, or one typed in. */
	people: Record<string, string>;
	/** The book last shown, by id; null before the first. */
	lastBook: string | null;
}

/** The settings of this browser, kept in its local storage; every screen hears of a change, those in other tabs too. */
export class SettingsKeeper {
	#settings: Settings;
	readonly #listeners = new Set<() => void>();
	readonly #storage: Pick<Storage, "getItem" | "setItem"> | null;

	/** @param storage null where the browser forbids it: then they are kept for as long as the page is open */
	constructor(storage: Pick<Storage, "getItem" | "setItem"> | null) {
		this.#storage = storage;
		this.#settings = this.#read();
	}

	get settings(): Settings {
		return this.#settings;
	}

	/** Changes some of them. A full or forbidden storage costs only their memory. */
	change(some: Partial<Settings>): void {
		this.#settings = asSettings({ ...this.#settings, ...some });
		try {
			this.#storage?.setItem(key, JSON.stringify(this.#settings));
		} catch {
			// Kept for as long as the page is open.
		}
		this.#tell();
	}

	/** Reads again what another tab has written. */
	refresh(): void {
		this.#settings = this.#read();
		this.#tell();
	}

	/** @returns the function that ends it */
	subscribe(listener: () => void): () => void {
		this.#listeners.add(listener);
		return () => this.#listeners.delete(listener);
	}

	#tell(): void {
		for (const listener of this.#listeners) listener();
	}

	#read(): Settings {
		try {
			return asSettings(JSON.parse(this.#storage?.getItem(key) ?? "null"));
		} catch {
			return asSettings(null);
		}
	}
}

const key = "gritwright.settings";

/** Settings of which another version, or another hand, may have written anything: what is none of them is not set. */
function asSettings(kept: unknown): Settings {
	const { language, filmUnit, theme, people, lastBook } = isRecord(kept) ? kept : ({} as Record<string, unknown>);
	const named = Object.entries(isRecord(people) ? people : {}).filter(([, name]) => typeof name === "string");
	return {
		language: languages.find((one) => one === language) ?? null,
		filmUnit: valuesOf("filmUnit").find((one) => one === filmUnit) ?? null,
		theme: themes.find((one) => one === theme) ?? null,
		// A book may be called as something that every other record has: "constructor".
		people: Object.assign(Object.create(null) as object, Object.fromEntries(named)) as Settings["people"],
		lastBook: typeof lastBook === "string" ? lastBook : null,
	};
}
