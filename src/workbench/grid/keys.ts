import type { Language } from "../../model/words.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/** What a key does in the rows. */
export type GridCommand =
	| "left"
	| "right"
	| "up"
	| "down"
	| "row-start"
	| "row-end"
	| "first"
	| "last"
	| "next"
	| "previous"
	| "all"
	| "edit"
	| "clear"
	| "undo"
	| "redo"
	| "fill"
	| "move-up"
	| "move-down"
	| "insert-below"
	| "insert-above"
	| "duplicate"
	| "delete"
	| "menu"
	| "leave";

/** The keys of the rows, each with its command. `Control` is the command key where a keyboard has one. */
export const gridKeys: readonly { command: GridCommand; keys: readonly string[] }[] = [
	{ command: "left", keys: ["ArrowLeft"] },
	{ command: "right", keys: ["ArrowRight"] },
	{ command: "up", keys: ["ArrowUp"] },
	{ command: "down", keys: ["ArrowDown"] },
	{ command: "row-start", keys: ["Home"] },
	{ command: "row-end", keys: ["End"] },
	{ command: "first", keys: ["Control+Home"] },
	{ command: "last", keys: ["Control+End"] },
	{ command: "next", keys: ["Tab"] },
	{ command: "previous", keys: ["Shift+Tab"] },
	{ command: "leave", keys: ["Escape"] },
	{ command: "all", keys: ["Control+a"] },
	{ command: "edit", keys: ["Enter", "F2"] },
	{ command: "clear", keys: ["Delete", "Backspace"] },
	{ command: "undo", keys: ["Control+z"] },
	{ command: "redo", keys: ["Control+y", "Control+Shift+z"] },
	{ command: "fill", keys: ["Control+d"] },
	{ command: "move-up", keys: ["Alt+ArrowUp"] },
	{ command: "move-down", keys: ["Alt+ArrowDown"] },
	{ command: "insert-below", keys: ["Control+Enter", "Insert"] },
	{ command: "insert-above", keys: ["Control+Shift+Enter"] },
	{ command: "duplicate", keys: ["Control+Shift+d"] },
	{ command: "delete", keys: ["Control+Delete", "Control+Backspace"] },
	{ command: "menu", keys: ["Shift+F10", "ContextMenu"] },
];

/** Commands that take the selection along when Shift is held. */
const extending = new Set<GridCommand>(["left", "right", "up", "down", "row-start", "row-end", "first", "last"]);

/** The command of a key press, and whether it extends the selection; null for a key that means nothing here. */
export function commandOf(
	event: Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "shiftKey" | "altKey">,
): { command: GridCommand; extend: boolean } | null {
	const whole = commands.get(chord(event, event.shiftKey));
	if (whole !== undefined) return { command: whole, extend: false };
	const command = event.shiftKey ? commands.get(chord(event, false)) : undefined;
	return command !== undefined && extending.has(command) ? { command, extend: true } : null;
}

/** The first key of a command, as a person's keyboard has it. */
export function keysInWords(command: GridCommand, language: Language): string {
	const keys = gridKeys.find((one) => one.command === command)?.keys ?? [];
	return written(keys, language)[0] ?? "";
}

/** The sheet of keys: how each key is written, and what it does, in a person's language. */
export function gridKeysInWords(language: Language): { keys: string[]; does: string }[] {
	const say = saying(words, language);
	return [
		...gridKeys.map(({ command, keys }) => ({ keys: written(keys, language), does: say(`does-${command}`) })),
		{ keys: [say("key-type")], does: say("does-type") },
		{ keys: written(["Shift"], language).map((key) => `${key}+${say("key-arrows")}`), does: say("does-extend") },
		{ keys: written(["Control+c", "Control+x", "Control+v"], language), does: say("does-clipboard") },
	];
}

function written(keys: readonly string[], language: Language): string[] {
	const say = saying(words, language);
	return keys.map((one) =>
		one
			.split("+")
			.map((part) => (`key-${part}` in words ? say(`key-${part}` as keyof typeof words) : part.toUpperCase()))
			.join("+"),
	);
}

const commands = new Map(gridKeys.flatMap(({ command, keys }) => keys.map((key) => [key, command] as const)));

function chord({ key, ctrlKey, metaKey, altKey }: Parameters<typeof commandOf>[0], shift: boolean): string {
	const name = key.length === 1 ? key.toLowerCase() : key;
	return [ctrlKey || metaKey ? "Control+" : "", altKey ? "Alt+" : "", shift ? "Shift+" : "", name].join("");
}
