import { type CardRow, cardColumns } from "./card-row.ts";

/** Sizes of type on a card in points, before a long card shrinks them. */
export const typePt = { title: 20, body: 14, grade: 20, cell: 12, note: 11, caution: 9 };

/** Widths of the columns, as shares of the page; a column that is left out gives its share to the others. */
export const columnShares = { number: 0.055, stage: 0.2, hold: 0.25, set: 0.2, work: 0.125, where: 0.13, done: 0.04 };

/** What a side has to say, as far as it decides how much room it takes. */
export interface SideWords {
	/** Lines that run over the whole width above and below the rows. */
	lines: { text: string; pt: number }[];
	/** Lines of the box of readings. */
	boxLines: number;
	rows: CardRow[];
}

/**
 * Height and width of what a page of either paper holds, in points, at margins of 8 mm: Letter is shorter (746), A4
 * narrower. A few lines are held back for faces wider than the one the estimate is made for.
 */
const page = { heightPt: 736, widthPt: 550 };

/** Mean width of a letter in ems, of the widest face that a card is set in, by trial. */
const letterEm = 0.48;
const lineHeight = 1.15;

/** Nothing on a card is smaller than this, in points. */
const leastPt = 9;
const leastScale = leastPt / typePt.body;

/**
 * The share of its full size at which the type of a side fits one page, from 1 down to where body type is 9 pt; a side
 * too long even for that runs on to a second page. It is an estimate from the count of letters: paper cannot be
 * measured before it is printed.
 */
export function typeScale(side: SideWords): number {
	for (let scale = 1; scale > leastScale; scale -= 0.01)
		if (heightPt(side, scale) <= page.heightPt) return Math.round(scale * 100) / 100;
	return Math.ceil(leastScale * 100) / 100;
}

function heightPt({ lines, boxLines, rows }: SideWords, scale: number): number {
	const size = (pt: number) => Math.max(leastPt, pt * scale);
	const height = (text: string, pt: number, share: number) => {
		// Words are not broken, so that a narrow column loses about two letters a line.
		const letters = Math.max(1, Math.floor((share * page.widthPt - 6) / (size(pt) * letterEm) - 2));
		return text === "" ? 0 : Math.ceil(text.length / letters) * size(pt) * lineHeight;
	};
	const shown = cardColumns.filter((column) => rows.some(({ cells }) => cells[column] !== ""));
	const taken = shown.reduce((sum, column) => sum + columnShares[column], 0);
	const free = 1 - columnShares.number - columnShares.stage - columnShares.done;
	const rowHeight = ({ stage, grade, what, cells, notes, unread }: CardRow) => {
		const first =
			grade === ""
				? height(`${stage} ${what}`, typePt.body, columnShares.stage)
				: height(`${stage} ${grade} ${what}`, (typePt.body + typePt.grade) / 2, columnShares.stage);
		const others = shown.map((column) =>
			height(cells[column], column === "work" ? typePt.body : typePt.cell, (columnShares[column] / taken) * free),
		);
		const under = height([...notes, ...unread].join(" · "), typePt.note, 1 - columnShares.number - columnShares.done);
		return Math.max(size(typePt.grade) * lineHeight, first, ...others) + under + 3;
	};
	const around = lines.reduce((sum, { text, pt }) => sum + height(text, pt, 1), 0);
	return around + boxLines * size(typePt.body) * 1.4 + 24 + rows.reduce((sum, row) => sum + rowHeight(row), 0);
}
