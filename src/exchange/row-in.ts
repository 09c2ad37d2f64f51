import {
	type FieldContext,
	type FieldValue,
	isBlank,
	plainText,
	type Reading,
	type StepField,
	type UnreadCode,
} from "../model/fields/reading.ts";
import { withFigures } from "../model/fields/number-words.ts";
import { read } from "../model/fields/read.ts";
import { withoutNumberMark } from "../model/fields/stock-item.ts";
import { headerOf } from "../model/fields/columns.ts";
import { write } from "../model/fields/write.ts";
import type { Stage, Step } from "../model/generated/types.ts";
import { readGrade } from "../model/grades.ts";
import { type Shop, stockItem } from "../model/shop.ts";
import { findWord, foldText, label, type Language, languages } from "../model/words.ts";
import type { Cell } from "./grid.ts";
import type { Column } from "./header.ts";
import { isNumbering } from "./numbering.ts";
import { type Hit, type Scan, scan } from "./phrases.ts";
import { sentence, type SentenceCode } from "./sentence.ts";

/** A cell of a row, with the column it stands in. */
export interface RowCell {
	column: Column;
	cell: Cell;
}

/** What reading a row needs to know beside its cells. */
export interface RowContext {
	shop: Shop;
	/** Language of sentences. */
	language: Language;
	/** Language of the sheet's own words. */
	ownLanguage: Language;
	/** Ids of the rows by the number under which the sheet refers to them, from 1. */
	rowIds: string[];
	/** The sheet was written by this program, so that every cell is exactly what its header says. */
	exact: boolean;
	/** Stages of the rows before. */
	before: readonly (Stage | undefined)[];
	/** What the row holds in columns that are not among the cells, where it is there already; it is not read, and not in the step read. */
	known?: Step;
}

/** A text of a row that was not read, and why. */
export interface UnreadCell {
	column: Column;
	text: string;
	why: string;
}

export interface ReadRow {
	step: Step;
	/** The cell each field was read from, or kept as typed from. */
	places: Map<string, Cell>;
	/** For each column, by its place, the field its cell became. */
	became: Map<number, StepField>;
	unread: UnreadCell[];
	notes: string[];
}

/**
 * A row of a sheet → a step. Each cell is read as a whole, by the one door for values; a cell that says several things is
 * taken apart into what each of its words means. What cannot be read stays as typed, or in the note where the row has no use for it.
 */
export function readRow(id: string, number: number, cells: readonly RowCell[], context: RowContext): ReadRow {
	const parted = withoutFieldsOfOthers(cells);
	const row: Draft = {
		number,
		context,
		step: { id },
		places: new Map(),
		became: new Map(),
		unread: [],
		notes: [],
		kept: [],
		typed: {},
		kind: null,
		cells: parted,
		strayed: new Map(),
		open: [],
		set: {},
	};
	readStage(row);
	const order = (one: RowCell) => {
		const at = readingOrder.indexOf(primaryOf(one.column, row.kind) ?? "note");
		return at < 0 ? readingOrder.indexOf("note") : at;
	};
	for (const one of parted.toSorted((a, b) => order(a) - order(b))) readCell(one, row);
	if (!context.exact) settle(row);
	const note = [...row.kept];
	if (row.step.note !== undefined) note.unshift(row.step.note);
	if (note.length > 0) row.step.note = note.join("\n");
	if (Object.keys(row.typed).length > 0) row.step.asTyped = row.typed;
	const { step, places, became, unread, notes } = row;
	return { step, places, became, unread, notes };
}

/** Of the fields that one cell may hold, those that a row as far as it is filled has a use for; all, where it has for none. */
export function usefulFields(fields: readonly StepField[], row: Step): StepField[] {
	const kind = row.stage === undefined ? evidenceOfStep(row) : kindOfStage[row.stage];
	const useful = kind === null ? [] : fields.filter((field) => fitting[kind].includes(field));
	return useful.length > 0 ? useful : [...fields];
}

/** A joined column leaves a field to the column that holds it alone and says something in this row: "Liquid" beside "Wetness". */
function withoutFieldsOfOthers(cells: readonly RowCell[]): RowCell[] {
	return cells.map((one) => {
		const { meaning } = one.column;
		if (meaning?.holds !== "fields" || meaning.fields.length < 2) return one;
		const taken = cells.flatMap((other) =>
			other === one || isBlank(other.cell.text) ? [] : fieldsOf(other.column).slice(0, 1),
		);
		const fields = meaning.fields.filter((field, at) => at === 0 || !taken.includes(field));
		return { ...one, column: { ...one.column, meaning: { holds: "fields", fields } } };
	});
}

/** What a row works with, which decides what an ambiguous word means in it. */
type Kind = "abrasive" | "liquid" | "wipe" | "wait" | "other";

interface Draft extends ReadRow {
	number: number;
	context: RowContext;
	kind: Kind | null;
	cells: readonly RowCell[];
	/** Lines for the note. */
	kept: string[];
	typed: Record<string, string>;
	/** The cell of another column whose words gave a field, until the field's own column speaks. */
	strayed: Map<StepField, RowCell>;
	/** The cells that are kept as typed under a field. */
	open: [StepField, RowCell][];
	/** The column whose own cell gave a field; a word that strayed into another column never overrules it. */
	set: Partial<Record<StepField, Column>>;
}

type Found = { field: StepField; values: readonly unknown[] };

const kindOfStage: Record<Stage, Kind> = {
	clean: "wipe",
	mask: "other",
	measure: "other",
	level: "abrasive",
	sand: "abrasive",
	refine: "abrasive",
	compound: "liquid",
	polish: "liquid",
	finish: "liquid",
	wipe: "wipe",
	wait: "wait",
	inspect: "other",
	seal: "other",
};

/** The tool is read before what it decides: backing, speed, work. */
const readingOrder: StepField[] = [
	"tool",
	"abrasive",
	"backing",
	"pad",
	"wetness",
	"liquid",
	"wipe",
	"note",
	"speed",
	"work",
];

/** Fields that belong to a column of a field, beside it. */
const companions: Partial<Record<StepField, StepField[]>> = {
	abrasive: ["carrier", "holes"],
	carrier: ["holes"],
	backing: ["interfaceMm"],
	pad: ["padUse", "interfaceMm"],
	wetness: ["wetWith", "liquid"],
	liquid: ["amountMl"],
	work: ["pattern"],
};

/** Fields whose words may stray into any cell, in the order in which they are tried. */
const strays: StepField[] = [
	"abrasive",
	"interfaceMm",
	"speed",
	"work",
	"wetness",
	"wetWith",
	"backing",
	"tool",
	"pad",
	"liquid",
	"wipe",
	"pattern",
	"edges",
	"place",
	"need",
	"when",
	"carrier",
	"holes",
];

/** Fields an ambiguous word is first tried as, by kind of row. */
const fitting: Record<Kind, StepField[]> = {
	abrasive: ["abrasive", "carrier", "holes", "backing", "interfaceMm", "wetness", "wetWith"],
	liquid: ["pad", "padUse", "liquid", "amountMl"],
	wipe: ["wipe"],
	wait: ["waitMinutes", "waitFor"],
	other: [],
};

/** Columns whose text is kept as it is. */
const ownText: readonly StepField[] = ["instruction", "padCare", "check", "light", "note"];

/** What a row of each kind cannot do without: text there that cannot be read must be seen to. */
const needed: Record<Kind, readonly StepField[]> = {
	abrasive: ["stage", "abrasive", "backing", "tool", "speed", "work", "wetness", "carrier"],
	liquid: ["stage", "liquid", "pad", "tool", "speed", "work"],
	wipe: ["stage", "wipe"],
	wait: ["stage", "waitMinutes", "waitFor"],
	other: ["stage"],
};
/** Fields of doing the work, which rows that only wash, wait or look have no use for. */
const working: readonly StepField[] = [
	"abrasive",
	"carrier",
	"holes",
	"backing",
	"interfaceMm",
	"pad",
	"padUse",
	"wetness",
	"wetWith",
	"liquid",
	"wipe",
	"tool",
	"speed",
	"work",
	"pattern",
	"forceN",
	"overlap",
	"armSpeedMs",
	"amountMl",
	"waitMinutes",
	"place",
	"edges",
];

function readStage(row: Draft): void {
	const stages = row.cells.filter(({ column }) => primaryOf(column, null) === "stage");
	const evidence = evidenceOf(row);
	const [first] = stages;
	if (first === undefined) {
		const known = row.context.known?.stage;
		row.kind = known === undefined ? evidence : kindOfStage[known];
		if (known === undefined) readStageOfInstruction(row);
		return;
	}
	for (const other of stages.slice(1)) keep(other, row);
	const text = withoutNumber(first.cell.text);
	const exact = row.context.exact ? findWord("stage", text) : null;
	if (typeof exact === "string") {
		take(first, "stage", exact, row);
		row.kind = kindOfStage[exact];
		return;
	}
	const found = stageIn(text, row);
	row.became.set(first.column.index, "stage");
	row.places.set("stage", first.cell);
	const chosen = found.stages.length > 0 ? chooseStage(found.stages, evidence, row) : undefined;
	if (chosen === undefined) {
		row.kind = evidence;
		const code = found.stages.length > 1 ? (found.several ? "several" : "between") : "unknown-word";
		keepTyped(first, "stage", code, found.stages, row);
		return;
	}
	if (found.stages.length > 1 || chosen !== found.stages[0])
		row.notes.push(
			say(
				"note-stage",
				{ row: row.number, text: first.cell.text, stage: label("stage", chosen, row.context.language) },
				row,
			),
		);
	row.step.stage = chosen;
	row.set.stage = first.column;
	row.kind = kindOfStage[chosen];
	// The name of a stage may say more than the stage: "wet sand", "IPA wipe", "denib with a nib file".
	const more = row.kind === "abrasive" ? ["wetness", "tool"] : row.kind === "wipe" ? ["wipe", "tool"] : ["tool"];
	for (const field of more as StepField[]) {
		const said = readField(field, text, first.column, row);
		const isPlain = "value" in said && (field !== "tool" || bladeTools.some((tool) => tool === said.value));
		if (isPlain) stray(first, { field, values: [said.value] }, row);
	}
	if (found.scan) takeScan(first, found.scan, "stage", row);
}

/** In a sheet without a column for it, the word an instruction begins with tells the stage: "Sand crosswise …". */
function readStageOfInstruction(row: Draft): void {
	const told = row.cells.find(({ column }) => fieldsOf(column)[0] === "instruction");
	if (told === undefined) return;
	const words = withoutNumber(told.cell.text).split(/[\s,;:.]+/);
	for (let length = 3; length >= 1; length -= 1) {
		const stage = findWord("stage", words.slice(0, length).join(" "));
		if (typeof stage !== "string" || (row.kind !== null && kindOfStage[stage] !== row.kind)) continue;
		row.step.stage = stage;
		row.kind = kindOfStage[stage];
		row.places.set("stage", told.cell);
		const said = label("stage", stage, row.context.language);
		row.notes.push(say("note-stage", { row: row.number, text: told.cell.text, stage: said }, row));
		return;
	}
}

const bladeTools = ["nib-blade", "nib-file", "razor", "clay"];

/** Every stage that the words of a cell may mean. */
function stageIn(text: string, row: Draft): { stages: Stage[]; several: boolean; scan?: Scan<Found> } {
	const whole = findWord("stage", text);
	if (typeof whole === "string") return { stages: [whole], several: false };
	if (whole !== null) return { stages: whole.between, several: false };
	// "IPA" as an operation is the wipe itself.
	if (typeof findWord("wipe", text) === "string") return { stages: ["wipe"], several: false };
	const fields: StepField[] = ["stage", ...strays];
	const scanned = scan(text, (words) => understand(words, fields, ["stage"], row));
	const stages = scanned.hits
		.filter(({ found }) => found.field === "stage")
		.map(({ found }) => found.values as Stage[]);
	const rest = { ...scanned, hits: scanned.hits.filter(({ found }) => found.field !== "stage") };
	const common = intersection(stages);
	if (scanned.denies && common.length !== 1) return { stages: [], several: false };
	if (common.length > 0) return { stages: common as Stage[], several: false, scan: rest };
	return { stages: [...new Set(stages.flat())], several: stages.length > 1, scan: rest };
}

/** The stage that the other cells and the place of the row leave, among those its words may mean. */
function chooseStage(
	stages: readonly Stage[],
	evidence: Kind | null,
	{ context, step, cells }: Draft,
): Stage | undefined {
	const sandedBefore = context.before.some((stage) => stage === "level" || stage === "sand" || stage === "refine");
	const cutBefore = context.before.some(
		(stage) => stage !== undefined && ["abrasive", "liquid"].includes(kindOfStage[stage]),
	);
	const [only] = stages;
	if (stages.length === 1 && only !== undefined) {
		// "Cut" or "finish" beside a grade, with neither liquid nor pad, is sanding.
		if (evidence === "abrasive" && kindOfStage[only] === "liquid")
			return only === "compound" || !sandedBefore ? "sand" : "refine";
		return only;
	}
	const fits = evidence === null ? [] : stages.filter((stage) => kindOfStage[stage] === evidence);
	if (fits.length === 1) return fits[0];
	if (fits.includes("sand")) return "sand";
	if (fits.includes("clean") && fits.includes("wipe")) return cutBefore ? "wipe" : "clean";
	const classes = new Set(cells.flatMap(({ cell }) => liquidsIn(cell.text)));
	const byClass: Partial<Record<string, Stage>> = {
		"heavy-cut": "compound",
		"medium-cut": "compound",
		fine: "polish",
		finest: "finish",
	};
	const named = [...classes].map((one) => byClass[one]).filter((stage) => stage !== undefined && fits.includes(stage));
	if (step.stage === undefined && new Set(named).size === 1) return named[0];
	if (stages.includes("clean") && stages.includes("wipe") && stages.length === 2 && evidence === null)
		return cutBefore ? "wipe" : "clean";
	return undefined;
}

function liquidsIn(text: string): string[] {
	return scan(text, (words) => {
		const found = findWord("liquid", words);
		return typeof found === "string" ? found : null;
	}).hits.map(({ found }) => found);
}

/** What the cells beside the stage show the row to be: a grade means sanding, whatever the shop calls it. */
function evidenceOf(row: Draft): Kind | null {
	let liquid = false;
	let wipe = false;
	let wait = false;
	for (const { column, cell } of row.cells) {
		const fields = fieldsOf(column);
		const own = fields[0];
		if (own === undefined || own === "stage" || ownText.includes(own)) continue;
		if (
			fields.includes("abrasive") &&
			scan(cell.text, (words) => (isGrade(words, own === "abrasive", row) ? true : null)).hits.length > 0
		)
			return "abrasive";
		const names = (kind: "liquid" | "pad" | "wipe") =>
			scan(cell.text, (words) => (findWord(kind, words) === null ? null : true)).hits.length > 0;
		if (fields.includes("wipe") && names("wipe")) wipe = true;
		else if (fields.includes("liquid") && names("liquid")) liquid = true;
		if (own === "pad" && names("pad")) liquid = true;
		if (own === "waitMinutes") wait = true;
	}
	const known = evidenceOfStep(row.context.known ?? {});
	if (known === "abrasive") return known;
	return liquid ? "liquid" : wipe ? "wipe" : wait ? "wait" : known;
}

function evidenceOfStep({ abrasive, liquid, pad, wipe, waitMinutes, waitFor }: Partial<Step>): Kind | null {
	if (abrasive !== undefined) return "abrasive";
	if (liquid !== undefined || pad !== undefined) return "liquid";
	if (wipe !== undefined) return "wipe";
	return waitMinutes !== undefined || waitFor !== undefined ? "wait" : null;
}

function readCell(one: RowCell, row: Draft): void {
	const { column, cell } = one;
	const primary = primaryOf(column, row.kind);
	if (column.meaning?.holds === "typed") {
		row.typed[column.meaning.field] = cell.text;
		return;
	}
	if (primary === undefined) {
		if (!isBlank(cell.text)) keep(one, row);
		return;
	}
	if (primary === "stage" || (isBlank(cell.text) && !ownText.includes(primary))) return;
	if (ownText.includes(primary)) {
		readOwnText(one, primary, row);
		return;
	}
	if (primary === "work" && fieldsOf(column).includes("waitMinutes") && !isWorkAndWait(column)) {
		readTime(one, row);
		return;
	}
	if (primary === "work" && row.kind === "wait" && !row.context.exact) {
		readWaitUnderWork(one, row);
		return;
	}
	if (primary === "work" && readCrossPasses(one, row)) return;
	const fields = orderedFields(column, row);
	for (const field of fields) {
		if (!fieldsOf(column).includes(field) && namesNothing(cell.text)) continue;
		const reading = refine(field, readField(field, cell.text, column, row), row);
		if ("value" in reading) {
			take(one, field, reading.value, row);
			return;
		}
	}
	if (primary === "tool" && readHandTool(one, row)) return;
	if (primary === "backing" && readHandBacking(one, row)) return;
	if (primary === "forceN" && isWordOfForce(cell.text)) {
		keep(one, row);
		return;
	}
	if (primary === "place" && findWord("place", cell.text) === null && !/\d/.test(cell.text)) {
		// "Front door" tells where, not how much of it.
		keep(one, row);
		return;
	}
	const all = [...fields, ...strays.filter((field) => !fields.includes(field))];
	const scanned = scan(cell.text, (words) => understand(words, all, fields, row, column));
	takeScan(one, scanned, primary, row);
}

/** Fields of a column, what fits the kind of row first. */
function orderedFields(column: Column, { kind, context: { exact } }: Pick<Draft, "kind" | "context">): StepField[] {
	const own = fieldsOf(column);
	const isJoined = own.includes("backing") && own.includes("pad");
	const useless = isJoined && kind === "abrasive" ? "pad" : isJoined && kind === "liquid" ? "backing" : undefined;
	const all = [...new Set([...own, ...own.flatMap((field) => companions[field] ?? [])])].filter(
		(field) => field !== useless,
	);
	if (kind === null || exact) return exact ? own : all;
	const first = all.filter((field) => fitting[kind].includes(field));
	return [...first, ...all.filter((field) => !first.includes(field))];
}

function fieldsOf({ meaning }: Column): StepField[] {
	return meaning?.holds === "fields" ? meaning.fields : [];
}

/** Whether a column of work and wait is called so, or by its place alone: then it counts passes as well, where one called "time" holds minutes only. */
function isWorkAndWait(column: Column): boolean {
	const fields = fieldsOf(column);
	if (!fields.includes("work") || !fields.includes("waitMinutes")) return false;
	const header = foldText(column.header);
	return header === "" || languages.some((language) => header.startsWith(foldText(headerOf("work", language))));
}

/** The field under which a cell of the column is kept when it cannot be read. */
function primaryOf(column: Column, kind: Kind | null): StepField | undefined {
	const fields = fieldsOf(column);
	return (kind === null ? undefined : fields.find((field) => fitting[kind].includes(field))) ?? fields[0];
}

function readField<F extends StepField>(
	field: F,
	text: string,
	column: Column | undefined,
	row: Draft,
): Reading<FieldValue<F>> {
	const context = doorContext(row, column);
	const isStated = column !== undefined && column.unit !== "" && !(field === "work" && isWorkAndWait(column));
	const stated = isStated && fieldsOf(column).includes(field) && isBareNumber(text);
	if (stated) {
		const withUnit = read(`${text} ${column.unit}`, { ...context, field });
		if (!("unread" in withUnit)) return withUnit;
	}
	return read(text, { ...context, field });
}

function doorContext(row: Draft, column?: Column): FieldContext {
	const { context } = row;
	const { book, stock } = context.shop;
	const tool = toolOf(row);
	return {
		language: column?.language ?? context.ownLanguage,
		stock,
		rows: context.rowIds,
		...(book.gradeScale === undefined ? {} : { gradeScale: book.gradeScale }),
		...(tool === undefined ? {} : { tool }),
	};
}

function toolOf({ step, context }: Draft): string | undefined {
	return step.tool ?? context.known?.tool;
}

function isBareNumber(text: string): boolean {
	return /^[\d.,'\s]+(?:\s*(?:-|–|—|to|a|~|\.\.)\s*[\d.,'\s]+)?\+?$/.test(text);
}

/** What a run of words in a cell of several things means. */
function understand(
	words: string,
	fields: readonly StepField[],
	own: readonly StepField[],
	row: Draft,
	column?: Column,
): Found | null {
	if (/^\W+$/.test(words)) return null;
	const ofColumn = column === undefined ? own : fieldsOf(column);
	let open: Found | null = null;
	for (const field of fields) {
		if (!own.includes(field) && !mayStray(field, words, row)) continue;
		if (!ofColumn.includes(field) && namesNothing(words)) continue;
		const found =
			field === "interfaceMm" ? readInterface(words, row) : refine(field, readRun(field, words, own, row, column), row);
		if (found === null) continue;
		if ("value" in found) return { field, values: [found.value] };
		if ("between" in found && open === null && !saysNothing(field, found.between))
			open = { field, values: found.between };
	}
	return open;
}

/** A bare number, "no" or "yes" says something in its own column alone: it names neither unit nor thing. */
function namesNothing(words: string): boolean {
	return !/[\p{L}"″”%]|#\s*\d{3}/u.test(words) || /^(?:no|none|not|yes|s[ií]|sin|without)$/i.test(words.trim());
}

function readRun(field: StepField, words: string, own: readonly StepField[], row: Draft, column?: Column): Reading {
	if (field === "abrasive")
		return isGrade(words, own.includes("abrasive"), row)
			? readField(field, words, column, row)
			: { unread: "not-a-grade" };
	// A bare number among words may be anything; only with a unit is it a quantity.
	const isOwnSpeed = field === "speed" && own.includes("speed") && /^\d{3,5}(?:\s?-\s?\d{3,5})?$/.test(words);
	if (["speed", "work", "amountMl"].includes(field) && isBareNumber(words) && !isOwnSpeed)
		return { unread: "not-a-number" };
	if (field === "work") {
		if (isBareNumber(withFigures(words))) return { unread: "not-a-number" };
		return readField(field, words.replace(mannerWords, ""), undefined, row);
	}
	return readField(field, words, undefined, row);
}

/** How passes are made, which changes nothing of their count. */
const mannerWords = /(?<=\d\s*)\b(?:slow|light|even|full|overlapping|gentle|steady|lentas|suaves|completas)\s/i;

/** "Disc" names every carrier, so it tells none. */
function saysNothing(field: StepField, between: readonly unknown[]): boolean {
	return field === "carrier" && between.length >= 4;
}

function isGrade(words: string, own: boolean, row: Draft): boolean {
	const { stock } = row.context.shop;
	const bare = /^[\d.,\s]+$/.test(words);
	if (bare) return own && /^\d{3,5}$/.test(words.replace(/[.,\s](?=\d{3}$)/, ""));
	const unmarked = withoutNumberMark(plainText(words));
	if (unmarked !== plainText(words)) return own && readGrade(unmarked) !== null;
	const grade = readGrade(unmarked);
	// "3 P" among passes is no grade: elsewhere than in its column only one of a table is, or a number nobody counts to.
	if (grade !== null) return own || grade.kind === "grade" || /\d{3}/.test(grade.text);
	const item = read(words, { field: "abrasive", language: row.context.ownLanguage, stock });
	return "value" in item;
}

/** Whether words of a field may be believed in a cell of another column. */
function mayStray(field: StepField, words: string, { kind, step, context }: Draft): boolean {
	const several = /\S[\s-]+\S/.test(words);
	switch (field) {
		case "abrasive":
			return !namesNothing(words);
		case "interfaceMm":
			return true;
		case "speed":
			return (
				/\p{L}/u.test(words) &&
				/rpm|opm|spm|dial|r\/min|rev|speed\s*\d|nivel\s*\d|posici[oó]n\s*\d|vel\w*\s*\d/i.test(words)
			);
		case "work":
			return (
				/^\D*\d[\d\s.,–-]*(?:to\s*\d+\s*|a\s*\d+\s*)?(?:x|pass|pas|stroke|vaiv|cross|times|veces)/i.test(words) ||
				/flush|enras/i.test(words)
			);
		case "wetness":
			return kind === "abrasive" && !/^(?:water|agua)$/i.test(words);
		case "wetWith":
			return kind === "abrasive" && several;
		case "backing":
			return kind === "abrasive" && several;
		case "tool":
			return (
				!/^(?:light|luz|cloth|paño|towel|trapo|file|lima|mano|hand|by hand|a mano|machine|máquina|block|bloque|taco|clay)$/i.test(
					words,
				) || /^(?:clay|file|lima)$/i.test(words)
			);
		case "pad":
			return kind === "liquid" && (several || padStuff.test(words));
		case "liquid":
			return kind === "liquid" && several;
		case "wipe":
			return kind === "wipe";
		case "carrier":
			return kind === "abrasive" && several && /dis[ck]|disco|paper|papel|sheet/i.test(words);
		case "holes":
			return kind === "abrasive" && several;
		case "pattern":
			return /cross|cruz/i.test(words);
		case "edges":
			return /edge|borde|canto/i.test(words);
		case "place":
			return several || /^(?:spot|puntual)$/i.test(words);
		case "need":
			return (
				/needed|necessary|optional|required|necesari|opcional|falta|procede/i.test(words) && !/^required$/i.test(words)
			);
		case "when":
			return step.when === undefined && context.known?.when === undefined && /\b(?:only|solo)\b|sólo/i.test(words);
		default:
			return false;
	}
}

/** What only a pad is made of. */
const padStuff = /^(?:wool|lambswool|microfib(?:re|er)|lana|microfibra)$/i;

/** The value that the row leaves where a word fits several: a plate on a driven tool, a block in the hand. */
function refine(field: StepField, reading: Reading, row: Draft): Reading {
	if (!("between" in reading)) return reading;
	const tool = toolOf(row);
	const kind = stockItem(row.context.shop.stock, "tools", tool)?.kind ?? tool;
	const byHand = kind === "block" || kind === "bare-hand";
	const driven = kind === "random-orbital" || kind === "gear-orbital" || kind === "rotary";
	if (field !== "backing" || (!byHand && !driven)) return reading;
	const left = reading.between.filter((one) => (typeof one === "string" && one.endsWith("-plate")) === driven);
	return left.length === 1 ? { value: left[0] as FieldValue } : left.length > 1 ? { between: left } : reading;
}

/** "Foam pad" behind a grade may be a soft plate or what lies on a plate: whoever reads the sheet is told. */
function noteFoam(text: string, backing: string, row: Draft): void {
	if (!/foam|espuma/i.test(text) || backing !== "soft-plate") return;
	const said = label("backing", backing, row.context.language);
	row.notes.push(say("note-backing", { row: row.number, text, backing: said }, row));
}

const interfaceForm =
	/^(?:(\d+(?:[.,]\d+)?)\s*(mm|")\s*)?(?:(?:soft|foam|thin|thick|blanda?|de espuma)\s+)?(?:interface|interfaz|interfase)(?:\s+(?:pad|disc|layer|blanda))?(?:\s*\(?(\d+(?:[.,]\d+)?)\s*(mm|")\)?)?$/i;
/** Thickness taken where a sheet names an interface and not how thick: common practice, no source. What a nib meets is its softness. */
const usualInterfaceMm = 10;

function readInterface(words: string, row: Draft): Reading<number> | null {
	const parts = interfaceForm.exec(words);
	if (!parts) return null;
	const [, before, unitBefore, after, unitAfter] = parts;
	const figure = before ?? after;
	if (figure !== undefined)
		return read(`${figure} ${unitBefore ?? unitAfter ?? "mm"}`, {
			field: "interfaceMm",
			language: row.context.language,
		});
	const note = say("note-interface", { row: row.number, mm: usualInterfaceMm }, row);
	if (!row.notes.includes(note)) row.notes.push(note);
	return { value: usualInterfaceMm };
}

/** Takes what the words of a cell gave; the rest goes to the note, or the whole stays as typed. */
function takeScan(one: RowCell, scanned: Scan<Found>, primary: StepField, row: Draft): void {
	const { cell } = one;
	const byField = new Map<StepField, Hit<Found>[]>();
	for (const hit of scanned.hits) byField.set(hit.found.field, [...(byField.get(hit.found.field) ?? []), hit]);
	if (primary !== "stage" && (scanned.hits.length === 0 || scanned.denies)) {
		const field = primary;
		const reading = readField(field, cell.text, one.column, row);
		if (scanned.denies && scanned.hits.length > 0) keepTyped(one, field, "denied", [], row);
		else if ("between" in reading) keepTyped(one, field, "between", reading.between, row);
		else keepTyped(one, field, "unread" in reading ? reading.unread : "unknown-word", [], row);
		return;
	}
	let typed = false;
	for (const [field, hits] of byField) {
		const values = combined(field, field === "speed" ? hits.map((hit) => knowingTool(hit, one, row)) : hits);
		const [value] = values;
		if (values.length === 1) {
			if (fieldsOf(one.column).includes(field) || orderedFields(one.column, row).includes(field))
				take(one, field, value, row);
			else stray(one, { field, values }, row);
			continue;
		}
		const all = hits.flatMap(({ found }) => found.values);
		const isSeveral = hits.filter(({ found }) => found.values.length === 1).length > 1;
		if (orderedFields(one.column, row).includes(field)) {
			if (!typed) keepTyped(one, field, isSeveral ? "several" : "between", [...new Set(all)], row);
			typed = true;
		} else strayOpen(one, field, hits, row);
	}
	if (typed) return;
	// "File run", "buff 2": what is worked on, or the how manieth, says nothing of the work.
	const rest =
		primary === "stage"
			? scanned.rest.filter((word) => findWord("defect", word) === null && !/^\d{1,2}$/.test(word))
			: scanned.rest;
	const isMissed = !typed && row.kind !== null && needed[row.kind].includes(primary) && !byField.has(primary);
	if (rest.length > 0 && isMissed && primary !== "stage") keepTyped(one, primary, "unknown-word", [], row);
	else if (rest.length > 0) {
		keep(one, row);
		row.unread.push({ column: one.column, text: cell.text, why: say("rest", { rest: rest.join(" ") }, row) });
	} else if (scanned.rest.length + scanned.sizes.length > 0) keep(one, row);
}

/** A bare speed read again once the same cell has told the tool. */
function knowingTool(hit: Hit<Found>, { column }: RowCell, row: Draft): Hit<Found> {
	const again = readField("speed", hit.text, column, row);
	return "value" in again ? { ...hit, found: { field: "speed", values: [again.value] } } : hit;
}

/** The values that all hits of one field agree on; a count of strokes and "until flush" are one value. */
function combined(field: StepField, hits: readonly Hit<Found>[]): unknown[] {
	const common = intersection(hits.map(({ found }) => found.values));
	if (common.length > 0 || field !== "work") return common;
	const works = hits.map(({ found }) => found.values[0] as { unit: string });
	const flush = works.find(({ unit }) => unit === "until-flush");
	const strokes = works.find(({ unit }) => unit === "strokes");
	return flush && strokes && works.length === 2 ? [{ ...strokes, unit: "until-flush" }] : [];
}

function intersection(lists: readonly (readonly unknown[])[]): unknown[] {
	const key = (value: unknown) => JSON.stringify(value);
	const [first = [], ...others] = lists;
	return first.filter((value) => others.every((list) => list.some((one) => key(one) === key(value))));
}

/** A value from the column that is its own. */
function take(one: RowCell, field: StepField, value: unknown, row: Draft): void {
	const existing = row.step[field];
	row.became.set(one.column.index, row.became.get(one.column.index) ?? field);
	if (existing !== undefined && JSON.stringify(existing) !== JSON.stringify(value)) {
		if (row.set[field] !== undefined) {
			contradict(one, field, row);
			return;
		}
	}
	if (field === "backing") noteFoam(one.cell.text, value as string, row);
	put(field, value, row);
	row.set[field] = one.column;
	row.places.set(field, one.cell);
	const other = row.strayed.get(field);
	row.strayed.delete(field);
	if (other && existing !== undefined && JSON.stringify(existing) !== JSON.stringify(value))
		contradict(other, field, row);
}

/** A value whose words stand in the cell of another column. */
function stray(one: RowCell, { field, values }: Found, row: Draft): void {
	const [value] = values;
	const existing = row.step[field];
	if (existing === undefined) {
		put(field, value, row);
		row.places.set(field, one.cell);
		row.strayed.set(field, one);
	} else if (JSON.stringify(existing) !== JSON.stringify(value)) contradict(one, field, row);
}

/** Words of another column that fit several values: open, unless the row says which, or contradict what it says. */
function strayOpen(one: RowCell, field: StepField, hits: readonly Hit<Found>[], row: Draft): void {
	const existing = row.step[field] ?? row.context.known?.[field];
	const all = hits.flatMap(({ found }) => found.values);
	if (existing === undefined && row.typed[field] === undefined) {
		const text = hits.map((hit) => hit.text).join(", ");
		keepTyped({ ...one, cell: { ...one.cell, text } }, field, "between", all, row);
	} else if (existing === undefined || !all.some((value) => JSON.stringify(value) === JSON.stringify(existing)))
		contradict(one, field, row);
}

function put(field: StepField, value: unknown, { step }: Draft): void {
	(step as unknown as Record<string, unknown>)[field] = value;
}

function contradict(one: RowCell, field: StepField, row: Draft): void {
	keep(one, row);
	const other = write(row.step[field] as FieldValue, { ...doorContext(row), language: row.context.language, field });
	row.unread.push({
		column: one.column,
		text: one.cell.text,
		why: say("contradicts", { field: header(field, row), other }, row),
	});
}

/** The text into the note, under its header. */
function keep({ column, cell }: RowCell, { kept }: Draft): void {
	const line = column.header === "" ? cell.text : `${column.header.replace(/[\s:]+$/, "")}: ${cell.text}`;
	if (!kept.includes(line)) kept.push(line);
}

function keepTyped(
	one: RowCell,
	field: StepField,
	code: UnreadCode | "between" | "several" | "denied",
	candidates: readonly unknown[],
	row: Draft,
): void {
	const { kind } = row;
	const isClaying = field === "wipe" && toolOf(row) === "clay";
	const useless =
		isClaying ||
		(kind !== null &&
			!needed[kind].includes(field) &&
			working.includes(field) &&
			kind !== "abrasive" &&
			kind !== "liquid");
	if (useless) keep(one, row);
	else {
		row.typed[field] = row.typed[field] === undefined ? one.cell.text : `${row.typed[field]}; ${one.cell.text}`;
		row.open.push([field, one]);
		row.places.set(field, row.places.get(field) ?? one.cell);
		row.became.set(one.column.index, row.became.get(one.column.index) ?? field);
	}
	const named = candidates
		.slice(0, 6)
		.map((value) => write(value as FieldValue, { ...doorContext(row), language: row.context.language, field }));
	const isOpen = code === "between" || code === "several" || code === "denied";
	const data = {
		field: header(field, row),
		candidates: named.join(", "),
		why: isOpen ? "" : label("unread", code, row.context.language),
	};
	const sentenceCode = useless ? "kept-in-note" : isOpen ? code : "unread";
	row.unread.push({ column: one.column, text: one.cell.text, why: say(sentenceCode, data, row) });
}

function readOwnText(one: RowCell, field: StepField, row: Draft): void {
	const reading = readField(field, one.cell.text, one.column, row);
	if (!("value" in reading) || (/^[-–—./]*$/.test(one.cell.text) && field !== "note")) return;
	const existing = row.step[field];
	row.became.set(one.column.index, field);
	if (existing === undefined) {
		put(field, reading.value, row);
		row.places.set(field, one.cell);
	} else if (typeof existing === "object" && typeof reading.value === "object") {
		const merged = { ...reading.value, ...existing };
		if (Object.keys(merged).length > Object.keys(existing).length) put(field, merged, row);
		else keep(one, row);
	} else keep(one, row);
}

/** A time is a wait in a row that waits, work in a row that works and says nothing else, and else only a remark. */
function readTime(one: RowCell, row: Draft): void {
	const counted = row.cells.some(
		({ column, cell }) => column !== one.column && fieldsOf(column)[0] === "work" && !isBlank(cell.text),
	);
	const told = counted ? [] : workOfInstruction(row);
	const works = (row.kind === "abrasive" || row.kind === "liquid") && !counted && told.length === 0;
	const [count] = told;
	if (count !== undefined && told.length === 1) stray(count.cell, { field: "work", values: [count.value] }, row);
	if (row.kind !== "wait" && !works) {
		keep(one, row);
		return;
	}
	const minutes = isBareNumber(one.cell.text) && one.column.unit === "" ? `${one.cell.text} min` : one.cell.text;
	const field = works ? "work" : "waitMinutes";
	const reading = readField(field, minutes, one.column, row);
	if ("value" in reading) take(one, field, reading.value, row);
	else
		keepTyped(
			one,
			field,
			"between" in reading ? "between" : reading.unread,
			"between" in reading ? reading.between : [],
			row,
		);
}

/** Every count of passes or strokes that the instruction names: what is done beats how long it may take. */
function workOfInstruction(row: Draft): { cell: RowCell; value: unknown }[] {
	if (row.kind !== "abrasive" && row.kind !== "liquid") return [];
	return row.cells
		.filter(({ column }) => fieldsOf(column)[0] === "instruction")
		.flatMap((cell) => {
			const { hits } = scan(cell.cell.text, (words) => understand(words, ["work"], [], row));
			return combined("work", hits).length === 1
				? [{ cell, value: combined("work", hits)[0] }]
				: hits.map(({ found }) => ({ cell, value: found.values[0] }));
		});
}

/** What a row that waits has under its passes: how long, or what for. A bare count is neither. */
function readWaitUnderWork(one: RowCell, row: Draft): void {
	const text = one.cell.text;
	const minutes = isBareNumber(text) ? null : readField("waitMinutes", text, undefined, row);
	const reason = readField("waitFor", text.replace(/^(?:until|till|hasta(?: que)?)\s+/i, ""), undefined, row);
	if (minutes !== null && "value" in minutes) take(one, "waitMinutes", minutes.value, row);
	else if ("value" in reason) take(one, "waitFor", reason.value, row);
	else keepTyped(one, "work", "not-a-number", [], row);
}

/** A cross pass is one pass to some shops and two to others, once each way: the direction is plain, the count is not. */
function readCrossPasses(one: RowCell, row: Draft): boolean {
	const counted = /^(?:(\d{1,3}(?:\s*[-–]\s*\d{1,3})?)\s*(?:x\s*)?)(.*)$/i.exec(one.cell.text.trim());
	const named = `${counted?.[2] ?? ""} ${counted?.[2] === "" ? one.column.header : ""}`;
	if (!counted || !/cross[\s-]?(?:pass|coat)|(?:pasada|pase)s? (?:en cruz|cruzad)/i.test(named)) return false;
	const once = readField("work", `${counted[1]} passes`, undefined, row);
	if (!("value" in once)) return false;
	const { low = 0, high = 0 } = once.value;
	put("pattern", "crosswise", row);
	row.places.set("pattern", one.cell);
	keepTyped(one, "work", "between", [once.value, { ...once.value, low: 2 * low, high: 2 * high }], row);
	return true;
}

/**
 * "Hand": a block where the backing is one, and where it is a sponge pad, since a sponge in the hand is no bare finger;
 * bare where the row polishes, wipes, or says that there is nothing behind the abrasive.
 */
function readHandTool(one: RowCell, row: Draft): boolean {
	const scanned = scan(one.cell.text, (words) => handWord(words));
	const isHand = scanned.hits.length > 0 && scanned.rest.length === 0 && !scanned.denies;
	if (!isHand) return false;
	const words = scanned.hits.map(({ found }) => found);
	if (row.kind === "wipe" || row.kind === "wait" || row.kind === "other") {
		// Who washes or looks does it by hand anyway.
		keep(one, row);
		return true;
	}
	const backing = row.cells.filter(({ column }) => fieldsOf(column).includes("backing") && column !== one.column);
	const behind = backing.flatMap(({ cell }) =>
		scan(cell.text, (text) => blockWord(text, false)).hits.map(({ found }) => found),
	);
	const { known, shop } = row.context;
	const knownKind = stockItem(shop.stock, "backings", known?.backing)?.kind ?? known?.backing;
	const isKnownBlock = knownKind !== undefined && !knownKind.endsWith("-plate");
	const blockItself = scan(one.cell.text, (text) => blockWord(text)).hits.map(({ found }) => found);
	const tool = words.includes("bare")
		? "bare-hand"
		: row.kind === "liquid"
			? "bare-hand"
			: behind.length > 0 || isKnownBlock || blockItself.length > 0
				? "block"
				: backing.some((cell) => isBareHand(cell, row))
					? "bare-hand"
					: undefined;
	if (tool === undefined) return false;
	take(one, "tool", tool, row);
	if (!words.includes("bare") && !(tool === "block" && words.includes("block")))
		row.notes.push(
			say("note-tool", { row: row.number, text: one.cell.text, tool: label("tool", tool, row.context.language) }, row),
		);
	const [kind] = blockItself;
	if (kind !== undefined && kind !== "block") stray(one, { field: "backing", values: [kind] }, row);
	return true;
}

/** "By hand, finger" behind an abrasive: nothing but the hand. */
function readHandBacking(one: RowCell, row: Draft): boolean {
	const scanned = scan(one.cell.text, (words) => handWord(words));
	const isHand =
		scanned.hits.length > 0 && scanned.hits.every(({ found }) => found !== "block") && scanned.rest.length === 0;
	if (!isHand || toolOf(row) === "block") return false;
	stray(one, { field: "tool", values: ["bare-hand"] }, row);
	return true;
}

function handWord(words: string): "hand" | "bare" | "block" | null {
	const tool = findWord("tool", words);
	if (tool === "bare-hand") return "bare";
	if (tool === "block") return "block";
	if (tool !== null && typeof tool === "object" && tool.between.includes("bare-hand")) return "hand";
	return blockWord(words) === null ? null : "block";
}

/** The block or sponge a word names; `only`: not where it may be a plate as well, which the hand cannot hold. */
function blockWord(words: string, only = true): string | null {
	const found = findWord("backing", words);
	if (found === null) return null;
	const values: string[] = typeof found === "string" ? [found] : found.between;
	const inHand = values.filter((value) => !value.endsWith("-plate"));
	if (inHand.length === 0 || (only && inHand.length < values.length)) return null;
	return inHand.length === 1 ? (inHand[0] as string) : "block";
}

/** "None" under backing, in a row worked by hand, says that the finger is the backing. */
function isBareHand({ column, cell }: RowCell, row: Draft): boolean {
	if (!fieldsOf(column).includes("backing") || row.kind !== "abrasive") return false;
	if (/^(?:none|no|nothing|no block|no backing|ningun[oa]|nada|sin taco|sin respaldo)$/i.test(cell.text)) {
		return row.cells.some((other) => fieldsOf(other.column).includes("tool") && handWord(other.cell.text) !== null);
	}
	return false;
}

const forceWords = new Set(
	(
		"light medium moderate firm heavy hard soft normal low high slight gentle very minimal weight of the tool machine only own pressure to then" +
		" ligera ligero suave media medio moderada fuerte firme baja alta normal muy mínima peso propio de la máquina herramienta presión a"
	).split(" "),
);

/** Pressure in words has no figure; a row keeps it as a remark. */
function isWordOfForce(text: string): boolean {
	return text
		.toLowerCase()
		.split(/[\s/,-]+/)
		.every((word) => word === "" || forceWords.has(word));
}

/** What only the whole row shows. */
function settle(row: Draft): void {
	const { step } = row;
	// Of two columns that feed one field, one may be read and the other not: the text of the latter goes to the note.
	for (const [field, one] of row.open) {
		if (step[field] === undefined) continue;
		delete row.typed[field];
		row.unread = row.unread.filter(({ column }) => column !== one.column);
		contradict(one, field, row);
	}
	if (
		step.wetWith !== undefined &&
		step.wetness === undefined &&
		row.context.known?.wetness === undefined &&
		row.typed.wetness === undefined &&
		row.kind === "abrasive"
	) {
		step.wetness = "wet";
		row.notes.push(say("note-wet", { row: row.number }, row));
	}
}

function withoutNumber(text: string): string {
	const rest = text.replace(
		/^(?:(?:step|paso)\s*\d{1,3}|\d{1,3}(?:\.\d{1,2})?[.):]|\d{1,3}[a-z]?\s*[.)-])\s*[-–—:.)]*\s*/i,
		"",
	);
	return rest === "" || isNumbering(text) ? text : rest;
}

function say(code: SentenceCode, data: Record<string, string | number>, { context }: Draft): string {
	return sentence(code, data, context.language);
}

function header(field: StepField, { context }: Draft): string {
	return headerOf(field, context.language);
}
