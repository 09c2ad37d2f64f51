import type { Unknown } from "../forecast/outcome.ts";
import type { Language } from "../model/words.ts";
import table from "./data/unknown.json" with { type: "json" };

/** What a forecast cannot tell, as a report has it. */
type UnknownWords = Pick<Unknown, "quantity" | "why" | "measure">;

/** "film left is not known: nothing says how much clear there is." Begins small, since a row may stand before it. */
export function unknownInWords({ quantity, why }: Pick<UnknownWords, "quantity" | "why">, language: Language): string {
	return `${table.quantity[quantity][language]} ${whyInWords(why, language)}`;
}

/** "nothing says how much clear there is." */
export function whyInWords(why: Unknown["why"], language: Language): string {
	return table.why[why][language];
}

/** What would tell: "Read the clear before the first cut." */
export function measureInWords(measure: Unknown["measure"], language: Language): string {
	return table.measure[measure][language];
}
