import type { Paper } from "./paper-choice.ts";

/** Width and height of a sheet in mm (ISO 216; ANSI/ASME Y14.1), upright. */
const sheetMm: Record<Paper, { width: number; height: number }> = {
	A4: { width: 210, height: 297 },
	Letter: { width: 215.9, height: 279.4 },
};

const marginMm = 8;

/** Share of a page that a side may fill: letters are a little wider or narrower in print than on the screen. */
const fillAtMost = 0.98;

/** Smallest share of its full size that type may shrink to: body type of 9 pt. */
const leastScale = 0.65;

/**
 * Sets a card to a paper, and its type as large as one page a side allows. The card itself knows only an estimate from
 * the count of its letters; here every side is measured.
 */
export function fitToPaper(card: Document, paper: Paper): void {
	const { width, height } = sheetMm[paper];
	const style = card.createElement("style");
	style.textContent = `
@page { size: ${paper}; margin: ${marginMm}mm; }
body { width: ${width - 2 * marginMm}mm; max-width: none; }
@media screen { body { padding: 0; margin: ${marginMm}mm auto; } }
`;
	card.head.append(style);
	const most = ((height - 2 * marginMm) / 25.4) * 96 * fillAtMost;
	for (const side of card.querySelectorAll<HTMLElement>("article")) {
		for (let hundredths = 100; hundredths >= leastScale * 100; hundredths -= 1) {
			side.style.setProperty("--type", String(hundredths / 100));
			if (side.getBoundingClientRect().height <= most) break;
		}
	}
}
