import { boxesInWords } from "../../check/situation-words.ts";
import { defectName } from "../../model/defects.ts";
import { writeNumber } from "../../model/fields/span.ts";
import { type Finding, type Level, levels } from "../../model/finding.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { capitalised } from "../../model/sentence.ts";
import { filmUnitOf, type Shop } from "../../model/shop.ts";
import { formatFilm } from "../../model/units.ts";
import { label, type Language, type WordKind } from "../../model/words.ts";
import { saying } from "../words.ts";
import sentences from "./words.json" with { type: "json" };

/** One phrase of the strip: what a part says, in a few words. */
export interface Phrase {
	/** Schema key of the part it opens. */
	part: keyof Procedure;
	/** Member of that part, where the phrase is of one only. */
	member?: string;
	text: string;
	/** Nothing is said there yet. */
	isEmpty: boolean;
}

/**
 * The head of a bench card, phrase by phrase: defects, substrates, clear coats, tones, film, cure, gear, conditions,
 * exceptions. What a procedure always needs is there even when nothing is said; the rest only where something is.
 *
 * @param procedure the readable one, without its invalid parts
 */
export function phrasesOf(procedure: Procedure, shop: Shop, language: Language): Phrase[] {
	const say = saying(sentences, language);
	const { scope, cure, wear, startWhen, giveUpWhen, exceptions } = procedure;
	const words = (kind: WordKind, values: readonly string[] | undefined) =>
		(values ?? []).map((value) => label(kind, value, language)).join(", ");
	const defects = (scope?.defects ?? []).map(({ defect, goal }) => {
		const name = defectName(defect, language, shop.book);
		return goal === "match-neighbour" ? `${name} (${label("goal", goal, language)})` : name;
	});
	const count = (
		key: "strip-start" | "strip-give-up" | "strip-accepted" | "strip-accepted-one",
		list: readonly unknown[] = [],
	) => (list.length === 0 ? "" : say(key, { count: list.length }));
	const except = scope?.except?.length ? say("strip-except", { boxes: boxesInWords(scope.except, language) }) : "";
	const all: [part: keyof Procedure, text: string, empty: string, member?: string][] = [
		["scope", capitalised(defects.join(", ")), say("no-defects"), "defects"],
		["scope", words("substrate", scope?.substrates), say("no-substrates"), "substrates"],
		["scope", words("clearCoat", scope?.clearCoats), say("no-clear-coats"), "clearCoats"],
		["scope", words("tone", scope?.tones), say("no-tones"), "tones"],
		["scope", except, "", "except"],
		["film", filmKnownInWords(procedure, shop, language), say("no-film")],
		["cure", cureInWords(cure, language), ""],
		["wear", words("gear", [...new Set((wear ?? []).map(({ item }) => item))]), say("no-wear")],
		["startWhen", count("strip-start", startWhen), say("no-start")],
		["giveUpWhen", count("strip-give-up", giveUpWhen), say("no-give-up")],
		["exceptions", count(exceptions?.length === 1 ? "strip-accepted-one" : "strip-accepted", exceptions), ""],
	];
	return all
		.filter(([, text, empty]) => text !== "" || empty !== "")
		.map(([part, text, empty, member]) => ({
			part,
			...(member === undefined ? {} : { member }),
			text: text || empty,
			isEmpty: text === "",
		}));
}

/** How the film will be known: "film read by total gauge, at least 45 µm left". */
export function filmKnownInWords({ film, scope }: Procedure, shop: Shop, language: Language): string {
	const say = saying(sentences, language);
	const known = film?.known === undefined ? "" : say(`strip-film-${film.known}`);
	const house = (scope?.clearCoats ?? []).map((clearCoat) => shop.limits.leastLeftUm[clearCoat] ?? 0);
	const least = film?.leastLeftUm;
	// A procedure can keep more than the house does, not less.
	const left =
		least === undefined || house.some((one) => one > least)
			? ""
			: say("strip-least", { film: formatFilm(least, filmUnitOf(shop), language) });
	return [known, left].filter((one) => one !== "").join(", ");
}

/** "cured 24 h, or baked 35 min at 60 °C and 2 h of wait". */
export function cureInWords(cure: Procedure["cure"], language: Language): string {
	const say = saying(sentences, language);
	const hours = cure?.hours === undefined ? "" : say("strip-cured", { hours: writeNumber(cure.hours, language) });
	const bake = cure?.bake;
	if (bake === undefined) return hours;
	const values = {
		minutes: writeNumber(bake.minutes, language),
		celsius: writeNumber(bake.celsius, language),
		hours: writeNumber(bake.waitHours ?? 0, language),
	};
	const baked = say(bake.waitHours === undefined ? "strip-baked" : "strip-baked-wait", values);
	return hours === "" ? baked : say("strip-or", { one: hours, other: baked });
}

/** The findings of the whole procedure at one part, those accepted left out; at a member where one is named. */
export function findingsAt(findings: readonly Finding[], part: string, member?: string): Finding[] {
	return findings.filter(
		({ row, field, accepted, pointer }) =>
			row === null &&
			field === part &&
			accepted === null &&
			(member === undefined ||
				`${pointer}/`.startsWith(`/${part}/${member}/`) ||
				// What is said of the scope as a whole stands at its first phrase.
				(member === "defects" && !/^\/scope\/./.test(pointer))),
	);
}

/** The highest level among findings; null where there are none. */
export function worstOf(findings: readonly Finding[]): Level | null {
	return levels.find((level) => findings.some((finding) => finding.level === level)) ?? null;
}
