import { describe, expect, it } from "vitest";
import bookFile from "../../../procedures/quillfeather/book.json" with { type: "json" };
import limitsFile from "../../../procedures/quillfeather/limits.json" with { type: "json" };
import peel from "../../../procedures/quillfeather/peel-panel-discs.procedure.json" with { type: "json" };
import stockFile from "../../../procedures/quillfeather/stock.json" with { type: "json" };
import { forecastReport } from "../../../src/check/forecast-report.ts";
import type { Book, Limits, Procedure, Stock } from "../../../src/model/generated/types.ts";
import { type ResolvedRow, resolveRows } from "../../../src/model/resolve.ts";
import { shopOf } from "../../../src/model/shop.ts";
import { rowDefaults } from "../../../src/workbench/sheet/row-defaults.ts";
import { whyRow } from "../../../src/workbench/sheet/why-row.ts";

const shop = shopOf(bookFile as unknown as Book, stockFile as unknown as Stock, limitsFile as unknown as Limits);
const procedure = peel as unknown as Procedure;
const rows = resolveRows(procedure, shop);
const row = (number: number) => rows[number - 1] as ResolvedRow;

describe("why a row is there", () => {
	const report = forecastReport(procedure, shop);

	it.each([
		[1, /dust and oils/],
		[3, /^It reads the film: below \d+ µm of clear the work stops here\.$/],
		[4, /^It takes [\d.]+ µm off the clear; the deepest scratch after it is its own, [\d.]+ µm; row 5 clears them\.$/],
		[9, /clears the scratches of row 6 and leaves its own, [\d.]+ µm; row 11 clears them\.$/],
		[15, /whether the rows before/],
	])("says of row %i what it removes, leaves and clears", (number, sentence) => {
		expect(whyRow(row(number), report, "um", "en")).toMatch(sentence);
	});

	it("follows language and unit", () => {
		expect(whyRow(row(4), report, "mil", "es")).toMatch(/^Quita \d,\d\d mil de barniz; .* la fila 5 los elimina\.$/);
	});

	it("says unknown as unknown", () => {
		const [, , , level] = procedure.steps ?? [];
		const halfTyped = {
			...procedure,
			steps: [{ id: level?.id ?? "", stage: "level" as const }, ...(procedure.steps ?? []).slice(4)],
		};
		const [first, next] = resolveRows(halfTyped, shop);
		const unknown = forecastReport(halfTyped, shop);
		expect(whyRow(first as ResolvedRow, unknown, "um", "en")).toMatch(/not complete/);
		expect(whyRow(next as ResolvedRow, unknown, "um", "en")).toMatch(/which scratch it leaves is not known/);
	});
});

describe("what an empty field counts as", () => {
	it("comes with where it is from, and only where the row is silent", () => {
		const defaults = rowDefaults(row(9), shop, "en");
		expect(defaults.forceN).toEqual({ text: expect.stringMatching(/N$/), from: "usual for Rotary polisher 180 mm" });
		expect(defaults.sectionM2?.from).toBe("house limit");
		expect(defaults.place).toBeUndefined();
		expect(rowDefaults(row(4), shop, "en").speed).toEqual({
			text: expect.stringMatching(/^\d+ opm$/),
			from: expect.stringMatching(/dial table/),
		});
		expect(rowDefaults(row(4), shop, "en").carrier?.from).toMatch(/^from the stock: /);
	});
});
