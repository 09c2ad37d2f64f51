/** The same text whatever line ends a clipboard gives it. */
export function normal(text: string): string {
	return text.replace(/\r\n?/g, "\n").replace(/\n$/, "");
}

/** The text of a clipboard that holds one cell, out of the quotes that a cell of several lines comes in; null for a block. */
export function onlyCell(text: string): string | null {
	const one = normal(text);
	if (!/[\t\n]/.test(one)) return one;
	return /^"(?:[^"]|"")*"$/.test(one) ? one.slice(1, -1).replaceAll('""', '"') : null;
}

/** Cells as a table that spreadsheets and word processors take. */
export function tableOf(header: readonly string[] | null, cells: readonly (readonly string[])[]): string {
	const line = (texts: readonly string[], tag: "td" | "th") =>
		`<tr>${texts.map((text) => `<${tag}>${escaped(text)}</${tag}>`).join("")}</tr>`;
	return `<table>${header === null ? "" : line(header, "th")}${cells.map((texts) => line(texts, "td")).join("")}</table>`;
}

function escaped(text: string): string {
	return text
		.replaceAll("&", "&amp;")
		.replaceAll("<", "&lt;")
		.replaceAll(">", "&gt;")
		.replaceAll('"', "&quot;")
		.replaceAll("\n", "<br>");
}
