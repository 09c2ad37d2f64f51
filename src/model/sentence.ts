/**
 * A sentence with its `{names}` filled in.
 *
 * @param said what stands for a name; undefined leaves the name as it is
 */
export function fillIn(sentence: string, said: (name: string) => string | undefined): string {
	return sentence.replace(/\{(\w+)\}/g, (whole, name: string) => said(name) ?? whole);
}

/** Words that begin a line or a sentence. */
export function capitalised(words: string): string {
	return words.charAt(0).toUpperCase() + words.slice(1);
}
