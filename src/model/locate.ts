import { parse as parsePrecisely } from "@humanwhocodes/momoa";
import { pointerTo, unsafeNames } from "./pointer.ts";
import { type Loss, type Problem, type ProblemData, problemOf } from "./problem.ts";

/** A place in a text. Line and column count from 1, the offset from 0, columns and offsets in UTF-16 code units. */
export interface Place {
	line: number;
	column: number;
	offset: number;
}

/** A JSON text as read. */
export interface ReadText {
	value: unknown;
	/** What reading and writing again would not keep; empty for nearly every file. */
	lossy: Loss[];
	/** Whether the text began with a byte order mark, which is read over. */
	byteOrderMark: boolean;
	/** Where a value starts; for a value that is not there, where the nearest record or list around it starts. */
	place(pointer: string): Place;
}

/** How deep lists and records may lie in one another. */
const mostDeep = 200;

/**
 * Reads a JSON text and can say where everything in it stands.
 *
 * Refuses text that is not JSON (`not-json`) and lists and records that lie more than 200 deep (`too-deep`),
 * each with its line and column. A name such as `__proto__` becomes an ordinary member and is told as a loss.
 */
export function readJson(text: string): ReadText | { problem: Problem } {
	const start = text.startsWith("\uFEFF") ? 1 : 0;
	const body = start === 0 ? text : text.slice(1);
	const deep = tooDeepAt(body);
	if (deep !== null) return { problem: problemOf("too-deep", linesOf(body)(deep), { most: mostDeep }) };
	let value: unknown;
	try {
		value = JSON.parse(body);
	} catch (error) {
		return { problem: problemOf("not-json", linesOf(body)(brokenAt(body, String(error)))) };
	}
	// Positions are dear beside reading, and most files need none.
	let found: { places: Map<string, number>; lines: Lines } | undefined;
	const place = (pointer: string): Place => {
		found ??= { places: placesOf(body), lines: linesOf(body) };
		const offset = nearest(found.places, pointer);
		return { ...found.lines(offset), offset: offset + start };
	};
	return { value, lossy: survives(body, value) ? [] : lossesOf(body), byteOrderMark: start === 1, place };
}

/**
 * True where the text, written again, is the same text: then nothing can be lost. The two exceptions are an
 * escaped half character and an unsafe name, which survive in this program but not in every other.
 */
function survives(text: string, value: unknown): boolean {
	if (/\\ud[89a-f]|"(?:__proto__|constructor|prototype)":/.test(text)) return false;
	const again = JSON.stringify(value, null, 2);
	return text === again || text === `${again}\n`;
}

function lossesOf(text: string): Loss[] {
	const losses: Loss[] = [];
	const lines = linesOf(text);
	const firstAt = new Map<string, number>();
	const add = (code: Loss["code"], { pointer, offset }: Token, data: ProblemData = {}) =>
		losses.push({ code, pointer, ...lines(offset), data });
	for (const token of tokensOf(text)) {
		const { offset, raw, what } = token;
		if (what === "key") {
			const name = JSON.parse(raw) as string;
			const first = firstAt.get(`${token.record} ${name}`);
			if (first === undefined) firstAt.set(`${token.record} ${name}`, offset);
			else add("repeated-key", token, { found: name, firstLine: lines(first).line });
			if (unsafeNames.has(name)) add("unsafe-name", token, { found: name });
		}
		if (what === "number") {
			const kept = Number(raw);
			if (decimalOf(raw) !== decimalOf(String(kept)) || Object.is(kept, -0))
				add("number-not-kept", token, { text: raw.slice(0, 60), kept: Object.is(kept, -0) ? "0" : String(kept) });
		} else if (what !== "open" && !isWellFormed(JSON.parse(raw))) add("broken-character", token);
	}
	return losses;
}

/** One spelling for each number, exact: digits without zeros at either end, and the exponent. */
function decimalOf(raw: string): string {
	const [, sign = "", whole = "", part = "", exponent = "0"] =
		/^(-?)(\d+)(?:\.(\d+))?(?:[eE]([+-]?\d+))?$/.exec(raw) ?? [];
	const digits = `${whole}${part}`.replace(/^0+/, "");
	const short = digits.replace(/0+$/, "");
	if (short === "") return whole === "" ? raw : "0";
	return `${sign}${short}e${Number(exponent) - part.length + digits.length - short.length}`;
}

function isWellFormed(value: unknown): boolean {
	return typeof value !== "string" || !/\p{Surrogate}/u.test(value);
}

function placesOf(text: string): Map<string, number> {
	const places = new Map<string, number>();
	// Of a repeated key the later one counts, as in reading; later tokens overwrite earlier ones.
	for (const { what, pointer, offset } of tokensOf(text)) if (what !== "key") places.set(pointer, offset);
	return places;
}

function nearest(places: Map<string, number>, pointer: string): number {
	for (let at = pointer; at !== ""; at = at.slice(0, at.lastIndexOf("/"))) {
		const offset = places.get(at);
		if (offset !== undefined) return offset;
	}
	return places.get("") ?? 0;
}

interface Token {
	what: "key" | "open" | "number" | "scalar";
	/** Of the value; for a key that of the value it names. */
	pointer: string;
	offset: number;
	raw: string;
	/** Which record or list it stands in, numbered as they open. */
	record: number;
}

/** Keys and values in the order of the text, which must be JSON. */
function* tokensOf(text: string): Generator<Token> {
	const next = /[\s,:]*("[^"\\]*(?:\\.[^"\\]*)*"|[[\]{}]|[^\s,:[\]{}"]+)/gy;
	/** The open lists and records; `index` counts the elements of a list. */
	const open: { pointer: string; list: boolean; index: number; record: number }[] = [];
	let records = 0;
	let pointer = "";
	let afterKey = false;
	for (let match = next.exec(text); match !== null; match = next.exec(text)) {
		const raw = match[1] ?? "";
		const offset = next.lastIndex - raw.length;
		const within = open.at(-1);
		const record = within?.record ?? 0;
		if (raw === "]" || raw === "}") {
			open.pop();
			continue;
		}
		if (within !== undefined && !within.list && !afterKey) {
			pointer = pointerTo(within.pointer, JSON.parse(raw) as string);
			afterKey = true;
			yield { what: "key", pointer, offset, raw, record };
			continue;
		}
		if (within?.list) pointer = pointerTo(within.pointer, within.index++);
		afterKey = false;
		if (raw === "[" || raw === "{") {
			open.push({ pointer, list: raw === "[", index: 0, record: ++records });
			yield { what: "open", pointer, offset, raw, record };
		} else yield { what: /^[-\d]/.test(raw) ? "number" : "scalar", pointer, offset, raw, record };
	}
}

/** Where lists and records first lie too deep; read without recursion, so that no text can exhaust the stack. */
function tooDeepAt(text: string): number | null {
	let depth = 0;
	let inString = false;
	for (let at = 0; at < text.length; at++) {
		const code = text.charCodeAt(at);
		if (inString) {
			if (code === 0x5c) at++;
			else if (code === 0x22) inString = false;
		} else if (code === 0x22) inString = true;
		else if (code === 0x7b || code === 0x5b) {
			if (++depth > mostDeep) return at;
		} else if (code === 0x7d || code === 0x5d) depth--;
	}
	return null;
}

/** Where a text stops being JSON. Not every engine says it, so a second reader is asked. */
function brokenAt(text: string, message: string): number {
	const told = / at position (\d+)(?: \(line \d+ column \d+\))?$/.exec(message)?.[1];
	if (told !== undefined) return Number(told);
	try {
		parsePrecisely(text, { mode: "json" });
	} catch (error) {
		const offset = (error as { offset?: number }).offset;
		if (offset !== undefined) return offset;
	}
	return text.trimEnd().length;
}

type Lines = (offset: number) => { line: number; column: number };

/** Turns offsets into lines and columns; a line ends with a line feed. */
function linesOf(text: string): Lines {
	const starts = [0];
	for (let at = text.indexOf("\n"); at !== -1; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
	return (offset) => {
		let low = 0;
		for (let high = starts.length; high - low > 1; ) {
			const middle = (low + high) >> 1;
			if ((starts[middle] as number) <= offset) low = middle;
			else high = middle;
		}
		return { line: low + 1, column: offset - (starts[low] as number) + 1 };
	};
}
