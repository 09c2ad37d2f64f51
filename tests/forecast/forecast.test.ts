import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Forecast } from "../../src/forecast/outcome.ts";
import type { Estimate } from "../../src/model/generated/types.ts";
import { genericShop } from "../../src/model/shop.ts";
import {
	clearCoats,
	compound,
	type Fragment,
	forecast,
	knownRows,
	passes,
	polish,
	refineP3000,
	sand,
	sandByHand,
	wholeChain,
} from "./rows.ts";

const seeded = { seed: 20240517, numRuns: 300 };

// Common practice, no source: the outcomes that the default coefficients must give, as the trade writes them. The
// figures are rounded to two or three digits, the medium cut's more (0.673), so that 1.5 % is asked for.
describe("the defaults (common practice, no source)", () => {
	it.each<[string, Fragment, number, number]>([
		["P1500 film dry, firm plate, 3 passes", sand("P1500"), 3.52, 1.39],
		["P2000 film dry, 3 passes", sand("P2000"), 2.88, 1.39],
		["P3000 foam damp, 4 passes", refineP3000, 1.09, 1.85],
		["heavy-cut on twisted wool, rotary, 4 passes", compound("heavy-cut", "wool-twisted"), 2.05, 0.74],
		["medium-cut on medium foam, orbital, 4 passes", polish("medium-cut", "foam-medium"), 0.68, 2.22],
	])("give %s", (_, fragment, removedUm, minutes) => {
		const [row] = forecast([fragment]).rows;
		expect(Math.abs((row?.removedUm?.mid ?? 0) / removedUm - 1)).toBeLessThan(0.015);
		expect(Math.abs((row?.minutes?.mid ?? 0) / minutes - 1)).toBeLessThan(0.015);
	});

	// One digit: anything that rounds to it.
	it("give finest on soft foam, orbital, 4 passes", () => {
		const [row] = forecast([polish("finest", "foam-soft")]).rows;
		expect(row?.removedUm?.mid.toFixed(2)).toBe("0.06");
		expect(row?.minutes?.mid.toFixed(2)).toBe("2.22");
	});

	it("give the whole chain", () => {
		expect(Math.abs((forecast(wholeChain).totals.removedUm?.mid ?? 0) / 10.2 - 1)).toBeLessThan(0.015);
	});

	it("take more off factory clear with the whole chain than one repair may", () => {
		const { totals, mostTakenUm } = forecast(wholeChain, { clearCoat: "factory" });
		expect(totals.removedUpperUm).toBeGreaterThan(mostTakenUm ?? 0);
	});
});

describe("a spot", () => {
	const spot: Fragment = { place: "spot" };

	it("is the worst point: its own rows and every row that covers it", () => {
		const { totals, rows } = forecast([sand("P2000", spot), compound("heavy-cut", "wool-twisted")]);
		expect(totals.removedUm?.mid).toBeCloseTo((rows[0]?.removedUm?.mid ?? 0) + (rows[1]?.removedUm?.mid ?? 0), 5);
	});

	it("leaves the field as it was", () => {
		fc.assert(
			fc.property(knownRows, knownRows, (some, others) => {
				const around = others.filter(({ place }) => place !== "spot");
				const mixed = [...some.map((one) => ({ ...one, ...spot })), ...around];
				expect(forecast(mixed).totals.fieldLeftUm).toEqual(forecast(around).totals.fieldLeftUm);
			}),
			seeded,
		);
	});
});

describe("an edge", () => {
	it("is judged in the rows that work it freely, at the pressure there", () => {
		const { totals, rows } = forecast([sand("P1500", { edges: "free" }), sand("P2000", { edges: "taped" })]);
		const atEdgeUm = 2 * (rows[0]?.removedUm?.mid ?? 0);
		expect(rows.map(({ edgeRemovedUm }) => edgeRemovedUm?.mid ?? null)).toEqual([expect.closeTo(atEdgeUm, 5), null]);
		expect(totals.edgeLeftLeastUm).toBeCloseTo(60 - atEdgeUm, 5);
	});

	it("shows its figure where nothing is said of edges, and is not judged by it", () => {
		const { totals, rows } = forecast([sand("P1500")]);
		expect(rows[0]?.edgeRemovedUm?.mid).toBeCloseTo(2 * 3.518584, 5);
		expect(totals.edgeLeftLeastUm).toBeNull();
	});

	it("is all that a row on an edge strip works", () => {
		const { totals, rows } = forecast([sand("P1500", { place: "edge-strip", edges: "by-hand" })]);
		expect([totals.removedUm?.mid, totals.filmLeftUm?.mid]).toEqual([0, 60]);
		expect(totals.edgeLeftLeastUm).toBeCloseTo(60 - (rows[0]?.removedUm?.mid ?? 0), 5);
	});
});

describe("what is not known", () => {
	const incomplete: Fragment = { stage: "sand", abrasive: "P1500" };

	it("spoils what comes after it, and nothing before", () => {
		const { rows, totals, unknown } = forecast([sand("P1500"), incomplete, sand("P2000")]);
		expect(rows.map(({ removedUm }) => removedUm !== null)).toEqual([true, false, true]);
		expect(rows.map(({ filmLeftUm }) => filmLeftUm !== null)).toEqual([true, false, false]);
		expect(rows.map(({ scratchUm }) => scratchUm !== null)).toEqual([true, false, false]);
		expect([totals.removedUm, totals.removedUpperUm, totals.filmLeftLeastUm, totals.scratchUm]).toEqual([
			null,
			null,
			null,
			null,
		]);
		expect(unknown.map(({ row, quantity, why }) => [row?.index, quantity, why])).toEqual(
			["minutes", "removedUm", "filmLeftUm", "scratchUm"].map((quantity) => [1, quantity, "incomplete-row"]),
		);
	});

	it.each<[string, Fragment]>([
		["an incomplete wipe", { stage: "wipe" }],
		["an empty row", {}],
		["a row with only a note", { note: "ask first" }],
	])("of %s does not spoil the film", (_, fragment) => {
		const { totals } = forecast([sand("P1500"), fragment]);
		expect(totals.filmLeftUm?.mid).toBeCloseTo(60 - 3.518584, 5);
		expect(totals.scratchUm?.mid).toBeCloseTo(1.701, 6);
	});

	it("of a row without a stage spoils the film where it names a tool, or text that was not read", () => {
		expect(forecast([{ tool: "rotary" }]).totals.filmLeftUm).toBeNull();
		expect(forecast([{ asTyped: { abrasive: "P15oo" } }]).totals.filmLeftUm).toBeNull();
	});

	it("of work until flush where no proud defect is named is its removal, but not the scratch that it leaves", () => {
		const { rows, totals, unknown } = forecast([
			sandByHand("P2000", { place: "spot", work: { unit: "until-flush" } }),
			polish("fine", "foam-soft"),
		]);
		expect([rows[0]?.removedUm, rows[0]?.filmLeftUm, totals.filmLeftLeastUm]).toEqual([null, null, null]);
		expect(rows[0]?.scratchUm?.mid).toBeCloseTo(0.135 * 10.3, 6);
		expect(totals.scratchUm?.mid).toBeCloseTo(0.135 * 10.3 - (rows[1]?.removedUm?.mid ?? 0), 5);
		expect(unknown).toContainEqual(
			expect.objectContaining({ quantity: "removedUm", why: "until-flush", measure: "read-clear-after-row" }),
		);
		expect(totals.fieldLeftUm?.mid).toBeCloseTo(60 - (rows[1]?.removedUm?.mid ?? 0), 5);
	});

	it("of a dial mark without a table is said with what would tell", () => {
		const { rows, unknown } = forecast([polish("fine", "foam-soft", { speed: { unit: "dial", low: 4, high: 4 } })]);
		expect([rows[0]?.removedUm, rows[0]?.minutes]).toEqual([null, null]);
		expect(unknown[0]).toMatchObject({ why: "dial-not-in-table", measure: "fill-dial-table" });
	});

	it("of a defect of the shop's own without a depth is the scratch", () => {
		const defects = [{ id: "scrape", name: { en: "Scrape" }, position: "recessed" as const, polishable: true }];
		const shop = { ...genericShop, book: { ...genericShop.book, defects } };
		const { totals, unknown } = forecast([sand("P1500")], { defect: "scrape", shop });
		expect([totals.scratchUm, totals.removedUm?.mid]).toEqual([null, expect.closeTo(3.518584, 6)]);
		expect(unknown).toEqual([
			{ row: null, quantity: "scratchUm", why: "defect-without-depth", measure: "fill-the-depth" },
		]);
	});

	it("never becomes a number", () => {
		const unread = fc.constantFrom<Fragment>(
			incomplete,
			sand("P1500", { work: { unit: "until-flush" } }),
			sand("P1500", { overlap: 1 }),
			sand("P1500", { armSpeedMs: 0 }),
			sand("P1500", { sectionM2: 0 }),
			polish("fine", "foam-soft", { speed: { unit: "dial", low: 4, high: 4 } }),
			sandByHand("P1500", { tool: "cloth" }),
		);
		fc.assert(
			fc.property(knownRows, unread, knownRows, (before, row, after) => {
				const found = forecast([...before, row, ...after]);
				const from = before.length;
				expect(found.rows[from]?.removedUm).toBeNull();
				for (const outcome of found.rows.slice(from)) expect(outcome.filmLeftUm).toBeNull();
				expect([found.totals.removedUm, found.totals.removedUpperUm, found.totals.filmLeftUm]).toEqual([
					null,
					null,
					null,
				]);
				for (const figure of figuresOf(found)) expect(figure).toSatisfy(Number.isFinite);
			}),
			seeded,
		);
	});
});

describe("rows", () => {
	it("done only if needed count as done", () => {
		expect(forecast([sand("P1500", { need: "if-needed" })]).totals).toEqual(forecast([sand("P1500")]).totals);
	});

	it("with a blade lose no film around the defect", () => {
		const blade: Fragment = { stage: "level", tool: "nib-blade", place: "spot", work: { unit: "until-flush" } };
		const { totals, rows } = forecast([blade]);
		expect([rows[0]?.removedUm?.mid, rows[0]?.removedUpperUm, totals.filmLeftUm?.mid]).toEqual([0, 0, 60]);
	});

	it("that are none leave everything as it was", () => {
		const { totals, start } = forecast([]);
		expect(totals).toMatchObject({
			removedUpperUm: 0,
			filmLeftLeastUm: 60,
			filmLeftUm: { mid: 60, low: 45, high: 75 },
		});
		expect(start?.clearAtLeastUm).toBe(42);
	});
});

describe("laws", () => {
	const law = (check: (rows: Fragment[], clearCoat: Parameters<typeof at>[1]) => void) =>
		fc.assert(fc.property(knownRows, clearCoats, check), seeded);
	const at = (rows: readonly Fragment[], clearCoat: NonNullable<Parameters<typeof forecast>[1]>["clearCoat"]) =>
		forecast(rows, { clearCoat, defect: "sand-scratch" });

	it("more passes never leave more film", () => {
		law((rows, clearCoat) => {
			const more = rows.map((row) =>
				row.work?.unit === "passes" ? { ...row, ...passes((row.work.low ?? 0) + 1, (row.work.high ?? 0) + 1) } : row,
			);
			const [few, many] = [at(rows, clearCoat).totals, at(more, clearCoat).totals];
			expect(many.filmLeftUm?.mid).toBeLessThanOrEqual(few.filmLeftUm?.mid ?? Number.NaN);
			expect(many.filmLeftLeastUm).toBeLessThanOrEqual(few.filmLeftLeastUm ?? Number.NaN);
		});
	});

	it("a finer grade never cuts more, nor leaves a deeper scratch", () => {
		law((rows, clearCoat) => {
			const finer = rows.map((row) => (row.abrasive === undefined ? row : { ...row, abrasive: "P3000" }));
			const [coarse, fine] = [at(rows, clearCoat).rows, at(finer, clearCoat).rows];
			for (const [index, { removedUm, ownScratchUm }] of fine.entries()) {
				expect(removedUm?.mid).toBeLessThanOrEqual(coarse[index]?.removedUm?.mid ?? Number.NaN);
				expect(ownScratchUm?.mid ?? 0).toBeLessThanOrEqual(coarse[index]?.ownScratchUm?.mid ?? 0);
			}
		});
	});

	it("harder clear loses less", () => {
		fc.assert(
			fc.property(knownRows, (rows) => {
				const lost = (["factory-hard", "factory", "refinish-fast"] as const).map(
					(clearCoat) => at(rows, clearCoat).totals.removedUm?.mid ?? Number.NaN,
				);
				expect(lost[0]).toBeLessThanOrEqual(lost[1] ?? Number.NaN);
				expect(lost[1]).toBeLessThanOrEqual(lost[2] ?? Number.NaN);
			}),
			seeded,
		);
	});

	it("a scratch is never deeper than the row's own and what was there before", () => {
		law((rows, clearCoat) => {
			const start = Math.sqrt(0.5 * 3);
			let before = { mid: start, high: 3 };
			for (const { scratchUm, ownScratchUm } of at(rows, clearCoat).rows) {
				expect(scratchUm?.mid).toBeLessThanOrEqual(Math.max(before.mid, ownScratchUm?.mid ?? 0) + 1e-6);
				before = scratchUm ?? { mid: Number.NaN, high: Number.NaN };
			}
		});
	});

	it("every interval holds its middle, and nothing is below nothing", () => {
		law((rows, clearCoat) => {
			for (const { low, mid, high } of estimatesOf(at(rows, clearCoat))) {
				expect([low <= mid, mid <= high, low >= 0]).toEqual([true, true, true]);
			}
		});
	});

	it("chances lie between 0 and 1", () => {
		law((rows, clearCoat) => {
			for (const { notClearedChance, ownScratchUm } of at(rows, clearCoat).rows) {
				if (ownScratchUm === null) expect(notClearedChance).toBeNull();
				else expect(notClearedChance).toSatisfy((chance: number) => chance >= 0 && chance <= 1);
			}
		});
	});

	it("what starts by the start reading and loses as much as forecast keeps the least", () => {
		law((rows, clearCoat) => {
			const { start, leastLeftUm, totals } = at(rows, clearCoat);
			const left = (start?.clearAtLeastUm ?? Number.NaN) - (totals.removedUpperUm ?? Number.NaN);
			expect(left).toBeGreaterThanOrEqual(leastLeftUm ?? Number.NaN);
		});
	});

	it("the same input gives the same forecast, and is not changed", () => {
		law((rows, clearCoat) => {
			const copy = structuredClone(rows);
			expect(JSON.stringify(at(rows, clearCoat))).toBe(JSON.stringify(at(copy, clearCoat)));
			expect(rows).toEqual(copy);
		});
	});
});

function estimatesOf({ rows, totals, startUm }: Forecast): Estimate[] {
	const all = [
		startUm,
		totals.removedUm,
		totals.filmLeftUm,
		totals.fieldLeftUm,
		totals.scratchUm,
		totals.defectLeftUm,
		totals.minutes,
		...rows.flatMap((one) => [
			one.removedUm,
			one.edgeRemovedUm,
			one.filmLeftUm,
			one.scratchUm,
			one.ownScratchUm,
			one.defectLeftUm,
			one.minutes,
		]),
	];
	return all.filter((one) => one !== null);
}

function figuresOf(found: Forecast): number[] {
	const { totals, start, stop, rows } = found;
	return [
		...estimatesOf(found).flatMap(({ mid, low, high }) => [mid, low, high]),
		totals.removedUpperUm,
		totals.filmLeftLeastUm,
		totals.edgeLeftLeastUm,
		start?.clearAtLeastUm ?? null,
		...stop.map(({ clearBelowUm }) => clearBelowUm),
		...rows.flatMap(({ removedUpperUm, notClearedChance }) => [removedUpperUm, notClearedChance]),
	].filter((one) => one !== null);
}
