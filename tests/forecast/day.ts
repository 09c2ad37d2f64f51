import type { CarsOfDay, TimedRow } from "../../src/forecast/day.ts";
import { prepareRows } from "../../src/forecast/prepare-rows.ts";
import type { Book, Stock } from "../../src/model/generated/types.ts";
import { genericShop, type Shop, shopOf } from "../../src/model/shop.ts";
import { type Fragment, resolved } from "./rows.ts";

/** A shop with default limits that stocks just this. */
export function shopWith(stock: Omit<Stock, "format">, book: Partial<Book> = {}): Shop {
	return shopOf({ ...genericShop.book, ...book }, { format: 1, ...stock }, undefined);
}

/** Rows with their times. */
export function rowsOf(fragments: readonly Fragment[], shop: Shop): readonly TimedRow[] {
	return prepareRows(resolved(fragments, shop)).terms;
}

/** A day of procedures, each with the number of cars it is worked on. */
export function dayOf(shop: Shop, ...procedures: [fragments: readonly Fragment[], cars: number][]): CarsOfDay {
	return procedures.map(([fragments, cars]) => ({ rows: rowsOf(fragments, shop), cars }));
}
