import { findWord, label } from "../words.ts";
import { type FieldContext, type FieldValue, isBlank, oneOf, plainText, type Reading, type Sort } from "./reading.ts";
import { readSpan, writeNumber } from "./span.ts";

type DiscEvery = FieldValue<"discEvery">;

/** Reader and writer of how much a disc does: "every 2 sections", "each panel", "2 per panel" (so half a panel each). */
export const discEvery: Sort<DiscEvery> = {
	read: readDiscEvery,
	write: ({ unit, count }, { language }: FieldContext) =>
		`${language === "es" ? "cada" : "every"} ${writeNumber(count, language)} ${label("discUnit", unit, language, count)}`,
};

const mostOfCount = 100;

function readDiscEvery(text: string): Reading<DiscEvery> {
	if (isBlank(text)) return { unread: "empty" };
	const plain = plainText(text);
	const discs = /^(.*?)\s*(?:discs?|disks?|discos?)?\s*(?:(?:^|\s)(?:per|a|por)\s+|\/\s*)(\p{L}+)$/iu.exec(plain);
	const perUnit = discs && findWord("discUnit", discs[2] ?? "");
	if (discs && typeof perUnit === "string") {
		const counts = readSpan(discs[1] || "1")?.spans.flatMap(({ low = 0, high = 0 }) => [low, high]) ?? [];
		return bounded(counts.filter((count) => count > 0).map((count) => ({ unit: perUnit, count: 1 / count })));
	}
	const rest = plain.replace(/^(?:after |change )?(?:every|each|one|cada|un|una)\b\s*/i, "");
	const alone = findWord("discUnit", rest);
	if (rest !== plain && typeof alone === "string") return { value: { unit: alone, count: 1 } };
	const found = readSpan(rest);
	if (!found || found.lead !== "") return { unread: "not-a-number" };
	const unit = findWord("discUnit", found.unit);
	if (typeof unit !== "string") return { unread: "unknown-unit" };
	return bounded(found.spans.flatMap(({ low, high }) => [low, high]).map((count) => ({ unit, count: count ?? -1 })));
}

function bounded(values: DiscEvery[]): Reading<DiscEvery> {
	return oneOf(
		values.filter(({ count }) => count >= 0 && count <= mostOfCount),
		"out-of-range",
	);
}
