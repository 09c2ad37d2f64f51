import fc from "fast-check";
import { stepFields } from "../../../src/model/fields/columns.ts";
import { quantities } from "../../../src/model/fields/quantity.ts";
import type { StepField } from "../../../src/model/fields/read.ts";
import type { Stock } from "../../../src/model/generated/types.ts";
import { gradeTables } from "../../../src/model/grades.ts";
import { axes } from "../../../src/model/situations.ts";
import { type Language, valuesOf, type WordKind } from "../../../src/model/words.ts";

/** Ids of the rows that values may name. */
export const rows = ["aaaaaaaaaa", "bbbbbbbbbb", "cccccccccc"];
/** Names that are awkward on purpose: a kind's own word, two alike, one that looks like a grade. */
export const stock: Stock = {
	format: 1,
	abrasives: [
		{ id: "odd-disc", name: "P2000 odd", grade: "P1500" },
		{ id: "even-disc", name: "Even disc", grade: "JIS 2000" },
	],
	backings: [{ id: "plate-a", name: "Firm plate", kind: "soft-plate" }],
	pads: [
		{ id: "pad-a", name: "Twin", kind: "foam-soft" },
		{ id: "pad-b", name: "twin", kind: "foam-firm" },
	],
	liquids: [{ id: "liquid-a", name: "Finest", class: "heavy-cut" }],
	tools: [{ id: "tool-a", name: "Rotary", kind: "random-orbital" }],
};

const words = (kind: WordKind) => fc.constantFrom(...(valuesOf(kind) as string[]));
const own = (language: Language) =>
	fc
		.string({ minLength: 1 })
		.map((text) => text.trim())
		.filter((text) => text !== "")
		.map((text) => ({ [language]: text }));
// Nothing on a panel is known to a millionth of its unit; below that a number is zero.
const number = (least: number, most: number) =>
	fc.double({ min: least, max: most, noNaN: true }).map((value) => (value < 1e-6 ? Math.max(least, 0) : value));
const within = (field: keyof typeof quantities) =>
	fc.oneof(
		number(quantities[field].least, quantities[field].most),
		fc.integer({ min: Math.ceil(quantities[field].least), max: Math.floor(quantities[field].most) }),
		number(quantities[field].least, quantities[field].most)
			.map((value) => Math.max(quantities[field].least, Number(value.toFixed(3))))
			.filter((value) => value <= quantities[field].most),
	);
const range = (least: number, most: number) =>
	fc
		.tuple(number(least, most), number(least, most))
		.map(([one, other]) => ({ low: Math.min(one, other), high: Math.max(one, other) }));
const ends = (most: number) =>
	fc.oneof(
		range(0, most),
		fc.integer({ min: 0, max: most }).map((value) => ({ low: value, high: value })),
		number(0, most).map((low) => ({ low })),
		number(0, most).map((high) => ({ high })),
	);
const scales = fc.constantFrom(
	...(["P", "JIS", "CAMI"] as const).flatMap((scale) =>
		[...gradeTables[scale].keys()].map((grit) => (scale === "P" ? `P${grit}` : `${scale} ${grit}`)),
	),
);
const boxes = fc.array(
	fc.record(
		Object.fromEntries(
			axes.map((axis) => [axis, fc.uniqueArray(words(axis), { minLength: 1, maxLength: 3 })]),
		) as Record<string, fc.Arbitrary<string[]>>,
		{ requiredKeys: [] },
	),
	{ minLength: 1, maxLength: 3 },
);

/** Any value of each field, as a file may hold it. */
export const generators = (language: Language): { [Field in StepField]-?: fc.Arbitrary<unknown> } => ({
	stage: words("stage"),
	instruction: own(language),
	place: words("place"),
	spotMm: within("spotMm"),
	edges: words("edges"),
	tool: fc.oneof(words("tool"), fc.constant("tool-a")),
	abrasive: fc.oneof(
		scales,
		fc.constantFrom("odd-disc", "even-disc", "2000", "16 µm", "12.5 µm", "P1700"),
		fc.integer({ min: 1, max: 3000 }).map((um) => `${um / 100} µm`),
	),
	carrier: words("carrier"),
	holes: words("holes"),
	backing: fc.oneof(words("backing"), fc.constant("plate-a")),
	interfaceMm: within("interfaceMm"),
	pad: fc.oneof(words("pad"), fc.constantFrom("pad-a", "pad-b")),
	padUse: words("padUse"),
	padCare: own(language),
	wetness: words("wetness"),
	wetWith: words("wetWith"),
	liquid: fc.oneof(words("liquid"), fc.constant("liquid-a")),
	wipe: words("wipe"),
	speed: fc.oneof(
		range(50, 30_000).map((span) => ({ unit: "rpm", ...span })),
		range(50, 30_000).map((span) => ({ unit: "opm", ...span })),
		range(1, 30_000).map((span) => ({ unit: "spm", ...span })),
		range(0, 10).map((span) => ({ unit: "dial", ...span })),
	),
	work: fc.oneof(
		ends(1000).map((span) => ({ unit: "passes", ...span })),
		ends(10_000).map((span) => ({ unit: "strokes", ...span })),
		ends(1440).map((span) => ({ unit: "minutes", ...span })),
		fc.constant({ unit: "until-flush" }),
		ends(10_000).map((span) => ({ unit: "until-flush", ...span })),
	),
	pattern: words("pattern"),
	forceN: within("forceN"),
	overlap: within("overlap"),
	armSpeedMs: within("armSpeedMs"),
	sectionM2: within("sectionM2"),
	amountMl: within("amountMl"),
	discEvery: fc.record({ unit: words("discUnit"), count: number(0, 100) }),
	waitMinutes: within("waitMinutes"),
	waitFor: words("waitFor"),
	need: words("need"),
	ifNot: fc.oneof(
		fc.constant({ ask: true }),
		fc.record({ back: fc.constantFrom(...rows) }),
		fc.record({ back: fc.constantFrom(...rows), atMost: fc.integer({ min: 0, max: 999 }) }),
		fc.record({ back: fc.constantFrom(...rows), atMost: fc.integer({ min: 0, max: 999 }), ask: fc.constant(true) }),
	),
	when: boxes,
	check: own(language),
	light: own(language),
	by: words("by"),
	mustNotVary: fc.uniqueArray(fc.constantFrom(...stepFields), { minLength: 1, maxLength: 5 }),
	note: fc
		.string({ minLength: 1 })
		.map((text) => text.trim())
		.filter((text) => text !== ""),
});
