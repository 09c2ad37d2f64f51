import { describe, expect, it } from "vitest";
import { forecastReport } from "../../src/check/forecast-report.ts";
import type { Procedure, Step } from "../../src/model/generated/types.ts";
import { genericShop, type Shop } from "../../src/model/shop.ts";
import { compound, type Fragment, polish } from "../forecast/rows.ts";
import { shopWith } from "../forecast/day.ts";

describe("the report of a forecast", () => {
	const scope: Procedure["scope"] = {
		substrates: ["steel", "plastic"],
		clearCoats: ["refinish"],
		tones: ["dark", "light"],
	};
	const rows = [
		compound("heavy-cut", "wool-twisted", { edges: "free" }),
		polish("medium-cut", "foam-medium"),
		polish("finest", "foam-soft", { when: [{ tone: ["dark"] }] }),
	];

	it("names the substrate on which the surface gets hottest, in the field and at an edge", () => {
		const { totals, rows: reported } = report(rows, scope);
		expect(totals.hottestC?.situation?.substrate).toBe("plastic");
		expect(totals.edgeHottestC?.situation?.substrate).toBe("plastic");
		expect(reported[0]?.edgeHottestC?.mid).toBeGreaterThan(reported[0]?.hottestC?.mid ?? 0);
		const asked = report(rows, scope, { substrate: "steel" }).totals;
		expect(asked.hottestC?.mid).toBeLessThan(totals.hottestC?.mid ?? 0);
	});

	it("has no edge temperature for a row that keeps off edges", () => {
		const kept = report([compound("heavy-cut", "wool-twisted", { edges: "taped" })], scope);
		expect(kept.rows[0]?.edgeHottestC).toBeNull();
		expect(kept.totals.edgeHottestC).toBeNull();
		expect(kept.unknown.filter(({ quantity }) => quantity === "hottestC")).toEqual([]);
	});

	it("tells the haze of the tone on which it is worst, with the rows that are worked there", () => {
		const { rows: reported, totals } = report(rows, scope);
		expect(reported[1]?.haze?.situation?.tone).toBe("dark");
		expect(totals.haze?.mid).toBeLessThan(reported[1]?.haze?.mid ?? 0);
		expect(report(rows, { ...scope, tones: [] }).totals.haze).toBeNull();
	});

	it("tells the gloss of the deepest scratch over the situations", () => {
		const { rows: reported, totals } = report(rows, scope);
		expect(Math.round(reported[0]?.gloss20Gu?.mid ?? 0)).toBe(49);
		// On light the last row is not worked.
		expect(Math.round(totals.gloss20Gu?.mid ?? 0)).toBe(76);
	});

	it("says that the substrate is not named, once", () => {
		const { heatUnknown, totals } = report(rows, { clearCoats: ["refinish"] });
		expect(totals.hottestC).toBeNull();
		expect(heatUnknown).toEqual([
			{ row: null, quantity: "hottestC", why: "no-substrate", measure: "name-the-substrate" },
		]);
	});

	it("tells vibration, noise and cost of one car, and on how many the values are reached", () => {
		const tool = { id: "rot", name: "Rotary", kind: "rotary" as const, vibrationMs2: 5, noiseDb: 95, diameterMm: 180 };
		const liquid = {
			id: "cut",
			name: "Cut",
			kind: "liquid" as const,
			class: "heavy-cut" as const,
			mlPerSection: 5,
			price: 40,
		};
		const shop = shopWith({ tools: [tool], liquids: [liquid] }, { currency: "EUR", labourPerHour: 60 });
		const row: Fragment = { ...compound("heavy-cut", "wool-twisted"), tool: "rot", liquid: "cut" };
		const { work, totals } = report([row], scope, {}, shop);
		const minutes = totals.minutes?.mid ?? 0;
		// 5 m/s² reaches 2.5 m/s² in 120 minutes.
		expect(work.carsToAction?.mid).toBeCloseTo(120 / minutes, 3);
		expect(work.carsToLimit?.mid).toBeCloseTo(480 / minutes, 3);
		expect(work.tools.map(({ tool: name, rows: at }) => [name, at])).toEqual([["Rotary", [1]]]);
		// 95 dB(A) for 240 minutes is the whole dose by the first criterion.
		expect(work.noise[0]?.dosePercent?.mid).toBeCloseTo((100 * minutes) / 240, 3);
		expect(work.cost?.mid).toBeCloseTo(minutes + 0.2, 4);
		expect(work.currency).toBe("EUR");
		expect(work.unknown).toEqual([]);
	});

	it("says what of them it does not know, and never that it is nothing", () => {
		const { work } = report([compound("heavy-cut", "wool-twisted")], scope);
		expect([work.vibrationMs2, work.cost, work.carsToAction, work.noise[0]?.dosePercent]).toEqual([
			null,
			null,
			null,
			null,
		]);
		expect(new Set(work.unknown.map(({ quantity }) => quantity))).toEqual(new Set(["vibration", "noise", "cost"]));
	});
});

function report(rows: readonly Fragment[], scope: Procedure["scope"], asked = {}, shop: Shop = genericShop) {
	const steps = rows.map((row, index) => ({ id: `aaaaaaaaa${String.fromCharCode(97 + index)}`, ...row }) as Step);
	return forecastReport(
		{ format: 1, id: "made", title: { en: "Made" }, ...(scope ? { scope } : {}), steps },
		shop,
		asked,
	);
}
