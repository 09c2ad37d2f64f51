import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { CarsOfDay } from "../../src/forecast/day.ts";
import {
	carsToReach,
	dailyExposureMs2,
	exposurePoints,
	minutesToReach,
	vibrationOf,
} from "../../src/forecast/vibration.ts";
import { houseLimits } from "../../src/model/limits.ts";
import reference from "../reference/vibration.json" with { type: "json" };
import { dayOf, rowsOf, shopWith } from "./day.ts";
import { type Fragment, polish, sand, sandByHand } from "./rows.ts";

interface Example {
	tools: { a_mps2: number; hours: number; partial_A8: number; points: number }[];
	A8: number;
	points: number;
}

function valueOf(id: string): unknown {
	const entry = reference.find((one) => one.id === id);
	if (!entry || !("values" in entry)) throw new Error(`no reference ${id}`);
	return entry.values;
}

const examples = [
	valueOf("hse_example") as Example,
	...(valueOf("single_tool_examples") as Example[]),
	valueOf("multi_tool_eu_fettler") as Example,
	valueOf("multi_tool_forestry") as Example,
	valueOf("multi_tool_shop") as Example,
];
const named = examples.map((one) => ({
	...one,
	name: one.tools.map(({ a_mps2, hours }) => `${a_mps2} m/s² for ${hours} h`).join(", "),
}));
const values = valueOf("directive_values") as { action: number; limit: number };
const limits = houseLimits();

/** One row of so many minutes with a tool of the stock. */
const worked = (tool: string, minutes: number): Fragment =>
	sand("P1500", { tool, work: { unit: "minutes", low: minutes, high: minutes } });

describe("the daily vibration exposure", () => {
	// The references are printed to five decimals.
	it.each(named)("of $name is A(8) $A8 m/s², $points points", ({ tools, A8, points }) => {
		const uses = tools.map(({ a_mps2, hours }) => ({ ms2: a_mps2, minutes: 60 * hours }));
		expect(dailyExposureMs2(uses)).toBeCloseTo(A8, 5);
		expect(uses.reduce((sum, { ms2, minutes }) => sum + exposurePoints(ms2, minutes), 0)).toBeCloseTo(points, 9);
		for (const [index, { partial_A8, points: own }] of tools.entries()) {
			const use = uses[index] ?? { ms2: 0, minutes: 0 };
			expect(dailyExposureMs2([use])).toBeCloseTo(partial_A8, 5);
			expect(exposurePoints(use.ms2, use.minutes)).toBeCloseTo(own, 9);
		}
	});

	it.each(named)("of rows with those tools is the same: $name", ({ tools, A8, points }) => {
		const shop = shopWith({
			tools: tools.map(({ a_mps2 }, index) => ({
				id: `tool-${index}`,
				name: `Tool ${index}`,
				kind: "random-orbital",
				drive: "air",
				vibrationMs2: a_mps2,
				vibrationKMs2: 0,
			})),
		});
		const rows = rowsOf(
			tools.map(({ hours }, index) => worked(`tool-${index}`, 60 * hours)),
			shop,
		);
		const { a8Ms2, points: found, unknown } = vibrationOf([{ rows, cars: 1 }], limits);
		expect(unknown).toEqual([]);
		for (const end of ["low", "mid", "high"] as const) {
			expect(a8Ms2?.[end]).toBeCloseTo(A8, 5);
			expect(found?.[end]).toBeCloseTo(points, 5);
		}
	});

	it("counts 100 points at the action value and 400 at the limit of the directive", () => {
		expect([limits.vibrationActionMs2, limits.vibrationLimitMs2]).toEqual([values.action, values.limit]);
		expect([exposurePoints(values.action, 480), exposurePoints(values.limit, 480)]).toEqual([100, 400]);
	});

	it("is the same for half the vibration and four times the time", () => {
		const number = fc.double({ min: 0.1, max: 30, noNaN: true });
		fc.assert(
			fc.property(number, number, (ms2, minutes) => {
				const once = dailyExposureMs2([{ ms2, minutes }]);
				expect(dailyExposureMs2([{ ms2: ms2 / 2, minutes: 4 * minutes }]) / once).toBeCloseTo(1, 9);
			}),
			{ seed: 5349 },
		);
		const { A8_mps2, points_today } = valueOf("old_action_level") as { A8_mps2: number; points_today: number };
		expect(exposurePoints(A8_mps2, 480)).toBeCloseTo(points_today, 9);
		expect(exposurePoints(4 * A8_mps2, 30)).toBeCloseTo(points_today, 9);
	});
});

describe("the time to a daily value", () => {
	it.each(
		valueOf("time_to_values") as {
			a_mps2: number;
			points_per_hour: number;
			to_action_min: number;
			to_limit_min: number;
		}[],
	)("with $a_mps2 m/s² is $to_action_min and $to_limit_min min", (row) => {
		// Printed to six figures.
		expect(minutesToReach(values.action, row.a_mps2) / row.to_action_min).toBeCloseTo(1, 5);
		expect(minutesToReach(values.limit, row.a_mps2) / row.to_limit_min).toBeCloseTo(1, 5);
		expect(exposurePoints(row.a_mps2, 60)).toBeCloseTo(row.points_per_hour, 9);
	});

	it("stands with each tool, shorter the more it may vibrate", () => {
		const { tools } = vibrationOf(dayOf(shop, [[worked("sander", 10)], 1]), limits);
		// 4 m/s² with K 1 m/s².
		expect(tools[0]?.toActionMinutes?.mid).toBeCloseTo(187.5, 6);
		expect(tools[0]?.toActionMinutes?.low).toBeCloseTo(minutesToReach(2.5, 5), 5);
		expect(tools[0]?.toLimitMinutes?.mid).toBeCloseTo(750, 6);
	});
});

const shop = shopWith({
	tools: [
		{ id: "sander", name: "Sander", kind: "random-orbital", vibrationMs2: 4, vibrationKMs2: 1 },
		{ id: "polisher", name: "Polisher", kind: "random-orbital", orbitMm: 15, vibrationMs2: 6 },
		{ id: "still", name: "Still", kind: "random-orbital", vibrationMs2: 0, vibrationKMs2: 1 },
		{ id: "unstated", name: "Unstated", kind: "random-orbital" },
	],
});

describe("a day's mix of cars", () => {
	const short = [worked("sander", 4), worked("polisher", 6)];
	const long = [worked("sander", 20)];

	it("adds the points of every car", () => {
		const { points, a8Ms2 } = vibrationOf(dayOf(shop, [short, 5], [long, 2]), limits);
		const expected = exposurePoints(4, 5 * 4 + 2 * 20) + exposurePoints(6, 5 * 6);
		expect(points?.mid).toBeCloseTo(expected, 5);
		expect(a8Ms2?.mid).toBeCloseTo(2.5 * Math.sqrt(expected / 100), 5);
	});

	it("takes a tool's figure as wrong the same way on every car, and tools as wrong each for itself", () => {
		// Times are exact, so that K of the sander (5/4 squared) and the default 1.4 of the polisher are all there is.
		const { points, tools } = vibrationOf(dayOf(shop, [short, 5], [long, 2]), limits);
		const [sander = 0, polisher = 0] = tools.map((tool) => tool.points?.mid);
		const above = Math.hypot(sander * ((5 / 4) ** 2 - 1), polisher * (1.4 ** 2 - 1));
		expect((points?.high ?? 0) - (points?.mid ?? 0)).toBeCloseTo(above, 4);
	});

	it("names each tool once, with its rows and the time of all cars", () => {
		const { tools } = vibrationOf(dayOf(shop, [short, 5], [long, 2]), limits);
		expect(tools.map(({ item, rows, minutes }) => [item?.id, rows.length, minutes?.mid])).toEqual([
			["sander", 2, 60],
			["polisher", 1, 30],
		]);
	});

	it("of procedures on no car is nothing, and so is hand work", () => {
		const none = { a8Ms2: { mid: 0, low: 0, high: 0 }, unknown: [] };
		expect(vibrationOf(dayOf(shop, [[worked("unstated", 10)], 0]), limits)).toMatchObject(none);
		expect(vibrationOf(dayOf(shop, [[sandByHand("P2000"), { stage: "measure" }], 3]), limits)).toMatchObject(none);
		expect(vibrationOf([], limits)).toMatchObject(none);
	});

	it.each([-1, Number.NaN, Number.POSITIVE_INFINITY])("of %s cars is refused", (cars) => {
		expect(() => vibrationOf(dayOf(shop, [short, cars]), limits)).toThrow(RangeError(`${cars} cars in a day`));
	});

	it("says on how many cars a day a value is reached", () => {
		const oneCar = vibrationOf(dayOf(shop, [short, 1]), limits);
		const cars = carsToReach(2.5, oneCar);
		expect(cars?.mid).toBeCloseTo(100 / (exposurePoints(4, 4) + exposurePoints(6, 6)), 5);
		const many: CarsOfDay = dayOf(shop, [short, cars?.mid ?? 0]);
		expect(vibrationOf(many, limits).a8Ms2?.mid).toBeCloseTo(2.5, 5);
		expect(cars?.low).toBeCloseTo(100 / (oneCar.points?.high ?? 0), 5);
		expect(cars?.high).toBeCloseTo(100 / (oneCar.points?.low ?? 0), 5);
		expect(carsToReach(5, oneCar)?.mid).toBeCloseTo(4 * (cars?.mid ?? 0), 4);
	});

	it("with a tool declared still has what its K allows at most", () => {
		const { points, tools } = vibrationOf(dayOf(shop, [[worked("still", 60)], 1]), limits);
		expect(points).toEqual({ mid: 0, low: 0, high: 2 });
		expect(tools[0]?.toActionMinutes).toBeNull();
	});

	it("says of no car that it reaches a value where nothing vibrates or it is not known", () => {
		expect(carsToReach(2.5, vibrationOf(dayOf(shop, [[worked("still", 10)], 1]), limits))).toBeNull();
		expect(carsToReach(2.5, vibrationOf(dayOf(shop, [[worked("unstated", 10)], 1]), limits))).toBeNull();
	});
});

describe("vibration that is not known", () => {
	it.each<[string, Fragment, string, string]>([
		["a tool without a figure", worked("unstated", 5), "vibration-not-stated", "fill-the-vibration"],
		["a tool named by kind", polish("fine", "foam-soft"), "vibration-not-stated", "fill-the-vibration"],
		[
			"work until flush",
			sand("P1500", { tool: "sander", work: { unit: "until-flush" } }),
			"minutes-unknown",
			"time-one-row",
		],
		["an incomplete row", { stage: "sand", abrasive: "P1500" }, "incomplete-row", "fill-the-row"],
	])("is unknown and not nothing, and what is known still counts: %s", (_, fragment, why, measure) => {
		const { a8Ms2, points, a8AtLeastMs2, unknown } = vibrationOf(
			dayOf(shop, [[worked("polisher", 480), fragment], 1]),
			limits,
		);
		expect([a8Ms2, points]).toEqual([null, null]);
		expect(a8AtLeastMs2.mid).toBeCloseTo(6, 6);
		expect(unknown).toEqual([
			expect.objectContaining({ quantity: "vibration", why, measure, row: expect.objectContaining({ index: 1 }) }),
		]);
	});

	it("does not come from an incomplete row that holds no tool", () => {
		expect(vibrationOf(dayOf(shop, [[{ stage: "wipe" }], 1]), limits).unknown).toEqual([]);
	});
});
