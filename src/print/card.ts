import { type ForecastReport, forecastReport } from "../check/forecast-report.ts";
import type { Counts } from "../check/check.ts";
import { boxesInWords } from "../check/situation-words.ts";
import { defectName } from "../model/defects.ts";
import { cardCode } from "../model/digest.ts";
import { headerOf } from "../model/fields/columns.ts";
import type { Box, ClearCoat, Procedure, Step } from "../model/generated/types.ts";
import { fillIn } from "../model/sentence.ts";
import { filmUnitOf, type Shop } from "../model/shop.ts";
import { axes, boxesOf, boxHolds, type Situation, situationsOf } from "../model/situations.ts";
import { formatFilm } from "../model/units.ts";
import { label, type Language } from "../model/words.ts";
import { type CardRow, cardColumns, cardRow, textOf } from "./card-row.ts";
import { cardStyle } from "./card-style.ts";
import { columnShares, typePt, typeScale } from "./card-type.ts";
import words from "./data/card.json" with { type: "json" };
import cautions from "./data/cautions.json" with { type: "json" };
import { filmDrawing, filmInWords } from "./film-drawing.ts";
import { Markup, markup } from "./markup.ts";

/** What a bench card is printed from. */
export interface CardInput {
	procedure: Procedure;
	shop: Shop;
	language: Language;
	/** Date of printing, year-month-day. */
	today: string;
	/** Findings that nobody has accepted, by level: a card says so when there are any that stop. */
	counts: Counts;
	/** The procedure differs from its file: the card says so, since its state and revision are those of the file. */
	isUnsaved?: boolean;
	/** With the film drawing on a page of its own. */
	withDrawing?: boolean;
}

/**
 * The bench card of a procedure as one HTML page: what the technician needs beside the car. Where rows apply only
 * in some situations, one side for each ("DARK · STEEL") instead of conditions to read.
 */
export function card(input: CardInput): string {
	const { procedure, shop, language } = input;
	const report = forecastReport(procedure, shop);
	return markup`<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${textOf(procedure.title, language)}</title>
<style>${new Markup(cardStyle)}</style>
</head>
<body>
${sidesOf(procedure).map((side) => sideMarkup(input, side, report))}
${input.withDrawing ? drawingMarkup(input, report) : null}
</body>
</html>
`.text;
}

/** One side: the situations it is for (null for all), and the rows that apply there. */
interface Side {
	boxes: Box[] | null;
	steps: Step[];
}

/** Situations in which the same rows apply share a side. */
function sidesOf({ steps = [], scope }: Procedure): Side[] {
	const conditions = steps.flatMap((step) => step.when ?? []);
	const read = axes.filter((axis) => conditions.some((box) => axis in box));
	if (read.length === 0) return [{ boxes: null, steps }];
	const groups = new Map<string, { some: Situation[]; steps: Step[] }>();
	for (const situation of situationsOf(scope, read)) {
		const here = steps.filter(({ when }) => when === undefined || when.some((box) => boxHolds(box, situation)));
		const key = here.map((step) => steps.indexOf(step)).join();
		const group = groups.get(key);
		if (group === undefined) groups.set(key, { some: [situation], steps: here });
		else group.some.push(situation);
	}
	// A scope that is still empty has no situations to split by.
	if (groups.size === 0) return [{ boxes: null, steps }];
	return [...groups.values()].map(({ some, steps: here }) => ({ boxes: boxesOf(some, scope), steps: here }));
}

function sideMarkup(input: CardInput, side: Side, report: ForecastReport): Markup {
	const { procedure, shop, language, today, counts } = input;
	const say = words[language];
	const ids = (procedure.steps ?? []).map(({ id }) => id);
	const rows = side.steps.map((step) => cardRow(step, ids, shop, language));
	const title = textOf(procedure.title, language);
	const situation = side.boxes === null ? "" : boxesInWords(side.boxes, language).toUpperCase();
	const intro = [
		textOf(procedure.purpose, language),
		lead(say.chooseWhen, textOf(procedure.chooseWhen, language)),
		lead(`${say.for}:`, scopeInWords(procedure, shop, language)),
	].filter((line) => line !== "");
	const held = counts.stop === 0 ? "" : fillIn(counts.stop === 1 ? say.heldOne : say.held, () => String(counts.stop));
	const { readings, coats } = readingsMarkup(procedure, shop, rows, report, language);
	const before = [{ title: say.startWhen, text: startInWords(procedure, language) }];
	const after = [
		{ title: say.giveUpWhen, text: (procedure.giveUpWhen ?? []).map(({ text }) => textOf(text, language)).join(" · ") },
		{ title: say.wear, text: wearInWords(procedure, language) },
	];
	const small = [
		...(shop.book.cautions ?? []).map((one) => textOf(one, language)),
		...cautions.card[language],
		`${say.printed} ${dateInWords(today, language)}.`,
	].join(" ");
	const scale = typeScale({
		lines: [
			{ text: title, pt: typePt.title * 1.6 },
			...(held === "" ? [] : [{ text: held, pt: typePt.body }]),
			...[...intro, ...[...before, ...after].map((one) => `${one.title} ${one.text}`)].map((text) => ({
				text,
				pt: typePt.note,
			})),
			{ text: small, pt: typePt.caution },
			{ text: say.technician, pt: typePt.body * 1.6 },
		],
		boxLines: coats + 2,
		rows,
	});
	return markup`<article style="--type: ${scale}">
<header>
<div><h1>${title}</h1>
${situation === "" ? null : markup`<p class="for">${situation}</p>`}</div>
${markMarkup(input)}
</header>
${held === "" ? null : markup`<p class="held">${held}</p>`}
${intro.map((line) => markup`<p class="line">${line}</p>`)}
${readings}
${before.map(lineMarkup)}
${rowsMarkup(rows, language)}
${after.map(lineMarkup)}
<footer>
<p class="sign">${say.car} <i></i> ${say.technician} <i></i> ${say.date} <i></i> ${say.checkedBy} <i></i></p>
<p class="caution">${small}</p>
</footer>
</article>
`;
}

/** What tells one card from another: revision, date, state, code, shop. */
function markMarkup({ procedure, shop, language, isUnsaved }: CardInput): Markup {
	const say = words[language];
	const revision = procedure.revision === undefined ? say.noRevision : `${say.revision} ${procedure.revision}`;
	const date = procedure.revisionDate === undefined ? "" : `, ${dateInWords(procedure.revisionDate, language)}`;
	const state = label("state", procedure.state ?? "draft", language);
	return markup`<div class="mark"><p><b>${revision}</b>${date} · ${state}</p>${isUnsaved ? markup`<p><b>${say.unsaved}</b></p>` : null}<p class="code">${cardCode(procedure, shop)}</p><p>${shop.book.name}</p></div>`;
}

/** Rows that one strip of the drawing holds on paper, and its width in the drawing's units. */
const strip = { rows: 22, width: 560 };

/** The film drawing, over all situations, in as many strips as its rows need. */
function drawingMarkup(input: CardInput, report: ForecastReport): Markup {
	const { procedure, shop, language } = input;
	const drawn = { report, procedure, shop, language, width: strip.width };
	const count = Math.max(1, Math.ceil(report.rows.length / strip.rows));
	const strips = Array.from({ length: count }, (_, at) => {
		const from = at * strip.rows;
		const part = { from, end: Math.min(from + strip.rows, report.rows.length) };
		return new Markup(filmDrawing({ ...drawn, part }));
	});
	return markup`<article class="drawing">
<header><div><h1>${textOf(procedure.title, language)}</h1></div>
${markMarkup(input)}
</header>
${strips}
<p class="line">${filmInWords(drawn)}</p>
</article>
`;
}

/** The boxed start and stop readings, one line a clear coat, with blanks for the car's own. */
function readingsMarkup(
	procedure: Procedure,
	shop: Shop,
	rows: readonly CardRow[],
	report: ForecastReport,
	language: Language,
): { readings: Markup; coats: number } {
	const say = words[language];
	const isTotal = procedure.film?.known === "total-reading";
	const film = (um: number) => formatFilm(um, filmUnitOf(shop), language);
	const figure = (clearUm: number | undefined, totalUm: number | null | undefined) => {
		if (clearUm === undefined) return markup`<b>${say.notKnown}</b>`;
		if (!isTotal || totalUm === null || totalUm === undefined) return markup`<b>${film(clearUm)}</b> ${say.clear}`;
		return markup`<b>${film(totalUm)}</b> ${say.total} (${film(clearUm)} ${say.clear})`;
	};
	const named: readonly (ClearCoat | null)[] = procedure.scope?.clearCoats ?? [];
	const coats = named.length === 0 ? [null] : named;
	const stopRows = rows
		.filter(({ number }) => report.stop.some(({ row }) => row === number))
		.map(({ number }) => number);
	const lines = coats.map((coat) => {
		const start = report.start.find(({ clearCoat }) => clearCoat === coat);
		const stops = stopRows.map((number) => {
			const stop = report.stop.find(({ clearCoat, row }) => clearCoat === coat && row === number);
			return markup`<td>${figure(stop?.clearBelowUm, stop?.totalBelowUm)}</td>`;
		});
		const name = coat === null ? "" : label("clearCoat", coat, language);
		return markup`<tr><th scope="row">${name}</th><td>${figure(start?.clearAtLeastUm, start?.totalAtLeastUm)}</td>${stops}</tr>`;
	});
	const heads = stopRows.map((row) => markup`<th scope="col">${say.stop.replace("{row}", String(row))}</th>`);
	const isUnknown = coats.some((coat) => !report.start.some(({ clearCoat }) => clearCoat === coat));
	const readings = markup`<section class="readings">
<table><thead><tr><th scope="col">${headerOf("film", language)}</th><th scope="col">${say.start}</th>${heads}</tr></thead><tbody>${lines}</tbody></table>
${isUnknown ? markup`<p>${say.startUnknown}</p>` : null}
<p class="blanks">${say.thisCar} ${say.before} <i></i><i></i><i></i> ${say.after} <i></i><i></i><i></i> ${say.gauge} <i></i></p>
</section>`;
	return { readings, coats: coats.length };
}

/** The rows; a column that no row fills is left out. */
function rowsMarkup(rows: readonly CardRow[], language: Language): Markup {
	const say = words[language];
	const shown = cardColumns.filter((column) => rows.some(({ cells }) => cells[column] !== ""));
	const width = (column: keyof typeof columnShares) => `${Math.round(columnShares[column] * 1000) / 10}%`;
	const head = shown.map((column) => markup`<th scope="col" style="width: ${width(column)}">${say[column]}</th>`);
	const bodies = rows.map(({ number, stage, grade, what, cells, notes, unread }) => {
		const filled = shown.map((column) => markup`<td class="${column}">${cells[column]}</td>`);
		// Bold is what the row is about: the grade, the liquid, the wipe, else the stage itself.
		const named =
			grade !== ""
				? markup`${stage} <b class="grade">${grade}</b> <small>${what}</small>`
				: what !== ""
					? markup`${stage} <b>${what}</b>`
					: markup`<b>${stage}</b>`;
		const doubt = unread.length === 0 ? null : markup`<b class="doubt">${say.unread} ${unread.join(" · ")}</b>`;
		const under =
			notes.length + unread.length === 0
				? null
				: markup`<tr class="notes"><td></td><td colspan="${shown.length + 1}">${notes.join(" · ")} ${doubt}</td></tr>`;
		return markup`<tbody><tr><th scope="row">${number}</th><td class="stage">${named}</td>${filled}<td class="done" rowspan="${under === null ? 1 : 2}">☐</td></tr>
${under}</tbody>`;
	});
	return markup`<table class="rows"><thead><tr><th scope="col" style="width: ${width("number")}">${say.number}</th><th scope="col" style="width: ${width("stage")}">${headerOf("stage", language)}</th>${head}<th style="width: ${width("done")}"></th></tr></thead>
${bodies}</table>`;
}

function lineMarkup({ title, text }: { title: string; text: string }): Markup | null {
	return text === "" ? null : markup`<p class="line"><b>${title}</b> ${text}</p>`;
}

/** Conditions to begin, the cure and the set-up. */
function startInWords({ startWhen = [], cure, setUp }: Procedure, language: Language): string {
	const say = words[language];
	const cures: string[] = [];
	if (cure?.hours !== undefined) cures.push(filled(say.cured, { hours: cure.hours }));
	if (cure?.bake !== undefined) {
		const { celsius, minutes, waitHours } = cure.bake;
		const wait = waitHours === undefined ? "" : `, ${filled(say.wait, { hours: waitHours })}`;
		cures.push(filled(say.baked, { minutes, celsius }) + wait);
	}
	return [
		...startWhen.map(({ text }) => textOf(text, language)),
		cures.join(` ${say.or} `),
		setUp?.panelC === undefined ? "" : filled(say.panelAtMost, { celsius: setUp.panelC }),
		setUp?.extraction ? say.extraction : "",
		textOf(setUp?.light, language),
	]
		.filter((part) => part !== "")
		.join(" · ");
}

function wearInWords({ wear = [] }: Procedure, language: Language): string {
	const items = wear.map(({ item, filter, stages }) => {
		const when = stages === undefined ? "" : ` (${stages.map((stage) => label("stage", stage, language)).join(", ")})`;
		return `${label("gear", item, language)}${filter === undefined ? "" : ` ${filter}`}${when}`;
	});
	return items.join(" · ");
}

function scopeInWords({ scope }: Procedure, { book }: Shop, language: Language): string {
	const names = (kind: Parameters<typeof label>[0], values: readonly string[] | undefined) =>
		(values ?? []).map((value) => label(kind, value, language)).join(", ");
	const defects = (scope?.defects ?? []).map(({ defect }) => defectName(defect, language, book));
	return [
		defects.join(", "),
		names("substrate", scope?.substrates),
		names("clearCoat", scope?.clearCoats),
		names("tone", scope?.tones),
	]
		.filter((part) => part !== "")
		.join(" · ");
}

function lead(title: string, text: string): string {
	return text === "" ? "" : `${title} ${text}`;
}

function filled(sentence: string, values: Record<string, number>): string {
	return Object.entries(values).reduce((text, [name, value]) => text.replace(`{${name}}`, String(value)), sentence);
}

/** "12 May 2026". */
function dateInWords(date: string, language: Language): string {
	const [year = "", month = "", day = ""] = date.split("-");
	return `${Number(day)} ${words.months[language][Number(month) - 1] ?? month} ${year}`;
}
