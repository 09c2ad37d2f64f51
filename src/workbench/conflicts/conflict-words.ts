import { cellText, doorOf } from "../../exchange/cell-in.ts";
import { defectName } from "../../model/defects.ts";
import type { Edit, EditOperation } from "../../model/edits.ts";
import { headerOf, isStepField, stepFields } from "../../model/fields/columns.ts";
import { shapes } from "../../model/generated/shape.ts";
import type { Procedure, Step, Text } from "../../model/generated/types.ts";
import type { Conflict, Side } from "../../model/merge.ts";
import { isRecord, pointerParts } from "../../model/pointer.ts";
import { keysOf } from "../../model/same.ts";
import { type Shape, shapeOfPart } from "../../model/shape.ts";
import type { Shop } from "../../model/shop.ts";
import { formatNumber } from "../../model/units.ts";
import { label, type Language, languages } from "../../model/words.ts";
import { inLanguage, type Say, saying } from "../words.ts";
import sentences from "./words.json" with { type: "json" };

/** What words are made from. */
export interface Around {
	/** As it stands now: rows are numbered by it. */
	procedure: Procedure;
	shop: Shop;
	language: Language;
}

/** "Row 3, Speed", "Film, Assumed": where a conflict is. */
export function placeInWords({ code, row, field, pointer }: Conflict, around: Around): string {
	const say = saying(sentences, around.language);
	if (code === "order") return say("order");
	if (row !== null) return rowPlace(row, field, around, say);
	return partPlace(pointer ?? "", around.language);
}

/** What stands at the place of a conflict on one side. */
export function sideInWords({ code, field, pointer }: Conflict, side: Side, around: Around): string {
	const { language } = around;
	const say = saying(sentences, language);
	if (code === "order") return orderInWords(side.value as string[], around, say);
	if (side.value === undefined && side.asTyped === undefined) return say(code === "changed-both" ? "empty" : "noRow");
	if (pointer !== null) return plain(side.value, shapeAt(pointer), around, say);
	if (field === null) return stepInWords(side.value as Step, around);
	if (isStepField(field)) return cellInWords(field, side, around);
	return plain(side.value, undefined, around, say);
}

/** What a join took over from disk, line by line. */
export function joinedInWords(edit: Edit, around: Around): string[] {
	const say = saying(sentences, around.language);
	return edit.map((operation) => operationInWords(operation, around, say));
}

function operationInWords(operation: EditOperation, around: Around, say: Say<typeof sentences>): string {
	switch (operation.op) {
		case "insert":
			return say("inserted", {
				place: rowPlace(operation.step.id, null, around, say),
				row: stepInWords(operation.step, around),
			});
		case "remove":
			return say("removed", { row: stepInWords(operation.step, around) });
		case "move":
			return say("moved", { place: rowPlace(operation.row, null, around, say) });
		case "set": {
			const { row, field, to } = operation;
			const text = isStepField(field) ? cellInWords(field, { value: to }, around) : plain(to, undefined, around, say);
			return say("set", { place: rowPlace(row, field, around, say), text });
		}
		case "setPart": {
			const text = plain(operation.to, shapeAt(operation.pointer), around, say);
			return say("set", { place: partPlace(operation.pointer, around.language), text });
		}
	}
}

function rowPlace(
	row: string,
	field: string | null,
	{ procedure, language }: Around,
	say: Say<typeof sentences>,
): string {
	const index = (procedure.steps ?? []).findIndex(({ id }) => id === row);
	const place = index === -1 ? say("goneRow") : say("row", { number: index + 1 });
	return field === null ? place : `${place}, ${headerOf(field, language)}`;
}

function partPlace(pointer: string, language: Language): string {
	let shape: Shape | undefined = shapes.procedure;
	const words = pointerParts(pointer).map((part, depth) => {
		const title = shape?.keys?.[part]?.title;
		shape = shapeOfPart(shape, part);
		return depth === 0 ? headerOf(part, language) : nameOf(part, title, language);
	});
	return words.join(", ");
}

function nameOf(part: string, title: string | undefined, language: Language): string {
	if (languages.includes(part as Language))
		return new Intl.DisplayNames([language], { type: "language" }).of(part) ?? part;
	const header = headerOf(part, language);
	return header === part ? (title ?? part) : header;
}

function shapeAt(pointer: string): Shape | undefined {
	return pointerParts(pointer).reduce<Shape | undefined>(shapeOfPart, shapes.procedure);
}

function orderInWords(order: readonly string[], { procedure }: Around, say: Say<typeof sentences>): string {
	const numbers = order.map((id) => (procedure.steps ?? []).findIndex((step) => step.id === id) + 1);
	return say("rows", { numbers: numbers.filter((number) => number > 0).join(", ") });
}

function stepInWords(step: Step, around: Around): string {
	const parts = stepFields.flatMap((field) => {
		const side = { value: step[field], asTyped: isRecord(step.asTyped) ? step.asTyped[field] : undefined };
		const isEmpty = side.value === undefined && side.asTyped === undefined;
		return isEmpty ? [] : `${headerOf(field, around.language)}: ${cellInWords(field, side, around)}`;
	});
	return parts.length === 0 ? saying(sentences, around.language)("emptyRow") : parts.join("; ");
}

function cellInWords(field: Parameters<typeof cellText>[1][number], side: Side, around: Around): string {
	const { procedure, shop, language } = around;
	const say = saying(sentences, language);
	const typed = typeof side.asTyped === "string" ? say("asTyped", { text: side.asTyped }) : null;
	if (side.value === undefined) return typed ?? say("empty");
	let text: string;
	try {
		text = cellText(
			{ id: "", [field]: side.value } as unknown as Step,
			[field],
			doorOf(procedure, null, shop, language),
		);
	} catch {
		// A value the schema does not allow is kept in the file, and has no form in which it could be typed.
		text = plain(side.value, undefined, around, say);
	}
	return typed === null ? text : `${text} (${typed})`;
}

/** A part of the procedure in plain words, as far as there are any. */
function plain(value: unknown, shape: Shape | undefined, around: Around, say: Say<typeof sentences>): string {
	const { language, shop } = around;
	if (value === undefined || value === null) return say("empty");
	if (typeof value === "boolean") return say(value ? "yes" : "no");
	if (typeof value === "number") return formatNumber(value, language, 4);
	if (typeof value === "string") return shape?.words === undefined ? value : label(shape.words, value, language);
	if (Array.isArray(value))
		return value.length === 0 ? say("empty") : value.map((one) => plain(one, shape?.items, around, say)).join(", ");
	const record = value as Record<string, unknown>;
	const keys = keysOf(record);
	if (keys.length > 0 && keys.every((key) => languages.includes(key as Language)))
		return inLanguage(record as Text, language);
	return keys
		.map((key) => {
			if (key === "defect" && typeof record[key] === "string") return defectName(record[key], language, shop.book);
			const inner = shapeOfPart(shape, key);
			return `${nameOf(key, inner?.title, language)}: ${plain(record[key], inner, around, say)}`;
		})
		.join("; ");
}
