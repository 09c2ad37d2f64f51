import { describe, expect, it } from "vitest";
import { trialsReport } from "../../src/check/trials-report.ts";
import { coefficientInWords, familyInWords, notUsableInWords } from "../../src/check/trials-words.ts";
import type { NotUsable } from "../../src/forecast/trials-work.ts";
import { enumerations } from "../../src/model/generated/enumerations.ts";
import type { Trial } from "../../src/model/generated/types.ts";
import { genericShop } from "../../src/model/shop.ts";

const trial: Trial = {
	id: "door",
	on: "2026-02-03",
	clearCoat: "refinish",
	step: {
		id: "aaaaaaaaaa",
		stage: "polish",
		liquid: "finest",
		pad: "hand-applicator",
		tool: "bare-hand",
		work: { unit: "strokes", low: 40, high: 40 },
		place: "spot",
	},
	beforeUm: [110],
	afterUm: [110],
};

describe("the report", () => {
	it("keeps six digits of a coefficient, however small", () => {
		const report = trialsReport([trial], genericShop, "en");
		expect(report.notUsable).toEqual([]);
		expect(report.families.map(({ prior }) => prior.mid)).toEqual([0.00068]);
		expect(report.families.map(({ name }) => name)).toEqual(["finest on hand applicator"]);
		expect(report.root).toHaveLength(3);
	});

	it("lets a hand check each prediction: known work times the product of its coefficients", () => {
		const { trials, coefficients } = trialsReport([trial], genericShop, "en");
		for (const { keys, workKpaM, priorUm } of trials) {
			const product = keys.reduce((all, key) => all * (coefficients.find((one) => one.key === key)?.prior.mid ?? 0), 1);
			expect(workKpaM * product).toBeCloseTo(priorUm.mid, 5);
		}
	});
});

const reasons: NotUsable[] = [
	{ why: "unknown-stock", field: "pad", text: "$& pad" },
	{ why: "unknown-stock", field: "gauge", text: "g9" },
	{ why: "incomplete-row", missing: ["tool", "work"] },
	{ why: "takes-nothing-off" },
	{ why: "until-flush" },
	{ why: "dial-not-in-table" },
	{ why: "no-work" },
	{ why: "no-readings", when: "before" },
	{ why: "no-readings", when: "after" },
	{ why: "no-readings", when: "both" },
	{ why: "gauge-unsuited", gauge: "Gauge $1", substrate: "plastic" },
];

it.each(reasons)("words %j in both languages with nothing left to fill", (reason) => {
	const said = (["en", "es"] as const).map((language) => notUsableInWords(reason, language));
	for (const sentence of said) {
		expect(sentence).not.toMatch(/[{}]|undefined/);
		expect(sentence).toMatch(/^\P{Lu}.*\.$/u);
		for (const text of [("text" in reason && reason.text) || "", ("gauge" in reason && reason.gauge) || ""])
			expect(sentence).toContain(text);
	}
	expect(said[0]).not.toBe(said[1]);
});

it("names every coefficient and family in both languages", () => {
	const keys = [
		"abrasive.rate",
		...enumerations.Carrier.map((kind) => `carrier.${kind}`),
		...enumerations.LiquidClass.map((kind) => `liquid.${kind}`),
		...enumerations.PadKind.map((kind) => `pad.${kind}`),
		...enumerations.ClearCoat.map((kind) => `hardness.${kind}`),
	];
	for (const language of ["en", "es"] as const) {
		const names = keys.map((key) => coefficientInWords(key, language));
		expect(new Set(names).size).toBe(keys.length);
		for (const name of names) expect(name).not.toMatch(/[{}.]|undefined/);
		expect(familyInWords({ keys: ["abrasive.rate", "carrier.foam"] }, language)).not.toMatch(/[{}.]/);
	}
	expect(familyInWords({ keys: ["liquid.heavy-cut", "pad.wool-twisted"] }, "es")).toBe(
		"corte fuerte con lana trenzada",
	);
});
