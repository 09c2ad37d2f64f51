/** How the bytes of a text file were read. */
export type Encoding = "utf-8" | "utf-16" | "windows-1252";

/**
 * Bytes of a text file → its text, without a byte order mark. UTF-16 only where a mark says so; else UTF-8, and where the
 * bytes are not UTF-8, Windows-1252 (which holds Latin-1), in which every byte is a character. Never throws.
 */
export function decodeText(bytes: Uint8Array): { text: string; encoding: Encoding } {
	const [first, second] = bytes;
	if (first === 0xff && second === 0xfe) return { text: decoded(bytes, "utf-16le"), encoding: "utf-16" };
	if (first === 0xfe && second === 0xff) return { text: decoded(bytes, "utf-16be"), encoding: "utf-16" };
	try {
		return { text: decoded(bytes, "utf-8", true), encoding: "utf-8" };
	} catch {
		return { text: decoded(bytes, "windows-1252"), encoding: "windows-1252" };
	}
}

// The platform's decoder, in Node and in every browser; the core is compiled without either's types.
declare class TextDecoder {
	constructor(label: string, options?: { fatal?: boolean });
	decode(bytes: Uint8Array): string;
}

function decoded(bytes: Uint8Array, label: string, fatal = false): string {
	return new TextDecoder(label, { fatal }).decode(bytes);
}
