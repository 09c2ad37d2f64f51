import { describe, expect, it } from "vitest";
import { costOf, costOfDay } from "../../src/forecast/cost.ts";
import type { Book, Stock } from "../../src/model/generated/types.ts";
import { dayOf, rowsOf, shopWith } from "./day.ts";
import { type Fragment, polish, sand } from "./rows.ts";

const stock: Omit<Stock, "format"> = {
	abrasives: [
		{ id: "disc", name: "Disc", grade: "P1500", carrier: "film", lifeM2: 1.2, price: 1.2 },
		{ id: "no-life", name: "No life", grade: "P2000", carrier: "film", price: 2 },
		{ id: "life-of-nothing", name: "Life of nothing", grade: "P2000", carrier: "film", lifeM2: 0, price: 2 },
		{ id: "no-price", name: "No price", grade: "P1500", carrier: "film", lifeM2: 1.2 },
	],
	liquids: [
		{ id: "cut", name: "Cut", class: "fine", mlPerSection: 5, price: 40 },
		{ id: "no-amount", name: "No amount", class: "fine", price: 40 },
	],
};
const shop = shopWith(stock, { currency: "EUR", labourPerHour: 60 });
const cost = (...fragments: Fragment[]) => costOf(rowsOf(fragments, shop), shop);
const minutes = (count: number): Fragment => ({ work: { unit: "minutes", low: count, high: count } });
const disc = sand("disc", minutes(3));
const cut: Fragment = { ...polish("fine", "foam-soft", minutes(6)), liquid: "cut" };

describe("the cost of a car", () => {
	it("is discs by life, liquid by the millilitre and labour by the minute", () => {
		const found = cost(disc, cut);
		// 0.25 m² of a life of 1.2 m² at 1.20; 5 ml at 40 a litre; 9 min at 60 an hour.
		expect(found.discs?.mid).toBeCloseTo(0.25, 9);
		expect(found.liquids?.mid).toBeCloseTo(0.2, 9);
		expect(found.labour).toEqual({ mid: 9, low: 9, high: 9 });
		expect(found.total?.mid).toBeCloseTo(9.45, 9);
		expect([found.currency, found.unknown]).toEqual(["EUR", []]);
	});

	it("counts fractions of discs in the middle and whole ones at the upper end", () => {
		expect(cost(disc).discs).toEqual({ mid: 0.25, low: 0.25, high: 1.2 });
		expect(cost(disc, disc).discs).toEqual({ mid: 0.5, low: 0.5, high: 2.4 });
	});

	it.each<[string, Fragment, number, number]>([
		["its life", {}, 0.25 / 1.2, 1],
		["its life, on a panel", { place: "panel" }, 1.5 / 1.2, 2],
		["sections, where the row says so", { place: "panel", discEvery: { unit: "section", count: 2 } }, 3, 3],
		["sections, rounded", { place: "panel", discEvery: { unit: "section", count: 4 } }, 1.5, 2],
		["panels, where the row says so", { place: "panel", discEvery: { unit: "panel", count: 2 } }, 0.5, 1],
		["its life, where it is changed after nothing", { discEvery: { unit: "section", count: 0 } }, 0.25 / 1.2, 1],
		["the usual life dry, where the stock says none", { abrasive: "no-life" }, 0.25, 1],
		["the usual life, where the stock's is nothing", { abrasive: "life-of-nothing" }, 0.25, 1],
		["the usual life damp", { abrasive: "no-life", wetness: "damp" }, 0.25 / 3, 1],
	])("counts discs by %s", (_, other, fractions, whole) => {
		const [row] = cost({ ...disc, ...other }).rows;
		expect(row?.discs?.mid).toBeCloseTo(fractions, 6);
		expect(row?.discs?.high).toBe(whole);
	});

	it.each<[string, Fragment, number]>([
		["a section", {}, 5],
		["the sections of a panel", { place: "panel" }, 30],
		["sections begun", { place: "panel", sectionM2: 0.4 }, 20],
		["a spot like a section", { place: "spot" }, 5],
		["what the row says before what the stock says", { amountMl: 2 }, 2],
	])("counts liquid for %s, known within a third", (_, other, ml) => {
		const [row] = cost({ ...cut, ...other }).rows;
		expect(row?.liquidMl?.mid).toBeCloseTo(ml, 6);
		expect(row?.liquidMl?.high).toBeCloseTo(1.3 * ml, 5);
	});

	it("counts eleven sections of 0.1 m² in 1.1 m²", () => {
		const small = { ...shop, limits: { ...shop.limits, panelM2: 1.1 } };
		const row: Fragment = { ...cut, place: "panel", sectionM2: 0.1 };
		expect(costOf(rowsOf([row], small), small).rows[0]?.liquidMl?.mid).toBeCloseTo(55, 6);
	});

	it("has no labour in a wait, however long", () => {
		const found = cost(disc, { stage: "wait", waitMinutes: 600, waitFor: "cure" }, { stage: "wait", waitFor: "cool" });
		expect([found.labour?.mid, found.unknown]).toEqual([3, []]);
	});

	it("spans the interval of the minutes", () => {
		const { labour } = cost(sand("disc", { work: { unit: "minutes", low: 2, high: 4 } }));
		expect(labour).toEqual({ mid: 3, low: 2, high: 4 });
	});

	it.each<[string, Fragment, string, ("discs" | "liquids" | "labour")[]]>([
		["a disc without a price", { ...disc, abrasive: "no-price" }, "price-not-stated", ["discs"]],
		["a disc named by its grade", sand("P1500"), "price-not-stated", ["discs"]],
		["a liquid named by its class", { ...polish("fine", "foam-soft"), amountMl: 5 }, "price-not-stated", ["liquids"]],
		["a liquid without an amount", { ...cut, liquid: "no-amount" }, "amount-not-stated", ["liquids"]],
		["a liquid on sections of no area", { ...cut, place: "panel", sectionM2: 0 }, "amount-not-stated", ["liquids"]],
		["work until flush", { ...disc, work: { unit: "until-flush" } }, "minutes-unknown", ["labour"]],
		["a row that lacks all but its stage", { stage: "sand" }, "incomplete-row", ["discs", "liquids", "labour"]],
		["a wipe that says not which", { stage: "wipe" }, "incomplete-row", ["labour"]],
	])("is unknown and not nothing: %s", (_, fragment, why, spoilt) => {
		const found = cost(disc, cut, fragment);
		for (const part of ["discs", "liquids", "labour"] as const)
			expect([part, found[part] === null]).toEqual([part, spoilt.includes(part)]);
		expect([found.total, found.rows[2]?.cost]).toEqual([null, null]);
		expect(found.rows[0]?.cost).not.toBeNull();
		expect(found.unknown).toEqual([
			expect.objectContaining({ quantity: "cost", why, row: expect.objectContaining({ index: 2 }) }),
		]);
	});

	it.each<[string, Partial<Book>, string, (number | null)[]]>([
		["a labour rate", { currency: "EUR" }, "labour-rate-not-stated", [0.25, 0.2, null, null]],
		["a currency", { labourPerHour: 60 }, "currency-not-stated", [null, null, null, null]],
	])("is unknown in a book without %s", (_, book, why, expected) => {
		const bare = shopWith(stock, book);
		const found = costOf(rowsOf([disc, cut], bare), bare);
		const parts = [found.discs, found.liquids, found.labour, found.total];
		expect(parts.map((part) => part && part.mid)).toEqual(expected);
		expect(found.unknown).toEqual([expect.objectContaining({ row: null, why })]);
	});

	it("of no rows is nothing", () => {
		expect(cost()).toMatchObject({ total: { mid: 0, low: 0, high: 0 }, unknown: [] });
	});
});

describe("the cost of a day", () => {
	it("is that of each car times the cars", () => {
		const found = costOfDay(dayOf(shop, [[disc, cut], 3], [[disc], 4], [[sand("P1500")], 0]), shop);
		expect(found.discs).toEqual({ mid: 7 * 0.25, low: 7 * 0.25, high: expect.closeTo(7 * 1.2, 6) });
		expect(found.liquids?.mid).toBeCloseTo(3 * 0.2, 6);
		expect(found.labour?.mid).toBeCloseTo(3 * 9 + 4 * 3, 6);
		expect(found.total?.mid).toBeCloseTo(3 * 9.45 + 4 * 3.25, 6);
		expect(found.unknown).toEqual([]);
	});

	it("is unknown where one car's is, and says what the book lacks once", () => {
		const bare = shopWith({}, { labourPerHour: 60 });
		const found = costOfDay(dayOf(bare, [[sand("P1500")], 3], [[sand("P2000")], 4]), bare);
		expect(found.total).toBeNull();
		expect(found.unknown.map(({ why }) => why)).toEqual([
			"currency-not-stated",
			"price-not-stated",
			"price-not-stated",
		]);
	});
});
