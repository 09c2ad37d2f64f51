import { describe, expect, it } from "vitest";
import { type Fragment, forecast, passes, sand, sandByHand } from "./rows.ts";

const minutes = (fragment: Fragment) => forecast([fragment]).rows[0]?.minutes ?? null;

describe("the minutes of a row", () => {
	it("span the range of its work and the speed of the arm", () => {
		const found = minutes(sand("P1500", passes(2, 4)));
		const onePass = 0.25 / (0.075 * 0.12) / 60;
		expect(found?.mid).toBeCloseTo(3 * onePass, 6);
		expect(found?.low).toBeCloseTo((2 * onePass) / 1.3, 6);
		expect(found?.high).toBeCloseTo(4 * onePass * 1.3, 6);
	});

	it("are what the row says where its work is in minutes", () => {
		expect(minutes(sand("P1500", { work: { unit: "minutes", low: 2, high: 3 } }))).toEqual({
			mid: 2.5,
			low: 2,
			high: 3,
		});
	});

	it("are a second a stroke with a blade", () => {
		const blade: Fragment = { stage: "level", tool: "nib-blade", place: "spot" };
		expect(minutes({ ...blade, work: { unit: "strokes", low: 30, high: 30 } })?.mid).toBe(0.5);
	});

	it("are a usual time for a wipe, known within a factor of two", () => {
		expect(minutes({ stage: "wipe", wipe: "alcohol-wipe" })).toEqual({ mid: 1, low: 0.5, high: 2 });
	});

	it("are those of a wait", () => {
		expect(minutes({ stage: "wait", waitMinutes: 10, waitFor: "cool" })).toEqual({ mid: 10, low: 10, high: 10 });
	});

	it.each<[string, Fragment, string]>([
		["a wait with only a reason", { stage: "wait", waitFor: "cool" }, "wait-without-minutes"],
		["sanding until flush", sandByHand("P2000", { work: { unit: "until-flush" } }), "until-flush"],
		["a blade until flush", { stage: "level", tool: "nib-blade", work: { unit: "until-flush" } }, "until-flush"],
		["an incomplete row", { stage: "sand", abrasive: "P1500" }, "incomplete-row"],
	])("are not known of %s, nor is their total", (_, fragment, why) => {
		const { rows, totals, unknown } = forecast([sand("P1500"), fragment]);
		expect([rows[1]?.minutes, totals.minutes]).toEqual([null, null]);
		expect(unknown).toContainEqual(expect.objectContaining({ quantity: "minutes", why }));
	});
});
