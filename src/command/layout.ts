/** Width that text output keeps to. */
export const pageWidth = 80;

/**
 * Text broken at blanks so that no line is longer than the page, later lines indented. A word longer than a line
 * (a path) is left whole.
 */
export function wrap(text: string, first: string, next: string, width = pageWidth): string {
	const lines: string[] = [];
	let line = first;
	let empty = true;
	for (const word of text.split(/\s+/).filter((part) => part !== "")) {
		if (!empty && line.length + 1 + word.length > width) {
			lines.push(line);
			line = next;
			empty = true;
		}
		line += empty ? word : ` ${word}`;
		empty = false;
	}
	lines.push(line);
	return lines.join("\n");
}

/** A table whose columns are as wide as they need; numbers stand right. Cells are one line each. */
export function table(rows: readonly (readonly string[])[], right: ReadonlySet<number> = new Set()): string {
	const widths: number[] = [];
	for (const row of rows) row.forEach((cell, column) => (widths[column] = Math.max(widths[column] ?? 0, cell.length)));
	return rows
		.map((row) =>
			row
				.map((cell, column) =>
					right.has(column) ? cell.padStart(widths[column] ?? 0) : cell.padEnd(widths[column] ?? 0),
				)
				.join("  ")
				.trimEnd(),
		)
		.join("\n");
}
