import type { ClearCoat, ClearCoatItem, Procedure } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";

/**
 * Hours since the clear was applied, at least, when a row begins: those that the procedure asks for and its own waits
 * for cure before that row. Null where it asks for none, or a bake stands in for the hours: then nothing is known of
 * how fresh the clear is, and on a car that comes in for swirls it may be years old.
 */
export function curedHours({ cure }: Procedure, row: ResolvedRow, rows: readonly ResolvedRow[]): number | null {
	if (cure?.hours === undefined || cure.bake !== undefined) return null;
	const waits = rows.filter((one) => one.index < row.index);
	return waits.reduce(
		(hours, one) => hours + (one.kind === "wait" && one.waitFor === "cure" ? (one.minutes ?? 0) / 60 : 0),
		cure.hours,
	);
}

/** Whether the shop or the repair put the clear on, so that its cure is a question; factory clear is baked through. */
export function isRefinishClear(clearCoat: ClearCoat | undefined): clearCoat is ClearCoat {
	return clearCoat !== undefined && clearCoat !== "factory" && clearCoat !== "factory-hard";
}

/** Clears of a kind that the shop uses. */
export function clearsOfKind(kind: ClearCoat, { stock }: Shop): ClearCoatItem[] {
	return (stock.clearCoats ?? []).filter((item) => item.kind === kind && !item.withdrawn);
}
