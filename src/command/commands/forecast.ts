import { type ForecastReport, forecastReport, type WorstEstimate } from "../../check/forecast-report.ts";
import { situationInWords } from "../../check/situation-words.ts";
import { measureInWords, unknownInWords } from "../../check/unknown-words.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { type Axis, axes, claimedValues, type Situation, situationsOf } from "../../model/situations.ts";
import { formatFilm, formatNumber, type Language, umToMil } from "../../model/units.ts";
import { findWord, label } from "../../model/words.ts";
import { filmUnitOf } from "../../rules/say.ts";
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
		else world.out(`${asText(procedure, report, language, filmUnitOf(shop))}\n`);
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

function asText(procedure: Procedure, report: ForecastReport, language: Language, film: "um" | "mil"): string {
	const say = words[language];
	const um = (value: number) => formatFilm(value, film, language);
	const span = (value: WorstEstimate | null, write: (one: number) => string) =>
		value === null ? say.unknown : `${write(value.mid)} (${write(value.low)}–${write(value.high)})`;
	const digits = film === "mil" ? 2 : 1;
	const bare = (value: number) => formatNumber(film === "mil" ? umToMil(value) : value, language, digits);
	const minutes = (value: number) => formatNumber(value, language, 1);
	const rows = report.rows.map(({ row, stage, removedUm, filmLeftUm, scratchUm, scratchFromRow, minutes: time }) => [
		String(row),
		stage === null ? "" : label("stage", stage, language),
		span(removedUm, bare),
		span(filmLeftUm, bare),
		scratchUm === null
			? say.unknown
			: `${formatNumber(scratchUm.mid, language, 2)}${scratchFromRow === null ? "" : ` ${say.fromRow} ${scratchFromRow}`}`,
		time === null ? say.unknown : minutes(time.mid),
	]);
	const { totals, start, stop, unknown } = report;
	const total = [
		"",
		say.total,
		span(totals.removedUm, bare),
		span(totals.filmLeftUm, bare),
		"",
		totals.minutes === null ? say.unknown : minutes(totals.minutes.mid),
	];
	const head = [
		say.row,
		say.stage,
		`${say.removed} ${film === "mil" ? "mil" : "µm"}`,
		say.left,
		say.scratch,
		say.minutes,
	];
	const asked = situationInWords(report.situation, language);
	const lines = [
		wrap(procedure.title[language] ?? procedure.title.en ?? procedure.id, "", ""),
		wrap(asked === "" ? say.worst : asked, "", ""),
		"",
		table([head, ...rows, total], new Set([0])),
		"",
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
	for (const { row, quantity, why, measure } of unknown) {
		const at = row === null ? "" : `${say.row} ${row}: `;
		lines.push(wrap(`${at}${unknownInWords({ quantity, why }, language)} ${measureInWords(measure, language)}`, "", "  "));
	}
	lines.push("", wrap(say.estimate, "", ""));
	return lines.join("\n");
}
