import type { Stock } from "../generated/types.ts";
import { type BareScale, readGrade } from "../grades.ts";
import { foldText, label, type Language, valuesOf } from "../words.ts";
import { type FieldContext, isBlank, oneOf, plainText, type Reading, type Sort } from "./reading.ts";
import { readWord } from "./word.ts";

/** The fields that name an item of the stock or, without one, a kind. */
export type StockField = "tool" | "backing" | "pad" | "liquid";

/**
 * Reader and writer of a reference: the id of an item, a kind as it stands in files, an item's name, a word for a kind.
 * A kind is written by its label and an item by its name, unless that would read back as something else.
 */
export function stockItem(field: StockField): Sort<string> {
	const read = (text: string, { stock }: FieldContext): Reading<string> => {
		const plain = plainText(text);
		if ((valuesOf(field) as string[]).includes(plain)) return { value: plain };
		return readItem(field, plain, stock) ?? readWord(field, plain);
	};
	return {
		read,
		write: (value, context) =>
			readsBack(value, [itemName(field, value, context.stock), label(field, value, context.language)], (text) =>
				read(text, context),
			),
	};
}

/**
 * Reader and writer of an abrasive: an item of the stock, else a grade. A grade that its scale does not have is kept,
 * since what was meant is plain and a rule names the real neighbours. A bare number takes the scale of the book;
 * where the book has none it stays bare, so that a rule can say so.
 */
export const abrasive: Sort<string> = {
	read: readAbrasive,
	write: (value, context) =>
		readsBack(value, [itemName("abrasive", value, context.stock), inLanguage(value, context.language)], (text) =>
			readAbrasive(text, context),
		),
};

/** "No. 2000", "nº 2000" without the sign that a number follows; any other text as it is, and so "no P2000", which denies. */
export function withoutNumberMark(text: string): string {
	return text.replace(/^(?:no\s*(?=\d)|(?:no\.|n\.?\s?[º°]|n[uú]m\.?|number|n[uú]mero)\s*(?=p?\s?\d))/i, "");
}

/** Every id and name of the items in stock for a field as {@link foldText} reduces it, with the id; items withdrawn left out. */
export function foldedItems(field: string, stock: Stock | undefined): [name: string, id: string][] {
	if (!isStocked(field)) return [];
	const current = itemsOf(field, stock).filter(({ withdrawn }) => !withdrawn);
	return current.flatMap(({ id, name }) => [foldText(name), foldText(id)].map((one): [string, string] => [one, id]));
}

interface Item {
	id: string;
	name: string;
	withdrawn?: boolean;
}

const lists = {
	tool: ["tools", "gauges"],
	abrasive: ["abrasives"],
	backing: ["backings"],
	pad: ["pads"],
	liquid: ["liquids"],
} as const;

function readAbrasive(text: string, { gradeScale, stock }: FieldContext): Reading<string> {
	const plain = plainText(text);
	return readItem("abrasive", plain, stock) ?? readGradeText(plain, gradeScale);
}

function readGradeText(text: string, scale: BareScale | undefined): Reading<string> {
	const grade = readGrade(withoutNumberMark(text), scale);
	if (grade === null) return { unread: isBlank(text) ? "empty" : "not-a-grade" };
	if (grade.kind === "unknown" && grade.text.endsWith("µm")) return { between: grade.nearest };
	return { value: scale === undefined && grade.bare ? grade.text.replace(/\D/g, "") : grade.text };
}

/** The items whose id or name the text is; items withdrawn count only where no other fits. */
function readItem(field: keyof typeof lists, text: string, stock: Stock | undefined): Reading<string> | undefined {
	const items = itemsOf(field, stock);
	if (items.some(({ id }) => id === text)) return { value: text };
	const folded = foldText(text);
	const named =
		folded === "" ? [] : items.filter(({ id, name }) => foldText(name) === folded || foldText(id) === folded);
	const current = named.filter(({ withdrawn }) => !withdrawn);
	const found = (current.length > 0 ? current : named).map(({ id }) => id);
	return found.length === 0 ? undefined : oneOf(found, "unknown-word");
}

function isStocked(field: string): field is keyof typeof lists {
	return Object.hasOwn(lists, field);
}

function itemName(field: keyof typeof lists, value: string, stock: Stock | undefined): string | undefined {
	return itemsOf(field, stock).find(({ id }) => id === value)?.name;
}

function itemsOf(field: keyof typeof lists, stock: Stock | undefined): Item[] {
	const items: Item[] = [];
	for (const list of lists[field]) items.push(...(stock?.[list] ?? []));
	return items;
}

function readsBack(value: string, texts: (string | undefined)[], read: (text: string) => Reading<string>): string {
	return (
		texts.find((text) => {
			const reading = text === undefined ? { unread: "empty" } : read(text);
			return "value" in reading && reading.value === value;
		}) ?? value
	);
}

/** A grade in micrometres with the decimal sign of the language; other grades have none. */
function inLanguage(grade: string, language: Language): string {
	return language === "es" && grade.endsWith("µm") ? grade.replace(".", ",") : grade;
}
