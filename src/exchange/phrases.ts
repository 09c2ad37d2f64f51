import { plainText } from "../model/fields/reading.ts";

/** A run of words that a reader understood. */
export interface Hit<Found> {
	found: Found;
	text: string;
}

/** What a cell of several things says: the runs of words that were understood, and the words that were not. */
export interface Scan<Found> {
	hits: Hit<Found>[];
	/** Words nobody understood, sizes and filling words left out. */
	rest: string[];
	/** Sizes and other parts that are plain but that no field of a row takes: "150 mm". */
	sizes: string[];
	/** The text rules something out or names one thing after another, so that its words cannot be taken singly. */
	denies: boolean;
}

/**
 * Takes a text apart into the longest runs of words that a reader understands, from the left. Runs do not cross commas,
 * brackets, plus signs or line breaks.
 *
 * @param understand what a run of words means; null where it means nothing
 */
export function scan<Found>(text: string, understand: (words: string) => Found | null): Scan<Found> {
	const result: Scan<Found> = { hits: [], rest: [], sizes: [], denies: false };
	// Whoever writes that much in a cell writes sentences, not values.
	if (text.length > longestText) return { ...result, rest: [text] };
	for (const part of parts(text)) scanPart(part, understand, result);
	return result;
}

const longestText = 200;
const longestRun = 7;

const filling = new Set(
	(
		"with w/ w on and & using use the a an of in at by for to de del con en y e el la los las lo un una para por al sobre" +
		" sand lijar lijado disc discs disk disks disco discos sheet sheets hoja hojas abrasive abrasivo grit grade grano polishing sanding" +
		" rubber goma machine máquina maquina tool pad pads plate : - = . * @ then,"
	).split(" "),
);
/** A mixing ratio, a share, or the colour by which a shop tells its pads apart: plain, and nothing a row has a field for. */
const aside =
	/^(?:\d{1,3}[/:]\d{1,3}|\d{1,3}\s?%|black|white|yellow|orange|blue|red|green|purple|grey|gray|pink|negr[ao]|blanc[ao]|amarill[ao]|naranja|azul|roj[ao]|verde|morad[ao]|gris|rosa)$/i;
/** Said of passes or amounts, and true of every row: work is counted over its place. */
const perPlace = /^(?:per|por|each|cada) (?:section|panel|side|sección|seccion|pieza|lado)$/i;
const denying =
	/^(?:no|not|never|without|sin|don'?t|except|excepto|instead|avoid|evitar|nunca|salvo|then|luego|después|->|→|=>|>)$/i;
const size = /^(?:ø\s*)?\d+(?:[.,]\d+)?\s*(?:mm|cm|"|''|”|″|in|inch|inches|-inch|pulg|pulgadas)$/i;

/** Pieces between which no run of words goes on. A comma between digits is a decimal sign. */
function parts(text: string): string[] {
	return plainText(text.replace(/\n/g, ";"))
		.split(/[;()[\]+|]|,(?!\d)|(?<!\d),|\s-\s|\.(?=\s|$)/)
		.map((part) => part.trim())
		.filter((part) => part !== "");
}

function scanPart<Found>(part: string, understand: (words: string) => Found | null, result: Scan<Found>): void {
	const words = part.split(" ");
	for (let from = 0; from < words.length; ) {
		const word = words[from] as string;
		const two = `${word} ${words[from + 1] ?? ""}`;
		const measured = size.test(word) ? word : two;
		const isPlain = size.test(measured) || aside.test(word) || perPlace.test(two);
		// A size comes before single words, since "150" of "150 mm" could be a grade, and after longer runs: "5 mm interface".
		const taken = longestUnderstood(words, from, isPlain && !aside.test(word) ? 2 : 1, understand, result);
		if (taken === 0 && isPlain) result.sizes.push(aside.test(word) ? word : measured);
		else if (taken === 0 && denying.test(word)) result.denies = true;
		else if (taken === 0 && !filling.has(word.toLowerCase())) scanWord(word, understand, result);
		from += taken > 0 ? taken : isPlain && !aside.test(word) ? measured.split(" ").length : 1;
	}
}

function longestUnderstood<Found>(
	words: readonly string[],
	from: number,
	least: number,
	understand: (words: string) => Found | null,
	result: Scan<Found>,
): number {
	for (let length = Math.min(longestRun, words.length - from); length >= least; length -= 1) {
		const text = words.slice(from, from + length).join(" ");
		const found = understand(text);
		if (found === null) continue;
		result.hits.push({ found, text });
		return length;
	}
	return 0;
}

/** A word that means nothing as a whole may still be two: "P1500/film". */
function scanWord<Found>(word: string, understand: (words: string) => Found | null, result: Scan<Found>): void {
	const pieces = word.split(/[/–:]|-(?=[\p{L}\d])/u).filter((piece) => piece !== "");
	if (pieces.length < 2) {
		result.rest.push(word);
		return;
	}
	const found = pieces.map((piece) => understand(piece));
	if (found.every((one) => one === null)) {
		result.rest.push(word);
		return;
	}
	for (const [index, one] of found.entries()) {
		const text = pieces[index] as string;
		if (one !== null) result.hits.push({ found: one, text });
		else if (!filling.has(text.toLowerCase()) && !size.test(text)) result.rest.push(text);
	}
}
