import type { Language } from "../../model/words.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/** What a key does anywhere on the Sheet. */
export type SheetCommand = "save" | "undo" | "redo" | "next" | "previous" | "print" | "keys";

/** The keys of the Sheet, each with its command. `Control` is the command key where a keyboard has one. */
export const sheetKeys: readonly { command: SheetCommand; keys: readonly string[] }[] = [
	{ command: "save", keys: ["Control+s"] },
	{ command: "undo", keys: ["Control+z"] },
	{ command: "redo", keys: ["Control+y", "Control+Shift+z"] },
	{ command: "next", keys: ["Alt+PageDown"] },
	{ command: "previous", keys: ["Alt+PageUp"] },
	{ command: "print", keys: ["Control+p"] },
	{ command: "keys", keys: ["?"] },
];

/** The command of a key press; null for a key that means nothing here. */
export function sheetCommandOf({
	key,
	ctrlKey,
	metaKey,
	shiftKey,
	altKey,
}: Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "shiftKey" | "altKey">): SheetCommand | null {
	const held = ctrlKey || metaKey;
	// Shift belongs to a sign such as ? itself, and counts only for keys that have a name or are held with another.
	const shift = shiftKey && (held || key.length > 1);
	const name = key.length === 1 ? key.toLowerCase() : key;
	return commands.get(`${held ? "Control+" : ""}${altKey ? "Alt+" : ""}${shift ? "Shift+" : ""}${name}`) ?? null;
}

/** Commands that a text field keeps for itself. */
export const keptByText: ReadonlySet<SheetCommand> = new Set(["undo", "redo", "keys"]);

/** How each key is written, and what it does, in a person's language. */
export function sheetKeysInWords(language: Language): { keys: string[]; does: string }[] {
	const say = saying(words, language);
	const names: Record<string, string> = Object.fromEntries(named.map((name) => [name, say(`keyName-${name}`)]));
	return sheetKeys.map(({ command, keys }) => ({
		keys: keys.map((one) =>
			one
				.split("+")
				.map((part) => names[part] ?? part.toUpperCase())
				.join("+"),
		),
		does: say(`key-${command}`),
	}));
}

/** Keys that are written otherwise than they are called in code. */
const named = ["Control", "Shift", "Alt", "PageDown", "PageUp"] as const;

const commands = new Map(sheetKeys.flatMap(({ command, keys }) => keys.map((key) => [key, command] as const)));
