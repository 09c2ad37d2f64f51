import type { FittedFamily } from "../forecast/trials.ts";
import type { NotUsable } from "../forecast/trials-work.ts";
import { label, type Language, type WordKind } from "../model/words.ts";
import table from "./data/trials.json" with { type: "json" };

/** "pad: twisted wool" for `pad.wool-twisted`. */
export function coefficientInWords(key: string, language: Language): string {
	const { group, kind } = partsOf(key);
	return table.coefficient[group][language].replace("{kind}", kindInWords(key, kind, language));
}

/** "heavy cut on twisted wool", "abrasive on film, P1500": the coefficient that the keys make together. */
export function familyInWords(
	{ keys: [one = "", other = ""] }: Pick<FittedFamily, "keys">,
	language: Language,
): string {
	const { group, kind } = partsOf(one);
	return table.family[group === "liquid" ? "liquid" : "abrasive"][language]
		.replace("{kind}", kindInWords(one, kind, language))
		.replace("{other}", kindInWords(other, partsOf(other).kind, language));
}

/** "the row lacks speed. Fill it in as it was worked." Begins small, since the trial's name may stand before it. */
export function notUsableInWords(reason: NotUsable, language: Language): string {
	const sentences = table.notUsable;
	const field = (name: string) => label("field", name, language).toLowerCase();
	switch (reason.why) {
		case "unknown-stock":
			return sentences[reason.field === "gauge" ? "unknown-gauge" : "unknown-stock"][language]
				.replace("{field}", field(reason.field))
				.replace("{text}", () => (language === "es" ? `«${reason.text}»` : `“${reason.text}”`));
		case "incomplete-row":
			return sentences["incomplete-row"][language].replace("{fields}", reason.missing.map(field).join(", "));
		case "no-readings":
			return sentences[`no-readings-${reason.when}`][language];
		case "gauge-unsuited":
			return sentences["gauge-unsuited"][language]
				.replace("{substrate}", label("substrate", reason.substrate, language))
				.replace("{gauge}", () => reason.gauge);
		default:
			return sentences[reason.why][language];
	}
}

type Group = keyof typeof table.coefficient;

const vocabularies: Record<Group, WordKind | null> = {
	abrasive: null,
	carrier: "carrier",
	liquid: "liquid",
	pad: "pad",
	hardness: "clearCoat",
};

function partsOf(key: string): { group: Group; kind: string } {
	const [group, kind = ""] = key.split(".");
	return { group: group as Group, kind };
}

function kindInWords(key: string, kind: string, language: Language): string {
	const vocabulary = vocabularies[partsOf(key).group];
	return vocabulary === null ? kind : label(vocabulary, kind, language);
}
