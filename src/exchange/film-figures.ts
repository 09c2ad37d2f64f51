import { readSpan } from "../model/fields/span.ts";
import type { ClearCoat, Estimate } from "../model/generated/types.ts";
import type { FilmUnit } from "../model/units.ts";
import { umPerMil } from "../model/units.ts";
import { findWord } from "../model/words.ts";
import { scan } from "./phrases.ts";

/** What a line or cell says of film, in µm. */
export interface FilmFigures {
	known?: "clear-reading" | "total-reading" | "none";
	/** Of the clear alone, for the clear coats named; an empty list for whatever the clear coat is. */
	clear: { clearCoats: ClearCoat[]; um: Figure }[];
	total?: Figure;
	under?: Figure;
	/** Every least clear left that is named. */
	leasts: number[];
	/** A least that is said of the whole paint. */
	leastOfTotal?: number;
	/** Words that mean nothing here. */
	rest: string[];
}

/** A figure or an interval; `single` where only one number was given. */
export interface Figure extends Estimate {
	single: boolean;
}

/** What a figure is of, when the words beside it do not say. */
export type FilmSubject = "film" | "under" | "least";

/**
 * Reads "110 µm total, min 80", "45–55 µm", "factory 45, refinish 60 µm", "2.2 mil", "total 120, under the clear 70".
 *
 * @param unit the unit of bare numbers where the key or the book gives one
 * @returns what was read; `unit-unknown` for bare numbers that could be either; null where something is no figure of film
 */
export function readFilmFigures(
	text: string,
	subject: FilmSubject,
	unit: string,
	bookUnit: FilmUnit | undefined,
): FilmFigures | "unit-unknown" | null {
	const figures: FilmFigures = { clear: [], leasts: [], rest: unknownWords(text) };
	if (
		/^(?:none|no gauge|no reading|not measured|not known|unknown|sin medidor|sin lectura|no se mide|desconocid[oa])$/i.test(
			text.trim(),
		)
	)
		return { clear: [], leasts: [], known: "none", rest: [] };
	const stated = /(?:[µμu]m\b|mic|mils?\b|thou\b|mil[eé]sima)/i.exec(text)?.[0] ?? unit;
	const segments = text
		// "2.4 mil min 1.6 mil" is two figures, with nothing between them but the word.
		.replace(
			/(\d\s*(?:[µμu]m|mils?|micr\w*)?(?:\s+(?:total|clear|film|barniz))?)\s+(?=(?:and )?(?:min|minimum|least|leave|at least|limit|m[ií]n|m[ií]nim[oa]|dejar)\b)/gi,
			"$1; ",
		)
		.split(/;|,(?!\d)|\n|\s\/\s|\s(?:and|y)\s(?=\D*\d)|\.\s/)
		.map((one) => one.trim())
		.filter((one) => one !== "");
	let isTotal = false;
	for (const segment of segments) {
		const ofTotal = /\b(?:total|whole|overall|all coats|full build|toda|todo|completa?)\b/i.test(segment);
		const isReading = /read|gauge|measur|lectura|medid/i.test(segment);
		const figure = readFigure(segment, stated, bookUnit);
		if (figure === "unit-unknown") return figure;
		if (ofTotal) isTotal = true;
		if (figure === null) {
			if (!ofTotal && !isReading) return null;
			figures.known = isTotal ? "total-reading" : "clear-reading";
			continue;
		}
		const isLeast =
			subject === "least" ||
			/\b(?:min|minimum|least|limit|leave|stop(?: at| below)?|not below|no less|never below|parar(?: en)?|m[ií]n|m[ií]nimo|m[ií]nima|dejar|no bajar)\b|≥|>/i.test(
				segment,
			);
		const isUnder =
			subject === "under" ||
			/\b(?:under|base|basecoat|primer|undercoats?|e-?coat|imprimaci[oó]n|debajo|bajo)\b/i.test(segment);
		if (isLeast) {
			const ofClear = /\bclear|barniz|lacquer/i.test(segment) || subject === "least";
			if (ofTotal || (isTotal && !ofClear)) figures.leastOfTotal = Math.max(figures.leastOfTotal ?? 0, figure.mid);
			else figures.leasts.push(figure.single ? figure.mid : figure.low);
		} else if (isUnder) figures.under = figure;
		else if (ofTotal) {
			figures.total = figure;
			figures.known = "total-reading";
		} else {
			figures.clear.push({ clearCoats: clearCoatsIn(segment), um: figure });
			if (isReading) figures.known = "clear-reading";
		}
	}
	return figures;
}

/** One figure of film in a text: "45", "45 (35–55)", "35–55", "45 ± 5", in µm or mil. */
export function readFigure(text: string, unit: string, bookUnit: FilmUnit | undefined): Figure | "unit-unknown" | null {
	const numbers = text.match(/\d[\d.,]*\d|\d/g) ?? [];
	if (numbers.length === 0 || numbers.length > 3) return null;
	const spread = /(\d[\d.,]*)\s*(?:\D{0,6})\((?:[^()\d]*)(\d[\d.,]*)\s*[-–—a]+\s*(?:to\s*)?(\d[\d.,]*)/.exec(text);
	const around = /(\d[\d.,]*)\s*(?:\+\/-|±)\s*(\d[\d.,]*)/.exec(text);
	let values: number[] | null;
	if (spread) values = [spread[1], spread[2], spread[3]].map(number);
	else if (around)
		values = [number(around[1]), number(around[1]) - number(around[2]), number(around[1]) + number(around[2])];
	else {
		const span = readSpan(/\d[\d.,]*(?:\s*(?:-|–|—|to|a)\s*\d[\d.,]*)?/.exec(text)?.[0] ?? "");
		const [one] = span?.spans ?? [];
		if (!one || one.low === undefined || one.high === undefined) return null;
		values = [(one.low + one.high) / 2, one.low, one.high];
	}
	if (values.some((value) => !Number.isFinite(value) || value < 0)) return null;
	const [mid = 0, low = 0, high = 0] = values;
	const factor = factorOf(/(?:[µμu]m\b|mic|mils?\b|thou\b|mil[eé]sima)/i.exec(text)?.[0] ?? unit, mid, bookUnit);
	if (factor === null) return "unit-unknown";
	const um = (value: number) => Number((value * factor).toFixed(2));
	return um(high) > most
		? null
		: {
				mid: um(mid),
				low: um(Math.min(low, mid)),
				high: um(Math.max(high, mid)),
				single: spread === null && around === null && low === high,
			};
}

const most = 2000;
/** No film of paint is as thin as this in µm, nor as thick in mil, so that a bare number below is in doubt. */
const leastBareUm = 15;

function factorOf(unit: string, value: number, bookUnit: FilmUnit | undefined): number | null {
	if (/mils?\b|thou|mil[eé]sima/i.test(unit)) return umPerMil;
	if (/[µμu]m|mic/i.test(unit)) return 1;
	if (bookUnit === "mil") return umPerMil;
	return value < leastBareUm && bookUnit === undefined ? null : 1;
}

function number(text: string | undefined): number {
	return Number((text ?? "").replace(",", "."));
}

const knownWords =
	/^(?:stop|parar|total|whole|overall|all|coats?|full|build|tod[ao]|complet[ao]|read(?:ing)?s?|gauge|measured|lecturas?|medid[ao]s?|min(?:imum)?|least|limit|leave|not|no|below|less|never|m[ií]n(?:im[ao])?|dejar|bajar|menos|under|base|basecoat|primer|undercoats?|e-?coat|imprimaci[oó]n|debajo|bajo|clear|clearcoat|barniz|lacquer|laca|film|paint|pintura|pel[ií]cula|[µμu]m|mic(?:ra|ron)s?|micr[oó]metros?|mils?|thou|about|approx|aprox|ca|circa|average|avg|typical(?:ly)?|usual(?:ly)?|unas?|unos|start|left|at|to|a|of|the|de|del|la|el|en|and|y|is|than|left|remaining|on|for|spot|x|by|with|its?)$/i;

function unknownWords(text: string): string[] {
	const scanned = scan(text, (words) =>
		findWord("clearCoat", words) === null && findWord("filmKnown", words) === null ? null : true,
	);
	return scanned.rest
		.flatMap((word) => word.split(/[\d.,:;±+≥>~≈<%*/\-–—]+/))
		.filter((word) => word !== "" && !knownWords.test(word));
}

function clearCoatsIn(text: string): ClearCoat[] {
	return scan(text, (words) => {
		const found = findWord("clearCoat", words);
		return typeof found === "string" ? found : null;
	}).hits.map(({ found }) => found);
}
