import { describe, expect, it } from "vitest";
import { houseLimits, limitTable } from "../../src/model/limits.ts";

const clearCoats = ["factory", "factory-hard", "refinish", "refinish-fast", "flexible", "tinted", "single-stage"];

/** The keys of `HouseLimits` as its type has them: a key added to or missing from the type does not compile. */
const typed: Record<Exclude<keyof ReturnType<typeof houseLimits>, "rules">, readonly string[] | null> = {
	assumedClearUm: clearCoats,
	leastLeftUm: clearCoats,
	mostTakenUm: clearCoats,
	edgeLeastShare: null,
	gaugeErrorUm: null,
	scratchClearedUm: null,
	flushUm: null,
	gradeStepRatio: null,
	readingNeededAboveUm: null,
	hearingProtectionDb: null,
	vibrationActionMs2: null,
	vibrationLimitMs2: null,
	hazeVisible: null,
	hotCautionC: null,
	hotStopC: null,
	hotPlasticCautionC: null,
	hotPlasticStopC: null,
	hotStartC: null,
	spotMm: null,
	sectionM2: null,
	panelM2: null,
	edgeStripM2: null,
	blendZoneM2: null,
};

describe("the house limits", () => {
	it("have exactly the keys of the table", () => {
		const keys = Object.entries(typed).flatMap(([name, kinds]) => kinds?.map((kind) => `${name}.${kind}`) ?? name);
		expect(limitTable.map(({ key }) => key).toSorted()).toEqual(keys.toSorted());
	});

	it("are the defaults of the table where the shop says nothing", () => {
		const house = houseLimits();
		for (const { key, value, low, high } of limitTable) {
			const [name = "", kind] = key.split(".");
			const found = (house as unknown as Record<string, unknown>)[name];
			const expected = low === undefined ? value : { mid: value, low, high };
			expect(kind === undefined ? found : (found as Record<string, unknown>)[kind], key).toEqual(expected);
		}
		expect(house.rules).toEqual({});
	});

	it("give every limit a unit or none, a title in both languages and a source", () => {
		for (const { key, unit, title, source } of limitTable) {
			expect(["um", "mm", "m2", "m/s2", "dB(A)", "C", ""], key).toContain(unit);
			expect(title.en && title.es && source, key).toBeTruthy();
		}
	});

	it("take the values that the shop has set, and nothing else", () => {
		const house = houseLimits({
			format: 1,
			values: { gradeStepRatio: { value: 2 }, "leastLeftUm.factory": { value: 33 }, "no-limit": { value: 1 } },
			rules: { "grade-jump": { off: true, reason: "Trial", by: "Ana Ruiz", on: "2026-01-01" } },
		});
		expect(house.gradeStepRatio).toBe(2);
		expect(house.leastLeftUm).toEqual({ ...houseLimits().leastLeftUm, factory: 33 });
		expect(house.rules["grade-jump"]?.off).toBe(true);
		expect(Object.keys(house).toSorted()).toEqual([...Object.keys(typed), "rules"].toSorted());
	});

	it.each([
		["its own interval where the shop gives one", { value: 58, low: 50, high: 66 }, { mid: 58, low: 50, high: 66 }],
		["the usual interval moved along where it gives a middle alone", { value: 90 }, { mid: 90, low: 75, high: 105 }],
		["no interval below nothing", { value: 10 }, { mid: 10, low: 0, high: 25 }],
	])("give an assumed clear %s", (_, set, expected) => {
		const house = houseLimits({ format: 1, values: { "assumedClearUm.refinish": set } });
		expect(house.assumedClearUm.refinish).toEqual(expected);
	});

	it("know no limit for matt clear", () => {
		const { assumedClearUm, leastLeftUm, mostTakenUm } = houseLimits();
		expect([assumedClearUm.matt, leastLeftUm.matt, mostTakenUm.matt]).toEqual([undefined, undefined, undefined]);
	});
});
