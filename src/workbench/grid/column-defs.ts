import type { ColDef, ColGroupDef } from "ag-grid-community";
import type { StepField } from "../../model/fields/reading.ts";
import type { Language } from "../../model/words.ts";
import { firstColumns, gridColumns } from "../store/columns.ts";
import { saying } from "../words.ts";
import { columnHeader } from "./column-choice.ts";
import { ColumnHeader, type HeaderText } from "./column-header.ts";
import { emptyCell, type FigureColumn, figureColumns, numberColumn, type RowView } from "./row-views.ts";
import words from "./words.json" with { type: "json" };

/**
 * The columns as the grid library takes them: numbers, what is written, and the figures of the forecast.
 *
 * @param shown ids of the columns on screen
 * @param widthPx of the grid: it decides which figures stay in sight
 */
export function columnDefs(
	shown: readonly string[],
	widthPx: number,
	language: Language,
): (ColDef<RowView> | ColGroupDef<RowView>)[] {
	const say = saying(words, language);
	const pinned = figuresInSight(widthPx);
	return [
		{
			...view(numberColumn),
			headerName: say("row"),
			pinned: "left",
			width: numberWidth,
			resizable: false,
		},
		...gridColumns
			.filter(({ id }) => shown.includes(id))
			.map(
				({ id, fields, named }): ColDef<RowView> => ({
					...view(id),
					headerName: columnHeader(fields, language),
					headerComponent: ColumnHeader,
					headerComponentParams: {
						shown: columnHeader(named, language),
						full: columnHeader(fields, language),
					} satisfies HeaderText,
					initialWidth: widths[id] ?? usualWidth,
					initialFlex: widths[id] ?? usualWidth,
					minWidth: widths[id] ?? usualWidth,
				}),
			),
		{
			headerName: say("forecast"),
			marryChildren: true,
			children: figureColumns.map(
				(id): ColDef<RowView> => ({
					...view(id),
					headerName: say(id),
					initialWidth: figureWidths[id],
					wrapHeaderText: true,
					pinned: pinned.includes(id) ? ("right" as const) : null,
				}),
			),
		},
	];
}

/** As many figures as stand beside the columns first seen; what is left of the film wherever rows are more than a strip. */
export function figuresInSight(widthPx: number): FigureColumn[] {
	if (widthPx < leastForPinnedPx) return [];
	let room = widthPx - barAndBordersPx - numberWidth;
	for (const field of firstColumns) room -= widths[field] ?? usualWidth;
	return inSightFirst.filter((id) => {
		room -= figureWidths[id];
		return id === "filmLeftUm" || room >= 0;
	});
}

function view(id: string): ColDef<RowView> {
	return { colId: id, valueGetter: ({ data }) => data?.cells[id] ?? emptyCell };
}

/** Widths of the columns first seen, px: all of them stand beside the film left on a screen 1280 px wide. Others take the usual one. */
const widths: Partial<Record<StepField, number>> = {
	stage: 116,
	abrasive: 114,
	backing: 107,
	liquid: 104,
	tool: 112,
	speed: 92,
	work: 92,
	instruction: 240,
	check: 200,
	note: 240,
};
const usualWidth = 120;
/** Three digits beside a mark, between the handle and the menu. */
const numberWidth = 100;
const figureWidths: Record<FigureColumn, number> = {
	filmLeftUm: 94,
	scratchUm: 126,
	removedUm: 94,
	minutes: 94,
};
const leastForPinnedPx = 700;
/** The figures that stay in sight beside rows that scroll sideways, what protects the car first. */
const inSightFirst: readonly FigureColumn[] = ["filmLeftUm", "scratchUm", "minutes", "removedUm"];
/** What a bar for scrolling and the borders take. */
const barAndBordersPx = 18;
