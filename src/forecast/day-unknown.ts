import type { ResolvedRow } from "../model/resolve.ts";

/** Something of a day that cannot be told. */
export interface DayUnknown {
	/** The row; null for the whole day. */
	row: ResolvedRow | null;
	quantity: "vibration" | "noise" | "cost";
	/** A word for why. */
	why:
		| "incomplete-row"
		| "minutes-unknown"
		| "vibration-not-stated"
		| "noise-not-stated"
		| "price-not-stated"
		| "amount-not-stated"
		| "labour-rate-not-stated"
		| "currency-not-stated";
	/** What would tell. */
	measure:
		| "fill-the-row"
		| "time-one-row"
		| "fill-the-vibration"
		| "fill-the-noise"
		| "fill-the-price"
		| "fill-the-amount"
		| "fill-the-labour-rate"
		| "fill-the-currency";
}
