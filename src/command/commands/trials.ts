import { join } from "node:path";
import { type BookFile, readShop } from "../../book/book.ts";
import { type TrialsReport, trialsReport } from "../../check/trials-report.ts";
import { outlierBeyond } from "../../forecast/trials.ts";
import type { Estimate } from "../../model/generated/types.ts";
import { sayProblem } from "../../model/problem.ts";
import { filmUnitOf, type Shop } from "../../model/shop.ts";
import { filmFigure, formatFilm, formatNumber } from "../../model/units.ts";
import { label, type Language } from "../../model/words.ts";
import type { CommandFile } from "../command-file.ts";
import words from "../data/trials.json" with { type: "json" };
import { placeOf } from "../files.ts";
import { pageWidth, table, wrap } from "../layout.ts";
import { languageOf, oneOf } from "../options.ts";

export default {
	id: "trials",
	define(command) {
		command
			.description("Learns from a book's panel trials: predicted against measured, and the shop's own coefficients.")
			.argument("<book>", "the folder of a book")
			.option("--as <form>", "text or json", "text")
			.option("--language <language>", "en or es; by default the language of the book")
			.addHelpText("after", "\nExample: gritwright trials procedures/quillfeather");
	},
	async run([path = ""], options, world) {
		const form = oneOf("--as", options.as, ["text", "json"], "text");
		const asked = options.language === undefined ? undefined : languageOf(options.language);
		const read = readShop(placeOf(path, world.folder));
		if ("problem" in read) {
			world.err(`${path}: ${sayProblem(read.problem, asked ?? "en")}\n`);
			return 3;
		}
		const { shop, parts, problems } = read;
		const language = asked ?? shop.book.language ?? "en";
		const found = parts.find((part): part is BookFile<"trials"> => part.file.kind === "trials");
		const unread = problems.map(({ name, problem }) => `${join(path, name)}: ${sayProblem(problem, language)}`);
		for (const problem of found?.file.problems ?? []) {
			const { line, column } = found?.file.place(problem.pointer) ?? {};
			unread.push(`${join(path, "trials.json")}:${line}:${column}: ${sayProblem(problem, language)}`);
		}
		for (const sentence of unread) world.err(`${sentence}\n`);

		const report = trialsReport(found?.file.readable.trials ?? [], shop, language);
		if (form === "json") world.out(`${JSON.stringify({ path, book: shop.book.id, ...report }, null, 2)}\n`);
		else world.out(`${asText(path, report, shop, language)}\n`);
		return unread.length > 0 ? 3 : 0;
	},
} satisfies CommandFile;

function asText(path: string, report: TrialsReport, shop: Shop, language: Language): string {
	const say = words[language];
	const { trials, families, coefficients, notUsable } = report;
	const count = trials.length + notUsable.length;
	if (count === 0)
		return wrap(
			say.none.replace("{path}", () => path),
			"",
			"",
		);
	const heading = (count === 1 ? say.one : say.count).replace("{count}", String(count));
	const parts = [
		wrap(
			heading.replace("{name}", () => shop.book.name),
			"",
			"",
		),
	];
	if (trials.length > 0)
		parts.push(
			trialTable(report, shop, language),
			figureTable(say.families, families, language),
			`${figureTable(say.single, coefficients, language)}\n${wrap(say.together, "", "")}`,
		);
	const film = filmUnitOf(shop);
	const remarks = trials
		.filter(({ outlier }) => outlier)
		.map(({ trial, measuredUm, posteriorUm, residual }) =>
			say.outlier
				.replace("{trial}", trial)
				.replace("{measured}", formatFilm(measuredUm.mid, film, language))
				.replace("{posterior}", formatFilm(posteriorUm.mid, film, language))
				.replace("{residual}", formatNumber(Math.abs(residual), language, 1))
				.replace("{beyond}", String(outlierBeyond)),
		);
	for (const { trial, message } of notUsable) remarks.push(`${say.notUsable.replace("{trial}", trial)} ${message}`);
	if (remarks.length > 0) parts.push(remarks.map((one) => wrap(one, "", "  ")).join("\n"));
	parts.push(wrap(say.estimate, "", ""));
	return parts.join("\n\n");
}

/** Predicted against measured, a line a trial; its name is cut where the line would be too long. */
function trialTable({ trials }: TrialsReport, shop: Shop, language: Language): string {
	const say = words[language];
	const film = filmUnitOf(shop);
	const bare = (um: number) => filmFigure(um, film, language);
	const span = ({ mid, low, high }: Estimate) => `${bare(mid)} (${bare(low)}–${bare(high)})`;
	const rows = [
		[say.trial, say.prior, say.posterior, say.measured, say.residual],
		...trials.map(({ trial, priorUm, posteriorUm, measuredUm, residual, outlier }) => [
			trial,
			span(priorUm),
			span(posteriorUm),
			span(measuredUm),
			`${formatNumber(residual, language, 1)}${outlier ? " !" : ""}`,
		]),
	];
	const others = Math.max(
		...table(rows.map(([, ...cells]) => cells))
			.split("\n")
			.map((line) => line.length),
	);
	const width = Math.max(8, pageWidth - others - 2);
	const clipped = rows.map(([name = "", ...cells]) => [
		name.length > width ? `${name.slice(0, width - 1)}…` : name,
		...cells,
	]);
	return `${say.trials.replace("{unit}", label("filmUnit", film, language))}\n${table(clipped)}`;
}

/** Prior and posterior side by side, each as a middle with the ratio of its interval. */
function figureTable(
	title: string,
	figures: TrialsReport["families"] | TrialsReport["coefficients"],
	language: Language,
): string {
	const say = words[language];
	const three = (value: number) => formatNumber(value, language, Math.max(0, 2 - Math.floor(Math.log10(value))));
	const ratio = ({ mid, spread }: { mid: number; spread: number }) =>
		`${three(mid)} (×/÷ ${formatNumber(spread, language, 2)})`;
	return `${wrap(title, "", "")}\n${table([
		["", say.informed, say.prior, say.posterior],
		...figures.map(({ name, trials, prior, posterior }) => [name, String(trials), ratio(prior), ratio(posterior)]),
	])}`;
}
