import {
	ClientSideRowModelModule,
	createGrid,
	type GridApi,
	type GridOptions,
	ModuleRegistry,
	RowApiModule,
	RowDragModule,
	ScrollApiModule,
	themeQuartz,
} from "ag-grid-community";
import type { RowView } from "./row-views.ts";

// The library only logs what it was told wrongly, and only where this module is there; a person has no use for it.
if ((import.meta as { env?: { DEV?: boolean } }).env?.DEV) {
	const { ValidationModule } = await import("ag-grid-community");
	ModuleRegistry.registerModules([ValidationModule]);
}

/** Height of a row, of the line of headers, and of the line over the figures' headers, px. */
export const rowHeightPx = 48;
export const headerHeightPx = 36;
export const groupHeaderHeightPx = 24;

/**
 * A grid that shows rows, scrolls, drags and keeps the focus, in our colours. It has no editor, no history and no
 * clipboard of its own: cells are edited by ours, and every change goes through the store.
 */
export function openGrid(place: HTMLElement, options: GridOptions<RowView>): GridApi<RowView> {
	const nonce = document.querySelector<HTMLElement>('meta[property="csp-nonce"]')?.nonce;
	return createGrid(
		place,
		{
			theme,
			...(nonce ? { styleNonce: nonce } : {}),
			rowHeight: rowHeightPx,
			headerHeight: headerHeightPx,
			groupHeaderHeight: groupHeaderHeightPx,
			animateRows: false,
			suppressAnimationFrame: true,
			suppressColumnVirtualisation: true,
			suppressMovableColumns: true,
			suppressHeaderFocus: true,
			suppressCellFocus: false,
			rowDragManaged: true,
			...options,
		},
		{ modules: [ClientSideRowModelModule, RowApiModule, RowDragModule, ScrollApiModule] },
	);
}

const theme = themeQuartz.withParams({
	accentColor: "var(--accent)",
	backgroundColor: "var(--sheet)",
	borderColor: "var(--line)",
	borderRadius: 0,
	browserColorScheme: "inherit",
	cellHorizontalPadding: 8,
	cellTextColor: "var(--ink)",
	chromeBackgroundColor: "var(--raised)",
	columnBorder: { color: "var(--line)", style: "solid", width: 1 },
	dataFontSize: 15,
	fontFamily: "inherit",
	fontSize: 15,
	foregroundColor: "var(--ink)",
	headerBackgroundColor: "var(--raised)",
	headerColumnResizeHandleColor: "var(--line)",
	headerColumnResizeHandleHeight: "100%",
	headerColumnResizeHandleWidth: 1,
	headerFontSize: 13,
	headerFontWeight: 600,
	headerTextColor: "var(--ink)",
	rowBorder: { color: "var(--line)", style: "solid", width: 1 },
	rowHoverColor: "transparent",
	selectedRowBackgroundColor: "transparent",
	subtleTextColor: "var(--quiet)",
	wrapperBorder: { color: "var(--strong-line)", style: "solid", width: 1 },
	wrapperBorderRadius: 3,
});
