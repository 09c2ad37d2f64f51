/** What an address of the browser shows: the inverse of `views` in `api/routes.ts`. */
export type Place =
	| { view: "first" }
	| { view: "shelf"; book: string }
	| { view: "sheet"; book: string; id: string }
	| { view: "newSheet"; book: string; draft: string }
	| { view: "unknown" };

/** Reads the path of an address. */
export function readAddress(path: string): Place {
	if (path === "/" || path === "/index.html") return { view: "first" };
	const parts = path.replace(/^\//, "").replace(/\/$/, "").split("/").map(unescaped);
	const [top, book, kind, name] = parts;
	if (top !== "books" || !book || parts.length > 4) return { view: "unknown" };
	if (kind === undefined) return { view: "shelf", book };
	if (kind === "procedures" && name) return { view: "sheet", book, id: name };
	if (kind === "new" && name) return { view: "newSheet", book, draft: name };
	return { view: "unknown" };
}

/** A part that is no escaped text names nothing. */
function unescaped(part: string): string {
	try {
		return decodeURIComponent(part);
	} catch {
		return "";
	}
}
