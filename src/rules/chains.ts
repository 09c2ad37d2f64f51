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
export const sandingPairs = oncePerRows((rows): readonly { from: AbrasiveRow; to: AbrasiveRow }[] => {
	const surface = new Surface<AbrasiveRow>();
	return rows.flatMap((to) => {
		if (to.kind !== "abrasive") return [];
		const pairs = surface.under(to).map((from) => ({ from, to }));
		surface.work(to);
		return pairs;
	});
});

/** Whether a row takes something off the panel: by abrasive, liquid or blade. */
export function isCutting(row: ResolvedRow): row is CuttingRow {
	return row.kind === "abrasive" || row.kind === "liquid" || row.kind === "blade";
}

/**
 * The cutting rows whose surface a later row finds as they left it: it works over them, and no cutting row between did.
 *
 * @param row one of the rows
 */
export function surfacesUnder(row: ResolvedRow, rows: readonly ResolvedRow[]): readonly CuttingRow[] {
	return chainsOf(rows).under.get(row) ?? [];
}

/** Rows where a chain ends: cutting rows that no later cutting row works over, in order. */
export function chainEnds(rows: readonly ResolvedRow[]): readonly CuttingRow[] {
	return chainsOf(rows).ends;
}

/** Whether a row of that sort stands between two rows. */
export function standsBetween(
	isOne: (row: ResolvedRow) => boolean,
	from: ResolvedRow,
	to: ResolvedRow,
	rows: readonly ResolvedRow[],
): boolean {
	// A row stands no later in the list than its place in the whole procedure.
	for (let at = Math.min(to.index, rows.length) - 1; at >= 0; at -= 1) {
		const row = rows[at] as ResolvedRow;
		if (row.index <= from.index) return false;
		if (row.index < to.index && isOne(row)) return true;
	}
	return false;
}

/** The rows that are done on every car, those done only if needed left out. */
export const plannedRows = oncePerRows((rows): readonly ResolvedRow[] => rows.filter(({ need }) => need === "always"));

/** Makes something of a list of rows once, however many rules and situations ask for it. */
export function oncePerRows<Made>(
	make: (rows: readonly ResolvedRow[]) => Made,
): (rows: readonly ResolvedRow[]) => Made {
	const made = new WeakMap<readonly ResolvedRow[], Made>();
	return (rows) => {
		let one = made.get(rows);
		if (one === undefined) {
			one = make(rows);
			made.set(rows, one);
		}
		return one;
	};
}

const chainsOf = oncePerRows((rows) => {
	const surface = new Surface<CuttingRow>();
	const under = new Map<ResolvedRow, readonly CuttingRow[]>();
	for (const row of rows) {
		under.set(row, surface.under(row));
		if (isCutting(row)) surface.work(row);
	}
	return { under, ends: surface.lastWorked };
});

/** The panel as rows leave it, one after another: which of them worked last where. At most one row a place. */
class Surface<Row extends ResolvedRow> {
	/** Rows that none since has worked over, in order. */
	lastWorked: readonly Row[] = [];

	under(row: ResolvedRow): readonly Row[] {
		return this.lastWorked.filter((one) => coversPlace(row, one));
	}

	work(row: Row): void {
		this.lastWorked = [...this.lastWorked.filter((one) => !coversPlace(row, one)), row];
	}
}
