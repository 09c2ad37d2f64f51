import type { AbrasiveRow, BladeRow, LiquidRow, ResolvedRow } from "../model/resolve.ts";

/** A row that takes something off the panel. */
export type CuttingRow = AbrasiveRow | LiquidRow | BladeRow;

/**
 * Whether a later row works over what an earlier row left: the same place, or a larger one around it. A spot and
 * the panel around it are not one chain until a later row covers both; an edge strip is a place of its own.
 */
export function coversPlace(later: ResolvedRow, earlier: ResolvedRow): boolean {
	if (later.place === earlier.place) return true;
	if (later.place === "edge-strip" || earlier.place === "edge-strip") return false;
	return later.areaM2 >= earlier.areaM2;
}

/** Consecutive sanding rows on one place: each abrasive row with every one before it whose scratches it meets. */
export function sandingPairs(rows: readonly ResolvedRow[]): { from: AbrasiveRow; to: AbrasiveRow }[] {
	const sanding = rows.filter((row): row is AbrasiveRow => row.kind === "abrasive");
	return sanding.flatMap((to) => uncoveredUnder(to, sanding).map((from) => ({ from, to })));
}

/** Whether a row takes something off the panel: by abrasive, liquid or blade. */
export function isCutting(row: ResolvedRow): row is CuttingRow {
	return row.kind === "abrasive" || row.kind === "liquid" || row.kind === "blade";
}

/** The cutting rows whose surface a later row finds as they left it: it works over them, and no cutting row between did. */
export function surfacesUnder(row: ResolvedRow, rows: readonly ResolvedRow[]): CuttingRow[] {
	return uncoveredUnder(row, rows.filter(isCutting));
}

/** Rows where a chain ends: cutting rows that no later cutting row works over, in order. */
export function chainEnds(rows: readonly ResolvedRow[]): CuttingRow[] {
	const cutting = rows.filter(isCutting);
	return cutting.filter((row, at) => !cutting.slice(at + 1).some((later) => coversPlace(later, row)));
}

/** Whether a wipe row, one still half-typed too, stands between two rows. */
export function hasWipeBetween(from: ResolvedRow, to: ResolvedRow, rows: readonly ResolvedRow[]): boolean {
	return rows.some(
		(row) =>
			row.index > from.index &&
			row.index < to.index &&
			(row.kind === "wipe" || (row.kind === "incomplete" && row.would === "wipe")),
	);
}

function uncoveredUnder<Row extends ResolvedRow>(row: ResolvedRow, rows: readonly Row[]): Row[] {
	const before = rows.filter(({ index }) => index < row.index);
	return before.filter(
		(one, at) => coversPlace(row, one) && !before.slice(at + 1).some((between) => coversPlace(between, one)),
	);
}
