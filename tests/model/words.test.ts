import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import shared from "../../src/model/data/words.shared.json" with { type: "json" };
import { shapes } from "../../src/model/generated/shape.ts";
import {
	findWord,
	foldText,
	label,
	languages,
	spellingsOf,
	valuesOf,
	type WordKind,
	wordKinds,
} from "../../src/model/words.ts";

const between: Record<string, Record<string, string[]>> = shared.between;

describe("the vocabulary", () => {
	it("has a kind of word for every enumeration of the schemas", () => {
		const asOne = (values: readonly string[]) => values.toSorted((a, b) => (a < b ? -1 : 1)).join(" ");
		const known = new Set(wordKinds.map((kind) => asOne(valuesOf(kind))));
		const missing = schemaEnumerations().filter((values) => !known.has(asOne(values)));
		expect(missing).toEqual([]);
	});

	it("has a header for every field of a step and every part of a procedure", () => {
		const parts = shapes.procedure.keys ?? {};
		expect(valuesOf("field")).toEqual(Object.keys(parts.steps?.items?.keys ?? {}));
		expect(valuesOf("part")).toEqual(Object.keys(parts));
	});

	it.each(wordKinds)("has a label for every %s in each language, each its own", (kind) => {
		for (const language of languages) {
			const labels = valuesOf(kind).map((value) => spellingsOf(kind, value, language)[0] ?? "");
			expect(
				labels.every((one) => one.trim() === one && one !== ""),
				`${kind} in ${language}`,
			).toBe(true);
			expect(new Set(labels).size).toBe(labels.length);
		}
	});

	it.each(wordKinds)("finds every value of %s by its id, label and spellings, and by nothing else twice", (kind) => {
		const owners = new Map<string, Set<string>>();
		for (const value of valuesOf(kind))
			for (const spelling of [value, ...languages.flatMap((language) => spellingsOf(kind, value, language))]) {
				const key = foldText(spelling);
				expect(key, `"${spelling}" folds to nothing`).not.toBe("");
				owners.set(key, (owners.get(key) ?? new Set()).add(value));
			}
		const clashes = [...owners]
			.filter(([, values]) => values.size > 1)
			.map(([key, values]) => `${kind} "${key}": ${[...values]}`);
		expect(clashes).toEqual([]);
		for (const value of valuesOf(kind)) {
			expect(findWord(kind, value)).toBe(value);
			for (const language of languages) expect(findWord(kind, label(kind, value, language))).toBe(value);
			for (const spelling of languages.flatMap((language) => spellingsOf(kind, value, language)))
				expect([spelling, findWord(kind, spelling)]).toEqual([spelling, value]);
		}
	});

	it("declares as ambiguous only words that no value already owns, and names real values", () => {
		for (const [kind, words] of Object.entries(between)) {
			const owned = new Map(
				valuesOf(kind as WordKind).flatMap((value) =>
					[value, ...languages.flatMap((language) => spellingsOf(kind as WordKind, value, language))].map((one) => [
						foldText(one),
						value,
					]),
				),
			);
			for (const [word, values] of Object.entries(words)) {
				expect([kind, word, owned.get(foldText(word))]).toEqual([kind, word, undefined]);
				expect(values.length).toBeGreaterThan(1);
				for (const value of values) expect(valuesOf(kind as WordKind)).toContain(value);
				expect(findWord(kind as WordKind, word)).toEqual({ between: values });
			}
		}
	});
});

describe("findWord", () => {
	it.each([
		["tool", "DA", "random-orbital"],
		["tool", "D/A", "random-orbital"],
		["tool", "d.a.", "random-orbital"],
		["tool", "Dual Action", "random-orbital"],
		["tool", "dual-action polisher", "random-orbital"],
		["tool", "Buffer", "rotary"],
		["tool", "rotary polisher", "rotary"],
		["tool", "pulidora rotatoria", "rotary"],
		["tool", "forced rotation", "gear-orbital"],
		["tool", "ROTORBITAL", "random-orbital"],
		["tool", "denibbing blade", "nib-blade"],
		["tool", "lima", "nib-file"],
		["tool", "clay bar", "clay"],
		["tool", "paint depth gage", "gauge"],
		["wipe", "IPA", "alcohol-wipe"],
		["wipe", "Wax & grease remover", "solvent-wipe"],
		["wipe", "wax and grease remover", "solvent-wipe"],
		["wipe", "microfiber towels", "dry-cloth"],
		["wipe", "desengrasante", "solvent-wipe"],
		["stage", "Color Sand", "sand"],
		["stage", "colour sanding", "sand"],
		["stage", "denib", "level"],
		["stage", "De-Nib", "level"],
		["stage", "cutting", "compound"],
		["stage", "1st cut", "compound"],
		["stage", "buff", "compound"],
		["stage", "jewelling", "finish"],
		["stage", "Jeweling", "finish"],
		["stage", "QC", "inspect"],
		["stage", "lijado al agua", "sand"],
		["stage", "Inspección final", "inspect"],
		["stage", "abrillantado", "finish"],
		["clearCoat", "OEM", "factory"],
		["clearCoat", "2K", "refinish"],
		["clearCoat", "refinish clear", "refinish"],
		["clearCoat", "matte", "matt"],
		["clearCoat", "monocapa", "single-stage"],
		["substrate", "bumper", "plastic"],
		["substrate", "fascia", "plastic"],
		["substrate", "PP", "plastic"],
		["substrate", "aluminum", "aluminium"],
		["substrate", "alloy", "aluminium"],
		["substrate", "carbon fiber", "composite"],
		["substrate", "SMC", "composite"],
		["substrate", "paragolpes", "plastic"],
		["tone", "black", "dark"],
		["tone", "white", "light"],
		["tone", "Silver", "light-effect"],
		["tone", "negro metalizado", "dark-effect"],
		["pad", "Microfiber pads", "microfibre"],
		["pad", "lamb's wool", "wool-lamb"],
		["pad", "foam cutting pad", "foam-firm"],
		["backing", "hard back-up pad", "firm-plate"],
		["backing", "plato duro", "firm-plate"],
		["carrier", "wet/dry paper", "waterproof-paper"],
		["carrier", "malla", "mesh"],
		["pattern", "Cross-Hatch", "crosswise"],
		["defect", "Fish eyes", "crater"],
		["defect", "piel de naranja", "orange-peel"],
		["defect", "holograms", "buffer-trail"],
		["need", "sí", "always"],
		["wetness", "en seco", "dry"],
		["place", "whole panel", "panel"],
		["place", "paneles", "panel"],
		["field", "Grit", "abrasive"],
		["field", "No. of passes", "work"],
		["field", "n.º de pasadas", "work"],
		["field", "Velocidad", "speed"],
	] as const)("reads the %s %j as %s", (kind, text, value) => {
		expect(findWord(kind, text)).toBe(value);
	});

	it.each([
		["pad", "wool pad"],
		["pad", "boina de lana"],
		["tool", "polisher"],
		["tool", "by hand"],
		["backing", "backing plate"],
		["liquid", "compound"],
		["stage", "Block Sanding"],
		["defect", "scratches"],
		["tone", "metallic"],
		["wipe", "panel wipe"],
	] as const)("does not choose for the shop when the %s is %j", (kind, text) => {
		expect(findWord(kind, text)).toMatchObject({ between: expect.any(Array) });
	});

	it.each([
		["tool", ""],
		["tool", "---"],
		["stage", "xyzzy"],
		["tone", "x".repeat(5000)],
		["stage", "constructor"],
		["stage", "__proto__"],
	] as const)("finds no %s in %j", (kind, text) => {
		expect(findWord(kind, text)).toBeNull();
	});
});

describe("label", () => {
	it.each([
		["tool", "random-orbital", "en", undefined, "random orbital"],
		["workUnit", "passes", "en", 1, "pass"],
		["workUnit", "passes", "es", 2, "pasadas"],
		["field", "abrasive", "es", undefined, "Abrasivo"],
		["defect", "tar-spot", "en", undefined, "tar-spot"],
	] as const)("gives the %s %s in %s, count %s, as %j", (kind, value, language, count, text) => {
		expect(label(kind, value, language, count)).toBe(text);
	});
});

/** Every list of allowed words in the schemas; a list of one leaves nothing to choose and needs no label. */
function schemaEnumerations(): string[][] {
	const folder = new URL("../../schemas/", import.meta.url);
	const found: string[][] = [];
	const walk = (node: unknown): void => {
		if (typeof node !== "object" || node === null) return;
		if ("enum" in node && Array.isArray(node.enum) && node.enum.length > 1) found.push(node.enum);
		for (const child of Object.values(node)) walk(child);
	};
	for (const file of readdirSync(folder)) walk(JSON.parse(readFileSync(new URL(file, folder), "utf8")));
	if (found.length < 30) throw new Error(`only ${found.length} enumerations: the schemas were not seen`);
	return found;
}
