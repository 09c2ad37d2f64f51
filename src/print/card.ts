import { type ForecastReport, forecastReport } from "../check/forecast-report.ts";
import type { Counts } from "../check/check.ts";
import { boxesInWords } from "../check/situation-words.ts";
import { headerOf } from "../model/fields/columns.ts";
import type { StepField } from "../model/fields/reading.ts";
import { write } from "../model/fields/write.ts";
import type { Box, Procedure, Step, Text } from "../model/generated/types.ts";
import { defectName } from "../model/defects.ts";
import { cardCode } from "../model/digest.ts";
import { instructionOf } from "../model/instruction.ts";
import { type Shop, stockItem } from "../model/shop.ts";
import { axes, boxHolds, boxesOf, projections, situationsOf } from "../model/situations.ts";
import { formatFilm, type Language } from "../model/units.ts";
import { label } from "../model/words.ts";
import cautions from "./data/cautions.json" with { type: "json" };
import words from "./data/card.json" with { type: "json" };
import { cardStyle } from "./card-style.ts";
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
}

/**
 * The bench card of a procedure as one HTML page: what the technician needs beside the car. Where rows apply only
 * in some situations, one card a situation ("DARK · STEEL") instead of conditions to read.
 */
export function card(input: CardInput): string {
	const { procedure, language } = input;
	const sides = sidesOf(procedure);
	const title = textOf(procedure.title, language);
	return markup`<!doctype html>
<html lang="${language}">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${new Markup(cardStyle)}</style>
</head>
<body>
${sides.map((side) => sideMarkup(input, side))}
</body>
</html>
`.text;
}

/** One side: the situations it is for (null for all), and the rows that apply there. */
interface Side {
	boxes: Box[] | null;
	steps: { step: Step; number: number }[];
}

/** Situations in which the same rows apply share a side. */
function sidesOf(procedure: Procedure): Side[] {
	const steps = (procedure.steps ?? []).map((step, index) => ({ step, number: index + 1 }));
	const conditions = steps.flatMap(({ step }) => step.when ?? []);
	const read = axes.filter((axis) => conditions.some((box) => axis in box));
	if (read.length === 0) return [{ boxes: null, steps }];
	const groups = new Map<string, { some: ReturnType<typeof projections>; steps: Side["steps"] }>();
	for (const situation of projections(situationsOf(procedure.scope), read)) {
		const here = steps.filter(
			({ step }) => step.when === undefined || step.when.some((box) => boxHolds(box, situation)),
		);
		const key = here.map(({ number }) => number).join();
		const group = groups.get(key);
		if (group === undefined) groups.set(key, { some: [situation], steps: here });
		else group.some.push(situation);
	}
	return [...groups.values()].map(({ some, steps: here }) => ({ boxes: boxesOf(some, procedure.scope), steps: here }));
}

function sideMarkup(input: CardInput, side: Side): Markup {
	const { procedure, shop, language, today, counts } = input;
	const say = words[language];
	const report = forecastReport(procedure, shop);
	const revision = procedure.revision === undefined ? say.noRevision : `${say.revision} ${procedure.revision}`;
	const date = procedure.revisionDate === undefined ? "" : `, ${dateInWords(procedure.revisionDate, language)}`;
	return markup`<article class="${side.steps.length > 14 ? "side long" : "side"}">
<header>
<div><h1>${textOf(procedure.title, language)}</h1>
${side.boxes !== null && side.boxes.length > 0 ? markup`<p class="for">${boxesInWords(side.boxes, language).toUpperCase()}</p>` : null}
<p>${textOf(procedure.purpose, language)}</p>
<p class="scope">${scopeInWords(procedure, shop, language)}</p></div>
<div class="mark"><p><b>${revision}</b>${date}</p><p>${label("state", procedure.state ?? "draft", language)}</p><p class="code">${cardCode(procedure, shop)}</p><p>${shop.book.name}</p></div>
</header>
${counts.stop > 0 ? markup`<p class="held">${say.held.replace("{count}", String(counts.stop))}</p>` : null}
${readingsMarkup(procedure, shop, report, language)}
${conditions(say.startWhen, procedure.startWhen, language)}
${rowsMarkup(side.steps, shop, language)}
${conditions(say.giveUpWhen, procedure.giveUpWhen, language)}
${wearMarkup(procedure, language)}
<footer>
<p class="sign">${say.car} <i></i> ${say.technician} <i></i> ${say.date} <i></i> ${say.checkedBy} <i></i></p>
${(shop.book.cautions ?? []).map((caution) => markup`<p class="caution">${textOf(caution, language)}</p>`)}
${cautions.card[language].map((line) => markup`<p class="caution">${line}</p>`)}
<p class="printed">${say.printed} ${dateInWords(today, language)}</p>
</footer>
</article>`;
}

/** The boxed start and stop readings, with blanks for the car's own. */
function readingsMarkup(procedure: Procedure, shop: Shop, report: ForecastReport, language: Language): Markup {
	const say = words[language];
	const film = (um: number | null) => (um === null ? null : formatFilm(um, shop.book.units ?? "um", language));
	const total = procedure.film?.known === "total-reading";
	const figure = (clearUm: number, totalUm: number | null) =>
		total && totalUm !== null
			? `${film(totalUm)} ${say.total} (${film(clearUm)} ${say.clear})`
			: `${film(clearUm)} ${say.clear}`;
	const of = (clearCoat: string | null) =>
		clearCoat === null || report.start.length < 2 ? "" : ` ${label("clearCoat", clearCoat, language)}:`;
	const starts = report.start.map(
		({ clearCoat, clearAtLeastUm, totalAtLeastUm }) =>
			markup`<p>${say.startOnly}${of(clearCoat)} <b>${figure(clearAtLeastUm, totalAtLeastUm)}</b></p>`,
	);
	const stops = report.stop.map(
		({ clearCoat, row, clearBelowUm, totalBelowUm }) =>
			markup`<p>${say.stopBelow.replace("{row}", String(row))}${of(clearCoat)} <b>${figure(clearBelowUm, totalBelowUm)}</b></p>`,
	);
	const unknown = report.start.length === 0 ? markup`<p>${say.startUnknown}</p>` : null;
	return markup`<section class="readings"><div>${starts}${stops}${unknown}</div><div class="blanks"><p>${say.before} <i></i><i></i><i></i></p><p>${say.after} <i></i><i></i><i></i></p><p>${say.gauge} <i></i></p></div></section>`;
}

const columns = ["place", "edges", "backing", "liquid", "tool", "speed", "work"] as const;

/** The rows; a column that no row fills is left out. */
function rowsMarkup(steps: Side["steps"], shop: Shop, language: Language): Markup {
	const say = words[language];
	const shown = columns.filter((column) => steps.some(({ step }) => cell(step, column, shop, language) !== ""));
	const head = shown.map((column) => markup`<th scope="col">${headerOf(column, language)}</th>`);
	const rows = steps.map(({ step, number }) => {
		const cells = shown.map((column) => markup`<td>${cell(step, column, shop, language)}</td>`);
		const doubt =
			step.asTyped === undefined
				? null
				: markup`<p class="doubt">${say.unread} ${Object.values(step.asTyped).join(" · ")}</p>`;
		const repeat = step.need === "if-needed" ? markup`<p>${label("need", "if-needed", language)}</p>` : null;
		return markup`<tbody><tr><th scope="row" rowspan="2">${number}</th><td class="what"><b>${step.stage === undefined ? "" : label("stage", step.stage, language)}</b><br><span class="grade">${gradeOf(step, shop)}</span></td>${cells}<td class="tick" rowspan="2">☐</td></tr>
<tr class="words"><td colspan="${shown.length + 1}">${step.instruction?.[language] ?? instructionOf(step, language, shop.stock)}${repeat}${doubt}${checkOf(step, language)}</td></tr></tbody>`;
	});
	return markup`<table><thead><tr><th scope="col">${say.number}</th><th scope="col">${headerOf("stage", language)}</th>${head}<th scope="col">${say.done}</th></tr></thead>${rows}</table>`;
}

function checkOf(step: Step, language: Language): Markup | null {
	const check = textOf(step.check, language);
	return check === "" ? null : markup`<p class="check">${words[language].check} ${check}</p>`;
}

/** What stands large: the grade of an abrasive. */
function gradeOf({ abrasive }: Step, { stock }: Shop): string {
	return stockItem(stock, "abrasives", abrasive)?.grade ?? abrasive ?? "";
}

/** One cell in words: the backing or pad, and wetness, liquid or wipe, share a column as they do on screen. */
function cell(step: Step, column: (typeof columns)[number], shop: Shop, language: Language): string {
	const say = (field: StepField) => {
		const value = step[field];
		return value === undefined ? "" : write(value, { field, language, stock: shop.stock });
	};
	if (column === "backing") return say(step.pad === undefined ? "backing" : "pad");
	if (column === "liquid") return [say("wetness"), say("liquid"), say("wipe")].filter((part) => part !== "").join(", ");
	return say(column);
}

function conditions(title: string, list: Procedure["startWhen"], language: Language): Markup | null {
	if (list === undefined || list.length === 0) return null;
	return markup`<section class="when"><b>${title}</b> ${list.map(({ text }) => textOf(text, language)).join(" · ")}</section>`;
}

function wearMarkup({ wear }: Procedure, language: Language): Markup | null {
	if (wear === undefined || wear.length === 0) return null;
	const items = wear.map(({ item, filter, stages }) => {
		const when = stages === undefined ? "" : ` (${stages.map((stage) => label("stage", stage, language)).join(", ")})`;
		return `${label("gear", item, language)}${filter === undefined ? "" : ` ${filter}`}${when}`;
	});
	return markup`<section class="when"><b>${words[language].wear}</b> ${items.join(" · ")}</section>`;
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

function textOf(text: Text | undefined, language: Language): string {
	return text?.[language] ?? text?.en ?? text?.es ?? "";
}

/** "12 May 2026". */
function dateInWords(date: string, language: Language): string {
	const [year = "", month = "", day = ""] = date.split("-");
	return `${Number(day)} ${words.months[language][Number(month) - 1] ?? month} ${year}`;
}
