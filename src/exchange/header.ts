import { type StepField, read, type FieldContext } from "../model/fields/read.ts";
import { findWord, foldText, type Language, spellingsOf, valuesOf } from "../model/words.ts";
import spellings from "./data/headers.json" with { type: "json" };
import type { GridLine } from "./grid.ts";
import { isNumbering } from "./numbering.ts";

/** A part of the procedure outside the rows that a sheet tells above its table, or beside every row. */
export type ContextKey = keyof typeof spellings.context;

/** What a column holds. */
export type Meaning =
	/** Fields of a row, the likeliest first. */
	| { holds: "fields"; fields: StepField[] }
	/** A part of the procedure. */
	| { holds: "context"; key: ContextKey }
	/** The number of the row. */
	| { holds: "number" }
	/** Text of a field that an earlier reading could not take, as this program writes it. */
	| { holds: "typed"; field: string }
	/** Known, but nothing a row has a field for: it is kept in the note. */
	| { holds: "other" };

/** A column of the table. */
export interface Column {
	/** Place in the line, from 0. */
	index: number;
	/** As written. */
	header: string;
	meaning: Meaning | null;
	/** Unit that the header gives for bare numbers; empty for none. */
	unit: string;
	/** Language of own words, where the header names one. */
	language?: Language;
	/** The column holds one end of a range that another column completes. */
	end?: "low" | "high";
}

/** The header line of a table: its place among the lines, and how many of its cells name a field of a row. */
export interface HeaderLine {
	at: number;
	fields: number;
}

/**
 * The first line that can only be a header: at least two of its cells name different fields of a row, and most of its
 * cells name something. Null where there is none.
 */
export function findHeader(lines: readonly GridLine[], from = 0): HeaderLine | null {
	let best: HeaderLine | null = null;
	for (let at = from; at < lines.length; at += 1) {
		const fields = headerFields(lines[at] as GridLine);
		if (fields >= 3) return { at, fields };
		if (fields === 2 && best === null) best = { at, fields };
	}
	return best;
}

/** How many different fields of a row the cells of a line name; 0 where most of its cells name nothing. */
export function headerFields(line: GridLine): number {
	const texts = line.map(({ text }) => text).filter((text) => text !== "");
	const named = texts.map((text) => (text.length <= longestHeader ? plainMeanings(splitHeader(text).name) : []));
	const known = named.filter((meanings) => meanings.length > 0);
	if (known.length * 2 < texts.length) return 0;
	const fields = known.flatMap(([meaning]) => (meaning?.holds === "fields" ? [meaning.fields[0]] : []));
	// A line of a procedure may name a pad "foam" or a stage "polish"; it always holds figures too.
	if (texts.some((text) => /^\W*[pP]?\d[\d.,\s–-]*(?:x|rpm|opm|%)?$/.test(text))) return 0;
	const number = known.some(([meaning]) => meaning?.holds === "number") ? 1 : 0;
	return new Set(fields).size + (fields.length > 0 ? number : 0);
}

/** The columns of a table; where a header can mean several things, the cells below decide. */
export function columnsOf(header: GridLine, rows: readonly GridLine[], context: FieldContext): Column[] {
	const width = rows.reduce((widest, row) => Math.max(widest, row.length), header.length);
	const columns: Column[] = [];
	for (let index = 0; index < width; index += 1) {
		const written = header[index]?.text ?? "";
		const cells = rows.map((row) => row[index]?.text ?? "").filter((text) => !/^[-–—./]*$/.test(text));
		if (written === "" && cells.length === 0) continue;
		columns.push(columnOf(index, written, cells, context));
	}
	return withOneStage(columns, rows, context);
}

/** Of several columns that could be the stage, the one whose cells name stages most often is; the others tell what to do. */
function withOneStage(columns: readonly Column[], rows: readonly GridLine[], context: FieldContext): Column[] {
	const stage: Meaning = { holds: "fields", fields: ["stage"] };
	const share = ({ index }: Column) =>
		fit(
			stage,
			rows.map((row) => row[index]?.text ?? "").filter((text) => text !== ""),
			context,
		);
	const able = columns.filter(({ meaning }) => meaning?.holds === "fields" && meaning.fields[0] === "stage");
	const [first] = able;
	const best = able.reduce((best, next) => (best !== undefined && share(next) > share(best) ? next : best), first);
	return columns.map((column) =>
		able.includes(column) && column !== best
			? { ...column, meaning: { holds: "fields", fields: ["instruction"] } }
			: column,
	);
}

/** The part of the procedure that a text names, as the key of a line above the table. */
export function contextKey(text: string): { key: ContextKey; unit: string; language?: Language } | null {
	const { name, unit, language } = splitHeader(text);
	const key = contextIndex.get(foldText(name)) ?? filmKey(name);
	return key === undefined ? null : { key, unit, ...(language === undefined ? {} : { language }) };
}

const filmNouns = /^(?:film|thickness|build|dft|clear|clearcoat|lacquer|espesor|grosor|pelicula|barniz|laca)$/;
const leastWords = /^(?:min|minimum|least|remaining|leave|left|limit|minimo|minima|restante|dejar)$/;
const filmExtras =
	/^(?:coat|paint|coating|start|starting|initial|available|before|current|assumed|nominal|typical|average|measured|expected|total|overall|at|the|of|to|on|work|car|panel|pintura|inicial|partida|medido|actual|disponible|supuesto|del|de|la|el|antes|al|inicio|um|after|final|end)$/;

/** Film said in words of its own order: "Initial film thickness", "Min. remaining clear". Film after the work is no start. */
function filmKey(name: string): ContextKey | undefined {
	const words = name
		.toLowerCase()
		.normalize("NFD")
		.replace(/\p{M}/gu, "")
		.split(/[^\p{L}]+/u)
		.filter((word) => word !== "");
	const isAbout = (form: RegExp) => words.some((word) => form.test(word));
	if (
		!isAbout(filmNouns) ||
		!words.every((word) => [filmNouns, leastWords, filmExtras].some((form) => form.test(word)))
	)
		return undefined;
	if (isAbout(leastWords)) return "filmLeast";
	// "Clear" or "clear coat" alone names the kind of clear, not how much of it.
	const isAmount =
		isAbout(/^(?:film|thickness|build|dft|espesor|grosor|pelicula)$/) ||
		isAbout(/^(?:start|starting|initial|available|inicial|disponible|assumed|supuesto)$/);
	return isAmount && !isAbout(/^(?:after|final|end)$/) ? "film" : undefined;
}

/** How many of the headers are spelt in each language and not in the other. */
export function languageOf(headers: readonly string[], fallback: Language): Language {
	const spanish = headers.filter(
		(header) => /[áéíóúñº]/i.test(header) || spanishOnly().has(foldText(splitHeader(header).name)),
	);
	return spanish.length * 2 > headers.length ? "es" : spanish.length === 0 ? "en" : fallback;
}

const longestHeader = 60;

function columnOf(index: number, written: string, cells: readonly string[], context: FieldContext): Column {
	const { name, unit, language } = splitHeader(written);
	// A first column without a header holds the numbers or the names of the steps.
	const isUnnamedFirst = written === "" && index === 0;
	const typed = typedField(written);
	if (typed !== null) return { index, header: written, meaning: { holds: "typed", field: typed }, unit: "" };
	const { meanings, end } = meaningsOf(isUnnamedFirst ? "step" : name);
	const [first = null] = meanings;
	let meaning: Meaning | null = first;
	if (meanings.length > 1) {
		const fits = meanings.map((one) => ({ one, share: fit(one, cells, context) }));
		meaning = fits.reduce((best, next) => (next.share > best.share ? next : best)).one;
	}
	const unitOfName = meaning?.holds === "fields" ? unitIn(name, meaning.fields[0]) : "";
	return {
		index,
		header: written,
		meaning,
		unit: unit === "" ? unitOfName : unit,
		...(language === undefined ? {} : { language }),
		...(end === undefined ? {} : { end }),
	};
}

/** A header without its unit: "Speed (rpm)", "Force [N]", "Passes, x"; the language in brackets is no unit. */
function splitHeader(text: string): { name: string; unit: string; language?: Language } {
	const plain = text
		.replace(/\s+/g, " ")
		.replace(/[\s:*?]+$/, "")
		.trim();
	const [, name = plain, unit = ""] = /^(.*?)\s*[([]([^()[\]]*)[)\]]$/.exec(plain) ?? [];
	if (name === "" || exactMeanings(plain).length > 0) return { name: plain, unit };
	if (unit === "en" || unit === "es") return { name, unit: "", language: unit };
	if (unit !== "") return { name, unit: unit.trim() };
	const [, before, after = ""] =
		/^(.+?)(?:,| -| in| en)\s+(rpm|opm|spm|n|kg|min|x|µm|um|mil|mils|micras|mm|ml|%)$/i.exec(plain) ?? [];
	return before === undefined ? { name: plain, unit: "" } : { name: before, unit: after };
}

/** A header that is itself a unit: "RPM" over bare numbers. */
function unitIn(name: string, field: StepField | undefined): string {
	const kind = field === "speed" ? "speedUnit" : field === "work" ? "workUnit" : undefined;
	if (kind === undefined) return "";
	const words = name.split(/[\s/]+/).map((word) => findWord(kind, word));
	const units = new Set(words.flatMap((word) => (typeof word === "string" && word !== "dial" ? [word as string] : [])));
	const [unit = ""] = units;
	return units.size === 1 ? unit : "";
}

function meaningsOf(name: string): { meanings: Meaning[]; end?: "low" | "high" } {
	const plain = plainMeanings(name);
	if (plain.length > 0) return { meanings: plain };
	const words = name.split(/[\s/]+/).filter((word) => word !== "");
	for (const end of ["low", "high"] as const) {
		const rest = words.filter((word) => !spellings[end].includes(word.toLowerCase()));
		if (rest.length === words.length || rest.length === 0) continue;
		const [meaning] = exactMeanings(rest.join(" "));
		if (meaning?.holds === "fields" && ["speed", "work"].includes(meaning.fields[0] as string))
			return { meanings: [meaning], end };
	}
	// What comes off, and what is left after, is the sheet's own reckoning and no film at the start.
	if (/remov|taken|loss|after|left|remain|eliminad|retirad|quitad|rebajad|despu[eé]s|final|restante/i.test(name))
		return { meanings: [] };
	// The longest run of words that is a header by itself: "DA speed setting" is a speed.
	for (let length = words.length - 1; length >= 1 && words.length <= 6; length -= 1) {
		for (let from = words.length - length; from >= 0; from -= 1) {
			const found = exactMeanings(words.slice(from, from + length).join(" "));
			if (found.length > 0 && found[0]?.holds !== "number") return { meanings: found };
		}
	}
	return { meanings: [] };
}

/** What a whole header means, or its parts together. */
function plainMeanings(name: string): Meaning[] {
	const exact = exactMeanings(name);
	if (exact.length > 0) return exact;
	const joined = joinedMeaning(name);
	return joined ? [joined] : [];
}

/** "Abrasive / tool", "Speed & passes": a column of several fields. */
function joinedMeaning(name: string): Meaning | null {
	const parts = name.split(/\s*[/&+,]\s*|\s+(?:and|or|y|o|e|u)\s+/i).filter((part) => part !== "");
	if (parts.length < 2) return null;
	const fields = parts.map((part) => exactMeanings(part)[0]);
	const found = fields.flatMap((meaning) => (meaning?.holds === "fields" ? meaning.fields : []));
	return fields.every((meaning) => meaning?.holds === "fields")
		? { holds: "fields", fields: [...new Set(found)] }
		: null;
}

function exactMeanings(name: string): Meaning[] {
	const key = /^[#nº°.]+$/i.test(name.trim()) ? "number" : foldText(name);
	const found = headerIndex.get(key);
	if (found) return found;
	const field = findWord("field", name);
	if (field === null) return [];
	const fields = (typeof field === "string" ? [field] : field.between) as StepField[];
	return fields
		.filter((one) => (one as string) !== "asTyped")
		.map((one) => ((one as string) === "id" ? { holds: "number" } : { holds: "fields", fields: [one] }));
}

/** Share of the cells that can be what the meaning says. */
function fit(meaning: Meaning, cells: readonly string[], context: FieldContext): number {
	if (cells.length === 0) return 0;
	const fits = (text: string): boolean => {
		if (meaning.holds === "number") return isNumbering(text);
		if (meaning.holds === "context") return fitsContext(meaning.key, text, cells);
		if (meaning.holds !== "fields") return false;
		return meaning.fields.some((field) => field !== "instruction" && !("unread" in read(text, { ...context, field })));
	};
	// A column of words is a stage as soon as some of them are, since shops have their own names; else an instruction.
	const share = cells.filter(fits).length / cells.length;
	if (meaning.holds !== "fields") return share;
	if (meaning.fields[0] === "instruction") return cells.some((text) => text.length > 25) ? 0.5 : 0.2;
	return meaning.fields[0] === "stage" ? Math.max(share, 0.25) : share;
}

/** The field after "As typed:", by its header or its key. */
function typedField(header: string): string | null {
	const [, kind = "", name = ""] = /^([^:]+):\s*(.+)$/.exec(header) ?? [];
	if (findWord("field", kind) !== ("asTyped" as string)) return null;
	const field = findWord("field", name);
	return typeof field === "string" ? field : name;
}

function fitsContext(key: ContextKey, text: string, cells: readonly string[]): boolean {
	if (key === "title") return new Set(cells).size < cells.length;
	if (key === "defect" || key === "substrate" || key === "clearCoat" || key === "tone")
		return text.split(/[,;/]/).some((part) => findWord(key, part.trim()) !== null);
	return false;
}

const headerIndex = indexHeaders();
const contextIndex = new Map(
	Object.entries(spellings.context).flatMap(([key, names]) =>
		names.map((name) => [foldText(name), key as ContextKey] as const),
	),
);

function indexHeaders(): Map<string, Meaning[]> {
	const index = new Map<string, Meaning[]>();
	const add = (names: readonly string[], meaning: Meaning) => {
		for (const name of names) {
			const key = foldText(name);
			index.set(key, [...(index.get(key) ?? []), meaning]);
		}
	};
	add(spellings.number, { holds: "number" });
	for (const { fields, spellings: names } of spellings.joined)
		add(names, { holds: "fields", fields: fields as StepField[] });
	for (const [field, names] of Object.entries(spellings.fields))
		add(names, { holds: "fields", fields: [field as StepField] });
	const columns: ContextKey[] = [
		"title",
		"defect",
		"substrate",
		"clearCoat",
		"tone",
		"panel",
		"film",
		"filmLeast",
		"wear",
	];
	for (const key of columns) add(spellings.context[key], { holds: "context", key });
	add(spellings.step, { holds: "number" });
	add(spellings.step, { holds: "fields", fields: ["stage"] });
	add(spellings.step, { holds: "fields", fields: ["instruction"] });
	for (const name of spellings.context.title)
		index.get(foldText(name))?.push({ holds: "fields", fields: ["instruction"] });
	add(spellings.sizes, { holds: "other" });
	index.delete("");
	return index;
}

let spanishWords: Set<string> | undefined;

/** Folded headers that only Spanish has. */
function spanishOnly(): Set<string> {
	if (spanishWords) return spanishWords;
	const of = (language: Language) =>
		valuesOf("field")
			.flatMap((field) => spellingsOf("field", field, language))
			.map(foldText);
	const english = new Set(of("en"));
	spanishWords = new Set(of("es").filter((word) => !english.has(word)));
	return spanishWords;
}
