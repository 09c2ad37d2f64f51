/**
 * A new row id: ten letters a–z.
 *
 * @param random a source of numbers from 0 up to, but not including, 1
 */
export function newRowId(random: () => number): string {
	return Array.from({ length: 10 }, () => String.fromCharCode(97 + Math.floor(random() * 26))).join("");
}
