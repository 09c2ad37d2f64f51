/**
 * The words that are fewest slips of the keys from what was typed, at most one in three letters and two in all; three words at
 * most. Figures have to agree: "sandd" is no slip for "sand 2", and 150 none for 1500.
 */
export function nearestWords(typed: string, words: Iterable<string>): string[] {
	const wanted = typed.toLowerCase();
	const most = mostSlips(wanted.length);
	const near = [...new Set(words)]
		.filter((word) => Math.abs(word.length - wanted.length) <= most && figuresOf(word) === figuresOf(wanted))
		.map((word) => ({ word, slips: slipsBetween(wanted, word.toLowerCase()) }));
	const fewest = Math.min(most, ...near.map(({ slips }) => slips));
	return near
		.filter(({ slips }) => slips === fewest)
		.slice(0, 3)
		.map(({ word }) => word);
}

/** Of a short word too little is left after two slips to tell which it was. */
function mostSlips(length: number): number {
	return Math.min(2, Math.floor(length / 3));
}

function figuresOf(word: string): string {
	return word.replace(/\D+/g, " ").trim();
}

/**
 * Letters left out, put in, changed, or two neighbours swapped (the restricted Damerau-Levenshtein distance):
 * "sandd" → "sand" is 1, "hnad" → "hand" is 1, "medum" → "medium" is 1.
 */
function slipsBetween(one: string, other: string): number {
	let before: number[] = [];
	let above = Array.from({ length: other.length + 1 }, (_, at) => at);
	for (let row = 1; row <= one.length; row += 1) {
		const line = [row];
		for (let at = 1; at <= other.length; at += 1) {
			const isSame = one[row - 1] === other[at - 1];
			const isSwapped = row > 1 && at > 1 && one[row - 1] === other[at - 2] && one[row - 2] === other[at - 1];
			line.push(
				Math.min(
					(above[at] ?? 0) + 1,
					(line[at - 1] ?? 0) + 1,
					(above[at - 1] ?? 0) + (isSame ? 0 : 1),
					...(isSwapped ? [(before[at - 2] ?? 0) + 1] : []),
				),
			);
		}
		before = above;
		above = line;
	}
	return above[other.length] ?? 0;
}
