import { type ForecastReport, forecastReport } from "../check/forecast-report.ts";
import { measureInWords, unknownInWords } from "../check/unknown-words.ts";
import { situationInWords } from "../check/situation-words.ts";
import { defect, defectName } from "../model/defects.ts";
import { capitalised, fillIn } from "../model/sentence.ts";
import type { Estimate, Procedure } from "../model/generated/types.ts";
import { same } from "../model/same.ts";
import { filmUnitOf, type Shop } from "../model/shop.ts";
import { formatFilm, formatNumber, umPerMil } from "../model/units.ts";
import { label, type Language } from "../model/words.ts";
import words from "./data/film-drawing.json" with { type: "json" };
import { type Markup, markup } from "./markup.ts";

/** What a film drawing is made from. */
export interface FilmDrawingInput {
	report: ForecastReport;
	procedure: Procedure;
	/** Its film unit is the reader's. */
	shop: Shop;
	language: Language;
	/** Width to fill, in the drawing's own units; where rows stand too close for every number, some are left out. */
	width?: number;
	/** Which rows, from 0 and up to but not with `end`; all where left out. */
	part?: { from: number; end: number };
}

/**
 * The clear coat from the start to the least that must be left, row by row, its interval as a band, in the situation
 * that leaves least; under it the deepest scratch after each row, enlarged by a whole number that the drawing names. The defect stands at the start: proud of
 * the film, or in it. What is not known is hatched and says so; a part of which nothing is known has no scale, and says
 * what would tell.
 *
 * An SVG element as text, for screen and paper, that reads in black and white: colours are custom properties with black
 * as what they fall back to. Every row is a group with its id in `data-row`, its number and the area that stands for it.
 */
export function filmDrawing(input: FilmDrawingInput): string {
	const plot = plotOf(input);
	const { width, height, ids } = plot;
	return markup`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="${ids.title} ${ids.description}" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" font-size="11" fill="currentColor">
<title id="${ids.title}">${words.title[input.language]}</title>
<desc id="${ids.description}">${filmInWords(input)}</desc>
<defs>
<pattern id="${ids.band}" width="4" height="4" patternUnits="userSpaceOnUse"><path d="M0 2H4" stroke="currentColor" stroke-width="0.5" opacity="0.5"/></pattern>
<pattern id="${ids.unknown}" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V7" stroke="currentColor" stroke-width="2" opacity="0.45"/></pattern>
</defs>
${filmMarkup(plot)}
${scratchMarkup(plot)}
${numbersMarkup(plot)}
</svg>`.text;
}

/** What the drawing shows, in a few sentences. */
export function filmInWords({ report, shop, language }: FilmDrawingInput): string {
	const film = (um: number) => formatFilm(um, filmUnitOf(shop), language);
	const span = ({ mid, low, high }: Estimate) =>
		filled(words.span[language], { mid: film(mid), low: film(low), high: film(high) });
	const { startUm, totals } = report;
	const situation = situationInWords(report.situation, language);
	if (report.rows.length === 0) return words.noRows[language];
	return [
		startUm === null
			? words.startUnknown[language]
			: totals.filmLeftUm === null
				? words.leftUnknown[language]
				: filled(words.fromTo[language], { start: span(startUm), left: span(totals.filmLeftUm) }),
		totals.scratchUm === null
			? words.scratchUnknown[language]
			: filled(words.scratchLeft[language], { depth: span(totals.scratchUm) }),
		situation === "" ? words.worst[language] : `${situation}.`,
		words.estimate[language],
	].join(" ");
}

/** A defect of the scope as it stands before the first row, µm. */
interface DefectShape {
	name: string;
	/** Proud of the film, else in it. */
	isProud: boolean;
	um: Estimate;
}

/** Where everything stands, in the drawing's own units, which are CSS pixels where it is shown at its own size. */
interface Plot {
	input: FilmDrawingInput;
	width: number;
	height: number;
	/** Left end of the first slot; slots are as wide as each other. */
	left: number;
	slot: number;
	rows: {
		id: string;
		row: number;
		filmLeftUm: Estimate | null;
		scratchUm: Estimate | null;
	}[];
	/** Before the first of these rows. */
	startUm: Estimate | null;
	/** Defects at the start, those of one kind that are worst; none where the rows begin further on. */
	defects: DefectShape[];
	/** The report of the situation that leaves least clear: over several, the worst of each row would not be one curve. */
	film: ForecastReport;
	/** Clear at the top and at the foot of the film's part, and its units a µm. */
	topUm: number;
	footUm: number;
	perUm: number;
	/** How many times as large the scratches are drawn. */
	times: number;
	ids: Record<"title" | "description" | "band" | "unknown", string>;
}

const filmTop = 46;
const filmHeight = 170;
const numbersTop = filmTop + filmHeight;
const scratchTop = numbersTop + 52;
const scratchHeight = 90;
/** Room for the number of a row. */
const numberWidth = 20;
/** Fewest rows from one number to the next, to choose from. */
const numberEvery = [1, 2, 5, 10, 20, 50, 100, 200];
/** A film drawn larger would look like more than a gauge can tell. */
const leastSpanUm = 10;
const margins = { left: 34, right: 6 };
const usualWidth = 372;
/** Enlargements to choose from. */
const enlargements = [1, 2, 5, 10, 20, 50, 100, 200];

function plotOf(input: FilmDrawingInput): Plot {
	const { report, procedure, shop, language, width: wanted = usualWidth, part } = input;
	const film = leastFilm(input);
	const { from, end } = part ?? { from: 0, end: report.rows.length };
	const rows = report.rows.slice(from, end).map(({ row, scratchUm }) => ({
		id: procedure.steps?.[row - 1]?.id ?? "",
		row,
		filmLeftUm: film.rows[row - 1]?.filmLeftUm ?? null,
		scratchUm,
	}));
	const startUm = from === 0 ? film.startUm : (film.rows[from - 1]?.filmLeftUm ?? null);
	const defects = from === 0 ? defectsAtStart(report, procedure, shop, language) : [];
	const slot = (wanted - margins.left - margins.right) / (rows.length + 1);
	const films = [film.startUm, ...film.rows.map(({ filmLeftUm }) => filmLeftUm)].filter((one) => one !== null);
	const leasts = film.limits.flatMap(({ leastLeftUm }) => leastLeftUm ?? []);
	const highest = Math.max(10, ...films.map(({ high }) => high), ...leasts.map((um) => um * 1.5));
	const lowest = Math.min(...films.map(({ low }) => low), ...leasts);
	const footUm = Number.isFinite(lowest) ? Math.max(0, lowest - (highest - lowest) * 0.25) : 0;
	// A high run would dwarf the film: it is cut off with a break, and its figure stands beside it.
	const proud = Math.max(0, ...defects.filter(({ isProud }) => isProud).map(({ um }) => um.high));
	const most = (highest - footUm) * 0.6;
	const topUm = Math.max(
		highest * 1.02,
		footUm + leastSpanUm,
		startUm === null ? 0 : startUm.mid + Math.min(proud, most),
	);
	const perUm = filmHeight / (topUm - footUm);
	const depths = [
		...rows.flatMap(({ scratchUm }) => scratchUm?.high ?? []),
		...defects.filter(({ isProud }) => !isProud).map(({ um }) => um.high),
		shop.limits.scratchClearedUm * 2,
	];
	const room = scratchHeight / (Math.max(...depths) * perUm);
	return {
		input,
		width: wanted,
		height: scratchTop + scratchHeight + 8,
		left: margins.left,
		slot,
		rows,
		startUm,
		defects,
		film,
		topUm,
		footUm,
		perUm,
		times: enlargements.findLast((times) => times <= room) ?? 1,
		ids: {
			title: `film-title-${from}`,
			description: `film-words-${from}`,
			band: `film-band-${from}`,
			unknown: `film-unknown-${from}`,
		},
	};
}

function leastFilm({ report, procedure, shop }: FilmDrawingInput): ForecastReport {
	const worst = (report.totals.filmLeftUm ?? report.startUm)?.situation;
	if (worst === undefined) return report;
	const films = [report.startUm, ...report.rows.map(({ filmLeftUm }) => filmLeftUm)];
	if (!films.every((film) => film !== null && same(film.situation, worst)))
		return forecastReport(procedure, shop, { ...report.situation, ...worst });
	// The worst of every row is of that one situation, so that the report holds its film already.
	const coat = worst.clearCoat ?? report.situation.clearCoat;
	return {
		...report,
		limits: report.limits.filter(({ clearCoat }) => coat === undefined || clearCoat === coat),
	};
}

/** The highest proud and the deepest recessed defect among those the report is about. */
function defectsAtStart(report: ForecastReport, procedure: Procedure, shop: Shop, language: Language): DefectShape[] {
	const asked = report.situation.defect;
	const shapes = (procedure.scope?.defects ?? [])
		.filter((one) => asked === undefined || one.defect === asked)
		.flatMap((one): DefectShape[] => {
			const known = defect(one.defect, shop.book);
			const um = one.um ?? known?.um;
			if (known === undefined || um === undefined || known.position === "below") return [];
			const isProud = known.position === "proud" || known.position === "texture";
			return [{ name: defectName(one.defect, language, shop.book), isProud, um }];
		})
		.toSorted((one, other) => other.um.high - one.um.high);
	return [true, false].flatMap((isProud) => shapes.find((one) => one.isProud === isProud) ?? []);
}

function filmY({ topUm, footUm, perUm }: Plot, um: number): number {
	return tenth(filmTop + (topUm - Math.max(footUm, um)) * perUm);
}

/** Left end of a slot: 0 is the start, 1 the first row. */
function slotX({ left, slot }: Plot, at: number): number {
	return tenth(left + slot * at);
}

function filmMarkup(plot: Plot): Markup {
	const { input, rows, startUm, slot, ids, left, width } = plot;
	const { language } = input;
	const films = [startUm, ...rows.map(({ filmLeftUm }) => filmLeftUm)];
	const right = width - margins.right;
	const axis = (path: string) => markup`<path d="${path}" fill="none" stroke="currentColor"/>`;
	const heading = markup`<text x="2" y="12" font-weight="bold">${filled(words.filmAxis[language], { unit: unitOf(plot) })}${coatOf(plot.film, language)}</text>
${plot.defects.map((one, at) => markup`<text x="2" y="${25 + at * 13}">${defectInWords(plot, one)}</text>`)}`;
	if (films.every((film) => film === null))
		return markup`<g class="film">
${heading}
${nothingKnownMarkup(plot, "filmLeftUm", 0, filmTop, filmHeight)}
${axis(`M${left} ${numbersTop}H${right}`)}
</g>`;
	const bands = films.map((film, at) => {
		if (film === null) return null;
		const top = filmY(plot, film.high);
		// A hair wider, so that neighbours leave no seam.
		return markup`<rect x="${slotX(plot, at)}" y="${top}" width="${tenth(slot + 0.1)}" height="${tenth(filmY(plot, film.low) - top)}"/>`;
	});
	return markup`<g class="film">
${heading}
${ticksMarkup(plot, { from: plot.footUm, to: plot.topUm, y: (um) => filmY(plot, um), count: 5 })}
<g fill="var(--film-band, #ddd)">${bands}</g>
<g fill="url(#${ids.band})">${bands}</g>
${unknownMarkup(
	plot,
	films.map((film) => film === null),
	filmTop,
	filmHeight,
)}
${limitsMarkup(plot)}
<path d="${stepPath(plot, films)}" fill="none" stroke="currentColor" stroke-width="2.5"/>
${axis(`M${left} ${filmTop}V${numbersTop - (plot.footUm > 0 ? 10 : 0)}${plot.footUm > 0 ? "l-4 3l8 4l-4 3" : ""}H${right}`)}
${plot.defects.map((one) => defectMarkup(plot, one))}
</g>`;
}

/** Steps down: level over a row's slot, then straight down to the next. */
function stepPath(plot: Plot, films: readonly (Estimate | null)[]): string {
	let path = "";
	let isDrawn = false;
	for (const [at, film] of films.entries()) {
		if (film !== null) {
			const y = filmY(plot, film.mid);
			path += `${isDrawn ? `V${y}` : `M${slotX(plot, at)} ${y}`}H${slotX(plot, at + 1)}`;
		}
		isDrawn = film !== null;
	}
	return path;
}

/** Least left, and most taken from the start on; the upper of the two has its words above it, the lower below. */
function limitsMarkup(plot: Plot): Markup[] {
	const { input, film, left, width } = plot;
	const { shop, language } = input;
	const [limits] = film.limits.length === 1 ? film.limits : [];
	const least = limits?.leastLeftUm ?? null;
	const taken = limits?.mostTakenUm ?? null;
	const at = film.startUm === null || taken === null ? null : film.startUm.mid - taken;
	const line = (sentence: string, um: number, atUm: number, dash: string, isAbove: boolean) => {
		const y = filmY(plot, atUm);
		const said = filled(sentence, {
			film: formatFilm(um, filmUnitOf(shop), language),
		});
		return markup`<path d="M${left} ${y}H${width - margins.right}" stroke="currentColor" stroke-width="1.5" stroke-dasharray="${dash}"/>
<text x="${left + 4}" y="${tenth(isAbove ? y - 4 : y + 11)}" stroke="var(--sheet, #fff)" stroke-width="3" paint-order="stroke">${said}</text>`;
	};
	return [
		...(least === null ? [] : [line(words.leastLeft[language], least, least, "none", at !== null && at < least)]),
		...(at === null || taken === null || at <= plot.footUm
			? []
			: [line(words.mostTaken[language], taken, at, "6 3", least === null || at >= least)]),
	];
}

/** The clear coat a report is for, as an ending of the axis' words; empty over several or none. */
function coatOf({ limits: [one, ...others] }: ForecastReport, language: Language): string {
	return one === undefined || one.clearCoat === null || others.length > 0
		? ""
		: filled(words.ofCoat[language], { coat: label("clearCoat", one.clearCoat, language) });
}

/** A defect on the film's own scale: a bar on it, or a notch in it, to its middle, with a line over its range. */
function defectMarkup(plot: Plot, { isProud, um }: DefectShape): Markup | null {
	const { startUm, slot } = plot;
	if (startUm === null) return null;
	const surface = filmY(plot, startUm.mid);
	const away = (one: number) => Math.max(filmTop, filmY(plot, startUm.mid + (isProud ? one : -one)));
	// Proud on the left of the slot, recessed on its right: a scope may have both.
	const x = slotX(plot, 0) + slot * (isProud ? 0.28 : 0.72);
	const end = away(um.mid);
	const isCut = isProud && startUm.mid + um.high > plot.topUm * 1.001;
	return markup`<g class="defect"><rect x="${tenth(x - slot * 0.16)}" y="${Math.min(surface, end)}" width="${tenth(slot * 0.32)}" height="${tenth(Math.abs(end - surface))}" fill="${isProud ? "currentColor" : "var(--sheet, #fff)"}" stroke="currentColor"/>
<path d="M${tenth(x)} ${away(um.low)}V${away(um.high)}" stroke="currentColor"/>
${isCut ? markup`<path d="M${tenth(x - 6)} ${filmTop + 5}l4 -5l4 5l4 -5" fill="none" stroke="var(--sheet, #fff)" stroke-width="4"/><path d="M${tenth(x - 6)} ${filmTop + 5}l4 -5l4 5l4 -5" fill="none" stroke="currentColor"/>` : null}</g>`;
}

function defectInWords({ input: { language, shop } }: Plot, { name, isProud, um }: DefectShape): string {
	const film = (one: number) => formatFilm(one, filmUnitOf(shop), language);
	const sentence = isProud ? words.height[language] : words.depth[language];
	return filled(sentence, { defect: name, low: film(um.low), high: film(um.high) });
}

function scratchMarkup(plot: Plot): Markup {
	const { input, rows, slot, times, width, left, perUm, defects } = plot;
	const { language, shop } = input;
	const scale = perUm * times;
	const y = (um: number) => tenth(Math.min(scratchTop + scratchHeight, scratchTop + um * scale));
	const right = width - margins.right;
	const bar = (at: number, { mid, high }: Estimate) => {
		// A surface without a scratch has nothing drawn.
		if (high === 0) return null;
		const x = slotX(plot, at);
		const middle = tenth(x + slot / 2);
		const foot = tenth(Math.min(3, slot * 0.3));
		return markup`<rect x="${tenth(x + slot * 0.25)}" y="${scratchTop}" width="${tenth(slot * 0.5)}" height="${tenth(y(mid) - scratchTop)}"/><path d="M${middle} ${y(mid)}V${y(high)}M${tenth(middle - foot)} ${y(high)}h${2 * foot}" stroke="currentColor"/>`;
	};
	const recessed = defects.find(({ isProud }) => !isProud);
	const cleared = shop.limits.scratchClearedUm;
	const axis =
		times === 1
			? filled(words.scratchAxisSame[language], { unit: unitOf(plot) })
			: filled(words.scratchAxis[language], {
					unit: unitOf(plot),
					times: String(times),
				});
	const clearedSaid = filled(words.cleared[language], {
		film: formatFilm(cleared, filmUnitOf(shop), language),
	});
	if (recessed === undefined && rows.every(({ scratchUm }) => scratchUm === null))
		return markup`<g class="scratches">
<text x="2" y="${scratchTop - 8}" font-weight="bold">${filled(words.scratchAxisNone[language], { unit: unitOf(plot) })}</text>
${rows.length === 0 ? null : nothingKnownMarkup(plot, "scratchUm", 1, scratchTop, scratchHeight)}
<path d="M${left} ${scratchTop}H${right}" fill="none" stroke="currentColor"/>
</g>`;
	return markup`<g class="scratches">
<text x="2" y="${scratchTop - 8}" font-weight="bold">${axis}</text>
${ticksMarkup(plot, { from: 0, to: scratchHeight / scale, y, count: 3 })}
${unknownMarkup(plot, [false, ...rows.map(({ scratchUm }) => scratchUm === null)], scratchTop, scratchHeight)}
${recessed === undefined ? null : bar(0, recessed.um)}
${rows.map(({ scratchUm }, at) => (scratchUm === null ? null : bar(at + 1, scratchUm)))}
<path d="M${left} ${y(cleared)}H${right}" stroke="currentColor" stroke-dasharray="2 3"/>
<text x="${right - 2}" y="${scratchTop + scratchHeight - 4}" text-anchor="end" stroke="var(--sheet, #fff)" stroke-width="3" paint-order="stroke">${clearedSaid}</text>
<path d="M${left} ${scratchTop + scratchHeight}V${scratchTop}H${right}" fill="none" stroke="currentColor"/>
</g>`;
}

/** Ticks at round figures of the reader's unit. */
function ticksMarkup(
	{ input, left }: Plot,
	{ from, to, y, count }: { from: number; to: number; y: (um: number) => number; count: number },
): Markup[] {
	const unit = input.shop.book.units === "mil" ? umPerMil : 1;
	const rough = (to - from) / unit / count;
	const power = 10 ** Math.floor(Math.log10(rough));
	const step = ([1, 2, 5, 10].find((one) => one * power >= rough) ?? 10) * power;
	const digits = Math.max(0, -Math.floor(Math.log10(step)));
	const first = Math.ceil(from / unit / step - 1e-9);
	const last = Math.floor(to / unit / step + 1e-9);
	const ticks = Array.from({ length: last - first + 1 }, (_, at) => (first + at) * step);
	return ticks.map((value) => {
		const at = y(value * unit);
		return markup`<path d="M${left - 4} ${at}h4" stroke="currentColor"/><text x="${left - 6}" y="${tenth(at + 4)}" text-anchor="end">${formatNumber(value, input.language, digits)}</text>`;
	});
}

/** Hatching over every run of slots of which nothing is known, with the word for it. */
function unknownMarkup(plot: Plot, isUnknown: readonly boolean[], top: number, height: number): Markup[] {
	const runs: { from: number; end: number }[] = [];
	for (const [at, unknown] of isUnknown.entries()) {
		const last = runs.at(-1);
		if (!unknown) continue;
		if (last?.end === at) last.end += 1;
		else runs.push({ from: at, end: at + 1 });
	}
	return runs.map(({ from, end }) => {
		const x = slotX(plot, from);
		const width = tenth(plot.slot * (end - from));
		const [middle, half] = [tenth(x + width / 2), top + height / 2];
		const turned = width < 70 ? `rotate(-90 ${middle} ${half})` : "";
		return markup`<g class="unknown"><rect x="${x}" y="${top}" width="${width}" height="${height}" fill="url(#${plot.ids.unknown})"/><text x="${middle}" y="${half + 4}" text-anchor="middle" font-weight="bold" stroke="var(--sheet, #fff)" stroke-width="4" paint-order="stroke" transform="${turned}">${words.unknown[plot.input.language]}</text></g>`;
	});
}

/** A part of which no figure is known: hatched, with why and what would tell. */
function nothingKnownMarkup(
	plot: Plot,
	quantity: "filmLeftUm" | "scratchUm",
	from: number,
	top: number,
	height: number,
): Markup {
	const { input, ids, width } = plot;
	const { report, language } = input;
	const reason = report.unknown.find((one) => one.quantity === quantity);
	const x = slotX(plot, from);
	const right = width - margins.right;
	const said =
		reason === undefined
			? [words.unknown[language]]
			: lines(
					`${capitalised(unknownInWords(reason, language))} ${measureInWords(reason.measure, language)}`,
					Math.floor((right - x - 8) / letterWidth),
				);
	const [middle, first] = [tenth((x + right) / 2), top + height / 2 - ((said.length - 1) * lineHeight) / 2 + 4];
	return markup`<g class="unknown"><rect x="${x}" y="${top}" width="${tenth(right - x)}" height="${height}" fill="url(#${ids.unknown})" opacity="0.4"/>${said.map(
		(line, at) =>
			markup`<text x="${middle}" y="${tenth(first + at * lineHeight)}" text-anchor="middle" font-weight="bold" stroke="var(--sheet, #fff)" stroke-width="4" paint-order="stroke">${line}</text>`,
	)}</g>`;
}

/** Room for a letter of a wide face, and for a line. */
const letterWidth = 7.2;
const lineHeight = 15;

/** A text in lines of at most so many letters, broken between words. */
function lines(text: string, letters: number): string[] {
	const broken: string[] = [];
	for (const word of text.split(" ")) {
		const last = broken.at(-1);
		if (last === undefined || last.length + 1 + word.length > letters) broken.push(word);
		else broken[broken.length - 1] = `${last} ${word}`;
	}
	return broken;
}

/** The numbers of the rows, and over each the area that stands for it. */
function numbersMarkup(plot: Plot): Markup {
	const { rows, slot, input } = plot;
	const y = numbersTop + 14;
	const start = input.part?.from ? null : words.start[input.language];
	const every = numberEvery.find((count) => count * slot >= numberWidth) ?? Number.POSITIVE_INFINITY;
	return markup`<g class="rows" text-anchor="middle"><text x="${tenth(slotX(plot, 0) + slot / 2)}" y="${y + 12}" font-size="11">${start}</text>
${rows.map(({ id, row }, at) => {
	const x = slotX(plot, at + 1);
	// Hidden where there is no room: who points a row out shows its number by style.
	const shown = row % every === 0 ? "visible" : "hidden";
	return markup`<g data-row="${id}"><text x="${tenth(x + slot / 2)}" y="${y}" visibility="${shown}">${row}</text><rect x="${x}" y="${filmTop}" width="${tenth(slot)}" height="${scratchTop + scratchHeight - filmTop}" fill="transparent"/></g>`;
})}</g>`;
}

function unitOf({ input }: Plot): string {
	return label("filmUnit", filmUnitOf(input.shop), input.language);
}

function filled(sentence: string, values: Record<string, string>): string {
	return fillIn(sentence, (name) => values[name]);
}

function tenth(value: number): number {
	return Math.round(value * 10) / 10;
}
