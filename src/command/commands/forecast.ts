import { type ForecastReport, forecastReport, type WorstEstimate } from "../../check/forecast-report.ts";
import { situationInWords } from "../../check/situation-words.ts";
import { measureInWords, unknownInWords } from "../../check/unknown-words.ts";
import type { Estimate, Procedure } from "../../model/generated/types.ts";
import { type Axis, axes, claimedValues, type Situation, situationsOf } from "../../model/situations.ts";
import { capitalised } from "../../model/sentence.ts";
import { filmUnitOf, type Shop } from "../../model/shop.ts";
import { filmFigure, formatFilm, formatNumber } from "../../model/units.ts";
import { findWord, label, type Language } from "../../model/words.ts";
import { type CommandFile, WrongUse } from "../command-file.ts";
import { table, wrap } from "../layout.ts";
import { languageOf, oneOf } from "../options.ts";
import { openProcedure } from "../open-procedure.ts";
import words from "../data/forecast.json" with { type: "json" };

export default {
	id: "forecast",
	define(command) {
		command
			.description("Forecasts what each row does to the panel: film, scratches, minutes; an estimate.")
			.argument("<file>", "a procedure file, or a CSV or TSV sheet")
			.option("--situation <values>", "defect=…,substrate=…,clearCoat=…,tone=…; an axis left out: its worst")
			.option("--as <form>", "text or json", "text")
			.option("--language <language>", "en or es; by default the language of the book")
			.addHelpText("after", "\nExample: gritwright forecast nibs.csv --situation tone=dark,clearCoat=factory");
	},
	async run([path = ""], options, world) {
		const form = oneOf("--as", options.as, ["text", "json"], "text");
		const opened = openProcedure(path, world.folder);
		if ("problem" in opened) {
			world.err(`${opened.problem}\n`);
			return 3;
		}
		const { procedure, shop, notes } = opened;
		const language = languageOf(options.language, shop.book.language);
		const asked = situationOf(options.situation, procedure);
		const report = forecastReport(procedure, shop, asked);
		if (!isServed(procedure, asked))
			throw new WrongUse(`${procedure.id} leaves this combination out of its scope; nothing is forecast for it.`);
		for (const note of notes) world.err(`${note}\n`);
		if (form === "json") world.out(`${JSON.stringify({ path, procedure: procedure.id, ...report }, null, 2)}\n`);
		else world.out(`${asText(procedure, report, language, shop)}\n`);
		return 0;
	},
} satisfies CommandFile;

/** `tone=dark,clearCoat=factory` as a situation; words of either language; only what the scope claims. */
function situationOf(given: string | undefined, procedure: Procedure): Situation {
	const asked: Record<string, string> = {};
	const claimed = claimedValues(procedure.scope);
	for (const part of given === undefined ? [] : given.split(",")) {
		const [name = "", text = ""] = part.split("=").map((piece) => piece.trim());
		const axis = axes.find((one) => one.toLowerCase() === name.toLowerCase().replace("-", ""));
		if (axis === undefined || text === "")
			throw new WrongUse(`--situation takes axis=value with the axes ${axes.join(", ")}; "${part}" is not so.`);
		const value = valueOn(axis, text, claimed[axis]);
		if (value === undefined) {
			const has = claimed[axis].length === 0 ? "names none" : `has ${claimed[axis].join(", ")}`;
			throw new WrongUse(`${axis}=${text} is not in the scope of ${procedure.id}, which ${has}.`);
		}
		asked[axis] = value;
	}
	return asked;
}

/** Whether any situation of the scope agrees with what was asked. */
function isServed({ scope }: Procedure, asked: Situation): boolean {
	return situationsOf(scope).some((one) =>
		axes.every((axis) => asked[axis] === undefined || asked[axis] === one[axis]),
	);
}

function valueOn(axis: Axis, text: string, claimed: readonly string[]): string | undefined {
	if (claimed.includes(text)) return text;
	const word = findWord(axis, text);
	return typeof word === "string" && claimed.includes(word) ? word : undefined;
}

function asText(procedure: Procedure, report: ForecastReport, language: Language, shop: Shop): string {
	const say = words[language];
	const film = filmUnitOf(shop);
	const um = (value: number) => formatFilm(value, film, language);
	const span = (value: WorstEstimate | null, write: (one: number) => string) =>
		value === null ? say.unknown : `${write(value.mid)} (${write(value.low)}–${write(value.high)})`;
	const bare = (value: number) => filmFigure(value, film, language);
	const minutes = (value: number) => formatNumber(value, language, 1);
	const whole = (value: number) => formatNumber(value, language, 0);
	const { totals, start, stop, unknown } = report;
	const scratch = ({ scratchUm, scratchFromRow }: ForecastReport["rows"][number]) =>
		scratchUm === null
			? say.unknown
			: `${bare(scratchUm.mid)}${scratchFromRow === null ? "" : ` ${say.fromRow} ${scratchFromRow}`}`;
	const unit = label("filmUnit", film, language);
	const filmTable = table(
		[
			[say.row, say.stage, `${say.removed} ${unit}`, say.left, `${say.scratch} ${unit}`],
			...report.rows.map((one) => [
				String(one.row),
				one.stage === null ? "" : label("stage", one.stage, language),
				span(one.removedUm, bare),
				span(one.filmLeftUm, bare),
				scratch(one),
			]),
			["", say.total, span(totals.removedUm, bare), span(totals.filmLeftUm, bare), ""],
		],
		new Set([0]),
	);
	// Where the scope names no defect there is none to show.
	const namesDefect = claimedValues(procedure.scope).defect.length > 0;
	const panel = (
		one: Pick<
			ForecastReport["rows"][number],
			"defectLeftUm" | "minutes" | "hottestC" | "gloss20Gu" | "isMatt" | "haze"
		>,
	) => [
		...(namesDefect ? [one.defectLeftUm === null ? say.unknown : bare(one.defectLeftUm.mid)] : []),
		one.minutes === null ? say.unknown : minutes(one.minutes.mid),
		span(one.hottestC, whole),
		one.isMatt ? say.matt : span(one.gloss20Gu, whole),
		one.haze === null ? say.unknown : formatNumber(one.haze.mid, language, one.haze.mid < 0.1 ? 3 : 1),
	];
	const asked = situationInWords(report.situation, language);
	const panelTable = table(
		[
			[
				say.row,
				say.stage,
				...(namesDefect ? [`${say.defect} ${unit}`] : []),
				say.minutes,
				`${say.hottest} °C`,
				`${say.gloss} GU`,
				say.haze,
			],
			...report.rows.map((one) => [
				String(one.row),
				one.stage === null ? "" : label("stage", one.stage, language),
				...panel(one),
			]),
			["", say.total, ...panel({ ...totals, isMatt: report.rows.at(-1)?.isMatt ?? false })],
		],
		new Set([0]),
	);
	const lines = [
		wrap(procedure.title[language] ?? procedure.title.en ?? procedure.id, "", ""),
		wrap(asked === "" ? say.worst : asked, "", ""),
		"",
		filmTable,
		"",
		panelTable,
		"",
		...workLines(report, shop, language),
	];
	for (const { clearCoat, clearAtLeastUm, totalAtLeastUm } of start) {
		const totalWords = totalAtLeastUm === null ? "" : `, ${say.totalReading} ${um(totalAtLeastUm)}`;
		const of = clearCoat === null ? "" : `${label("clearCoat", clearCoat, language)}: `;
		lines.push(wrap(`${of}${say.start} ${um(clearAtLeastUm)}${totalWords}.`, "", "  "));
	}
	for (const { clearCoat, row, clearBelowUm, totalBelowUm } of stop) {
		const totalWords = totalBelowUm === null ? "" : `, ${say.totalReading} ${um(totalBelowUm)}`;
		const of = clearCoat === null ? "" : `${label("clearCoat", clearCoat, language)}: `;
		lines.push(wrap(`${of}${say.stop.replace("{row}", String(row))} ${um(clearBelowUm)}${totalWords}.`, "", "  "));
	}
	for (const { rows, quantity, why, measure } of byReason([
		...unknown,
		...report.heatUnknown,
		...report.work.unknown,
	])) {
		const at = rows.length === 0 ? "" : `${say.row} ${rows.join(", ")}: `;
		const reason = unknownInWords({ quantity, why }, language);
		lines.push(wrap(`${at}${at === "" ? capitalised(reason) : reason} ${measureInWords(measure, language)}`, "", "  "));
	}
	lines.push("", wrap(say.estimate, "", ""));
	return lines.join("\n");
}

/** What is not known for one reason, with all its rows. */
function byReason(
	unknown: ForecastReport["unknown"],
): (Omit<ForecastReport["unknown"][number], "row"> & { rows: number[] })[] {
	const reasons = new Map<string, Omit<ForecastReport["unknown"][number], "row"> & { rows: number[] }>();
	for (const { row, ...reason } of unknown) {
		const key = `${row === null}|${Object.values(reason).join("|")}`;
		const known = reasons.get(key) ?? { ...reason, rows: [] };
		if (row !== null) known.rows.push(row);
		reasons.set(key, known);
	}
	return [...reasons.values()];
}

/** Heat, haze, vibration, noise and cost of the whole procedure, a line each. */
function workLines({ totals, work }: ForecastReport, { limits }: Shop, language: Language): string[] {
	const say = words[language];
	const number = (value: number, digits: number) => formatNumber(value, language, digits);
	const span = (value: Estimate | null, digits: number, unit: string) =>
		value === null
			? say.unknown
			: `${number(value.mid, digits)}${unit} (${number(value.low, digits)}–${number(value.high, digits)})`;
	const { hottestC, edgeHottestC, haze } = totals;
	const { vibrationMs2, vibrationAtLeastMs2, carsToAction, carsToLimit, noise, cost, currency } = work;
	const said = [
		`${say.surface}: ${span(hottestC, 0, " °C")}${edgeHottestC === null ? "" : `, ${say.atEdge} ${span(edgeHottestC, 0, " °C")}`}.`,
		...(haze === null
			? []
			: [`${say.hazeAfter}: ${span(haze, 3, "")}; ${say.hazeSeen} ${number(limits.hazeVisible, 3)}.`]),
	];
	const reached = [
		[limits.vibrationActionMs2, carsToAction],
		[limits.vibrationLimitMs2, carsToLimit],
	].flatMap(([ms2, cars]) =>
		typeof ms2 === "number" && typeof cars === "object" && cars !== null
			? [`${number(ms2, 1)} m/s² ${say.onCar} ${Math.max(1, Math.ceil(cars.mid))}`]
			: [],
	);
	const vibration =
		vibrationMs2 === null && (vibrationAtLeastMs2?.mid ?? 0) > 0
			? `${say.unknown}, ${say.atLeast} ${span(vibrationAtLeastMs2, 1, " m/s²")}`
			: span(vibrationMs2, 1, " m/s²");
	said.push(`${[`${say.vibration}: ${vibration}`, ...reached].join("; ")}.`);
	const doses = noise.map(({ criterion, dosePercent }) => `${criterion.toUpperCase()} ${span(dosePercent, 1, " %")}`);
	said.push(
		`${say.noise}: ${noise.every(({ dosePercent }) => dosePercent === null) ? say.unknown : doses.join(", ")}.`,
	);
	said.push(`${say.cost}: ${span(cost, 2, currency === null ? "" : ` ${currency}`)}.`);
	return said.map((line) => wrap(capitalised(line), "", "  "));
}
