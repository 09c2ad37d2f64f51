/**
 * The id of a row that a remedy puts between two others. Rules have no randomness, so it is derived from the ids of
 * the neighbours: the same remedy of the same finding always makes the same id, and none that is taken.
 *
 * @param taken ids of all rows of the procedure
 */
export function insertedRowId(before: string | null, after: string, taken: readonly string[]): string {
	for (let attempt = 0; ; attempt++) {
		const id = lettersOf(`${before ?? ""}>${after}>${attempt}`);
		if (!taken.includes(id)) return id;
	}
}

/** Ten letters from a text, spread by the 32-bit hash of Fowler, Noll and Vo (FNV-1a), run once for each letter. */
function lettersOf(text: string): string {
	let letters = "";
	for (let place = 0; place < 10; place++) {
		let hash = 0x811c9dc5;
		for (const character of `${place}${text}`) hash = Math.imul(hash ^ (character.codePointAt(0) ?? 0), 0x01000193);
		// The low bits of this hash are its weakest.
		letters += String.fromCharCode(97 + ((hash >>> 8) % 26));
	}
	return letters;
}
