import type { Say } from "../words.ts";
import type words from "./words.json";

/** The sentences that are another one for one and for several: beside each stands one that ends in `-one`. */
type Counted = keyof { [Key in keyof typeof words as `${Key}-one` extends keyof typeof words ? Key : never]: true };

/** A sentence with its number, in the singular where it is one. */
export function counted(
	say: Say<typeof words>,
	key: Counted,
	count: number,
	values: Record<string, string | number> = {},
): string {
	return say(count === 1 ? `${key}-one` : key, { ...values, count });
}
