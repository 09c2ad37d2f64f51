import { describe, expect, it } from "vitest";
import { minutesOfDay } from "../../src/forecast/day.ts";
import { dayOf } from "./day.ts";
import { passes, sand } from "./rows.ts";
import { genericShop } from "../../src/model/shop.ts";

describe("the minutes of a day", () => {
	it("are those of each car times the cars", () => {
		const onePass = 0.25 / (0.075 * 0.12) / 60;
		const one = sand("P1500", passes(1));
		const found = minutesOfDay(dayOf(genericShop, [[one, one], 3], [[sand("P2000", passes(4))], 2]));
		expect(found?.mid).toBeCloseTo((2 * 3 + 4 * 2) * onePass, 4);
		// Rows are slow or fast each for itself, but the same on every car.
		const perPass = onePass * 0.3;
		expect((found?.high ?? 0) - (found?.mid ?? 0)).toBeCloseTo(Math.hypot(3 * Math.SQRT2 * perPass, 8 * perPass), 3);
	});

	it("are not known where those of a row on a car are not", () => {
		const untold = sand("P1500", { work: { unit: "until-flush" } });
		expect(minutesOfDay(dayOf(genericShop, [[untold], 1]))).toBeNull();
		expect(minutesOfDay(dayOf(genericShop, [[untold], 0]))).toEqual({ mid: 0, low: 0, high: 0 });
	});
});
