import type { Box, ClearCoat, Procedure, ScopeDefect, Stage, Text, Wear } from "../model/generated/types.ts";
import { enumerations } from "../model/generated/enumerations.ts";
import { read } from "../model/fields/read.ts";
import { axes, type Axis } from "../model/situations.ts";
import type { Shop } from "../model/shop.ts";
import { fahrenheitToCelsius, formatNumber } from "../model/units.ts";
import { findWord, foldText, label, type Language } from "../model/words.ts";
import { type Figure, readFigure, readFilmFigures } from "./film-figures.ts";
import type { Cell, GridLine } from "./grid.ts";
import { type ContextKey, contextKey } from "./header.ts";
import { scan } from "./phrases.ts";
import { sentence, type SentenceCode } from "./sentence.ts";

/** A value of the context as it is reported: words as they stand in files, quantities with their unit in the key. */
export type ContextValue = string | number | string[];

/** What a sheet says outside its rows. */
export interface SheetContext {
	/** The title is only the first line of the sheet; a line that says it is the title takes its place. */
	provisionalTitle?: string;
	/** Film as said, to be settled together: what one line means may hang on another. */
	film: FilmSaid[];
	/** Parts of the procedure, less its rows. */
	parts: Partial<Procedure>;
	/** The same, flat, as it is reported. */
	said: Record<string, ContextValue>;
	unread: { column: string | null; text: string; why: string }[];
	/** Sentences on how something was taken. */
	notes: string[];
	/** Lines for the notes of the procedure. */
	kept: string[];
	/** Where each part was read. */
	places: Map<string, Cell>;
}

export interface ContextSettings {
	/** The sheet was written by this program: a key and its value stand in two cells, whatever they look like. */
	exact: boolean;
	shop: Shop;
	language: Language;
	ownLanguage: Language;
}

export function emptyContext(): SheetContext {
	return { film: [], parts: {}, said: {}, unread: [], notes: [], kept: [], places: new Map() };
}

/** Reads lines above or below the table: "Key: value" in one cell, or a key and its value in two; what is neither goes to the notes. */
export function readContextLines(lines: readonly GridLine[], into: SheetContext, settings: ContextSettings): void {
	for (const line of lines) {
		const cells = line.filter(({ text }) => text !== "");
		const [first, second] = cells;
		const named = contextKey(first?.text ?? "");
		if (settings.exact && first && second && named) {
			readNamed(named, second.text, first.text, first, into, settings);
			continue;
		}
		for (let at = 0; at < cells.length; ) at += readPair(cells, at, into, settings);
	}
}

/** Reads one part of the context. */
export function readContextValue(
	key: ContextKey,
	text: string,
	unit: string,
	keyAsWritten: string,
	cell: Cell,
	into: SheetContext,
	settings: ContextSettings,
): void {
	const entry: Entry = { key, text, unit, written: keyAsWritten.replace(/[\s:=]+$/, ""), cell, into, settings };
	if (text === "" || /^[-–—./]*$/.test(text)) return;
	into.places.set(partOf(key), into.places.get(partOf(key)) ?? cell);
	switch (key) {
		case "title":
			if (into.provisionalTitle !== undefined) {
				into.kept.unshift(into.provisionalTitle);
				delete into.provisionalTitle;
				delete into.parts.title;
				delete into.said.title;
			}
			if (into.parts.title?.[settings.ownLanguage] === undefined) setText("title", text, entry);
			else keepLine(entry);
			return;
		case "format":
			return;
		case "except":
			readExcept(entry);
			return;
		case "startReading":
			readStartReading(entry);
			return;
		case "purpose":
		case "chooseWhen":
			setText(key, text, entry);
			return;
		case "defect":
			readDefects(entry);
			return;
		case "clearCoat": {
			const amount = /\d[\d.,\s–-]*(?:[µμu]m|mils?|micr\w*)(?!\p{L})/iu.exec(text)?.[0];
			if (amount === undefined) {
				readAxis(key, entry);
				return;
			}
			// "Clear: refinish, 60 µm" names both; "Clear: 60 µm, not below 40" only how much there is.
			const kind = text.replace(amount, " ").trim();
			const named = readAxisValues("clearCoat", kind, settings.shop);
			const isNamed = named.values.length + named.open.length > 0;
			if (isNamed) readAxis(key, { ...entry, text: kind });
			readContextValue("film", isNamed ? `clear ${amount}` : `clear ${text}`, unit, keyAsWritten, cell, into, settings);
			return;
		}
		case "substrate":
		case "tone":
			readAxis(key, entry);
			return;
		case "features":
			readFeatures(entry);
			return;
		case "film":
		case "filmUnder":
		case "filmLeast":
			into.film.push({
				key,
				text,
				unit,
				written: entry.written,
				unread: (code, rest) => unreadLine(code, entry, rest === undefined ? {} : { rest }),
				keep: () => keepLine(entry),
			});
			return;
		case "cure":
			if (!readCure(text, entry)) unreadLine("context-unread", entry);
			return;
		case "wear":
			readWear(entry);
			return;
		case "extraction":
			readExtraction(entry);
			return;
		case "workLight":
			setUp({ light: { ...into.parts.setUp?.light, ...ownText(text, settings) } }, "light", text, entry);
			return;
		case "panelTemperature":
			readTemperature(entry);
			return;
		case "startWhen":
		case "giveUpWhen":
			readConditions(key, entry);
			return;
		case "writtenBy":
			setPlain("writtenBy", text, entry);
			return;
		case "revision":
			readRevision(entry);
			return;
		case "revisionDate":
		case "reviewBy": {
			const date = readDate(text, settings.ownLanguage);
			if (date === null) unreadLine("context-unread", entry);
			else setPlain(key, date, entry);
			return;
		}
		case "sources":
			into.parts.sources = [
				...(into.parts.sources ?? []),
				...text
					.split(/\s*[;\n]\s*/)
					.filter((one) => one !== "")
					.map((title) => ({ title })),
			];
			into.said.sources = into.parts.sources.map(({ title }) => title);
			return;
		case "panel": {
			// "Steel door" names what it is made of, too.
			const { values } = readAxisValues("substrate", text, settings.shop);
			if (values.length > 0) claim("substrate", values, into);
			keepLine(entry);
			return;
		}
		case "notes":
			into.kept.push(text);
			return;
	}
}

/** The values of one axis that a text names; `open` where a word is in doubt, `rest` for what is no such word. */
export function readAxisValues(
	axis: Axis,
	text: string,
	shop: Shop,
): { values: string[]; open: string[][]; rest: string[] } {
	if (
		axis !== "defect" &&
		axis !== "clearCoat" &&
		/^(?:all|any|every|todos?|todas?|cualquiera?)(?: (?:colou?rs?|tones?|panels?|substrates?|materials?|vehicles?|cars?|colores|tonos|piezas|paneles|sustratos|materiales|coches))?$/i.test(
			text,
		)
	) {
		const all: readonly string[] = axis === "substrate" ? enumerations.Substrate : ["dark", "mid", "light"];
		return { values: [...all], open: [], rest: [] };
	}
	const scanned = scan(text, (words) => {
		const own =
			axis === "defect"
				? shop.book.defects?.find(({ id, name }) =>
						[id, name.en, name.es].some((one) => one !== undefined && foldText(one) === foldText(words)),
					)
				: undefined;
		if (own) return [own.id];
		const found = findWord(axis, words);
		return found === null ? null : typeof found === "string" ? [found] : found.between;
	});
	if (scanned.denies) return { values: [], open: [], rest: [text] };
	const values: string[] = [];
	const open: string[][] = [];
	for (const { found } of scanned.hits) {
		if (found.length === 1) values.push(found[0] as string);
		else open.push(found);
	}
	return {
		values: [...new Set(values)],
		open: open.filter((list) => !list.some((one) => values.includes(one))),
		rest: [...scanned.rest.filter((word) => !ofNoWeight.test(word)), ...scanned.sizes],
	};
}

/** Adds a box to the situations of a row. */
export function boxOfRow(found: ReadonlyMap<Axis, string[]>): Box {
	return Object.fromEntries(axes.filter((axis) => found.has(axis)).map((axis) => [axis, found.get(axis)])) as Box;
}

/** Adds the values of an axis to the scope. */
export function claim(axis: Axis, values: readonly string[], { parts, said }: SheetContext): void {
	const scope = { ...parts.scope };
	if (axis === "defect") {
		const known = scope.defects ?? [];
		scope.defects = [
			...known,
			...values.filter((value) => !known.some(({ defect }) => defect === value)).map((defect) => ({ defect })),
		];
	} else {
		const part = axis === "substrate" ? "substrates" : axis === "clearCoat" ? "clearCoats" : "tones";
		const known = (scope[part] ?? []) as string[];
		(scope as Record<string, unknown>)[part] = [...known, ...values.filter((value) => !known.includes(value))];
	}
	parts.scope = scope;
	said[axis] = [...new Set([...((said[axis] as string[] | undefined) ?? []), ...values])];
}

/** A line or the first cell of a column that speaks of film. */
export interface FilmSaid {
	key: "film" | "filmUnder" | "filmLeast";
	text: string;
	unit: string;
	written: string;
	/** Tells that it could not be taken. */
	unread(code: SentenceCode, rest?: string): void;
	/** Keeps the text in the notes. */
	keep(): void;
}

/** Makes the film of the procedure out of all that was said of it: what lies under the clear first, the least last. */
export function settleFilm(into: SheetContext, { shop, language }: ContextSettings): void {
	const film: NonNullable<Procedure["film"]> = { ...into.parts.film };
	const order = ["filmUnder", "film", "filmLeast"];
	const said = into.film
		.toSorted((a, b) => order.indexOf(a.key) - order.indexOf(b.key))
		.flatMap((one) => {
			const figures = figuresOf(one, shop);
			if (figures === null || figures === "unit-unknown") {
				one.unread(figures === null ? "context-unread" : "film-unit");
				return [];
			}
			if (figures.rest.length > 0) one.unread("context-rest", figures.rest.join(" "));
			return [{ one, figures }];
		});
	for (const { figures } of said) {
		if (figures.known !== undefined) film.known = figures.known;
		if (figures.under) film.underUm = estimate(figures.under);
	}
	for (const { one, figures } of said) {
		if (figures.total) {
			into.said.totalUm = figures.total.mid;
			if (film.underUm) figures.clear.push({ clearCoats: [], um: lessUnder(figures.total, film.underUm) });
			one.keep();
		}
		for (const { clearCoats, um } of figures.clear) assume(clearCoats, um, film, into, shop, language);
	}
	const isTotalOnly = film.known === "total-reading" && film.assumed === undefined;
	if (isTotalOnly && into.said.totalUm !== undefined) into.notes.push(sentence("note-total", {}, language));
	const leasts: number[] = [];
	for (const { one, figures } of said) {
		const named = figures.leasts.length === 0 ? undefined : Math.max(...figures.leasts);
		const ofTotal = figures.leastOfTotal ?? (isOfTotal(named, one, into) ? named : undefined);
		if (ofTotal !== undefined && film.underUm === undefined) one.unread("least-of-total");
		else if (ofTotal !== undefined) leasts.push(Math.max(ofTotal - (film.underUm?.mid ?? 0), 0));
		else leasts.push(...figures.leasts);
	}
	if (leasts.length > 0) {
		// Of several limits the one that keeps most of the clear: a wrong choice then costs work and no paint.
		film.leastLeftUm = Math.max(...leasts);
		into.said.leastLeftUm = film.leastLeftUm;
	}
	if (new Set(leasts).size > 1)
		into.notes.push(
			sentence("note-limits", { figures: leasts.map((one) => formatNumber(one, language, 1)).join(", ") }, language),
		);
	if (Object.keys(film).length > 0) into.parts.film = film;
}

function figuresOf({ key, text, unit, written }: FilmSaid, shop: Shop): ReturnType<typeof readFilmFigures> {
	const subject = key === "filmUnder" ? "under" : key === "filmLeast" ? "least" : "film";
	const ofTotal = key === "film" && /total|whole|toda/i.test(written) ? `${text} total` : text;
	return readFilmFigures(ofTotal, subject, unit, shop.book.units);
}

/** A least beside a total that is more than half of it is a least of the total: no clear is as thick as all that lies under it. */
function isOfTotal(least: number | undefined, { text, written }: FilmSaid, { said }: SheetContext): boolean {
	if (least === undefined || typeof said.totalUm !== "number") return false;
	return !/clear|barniz|lacquer|laca/i.test(`${written} ${text}`) && least > said.totalUm / 2;
}

/** A date written so that only one day can be meant: year first, the month as a word, a day above twelve, or in Spanish, which puts the day first. */
function readDate(text: string, language: Language): string | null {
	const plain = text.trim().toLowerCase().normalize("NFD").replace(/\p{M}/gu, "");
	const iso = /^(\d{4})[-./](\d{1,2})[-./](\d{1,2})$/.exec(plain);
	if (iso) return dateOf(iso[1], iso[2], iso[3]);
	const named = /^(\d{1,2})(?:st|nd|rd|th)?[\s.-]*(?:de |of )?([a-z]{3,})\.?[\s.,-]*(?:de |del )?(\d{4})$/.exec(plain);
	if (named) return dateOf(named[3], monthOf(named[2]), named[1]);
	const monthFirst = /^([a-z]{3,})\.? (\d{1,2})(?:st|nd|rd|th)?,? (\d{4})$/.exec(plain);
	if (monthFirst) return dateOf(monthFirst[3], monthOf(monthFirst[1]), monthFirst[2]);
	const figures = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})$/.exec(plain);
	if (!figures) return null;
	const [, first = "", separator, second = "", year] = figures;
	if (separator === "." || language === "es" || Number(first) > 12 || first === second)
		return dateOf(year, second, first);
	return Number(second) > 12 ? dateOf(year, first, second) : null;
}

interface Entry {
	key: ContextKey;
	text: string;
	unit: string;
	written: string;
	cell: Cell;
	into: SheetContext;
	settings: ContextSettings;
}

const ofNoWeight =
	/^(?:clear|coat|clearcoat|coats|panel|panels|colou?rs?|paint|paints|finish|vehicles?|cars?|type|kind|barniz|pintura|color|colores|coche|vehículo|acabado|tipo|on|in|only|solo|sólo|tones?|tonos?|defects?|defectos?|small|pequeñas?|pequeños?|light|minor|2k|hs|ms|uhs|or|o|hood|bonnet|doors?|wing|fender|roof|boot|trunk|tailgate|quarter|cap[oó]|puertas?|aletas?|techo|maletero)$/i;

/** Reads what begins at a cell; returns how many cells it took. */
function readPair(cells: readonly Cell[], at: number, into: SheetContext, settings: ContextSettings): number {
	const cell = cells[at] as Cell;
	const several = cell.text.split(/\s*(?:[;|\n]|\s[-–]\s)\s*(?=[^:;|\n]{2,40}:)/);
	if (several.length > 1 && several.every((one) => contextKey(/^([^:]*):/.exec(one)?.[1] ?? "") !== null)) {
		for (const one of several) readPair([{ ...cell, text: one }], 0, into, settings);
		return 1;
	}
	const [, left, right = ""] = /^([^:=]{1,60}?)\s*[:=]\s*([\s\S]*)$/.exec(cell.text) ?? [];
	// "Respirator: A2P3; gloves: nitrile", "Wear respirator and gloves": gear that names itself.
	const gear = left === undefined ? /^(?:wear|use|usar|llevar)\s+(\S+)/i.exec(cell.text)?.[1] : left;
	if (gear !== undefined && findWord("gear", gear) !== null) {
		const worn = cell.text.replace(/^(?:wear|use|usar|llevar)\s+/i, "").replaceAll(":", " ");
		readContextValue("wear", worn, "", "", cell, into, settings);
		return 1;
	}
	const named = contextKey(left ?? cell.text);
	if (named && (left !== undefined || cells.length > at + 1)) {
		const values: string[] = right === "" ? [] : [right];
		let next = at + 1;
		for (; next < cells.length; next += 1) {
			const text = (cells[next] as Cell).text;
			const isKey = contextKey(/^([^:=]{1,60}?)\s*[:=]/.exec(text)?.[1] ?? text) !== null;
			if (isKey && (values.length > 0 || /[:=]/.test(text))) break;
			values.push(text);
		}
		readNamed(named, values.join(", "), left ?? cell.text, cell, into, settings);
		return next - at;
	}
	const film = /^([^\d:=]{3,40}?)\s*(\d[\s\S]*(?:[µμu]m|mils?|micr\w*)\b[\s\S]*)$/i.exec(cell.text);
	const filmNamed = film === null ? null : contextKey(film[1] ?? "");
	if (filmNamed?.key === "film" || filmNamed?.key === "filmLeast") {
		readNamed(filmNamed, film?.[2] ?? "", film?.[1] ?? "", cell, into, settings);
		return 1;
	}
	const revision = /^(?:rev(?:ision|isión)?|version|versión)\.?\s*(\d{1,4})$/i.exec(cell.text);
	if (revision) readContextValue("revision", revision[1] as string, "", "revision", cell, into, settings);
	else if (left === undefined && into.parts.title === undefined && cells.length === 1) {
		setText("title", cell.text, { key: "title", text: cell.text, unit: "", written: "", cell, into, settings });
		into.provisionalTitle = cell.text;
	} else if (/[:=]$/.test(cell.text) && cells[at + 1]) {
		into.kept.push(`${cell.text} ${(cells[at + 1] as Cell).text}`);
		return 2;
	} else into.kept.push(cell.text);
	return 1;
}

function readNamed(
	{ key, unit, language }: NonNullable<ReturnType<typeof contextKey>>,
	text: string,
	written: string,
	cell: Cell,
	into: SheetContext,
	settings: ContextSettings,
): void {
	const own = language === undefined ? settings : { ...settings, ownLanguage: language };
	readContextValue(key, text, unit, written, cell, into, own);
}

function partOf(key: ContextKey): string {
	if (key === "film" || key === "filmUnder" || key === "filmLeast") return "film";
	if (key === "defect" || key === "substrate" || key === "clearCoat" || key === "tone" || key === "features")
		return "scope";
	if (key === "extraction" || key === "workLight" || key === "panelTemperature") return "setUp";
	return key;
}

function ownText(text: string, { ownLanguage }: ContextSettings): Text {
	return { [ownLanguage]: text };
}

function setText(part: "title" | "purpose" | "chooseWhen", text: string, entry: Entry): void {
	const { into, settings } = entry;
	into.parts[part] = { ...into.parts[part], ...ownText(text, settings) };
	into.said[part] ??= text;
}

function setPlain(part: "writtenBy" | "revisionDate" | "reviewBy", text: string, entry: Entry): void {
	if (entry.into.parts[part] !== undefined) {
		keepLine(entry);
		return;
	}
	entry.into.parts[part] = text;
	entry.into.said[part] = text;
}

function setUp(part: NonNullable<Procedure["setUp"]>, name: string, value: ContextValue, { into }: Entry): void {
	into.parts.setUp = { ...into.parts.setUp, ...part };
	into.said[name] = value;
}

function keepLine({ written, text, into }: Entry): void {
	into.kept.push(written === "" ? text : `${written}: ${text}`);
}

function unreadLine(code: SentenceCode, entry: Entry, data: Record<string, string> = {}): void {
	keepLine(entry);
	const { into, settings, written, text } = entry;
	into.unread.push({
		column: written === "" ? null : written,
		text,
		why: sentence(code, { field: written, ...data }, settings.language),
	});
}

/** "Nibs 20–60 µm, runs; orange peel, match the neighbour": a figure or goal without a defect belongs to the one before it. */
function readDefects(entry: Entry): void {
	const { into, settings } = entry;
	let last: string[] = [];
	for (const part of defectParts(entry.text)) {
		const goals = scan(part, (words) => findWord("goal", words)).hits.map(({ found }) => found);
		const [goal] = goals;
		const figure = /\d/.test(part) ? readFigure(part, entry.unit, "um") : null;
		const words = part.replace(figureForm, " ");
		const found = readAxisValues("defect", words, settings.shop);
		const [open] = found.open;
		if (open !== undefined) {
			const candidates = open.map((one) => label("defect", one, settings.language)).join(", ");
			unreadLine("context-between", { ...entry, text: part }, { candidates });
			continue;
		}
		claim("defect", found.values, into);
		if (found.values.length > 0) last = found.values;
		const rest = found.rest.filter((word) => findWord("goal", word) === null && !goalWords.test(word));
		const isDetail = typeof goal === "string" || figure !== null;
		if ((found.values.length === 0 && !isDetail) || rest.length > 0)
			unreadLine("context-unread", { ...entry, text: part });
		const detail: Partial<ScopeDefect> = {
			...(typeof goal === "string" ? { goal } : {}),
			...(figure !== null && figure !== "unit-unknown" ? { um: estimate(figure) } : {}),
		};
		const { scope } = into.parts;
		if (last.length !== 1 || !scope?.defects) continue;
		scope.defects = scope.defects.map((one) => (one.defect === last[0] ? { ...one, ...detail } : one));
	}
}

const goalWords = /^(?:match|igualar|neighbou?r|adjacent|vecino|contiguo|height|depth|high|deep|up|altura)$/i;
const figureForm = /\d[\d.,\s–-]*(?:\([\d.,\s–-]+\)\s*)?(?:[µμu]m|mils?|micras|microns?)?/gi;

function defectParts(text: string): string[] {
	return text
		.split(/[;\n]|,(?!\d)|\s\/\s/)
		.flatMap((part) => (findWord("defect", part) === null ? part.split(/\s(?:and|y|&|\+)\s/) : [part]))
		.map((part) => part.trim())
		.filter((part) => part !== "");
}

function readAxis(axis: "substrate" | "clearCoat" | "tone", entry: Entry): void {
	const { into, settings } = entry;
	const cure = axis === "clearCoat" ? cureIn(entry.text) : null;
	const text = cure === null ? entry.text : entry.text.replace(cure, " ");
	if (cure !== null && !readCure(cure, entry)) unreadLine("context-unread", { ...entry, text: cure });
	const { values, open, rest } = readAxisValues(axis, text, settings.shop);
	claim(axis, values, into);
	for (const list of open) {
		const named = list.map((one) => label(axis, one, settings.language)).join(", ");
		if (axis === "clearCoat") unreadLine("context-between", entry, { candidates: named });
		else {
			// A scope of "metal" or "metallic" claims every one of them.
			claim(axis, list, into);
			into.notes.push(sentence("note-any-of", { text: entry.text, values: named }, settings.language));
		}
	}
	const said = values.length + open.length;
	if (said === 0 || rest.length > 0) unreadLine("context-unread", entry);
}

function readExcept(entry: Entry): void {
	const boxes = read(entry.text, { field: "when", language: entry.settings.language });
	if ("value" in boxes) entry.into.parts.scope = { ...entry.into.parts.scope, except: boxes.value };
	else unreadLine("context-unread", entry);
}

function readStartReading(entry: Entry): void {
	const figure = readFigure(entry.text, entry.unit, entry.settings.shop.book.units);
	if (figure === null || figure === "unit-unknown") unreadLine(figure === null ? "context-unread" : "film-unit", entry);
	else entry.into.parts.film = { ...entry.into.parts.film, startReadingUm: figure.mid };
}

function readFeatures(entry: Entry): void {
	const scanned = scan(entry.text, (words) => {
		const found = findWord("feature", words);
		return typeof found === "string" ? found : null;
	});
	const features = [...new Set(scanned.hits.map(({ found }) => found))];
	if (features.length > 0) {
		entry.into.parts.scope = { ...entry.into.parts.scope, features };
		entry.into.said.features = features;
	}
	if (scanned.rest.length > 0 || features.length === 0) unreadLine("context-unread", entry);
}

/** The one figure becomes the assumed clear of the clear coats named with it, else of those in the scope, else of every kind; matt has none. */
function assume(
	named: readonly ClearCoat[],
	um: Figure,
	film: NonNullable<Procedure["film"]>,
	into: SheetContext,
	shop: Shop,
	language: Language,
): void {
	const claimed = into.parts.scope?.clearCoats ?? [];
	const meant = claimed.length > 0 ? claimed : enumerations.ClearCoat;
	const kinds = named.length > 0 ? named : meant.filter((kind) => kind !== "matt");
	const usual = kinds.flatMap((kind) => shop.limits.assumedClearUm[kind] ?? []);
	const relative = {
		low: Math.min(...usual.map(({ low, mid }) => low / mid)),
		high: Math.max(...usual.map(({ high, mid }) => high / mid)),
	};
	// A single figure says nothing of its spread; the widest of the house's own assumptions is the best known. One
	// figure is one figure, whatever the clear coat turns out to be.
	const spread =
		um.single && usual.length > 0
			? { mid: um.mid, low: rounded(um.mid * relative.low), high: rounded(um.mid * relative.high) }
			: estimate(um);
	const entries = kinds.map((kind) => [kind, spread] as const);
	film.assumed = { ...film.assumed, ...Object.fromEntries(entries) };
	into.said.filmUm = um.mid;
	if (um.single) {
		const names = kinds.map((kind) => label("clearCoat", kind, language)).join(", ");
		into.notes.push(sentence("note-assumed", { um: um.mid, clearCoats: names }, language));
	}
}

function lessUnder(total: Figure, under: { mid: number; low: number; high: number }): Figure {
	const spread = Math.hypot(total.mid - total.low, under.high - under.mid);
	const mid = Math.max(total.mid - under.mid, 0);
	return { mid, low: Math.max(rounded(mid - spread), 0), high: rounded(mid + spread), single: spread === 0 };
}

function estimate({ mid, low, high }: Figure): { mid: number; low: number; high: number } {
	return { mid, low, high };
}

function rounded(value: number): number {
	return Number(value.toFixed(1));
}

const cureForm =
	/(?:fully |completely |totally )?(?:cured?|curing|cure time|curado|bake[dr]?|baked|horneado|after|at least|min\.?|mín\.?|desde|tras)?[\s:]*(?:\d+\s*°?\s*[cf]\b[^,;]*?\d+\s*min\w*(?:[^,;]*?\d+\s*(?:h|hrs?|hours?|horas?)\b)?|\d+(?:[.,]\d+)?\s*(?:h|hrs?|hours?|horas?|days?|d[ií]as?)\b(?:\s*(?:old|after \w+|cured?|since \w+|curado))?)/i;

function cureIn(text: string): string | null {
	return cureForm.exec(text)?.[0] ?? null;
}

const cureWords =
	/^(?:c|f|h|hrs?|hours?|horas?|days?|d[ií]as?|d|weeks?|semanas?|min(?:ute|uto)?s?|cured?|curing|curado|bake[dr]?|horneado|hornear|after|at|least|then|wait|and|or|o|y|a|for|of|the|to|de|del|la|el|tras|desde|luego|después|esperar|al|menos|old|since|spray(?:ing|ed)?|paint(?:ing|ed)?|application|applied|pintar|pintado|aplicación|aplicar|fully|full|completely|room|temperature|temperatura|ambiente|air|dry|dried|secado|metal|panel|time|tiempo|degrees|grados|minimum|m[ií]nimo|in|en)$/i;

/** "24 h", "2 days", "60 °C 30 min, then 1 h", "24 h or 60 °C 30 min + 1 h". */
function readCure(text: string, entry: Entry): boolean {
	const { into } = entry;
	// Hours and a bake are two ways; the hours of one are no wait after the other.
	const ways = text.split(/\s*;\s*|\s+(?:or|o)\s+(?:else\s+)?/i).map(cureOf);
	const known = ways.length > 1 && ways.every((way) => way !== null) ? ways : [cureOf(text)];
	if (known.includes(null)) return false;
	const cure: NonNullable<Procedure["cure"]> = { ...into.parts.cure };
	for (const way of known) Object.assign(cure, way);
	into.parts.cure = cure;
	if (cure.bake) {
		into.said.bakeC = cure.bake.celsius;
		into.said.bakeMinutes = cure.bake.minutes;
	}
	if (cure.hours !== undefined) into.said.cureHours = cure.hours;
	const rest = text.split(/[\s\d.,;:°()+/~≥>-]+/).filter((word) => word !== "" && !cureWords.test(word));
	if (rest.length > 0) unreadLine("context-rest", { ...entry, text }, { rest: rest.join(" ") });
	return true;
}

/** One way to cure: a bake and the wait after it, or hours; null where the text is neither. */
function cureOf(text: string): NonNullable<Procedure["cure"]> | null {
	const bake =
		/(\d+)\s*°?\s*([cf])\b\D*?(\d+)\s*min/i.exec(text) ?? /(\d+)\s*min\w*\D*?(\d+)\s*°?\s*([cf])\b/i.exec(text);
	if (bake) {
		const isMinutesFirst = /^\d+\s*min/i.test(bake[0]);
		const degrees = Number(isMinutesFirst ? bake[2] : bake[1]);
		const unit = String(isMinutesFirst ? bake[3] : bake[2]).toLowerCase();
		const minutes = Number(isMinutesFirst ? bake[1] : bake[3]);
		const wait = /(\d+(?:[.,]\d+)?)\s*(?:h|hrs?|hours?|horas?)\b/i.exec(text.replace(bake[0], ""));
		const celsius = unit === "f" ? Math.round(fahrenheitToCelsius(degrees)) : degrees;
		return { bake: { celsius, minutes, ...(wait ? { waitHours: Number((wait[1] ?? "").replace(",", ".")) } : {}) } };
	}
	const time = /(\d+(?:[.,]\d+)?)\s*(h|hrs?|hours?|horas?|days?|d[ií]as?|d|weeks?|semanas?)\b/i.exec(text);
	if (!time) return null;
	const unit = String(time[2]).toLowerCase();
	const factor = unit.startsWith("h") ? 1 : unit.startsWith("d") ? 24 : 168;
	return { hours: Number((time[1] ?? "").replace(",", ".")) * factor };
}

/** Protective gear named in a text; shared by the lines above the table and by a column of it. */
export function readGear(text: string): { wear: Wear[]; rest: string[] } {
	const named = /\((?:filter|filtro) ([^()]+)\)/i.exec(text);
	const filters = named
		? [named[1] as string]
		: (text.match(/\b(?:FFP[123]|A\d?B?\w*P[123]|ABEK\d?\w*|N95|P100|P[23]|OV(?:\/P100)?)\b/gi) ?? []);
	const scanned = scan(
		filters.reduce((rest, filter) => rest.replace(filter, " "), text),
		(words) => {
			const found = findWord("gear", words);
			return typeof found === "string" ? found : null;
		},
	);
	const items = [...new Set(scanned.hits.map(({ found }) => found))];
	const filter = filters.join(", ");
	const wear = items.map((item) => ({ item, ...(item === "respirator" && filter !== "" ? { filter } : {}) }));
	const rest = scanned.rest.filter(
		(word) =>
			!/^(?:filter|filtro|required|obligatori[oa]s?|nitrile|nitrilo|clase|class|close-fitting|o|or)$/i.test(word),
	);
	return { wear, rest: filter !== "" && !items.includes("respirator") ? [...rest, filter] : rest };
}

function readWear(entry: Entry): void {
	// "Respirator (filter P3): sand, refine; gloves": items, each with the stages it is worn in.
	let isRead = true;
	for (const part of entry.text.split(/\s*;\s*/).filter((one) => one !== "")) {
		const [, gear = part, listed] = /^([^:]*):\s*(.*)$/.exec(part) ?? [];
		const { wear, rest } = readGear(gear);
		const stages = listed?.split(/\s*,\s*/).map((word) => findWord("stage", word));
		const known = stages?.filter((stage) => typeof stage === "string");
		addWear(
			wear.map((one) => ({ ...one, ...(known === undefined ? {} : { stages: known }) })),
			entry.into,
		);
		if (wear.length === 0 || rest.length > 0 || known?.length !== stages?.length) isRead = false;
	}
	if (!isRead) unreadLine("context-unread", entry);
}

/** Adds gear; of a stage where one is named, else of all. */
export function addWear(wear: readonly Wear[], { parts, said }: SheetContext): void {
	const key = (one: Wear) => JSON.stringify([one.item, one.filter, one.stages]);
	const known = (parts.wear ?? []).map(key);
	parts.wear = [...(parts.wear ?? []), ...wear.filter((one) => !known.includes(key(one)))];
	if (parts.wear.length === 0) delete parts.wear;
	else said.wear = [...new Set(parts.wear.map(({ item }) => item))];
}

function readExtraction(entry: Entry): void {
	const no = /^(?:no|none|off|not needed|ninguna|sin)\b/i.test(entry.text);
	// Whatever else is said of it ("M class", "central"), it is there.
	setUp({ extraction: !no }, "extraction", no ? "no" : "yes", entry);
	if (!/^(?:yes|y|no|none|sí|si)$/i.test(entry.text)) keepLine(entry);
}

const extractionSaid =
	/(?<!\b(?:no|without|w\/o|sin)\s(?:dust\s|any\s)?)\b(?:dust extraction|extraction|extractor|vacuum|vac|aspiraci[oó]n|aspirador)\b/i;

/** Extraction said beside a tool or a wetness in the table: "DA with extraction", "dry with vacuum". */
export function noteExtraction(texts: Iterable<string>, into: SheetContext): void {
	if (into.parts.setUp?.extraction !== undefined) return;
	for (const text of texts) {
		if (!extractionSaid.test(text)) continue;
		into.parts.setUp = { ...into.parts.setUp, extraction: true };
		into.said.extraction = "yes";
		return;
	}
}

function readTemperature(entry: Entry): void {
	const found = /(\d+(?:[.,]\d+)?)\s*°?\s*([cf])?\b/i.exec(entry.text);
	const unit = (found?.[2] ?? (/f/i.test(entry.unit) ? "f" : "c")).toLowerCase();
	const degrees = Number((found?.[1] ?? "").replace(",", "."));
	const panelC = unit === "f" ? Math.round(fahrenheitToCelsius(degrees)) : degrees;
	const several = (entry.text.match(/\d+/g) ?? []).length;
	const plain = several === 1 || /^\D*\d+[.,]\d+\D*$/.test(entry.text);
	const rest = entry.text
		.split(/[\s\d.,°]+/)
		.filter(
			(word) =>
				word !== "" &&
				!/^(?:c|f|max(?:imum)?|m[aá]x(?:imo|ima)?|up|to|at|most|below|under|hasta|menos|de|no|more|than|about|start|celsius|fahrenheit|<|≤)$/i.test(
					word,
				),
		);
	if (!found || !plain || panelC > 80 || rest.length > 0) unreadLine("context-unread", entry);
	else setUp({ panelC }, "panelC", panelC, entry);
}

function readConditions(key: "startWhen" | "giveUpWhen", { text, into, settings }: Entry): void {
	for (const part of text.split(/\s*[;\n]\s*/).filter((one) => one !== "")) {
		const below =
			/(?:below|under|less than|<|debajo de|menos de|inferior a)\s*(\d+(?:[.,]\d+)?)\s*([µμu]m|mic\w*|mils?)/i.exec(
				part,
			);
		const count = /(?:more than|over|>|más de)\s*(\d+)\s*(?!\d|[µμu]m|mic|mil|°)/i.exec(part);
		const figure = below ? readFigure(below[0], "", settings.shop.book.units) : null;
		const condition = {
			text: ownText(part, settings),
			...(figure !== null && figure !== "unit-unknown" ? { readingBelowUm: figure.mid } : {}),
			...(count && !below ? { countAbove: Number(count[1]) } : {}),
		};
		into.parts[key] = [...(into.parts[key] ?? []), condition];
	}
	into.said[key] = (into.parts[key] ?? []).map(({ text: words }) => words[settings.ownLanguage] ?? "");
}

function readRevision(entry: Entry): void {
	const found = /^(?:rev(?:ision|isión)?\.?|version|v\.?)?\s*(\d{1,4})(?:\.0+)?(?:\s*[,(/-]\s*(.+?)\)?)?$/i.exec(
		entry.text,
	);
	if (!found) {
		keepLine(entry);
		return;
	}
	entry.into.parts.revision = Number(found[1]);
	entry.into.said.revision = Number(found[1]);
	if (found[2] === undefined) return;
	const date = readDate(found[2], entry.settings.ownLanguage);
	if (date === null) keepLine(entry);
	else setPlain("revisionDate", date, entry);
}

const months = ["jan ene", "feb", "mar", "apr abr", "may", "jun", "jul", "aug ago", "sep set", "oct", "nov", "dec dic"];

function monthOf(name: string | undefined): string {
	return String(months.findIndex((names) => names.split(" ").some((one) => name?.startsWith(one))) + 1);
}

function dateOf(year = "", month = "", day = ""): string | null {
	const [y, m, d] = [Number(year), Number(month), Number(day)];
	const daysIn = [
		31,
		y % 4 === 0 && (y % 100 !== 0 || y % 400 === 0) ? 29 : 28,
		31,
		30,
		31,
		30,
		31,
		31,
		30,
		31,
		30,
		31,
	];
	if (!(m >= 1 && m <= 12 && d >= 1 && d <= (daysIn[m - 1] ?? 0))) return null;
	return `${year}-${String(m).padStart(2, "0")}-${String(d).padStart(2, "0")}`;
}

/** Stages in which each item of gear is worn, for a column that names it row by row. */
export function wearByStage(rows: readonly { stage: Stage | undefined; wear: readonly Wear[] }[]): Wear[] {
	const items = [...new Set(rows.flatMap(({ wear }) => wear.map(({ item }) => item)))];
	return items.map((item) => {
		const worn = rows.filter(({ wear }) => wear.some((one) => one.item === item));
		const filter = worn
			.flatMap(({ wear }) => wear)
			.find((one) => one.item === item && one.filter !== undefined)?.filter;
		const stages = [...new Set(worn.flatMap(({ stage }) => (stage === undefined ? [] : [stage])))];
		const everywhere = worn.length === rows.length || stages.length === 0;
		return { item, ...(filter === undefined ? {} : { filter }), ...(everywhere ? {} : { stages }) };
	});
}
