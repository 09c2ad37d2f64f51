import { describe, expect, it } from "vitest";
import { PanelHeat } from "../../src/forecast/panel-heat.ts";
import type { Procedure, Substrate } from "../../src/model/generated/types.ts";
import { compound, type Fragment, passes, polish, resolved, sand } from "./rows.ts";

describe("how hot the panel gets", () => {
	const chain = [sand("P2000"), compound("heavy-cut", "wool-twisted"), polish("fine", "foam-medium")];

	it.each([
		["steel", 33],
		["aluminium", 34],
		["plastic", 38],
		["composite", 35],
	] as const)("is by a rotary as it is usually set what the default numbers say: %s", (substrate, celsius) => {
		expect(Math.round(heatOn(substrate, [compound("heavy-cut", "wool-twisted")]).hottestC?.mid ?? 0)).toBe(celsius);
	});

	it("is the highest of its rows, each from the temperature that the rows before it leave", () => {
		const { rows, hottestC } = heatOn("steel", chain);
		expect(hottestC?.mid).toBe(Math.max(...rows.map((one) => one.hottestC?.mid ?? 0)));
		const alone = heatOn("steel", [polish("fine", "foam-medium")]).hottestC?.mid ?? 0;
		expect(rows[2]?.hottestC?.mid).toBeGreaterThan(alone);
	});

	it("starts from what the set-up allows, else from 23 °C, and rises as much from either", () => {
		const cool = heatOn("steel", chain);
		const warm = heatOn("steel", chain, { panelC: 35 });
		expect([cool.startC, cool.isStartStated]).toEqual([23, false]);
		expect([warm.startC, warm.isStartStated]).toEqual([35, true]);
		expect((warm.hottestC?.mid ?? 0) - 35).toBeCloseTo((cool.hottestC?.mid ?? 0) - 23, 5);
	});

	it("has an interval of the rise, by friction ×/÷ 1.4 and force ×/÷ 1.3", () => {
		const { hottestC, startC } = heatOn("steel", [compound("heavy-cut", "wool-twisted")]);
		const spread = Math.exp(Math.hypot(Math.log(1.4), Math.log(1.3)));
		const rise = (hottestC?.mid ?? 0) - startC;
		expect((hottestC?.high ?? 0) - startC).toBeCloseTo(rise * spread, 4);
		expect((hottestC?.low ?? 0) - startC).toBeCloseTo(rise / spread, 4);
	});

	it("is judged at the upper end of work, at middle coefficients", () => {
		const some = heatOn("steel", [compound("heavy-cut", "wool-twisted", passes(2, 6))]);
		const most = heatOn("steel", [compound("heavy-cut", "wool-twisted", passes(6))]);
		expect(some.upper[0]?.hottestC).toBe(most.hottestC?.mid);
		expect(some.hottestC?.mid).toBeLessThan(most.hottestC?.mid ?? 0);
	});

	it("has no edge where every row keeps off it, and is hotter there where a row does not", () => {
		expect(heatOn("steel", [compound("heavy-cut", "wool-twisted", { edges: "taped" })]).edgeHottestC).toBeNull();
		const free = heatOn("steel", [compound("heavy-cut", "wool-twisted", { edges: "free" })]);
		expect(Math.round(free.edgeHottestC?.mid ?? 0)).toBe(43);
	});

	it("is not known where no substrate is named, and says what would tell", () => {
		const heat = heatOn(undefined, chain);
		expect([heat.hottestC, ...heat.rows.map(({ hottestC }) => hottestC)]).toEqual([null, null, null, null]);
		expect(heat.unknown).toEqual([
			{ row: null, quantity: "hottestC", why: "no-substrate", measure: "name-the-substrate" },
		]);
	});

	it("is not known from the first row on that does not say enough", () => {
		const dial = { unit: "dial" as const, low: 3, high: 3 };
		const unread = heatOn("steel", [
			sand("P2000"),
			compound("heavy-cut", "wool-twisted", { speed: dial }),
			sand("P2000"),
		]);
		expect(unread.rows.map(({ hottestC }) => hottestC === null)).toEqual([false, true, true]);
		expect(unread.hottestC).toBeNull();
		expect(unread.unknown.map(({ row, why, measure }) => [row?.index, why, measure])).toEqual([
			[1, "dial-not-in-table", "fill-dial-table"],
		]);
	});
});

function heatOn(substrate: Substrate | undefined, rows: readonly Fragment[], setUp?: Procedure["setUp"]): PanelHeat {
	return new PanelHeat(resolved(rows), substrate, setUp);
}
