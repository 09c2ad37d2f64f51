import type { StepField } from "../../model/fields/reading.ts";
import type { Stock } from "../../model/generated/types.ts";
import { foldText, label, type Language, spellingsOf, valuesOf, type WordKind, wordKinds } from "../../model/words.ts";

/** Something that a cell can hold, offered while a person types. */
export interface Suggestion {
	/** As it is written in the cell. */
	text: string;
	/** An item of the stock, or a kind. */
	from: "stock" | "kind";
	/** The grade of an abrasive whose name does not tell it; else empty. */
	aside: string;
}

/**
 * What the stock holds for a column, then the kinds; those that hold the typed text, by any spelling of the trade.
 * Items withdrawn are left out. No more than a person looks through.
 */
export function suggestionsFor(
	fields: readonly StepField[],
	text: string,
	stock: Stock,
	language: Language,
): Suggestion[] {
	const wanted = foldText(text);
	const all = fields.flatMap((field) => itemsOf(field, stock));
	all.push(...fields.flatMap((field) => kindsOf(field, language)));
	return all
		.filter(({ folded }) => folded.some((one) => one.includes(wanted)))
		.slice(0, most)
		.map(({ text, from, aside }) => ({ text, from, aside }));
}

const most = 60;

interface Candidate extends Suggestion {
	folded: string[];
}

const lists = {
	abrasive: ["abrasives"],
	backing: ["backings"],
	pad: ["pads"],
	liquid: ["liquids"],
	tool: ["tools", "gauges"],
} as const satisfies Partial<Record<StepField, readonly (keyof Stock)[]>>;

function itemsOf(field: StepField, stock: Stock): Candidate[] {
	if (!(field in lists)) return [];
	const names: readonly (keyof typeof itemsByList)[] = lists[field as keyof typeof lists];
	const itemsByList = {
		abrasives: stock.abrasives ?? [],
		backings: stock.backings ?? [],
		pads: stock.pads ?? [],
		liquids: stock.liquids ?? [],
		tools: stock.tools ?? [],
		gauges: stock.gauges ?? [],
	};
	return names
		.flatMap((name): { id: string; name: string; withdrawn?: boolean; grade?: string }[] => itemsByList[name])
		.filter(({ withdrawn }) => !withdrawn)
		.map(({ id, name, grade = "" }) => ({
			text: name,
			from: "stock",
			aside: name.includes(grade) ? "" : grade,
			folded: [name, id, grade].map(foldText).filter((one) => one !== ""),
		}));
}

function kindsOf(field: StepField, language: Language): Candidate[] {
	const kind = wordKinds.find((one) => one === field);
	if (kind === undefined || kind === notChoices) return [];
	return (valuesOf(kind) as string[]).map((value) => ({
		text: label(kind, value, language),
		from: "kind",
		aside: "",
		folded: spellingsOf(kind, value, language).map(foldText),
	}));
}

/** The names of the fields themselves. */
const notChoices: WordKind = "field";
