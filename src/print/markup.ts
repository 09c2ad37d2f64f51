/** Text that is markup already and goes in as it is. */
export class Markup {
	readonly text: string;
	constructor(text: string) {
		this.text = text;
	}
	toString(): string {
		return this.text;
	}
}

type Part = Markup | string | number | null | undefined | false | readonly Part[];

/**
 * Markup from a template; everything put in is escaped, unless it is markup itself. Lists are joined;
 * null, undefined and false leave nothing.
 */
export function markup(pieces: TemplateStringsArray, ...parts: Part[]): Markup {
	return new Markup(pieces.map((piece, index) => piece + (index < parts.length ? put(parts[index]) : "")).join(""));
}

function put(part: Part): string {
	if (part === null || part === undefined || part === false) return "";
	if (part instanceof Markup) return part.text;
	if (Array.isArray(part)) return (part as readonly Part[]).map(put).join("");
	return escapeText(String(part));
}

function escapeText(text: string): string {
	return text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
