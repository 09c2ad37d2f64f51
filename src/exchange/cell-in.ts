import { withCell } from "../model/cells.ts";
import { type Edit, fieldsBetween } from "../model/edits.ts";
import { headerOf, stepFields } from "../model/fields/columns.ts";
import { type FieldContext, type FieldValue, isBlank, type Reading, type StepField } from "../model/fields/reading.ts";
import { read } from "../model/fields/read.ts";
import { write } from "../model/fields/write.ts";
import type { Procedure, Stage, Step } from "../model/generated/types.ts";
import { same } from "../model/same.ts";
import type { Shop } from "../model/shop.ts";
import type { Language } from "../model/words.ts";
import type { Column } from "./header.ts";
import { readRow, usefulFields } from "./row-in.ts";
import { sheetFills } from "./sheet-fills.ts";

/** A text typed into a cell. */
export interface TypedCell {
	procedure: Procedure;
	/** Id of the row. */
	row: string;
	/** The fields that the column holds; several where they exclude each other, such as backing and pad. */
	fields: readonly StepField[];
	text: string;
	shop: Shop;
	/** Language of the screen: own words are kept under it. */
	language: Language;
}

/** What a typed text does. */
export interface TypedEdit {
	/** Empty where the row already says so. */
	edit: Edit;
	/** Fields outside the column that the text named or that the sheet of a chosen stock item filled, in the order of the schema. */
	also: StepField[];
}

/**
 * Text typed into a cell → the edit that it means. The text takes the place of everything the cell held; an empty one clears it.
 * What cannot be read, or reads several ways, stays as typed, whole, under the likeliest field of the column; so does what
 * names a value that another column has otherwise, since no cell is overwritten from another one. Only what is said of the
 * value typed with it, as the carrier of a grade, takes the place of what was there. An item of the stock brings what its
 * sheet says, only where the row has nothing yet. Minutes under the work of a row that waits are its wait.
 *
 * @throws RangeError where the procedure has no such row
 */
export function editForText({ procedure, row, fields, text, shop, language }: TypedCell): TypedEdit {
	const steps = procedure.steps ?? [];
	const at = steps.findIndex(({ id }) => id === row);
	const before = steps[at];
	if (before === undefined) throw new RangeError(`row ${row} is not among the ${steps.length} rows`);
	const door = doorOf(procedure, before, shop, language);
	if (saysTheSame(text, fields, before, door)) return { edit: [], also: [] };
	const typed = typedInto(text.trim(), readFields(fields, before), before, at, { procedure, shop, language, door });
	const chosen = fields.filter((field) => typed[field] !== undefined && typed[field] !== before[field]);
	const after = chosen.reduce((step, field) => withFills(step, field, shop), typed);
	const also = stepFields.filter(
		(field) =>
			!fields.includes(field) &&
			(!same(before[field], after[field]) || before.asTyped?.[field] !== after.asTyped?.[field]),
	);
	return { edit: fieldsBetween(before, after), also };
}

/** What is written in a cell of a row: its values, then what is kept as typed. Reading it again gives the same. */
export function cellText(step: Step, fields: readonly StepField[], door: FieldContext): string {
	const context = step.tool === undefined ? door : { ...door, tool: step.tool };
	return fields
		.flatMap((field) => {
			const value = step[field];
			return value === undefined ? (step.asTyped?.[field] ?? []) : write(value as FieldValue, { ...context, field });
		})
		.join(", ");
}

/** The context in which the cells of a row are read and written. */
export function doorOf(procedure: Procedure, step: Step | null, shop: Shop, language: Language): FieldContext {
	return {
		language,
		stock: shop.stock,
		rows: (procedure.steps ?? []).map(({ id }) => id),
		...(shop.book.gradeScale === undefined ? {} : { gradeScale: shop.book.gradeScale }),
		...(step?.tool === undefined ? {} : { tool: step.tool }),
	};
}

interface Around {
	procedure: Procedure;
	shop: Shop;
	language: Language;
	door: FieldContext;
}

/** Minutes in a column of work and wait are work, unless the row waits or says a wait already. */
function readFields(fields: readonly StepField[], { stage, waitMinutes, asTyped }: Step): readonly StepField[] {
	const waits = stage === "wait" || waitMinutes !== undefined || asTyped?.waitMinutes !== undefined;
	return waits || !fields.includes("work") ? fields : fields.filter((field) => field !== "waitMinutes");
}

/** Own words in another language are shown where there are none in the reader's: left as they stand, they are no words of his. */
function saysTheSame(text: string, fields: readonly StepField[], step: Step, door: FieldContext): boolean {
	const isTyped = fields.some((field) => step.asTyped?.[field] !== undefined);
	return !isTyped && text === cellText(step, fields, door);
}

function typedInto(text: string, fields: readonly StepField[], before: Step, at: number, around: Around): Step {
	const cleared = fields.reduce((step, field) => withCell(step, field, {}), before);
	if (text === "") return cleared;
	if (fields.includes("work") && cleared.stage === "wait" && !/^[\d.,\s]+$/.test(text)) {
		const wait = read(text, { ...around.door, field: "waitMinutes" });
		if ("value" in wait) {
			const isOpen = fields.includes("waitMinutes") || isEmpty(cleared, "waitMinutes");
			return isOpen ? withCell(cleared, "waitMinutes", wait) : withCell(cleared, "work", { asTyped: text });
		}
	}
	const take = (field: StepField, value: unknown) =>
		withCell(cleared, field, { value: withOtherLanguages(value, before[field]) });
	const readings = fields.map((field) => ({ field, reading: read(text, { ...around.door, field }) }));
	for (const { field, reading } of readings) {
		const isLabel = "value" in reading && write(reading.value, { ...around.door, field }) === text;
		if (isLabel) return take(field, reading.value);
	}
	if (isBlank(text)) return cleared;
	const useful = usefulFields(fields, cleared);
	const fitting = readings.filter(({ field }) => useful.includes(field));
	const isAmbiguous = fitting.some(({ reading }) => "between" in reading);
	// "Hard" beside nothing that tells plate from pad is either.
	const words =
		isAmbiguous && fitting.some(({ reading }) => "value" in reading)
			? null
			: withWords(text, fields, cleared, at, around);
	const [first] = isAmbiguous ? [] : fitting.flatMap(valueOf);
	// What a stage is called may say more than the stage: "wet sand".
	if (first && first.field !== "stage") return take(first.field, first.value);
	const open = readings.find(({ reading }) => "between" in reading)?.field ?? useful[0] ?? fields[0];
	if (open === undefined) return before;
	const asTyped = withCell(cleared, open, { asTyped: text });
	if (words && !leavesFilled(words, fields, cleared)) return asTyped;
	if (first) return words ? { ...words, stage: first.value as Stage } : take(first.field, first.value);
	if (words) return words;
	const [other] = isAmbiguous ? [] : readings.flatMap(valueOf);
	return other ? take(other.field, other.value) : asTyped;
}

function isEmpty(step: Step, field: StepField): boolean {
	return step[field] === undefined && step.asTyped?.[field] === undefined;
}

/** What is said of the value of a cell beside it: in one text with that value it takes the place of what was there. */
const ofOwnValue: Partial<Record<StepField, readonly StepField[]>> = {
	abrasive: ["carrier", "holes"],
	work: ["pattern"],
};

/** Whether a row that the text of one cell made still has everything that other cells held; lines may have come to the note. */
function leavesFilled(after: Step, fields: readonly StepField[], before: Step): boolean {
	const told = fields.flatMap((field) => (after[field] === undefined ? [] : (ofOwnValue[field] ?? [])));
	return stepFields.every(
		(field) =>
			fields.includes(field) ||
			told.includes(field) ||
			field === "note" ||
			isEmpty(before, field) ||
			(same(before[field], after[field]) && before.asTyped?.[field] === after.asTyped?.[field]),
	);
}

function valueOf({
	field,
	reading,
}: {
	field: StepField;
	reading: Reading;
}): { field: StepField; value: FieldValue }[] {
	return "value" in reading ? [{ field, value: reading.value }] : [];
}

/** What a text of several words does to the row, by the reader of rows; null where a word of it was not understood, or reads several ways. */
function withWords(
	text: string,
	fields: readonly StepField[],
	before: Step,
	at: number,
	{ procedure, shop, language, door }: Around,
): Step | null {
	const header = fields.map((field) => headerOf(field, language)).join(" / ");
	const column: Column = { index: 0, header, meaning: { holds: "fields", fields: [...fields] }, unit: "" };
	const { step, unread } = readRow(before.id, at + 1, [{ column, cell: { text, line: 1, column: 1 } }], {
		shop,
		language,
		ownLanguage: language,
		rowIds: [...(door.rows ?? [])],
		exact: false,
		before: (procedure.steps ?? []).slice(0, at).map(({ stage }) => stage),
		known: before,
	});
	const { id: _, note, asTyped = {}, ...values } = step;
	const isOpen = fields.some((field) => asTyped[field] !== undefined) || unread.length > Object.keys(asTyped).length;
	if (isOpen) return null;
	let after = before;
	for (const [field, value] of Object.entries(values)) after = withCell(after, field, { value });
	for (const [field, words] of Object.entries(asTyped)) after = withCell(after, field, { asTyped: words });
	return note === undefined ? after : withNote(after, note);
}

function withNote(step: Step, line: string): Step {
	const lines = step.note?.split("\n") ?? [];
	return lines.includes(line) ? step : { ...step, note: [...lines, line].join("\n") };
}

/** Own words keep what they say in the other language. */
function withOtherLanguages(value: unknown, before: unknown): unknown {
	const isWords = (one: unknown) => typeof one === "object" && one !== null && ("en" in one || "es" in one);
	return isWords(value) && isWords(before) ? { ...(before as object), ...(value as object) } : value;
}

function withFills(step: Step, field: StepField, shop: Shop): Step {
	let after = step;
	for (const [filled, value] of Object.entries(sheetFills(step, field, shop))) {
		const isOpen = step[filled as StepField] === undefined && step.asTyped?.[filled] === undefined;
		if (isOpen) after = withCell(after, filled, { value });
	}
	return after;
}
