import type { Book, Limits, Stock } from "./generated/types.ts";
import { type HouseLimits, houseLimits } from "./limits.ts";
import type { FilmUnit } from "./units.ts";

/** What a procedure is judged against: the book it stands in, the stock and the limits of the house. */
export interface Shop {
	book: Book;
	stock: Stock;
	limits: HouseLimits;
	/** True for a procedure or sheet outside any book: judged by kinds alone, with default limits. */
	generic: boolean;
}

/** A shop from its files as read. */
export function shopOf(book: Book, stock: Stock | undefined, limits: Limits | undefined): Shop {
	return { book, stock: stock ?? { format: 1 }, limits: houseLimits(limits), generic: false };
}

/** The unit in which a shop reads film. */
export function filmUnitOf({ book }: Pick<Shop, "book">): FilmUnit {
	return book.units ?? "um";
}

/** The shop a lone procedure or sheet is judged by: every kind of item, nothing of any maker, default limits. */
export const genericShop: Shop = {
	book: { format: 1, id: "generic", name: "Generic stock", gradeScale: "P" },
	stock: { format: 1 },
	limits: houseLimits(),
	generic: true,
};

type StockList = Exclude<keyof Stock, "format">;
type Item<L extends StockList> = NonNullable<Stock[L]>[number];

const indexes = new WeakMap<Stock, Map<string, unknown>>();

/** The item of a stock list with that id, withdrawn ones included; undefined where there is none. */
export function stockItem<L extends StockList>(stock: Stock, list: L, id: string | undefined): Item<L> | undefined {
	if (id === undefined) return undefined;
	let index = indexes.get(stock);
	if (index === undefined) {
		index = new Map();
		for (const [name, items] of Object.entries(stock)) {
			if (!Array.isArray(items)) continue;
			for (const item of items) index.set(`${name}/${item.id}`, item);
		}
		indexes.set(stock, index);
	}
	return index.get(`${list}/${id}`) as Item<L> | undefined;
}
