import type { Stock } from "../model/generated/types.ts";
import type { ResolvedRow, StepField } from "../model/resolve.ts";
import { type Shop, stockItem } from "../model/shop.ts";

type StockList = Exclude<keyof Stock, "format" | "clearCoats">;

/** An item of the stock that rows can name. */
export type StockItem = NonNullable<Stock[StockList]>[number];

/** The fields of a row that name an item or a kind, each with the lists of the stock its items stand in. */
const listsOf: Partial<Record<StepField, readonly StockList[]>> = {
	tool: ["tools", "gauges"],
	abrasive: ["abrasives"],
	backing: ["backings"],
	pad: ["pads"],
	liquid: ["liquids"],
};

/** The items of the stock that a row names, in column order. */
export function itemsOf({ step }: ResolvedRow, shop: Shop): { field: StepField; item: StockItem }[] {
	return Object.keys(listsOf).flatMap((name) => {
		const field = name as StepField;
		const item = itemNamed(field, step[field], shop);
		return item === undefined ? [] : [{ field, item }];
	});
}

/** Whether anything is in stock that a row can name. */
export function hasItems({ stock }: Shop): boolean {
	return Object.values(listsOf)
		.flat()
		.some((list) => (stock[list] ?? []).length > 0);
}

/** The item that a field names by its id; undefined for a kind, a grade, or what is not in stock. */
export function itemNamed(field: StepField, id: unknown, { stock }: Shop): StockItem | undefined {
	if (typeof id !== "string") return undefined;
	for (const list of listsOf[field] ?? []) {
		const item = stockItem(stock, list, id);
		if (item !== undefined) return item;
	}
	return undefined;
}
