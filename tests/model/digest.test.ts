import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Procedure } from "../../src/model/generated/types.ts";
import { canonicalJson, cardCode, digestOf } from "../../src/model/digest.ts";
import { genericShop, shopOf } from "../../src/model/shop.ts";

describe("canonicalJson", () => {
	it("gives the example of RFC 8785, section 3.2.2 and 3.2.3 (from memory)", () => {
		const sample = JSON.parse(
			String.raw`{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],"string":"\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/","literals":[null,true,false]}`,
		) as unknown;
		expect(canonicalJson(sample)).toBe(
			String.raw`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
		);
	});

	it("sorts members by UTF-16 code unit, as RFC 8785 asks (its example of key order, from memory)", () => {
		const keys = ["€", "\r", "\ufb33", "1", "😀", "\u0080", "ö"];
		const sorted = ["\r", "1", "\u0080", "ö", "€", "😀", "\ufb33"];
		const text = canonicalJson(Object.fromEntries(keys.map((key) => [key, 0])));
		expect(text).toBe(`{${sorted.map((key) => `${JSON.stringify(key)}:0`).join(",")}}`);
	});

	it("does not depend on the order in which members were set", () => {
		fc.assert(
			fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (record) => {
				const turned = Object.fromEntries(Object.entries(record).toReversed());
				expect(canonicalJson(turned)).toBe(canonicalJson(record));
			}),
			{ seed: 5, numRuns: 200 },
		);
	});
});

describe("digestOf", () => {
	it("is SHA-256 over that text, as Node's own implementation has it", () => {
		fc.assert(
			fc.property(fc.jsonValue(), (value) => {
				expect(digestOf(value)).toBe(createHash("sha256").update(canonicalJson(value)).digest("hex"));
			}),
			{ seed: 6, numRuns: 200 },
		);
	});
});

describe("cardCode", () => {
	const procedure: Procedure = {
		format: 1,
		id: "nibs",
		title: { en: "Nibs" },
		state: "draft",
		revision: 1,
		steps: [{ id: "aaaaaaaaaa", stage: "sand", abrasive: "disc-fine" }],
	};
	const book = { format: 1, id: "shop", name: "Shop" };
	const abrasive = { id: "disc-fine", name: "Fine disc", grade: "P2000" };
	const shop = shopOf(book, { format: 1, abrasives: [abrasive] }, undefined);

	it("is ten characters without I, L, O and U", () => {
		expect(cardCode(procedure, shop)).toMatch(/^[0-9A-HJKMNP-TV-Z]{10}$/);
	});

	it("stays when only state and revision change", () => {
		expect(cardCode({ ...procedure, state: "released", revision: 2 }, shop)).toBe(cardCode(procedure, shop));
	});

	it.each([
		["a row", { ...procedure, steps: [{ id: "aaaaaaaaaa", stage: "sand" as const, abrasive: "P2000" }] }, shop],
		[
			"an item of the stock that a row names",
			procedure,
			shopOf(book, { format: 1, abrasives: [{ ...abrasive, grade: "P1500" }] }, undefined),
		],
		["a limit", procedure, shopOf(book, shop.stock, { format: 1, values: { spotMm: { value: 25 } } })],
	])("changes with %s", (_, changed, within) => {
		expect(cardCode(changed, within)).not.toBe(cardCode(procedure, shop));
	});

	it("stays when an item changes that no row names", () => {
		const more = { format: 1, abrasives: [abrasive, { id: "other", name: "Other", grade: "P800" }] };
		expect(cardCode(procedure, shopOf(book, more, undefined))).toBe(cardCode(procedure, shop));
		expect(cardCode({ ...procedure, steps: [] }, genericShop)).not.toBe(cardCode(procedure, genericShop));
	});
});
