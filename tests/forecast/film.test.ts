import { describe, expect, it } from "vitest";
import type { Film, GaugeItem } from "../../src/model/generated/types.ts";
import { genericShop } from "../../src/model/shop.ts";
import { compound, type Fragment, forecast, passes, polish, sand, seededNormal, wholeChain } from "./rows.ts";

const read: Fragment = { stage: "measure" };
const um = (mid: number, low: number, high: number) => ({ mid, low, high });

function shopWith(...gauges: Omit<GaugeItem, "name" | "reads">[]) {
	const named = gauges.map((gauge): GaugeItem => ({ name: gauge.id, reads: ["steel"], ...gauge }));
	return { ...genericShop, stock: { format: 1, gauges: named } };
}

describe("film at the start", () => {
	const startUm = (film: Film, other: Parameters<typeof forecast>[1] = {}, rows = [read, sand("P1500")]) =>
		forecast(rows, { procedure: { film }, ...other }).startUm;

	it("is what the house assumes for the clear coat", () => {
		expect(startUm({}, { clearCoat: "factory" })).toEqual(um(45, 35, 55));
	});

	it("is what the procedure assumes instead", () => {
		expect(startUm({ assumed: { refinish: um(70, 60, 80) } })).toEqual(um(70, 60, 80));
	});

	it("is a reading before the first cut, with the error of the house", () => {
		expect(startUm({ known: "clear-reading", startReadingUm: 52 })).toEqual(um(52, 50, 54));
	});

	it("is that reading with the error of the gauge the row names", () => {
		const shop = shopWith({ id: "gauge-a", layer: "clear", accuracyUm: 3 });
		const rows = [{ ...read, tool: "gauge-a" }, sand("P1500")];
		expect(startUm({ startReadingUm: 52 }, { shop }, rows)).toEqual(um(52, 49, 55));
	});

	it.each<[string, Film, Fragment[]]>([
		["comes after the first cut", { known: "clear-reading", startReadingUm: 52 }, [sand("P1500"), read]],
		["is of the total", { known: "total-reading", startReadingUm: 52 }, [read, sand("P1500")]],
		["is not given", { known: "clear-reading" }, [read, sand("P1500")]],
	])("is not a reading that %s", (_, film, rows) => {
		expect(startUm(film, {}, rows)).toEqual(um(60, 45, 75));
	});

	it("is not known for a matt clear, and says why", () => {
		const { startUm, totals, unknown } = forecast([sand("P1500")], { clearCoat: "matt" });
		expect([startUm, totals.filmLeftUm, totals.filmLeftLeastUm]).toEqual([null, null, null]);
		expect(unknown).toEqual([{ row: null, quantity: "filmLeftUm", why: "matt-clear", measure: "take-matt-out" }]);
	});

	it("is what the procedure assumes for every clear coat, where none is named", () => {
		const same = { factory: um(50, 40, 60), refinish: um(50, 40, 60) };
		expect(startUm({ assumed: same }, { clearCoat: undefined })).toEqual(um(50, 40, 60));
	});

	it("is not known where none is named and they differ", () => {
		const assumed = { factory: um(45, 40, 60), refinish: um(50, 40, 60) };
		const found = forecast([sand("P1500")], { clearCoat: undefined, procedure: { film: { assumed } } });
		expect(found.startUm).toBeNull();
		expect(found.unknown[0]).toMatchObject({ why: "unknown-clear-coat", measure: "name-the-clear-coat" });
		expect(found.totals.removedUm?.mid).toBeCloseTo(3.5186, 3);
	});
});

describe("the least clear left", () => {
	const least = (film: Film, clearCoat?: "factory") => {
		const { leastLeftUm, leastLeftFrom } = forecast([read], { procedure: { film }, clearCoat });
		return [leastLeftUm, leastLeftFrom];
	};

	it("is the limit of the house", () => {
		expect(least({}, "factory")).toEqual([30, "house"]);
	});

	it("is what the procedure states where that is more", () => {
		expect(least({ leastLeftUm: 35 }, "factory")).toEqual([35, "procedure"]);
		expect(least({ leastLeftUm: 25 }, "factory")).toEqual([30, "house"]);
	});

	it("is what the procedure states where no clear coat is named, and else not known", () => {
		expect(least({ leastLeftUm: 35 })).toEqual([35, "procedure"]);
		expect(least({})).toEqual([null, null]);
	});
});

describe("the readings to start and to stop by", () => {
	// Natural variance of ln(total): family and hardness shared, force and arm of the one row.
	const sigma = Math.hypot(Math.log(1.6), Math.log(1.35), Math.log(1.3), Math.log(1.3)) / 1.96;
	const highUm = (upperUm: number) => upperUm * Math.exp(1.96 * sigma);

	it("leave the least after the most that may come off at the upper end of the work, gauge error included", () => {
		const { start, stop } = forecast([read, sand("P1500", passes(3, 4)), read]);
		const upperUm = (3.518584 * 4) / 3;
		expect(start).toEqual({ clearAtLeastUm: Math.ceil(40 + highUm(upperUm) + 2), totalAtLeastUm: null });
		expect(stop.map(({ row, clearBelowUm }) => [row.index, clearBelowUm])).toEqual([
			[0, start?.clearAtLeastUm],
			[2, 42],
		]);
	});

	it("add the most that may lie under the clear for a gauge that reads the total", () => {
		const film: Film = { known: "total-reading", underUm: um(70, 60, 82.5) };
		const { start, stop } = forecast([sand("P1500"), read], { procedure: { film } });
		expect(start?.totalAtLeastUm).toBe(Math.ceil(40 + highUm(3.518584) + 2 + 82.5));
		expect(stop.map(({ totalBelowUm }) => totalBelowUm)).toEqual([Math.ceil(40 + 2 + 82.5)]);
	});

	it("take the error of the gauge that the reading row names", () => {
		const shop = shopWith({ id: "gauge-a", layer: "clear", accuracyUm: 5 });
		const { stop } = forecast([sand("P1500"), { ...read, tool: "gauge-a" }], { shop });
		expect(stop[0]?.clearBelowUm).toBe(45);
	});

	it("do not turn up a whole micrometre by noise of the arithmetic", () => {
		const film: Film = { leastLeftUm: 40.1 + 0.2 - 0.3 + 2e-12 };
		expect(forecast([read], { procedure: { film } }).start?.clearAtLeastUm).toBe(42);
	});

	it("bound work until flush by sixty strokes", () => {
		const spot: Fragment = { place: "spot" };
		const flush = forecast([read, sand("P1500", { ...spot, work: { unit: "until-flush" } })]);
		const sixty = forecast([read, sand("P1500", { ...spot, work: { unit: "strokes", low: 60, high: 60 } })]);
		expect(flush.start).toEqual(sixty.start);
		expect(flush.rows[1]?.removedUpperUm).toBe(sixty.rows[1]?.removedUpperUm);
	});

	it("are left out where an incomplete row is still to come, and given after it", () => {
		const { start, stop } = forecast([read, { stage: "sand", abrasive: "P1500" }, read, polish("fine", "foam-soft")]);
		expect(start).toBeNull();
		expect(stop.map(({ row }) => row.index)).toEqual([2]);
	});

	it("are left out where no least is known", () => {
		expect(forecast([read, sand("P1500")], { clearCoat: "matt" })).toMatchObject({ start: null, stop: [] });
	});
});

describe("the intervals of film left and of what was taken off", () => {
	/**
	 * Shares of draws of every coefficient, force, speed and start for which film left, and what was taken off, lie
	 * inside their intervals.
	 *
	 * @param workedAt where between the middle (0) and the upper end (1) of the work the rows are done; -1: the lower end
	 */
	function coverage(fragments: readonly Fragment[], seed: number, workedAt = 0): { left: number; removed: number } {
		const { rows, totals } = forecast(fragments);
		if (totals.filmLeftUm === null || totals.removedUm === null) throw new Error("the film left is not known");
		const draw = seededNormal(seed);
		const sigma = (spread: number) => Math.log(spread) / 1.96;
		const draws = 20000;
		const inside = { left: 0, removed: 0 };
		for (let sample = 0; sample < draws; sample++) {
			const hardness = Math.exp(sigma(1.35) * draw());
			const families = new Map<string, number>();
			const startUm = 60 + (15 / 1.96) * draw();
			let removed = 0;
			for (const { row, removedUm, removedUpperUm } of rows) {
				if (row.kind !== "abrasive" && row.kind !== "liquid") continue;
				const family = row.kind === "abrasive" ? `${row.abrasive.carrier}` : `${row.liquid.class} ${row.pad.kind}`;
				const shared = families.get(family) ?? Math.exp(sigma(1.6) * draw());
				families.set(family, shared);
				const mid = removedUm?.mid ?? 0;
				const workedUm = mid + workedAt * ((removedUpperUm ?? 0) - mid);
				removed += workedUm * shared * hardness * Math.exp(sigma(1.3) * (draw() + draw()));
			}
			if (holds(totals.filmLeftUm, startUm - removed)) inside.left++;
			if (holds(totals.removedUm, removed)) inside.removed++;
		}
		return { left: inside.left / draws, removed: inside.removed / draws };
	}

	function holds({ low, high }: { low: number; high: number }, value: number): boolean {
		return value >= low && value <= high;
	}

	// 20,000 draws know a share of 95 % to 0.3 %; taking the sum of log-normals for one, and skewed tails in quadrature,
	// moves it by less than 1 %.
	it.each<[string, readonly Fragment[], number]>([
		["one row", [sand("P1500")], 1],
		["rows that share a carrier", [sand("P1200"), sand("P1500"), sand("P2000")], 2],
		["the whole chain", wholeChain, 3],
		["much compounding", [compound("heavy-cut", "wool-twisted", passes(20))], 4],
	])("hold nineteen draws in twenty after %s", (_, fragments, seed) => {
		const { left, removed } = coverage(fragments, seed);
		expect(Math.abs(left - 0.95)).toBeLessThan(0.013);
		expect(Math.abs(removed - 0.95)).toBeLessThan(0.013);
	});

	it("hold at least that many at either end of the work", () => {
		const rows = [sand("P1500", passes(2, 4)), compound("heavy-cut", "wool-twisted", passes(2, 6))];
		for (const end of [-1, 0, 1]) expect(coverage(rows, 5, end).left).toBeGreaterThan(0.937);
	});
});
