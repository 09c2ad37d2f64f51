import type { StepField } from "../model/fields/reading.ts";
import { headerOf } from "../model/fields/columns.ts";
import { write } from "../model/fields/write.ts";
import type { Step, Text } from "../model/generated/types.ts";
import { type Shop, stockItem } from "../model/shop.ts";
import { label, type Language } from "../model/words.ts";
import words from "./data/card.json" with { type: "json" };

/** The columns of a card that may be empty, in order: what one holds, how it is set, how much is done, and where. */
export const cardColumns = ["hold", "set", "work", "where"] as const;

/** A row of a bench card in words; an empty text where the row says nothing. */
export interface CardRow {
	/** Place among all rows of the procedure, from 1: what readings and repeats refer to. */
	number: number;
	stage: string;
	/** Grade of an abrasive, the largest words of the card. */
	grade: string;
	/** What stands beside the stage: the carrier of an abrasive, else the liquid or the wipe. */
	what: string;
	cells: Record<(typeof cardColumns)[number], string>;
	/** Sentences under the row: own instruction, check, what to do if it fails, light, what must not vary. */
	notes: string[];
	/** Text of cells that could not be read. */
	unread: string[];
}

/** Words of one row. @param rows ids of all rows of the procedure, in order */
export function cardRow(step: Step, rows: readonly string[], shop: Shop, language: Language): CardRow {
	const { stock } = shop;
	const text = words[language];
	const say = (field: StepField): string => {
		const value = step[field];
		return value === undefined ? "" : write(value, { field, language, stock, rows });
	};
	const lead = (words: string, said: string) => (said === "" ? "" : `${words} ${said}`);
	const abrasive = stockItem(stock, "abrasives", step.abrasive);
	const carrier = abrasive?.carrier ?? step.carrier;
	const isFixed = step.mustNotVary?.map((field) => headerOf(field, language).toLowerCase()).join(", ") ?? "";
	return {
		number: rows.indexOf(step.id) + 1,
		stage: step.stage === undefined ? "" : label("stage", step.stage, language),
		grade: abrasive?.grade ?? say("abrasive"),
		what:
			step.abrasive === undefined ? say("liquid") || say("wipe") : carrier ? label("carrier", carrier, language) : "",
		cells: {
			hold: joined(say("backing"), lead(text.interface, say("interfaceMm")), padOf(step, say), say("tool"), say("by")),
			set: joined(
				step.wetWith === "soapy-water" ? `${say("wetness")} (${say("wetWith")})` : say("wetness"),
				say("speed"),
				say("forceN"),
				say("pattern"),
				say("amountMl"),
				lead(text.newDisc, say("discEvery")),
			),
			work: joined(say("work"), say("waitMinutes"), say("waitFor")),
			where: joined(
				[say("place"), step.place === "spot" ? say("spotMm") : say("sectionM2")].join(" ").trim(),
				say("edges"),
			),
		},
		notes: [
			step.need === "if-needed" ? label("need", "if-needed", language) : "",
			textOf(step.instruction, language),
			lead(text.check, textOf(step.check, language)),
			lead(text.ifNot, say("ifNot")),
			lead(text.light, textOf(step.light, language)),
			lead(text.padCare, textOf(step.padCare, language)),
			lead(text.fixed, isFixed),
			step.note ?? "",
		].filter((note) => note !== ""),
		unread: Object.values(step.asTyped ?? {}),
	};
}

/** The words in the reader's language, else in the one there is. */
export function textOf(text: Text | undefined, language: Language): string {
	return text?.[language] ?? text?.en ?? text?.es ?? "";
}

function padOf({ padUse }: Step, say: (field: StepField) => string): string {
	return padUse === undefined ? say("pad") : [say("pad"), `(${say("padUse")})`].join(" ").trim();
}

function joined(...parts: string[]): string {
	// A figure stays on one line with its unit.
	return parts
		.filter((part) => part !== "")
		.join(" · ")
		.replace(/(\d) (?=(?:mm|ml|m²|N|rpm|opm|spm|min)(?!\p{L}))/gu, "$1\u00a0");
}
