import { createHash } from "node:crypto";
import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cardCode, canonicalJson, digestOf } from "../../src/model/digest.ts";
import type { Procedure, Stock } from "../../src/model/generated/types.ts";
import { houseLimits } from "../../src/model/limits.ts";
import { genericShop, type Shop } from "../../src/model/shop.ts";

describe("canonicalJson", () => {
	// RFC 8785, section 3.2.2 (input) and 3.2.3 (output), from memory.
	it("writes the RFC's example as the RFC does", () => {
		const given = `{
			"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
			"string": "\\u20ac$\\u000F\\u000aA'\\u0042\\u0022\\u005c\\\\\\"\\/",
			"literals": [null, true, false]
		}`;
		expect(canonicalJson(JSON.parse(given))).toBe(
			'{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
		);
	});

	// RFC 8785, section 3.2.3, the sorting example, from memory.
	it("sorts members by UTF-16 code unit, a surrogate pair before U+FB33", () => {
		const given = {
			"\u20ac": "Euro Sign",
			"\r": "Carriage Return",
			"\ufb33": "Hebrew Letter Dalet With Dagesh",
			"1": "One",
			"\ud83d\ude00": "Emoji: Grinning Face",
			"\u0080": "Control",
			"\u00f6": "Latin Small Letter O With Diaeresis",
		};
		expect(Object.values(JSON.parse(canonicalJson(given).replace('"1":', '"_1":')))).toEqual([
			"Carriage Return",
			"One",
			"Control",
			"Latin Small Letter O With Diaeresis",
			"Euro Sign",
			"Emoji: Grinning Face",
			"Hebrew Letter Dalet With Dagesh",
		]);
	});

	// RFC 8785, appendix B, from memory: bits of the double, and how it is written.
	it.each([
		["0000000000000000", "0"],
		["8000000000000000", "0"],
		["0000000000000001", "5e-324"],
		["8000000000000001", "-5e-324"],
		["7fefffffffffffff", "1.7976931348623157e+308"],
		["ffefffffffffffff", "-1.7976931348623157e+308"],
		["4340000000000000", "9007199254740992"],
		["c340000000000000", "-9007199254740992"],
		["4430000000000000", "295147905179352830000"],
		["44b52d02c7e14af5", "9.999999999999997e+22"],
		["44b52d02c7e14af6", "1e+23"],
		["44b52d02c7e14af7", "1.0000000000000001e+23"],
		["444b1ae4d6e2ef4e", "999999999999999700000"],
		["444b1ae4d6e2ef4f", "999999999999999900000"],
		["444b1ae4d6e2ef50", "1e+21"],
		["3eb0c6f7a0b5ed8c", "9.999999999999997e-7"],
		["3eb0c6f7a0b5ed8d", "0.000001"],
		["41b3de4355555553", "333333333.3333332"],
		["41b3de4355555555", "333333333.3333333"],
		["41b3de4355555557", "333333333.33333343"],
		["becbf647612f3696", "-0.0000033333333333333333"],
		["43143ff3c1cb0959", "1424953923781206.2"],
	])("writes the double %s as %s", (bits, text) => {
		expect(canonicalJson(Buffer.from(bits, "hex").readDoubleBE())).toBe(text);
	});

	it("gives one text for one value, however its members were ordered", () => {
		fc.assert(
			fc.property(fc.jsonValue(), (value) => {
				expect(canonicalJson(reversed(value))).toBe(canonicalJson(value));
				expect(JSON.parse(canonicalJson(value))).toEqual(JSON.parse(JSON.stringify(value)));
			}),
			{ seed: 8785, numRuns: 300 },
		);
	});
});

describe("digestOf", () => {
	// FIPS 180-4 example, from memory: one block, two blocks; and the empty message.
	it.each([
		["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
		[
			"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
			"248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
		],
		["", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"],
	])("rests on a SHA-256 that knows %j", (message, digest) => {
		expect(bytesToHex(sha256(utf8ToBytes(message)))).toBe(digest);
	});

	it("agrees with Node's own SHA-256 over the canonical text of any value", () => {
		fc.assert(
			fc.property(fc.jsonValue(), (value) => {
				expect(digestOf(value)).toBe(createHash("sha256").update(canonicalJson(value)).digest("hex"));
			}),
			{ seed: 6, numRuns: 200 },
		);
	});

	it("is the SHA-256 of the canonical bytes, letters beyond ASCII as UTF-8", () => {
		const value = { b: [1.5, "µm, ñ, 😀"], a: null };
		expect(digestOf(value)).toBe(createHash("sha256").update('{"a":null,"b":[1.5,"µm, ñ, 😀"]}', "utf8").digest("hex"));
	});
});

describe("cardCode", () => {
	const stock: Stock = {
		format: 1,
		abrasives: [
			{ id: "fine-disc", name: "Fine disc", grade: "P2000" },
			{ id: "other-disc", name: "Other disc", grade: "P1500" },
		],
	};
	const shop: Shop = { ...genericShop, stock };
	const procedure: Procedure = {
		format: 1,
		id: "a",
		title: { en: "A" },
		revision: 3,
		state: "draft",
		steps: [{ id: "aaaaaaaaaa", stage: "sand", abrasive: "fine-disc" }],
	};
	const code = cardCode(procedure, shop);

	it("is ten letters that cannot be mistaken for one another", () => {
		expect(code).toMatch(/^[0-9A-HJKMNP-TV-Z]{10}$/);
	});

	it.each<[string, Procedure, Shop]>([
		["state and revision", { ...procedure, state: "released", revision: 4, revisionDate: "2026-05-12" }, shop],
		["whether the method changed", { ...procedure, methodChanged: true }, shop],
		[
			"stock that no row names",
			procedure,
			{ ...shop, stock: { ...stock, abrasives: stock.abrasives?.slice(0, 1) ?? [] } },
		],
	])("stays the same when %s changes", (_, changed, inShop) => {
		expect(cardCode(changed, inShop)).toBe(code);
	});

	it.each<[string, Procedure, Shop]>([
		["a row", { ...procedure, steps: [{ id: "aaaaaaaaaa", stage: "refine", abrasive: "fine-disc" }] }, shop],
		["the title", { ...procedure, title: { en: "B" } }, shop],
		[
			"an item that a row names",
			procedure,
			{ ...shop, stock: { ...stock, abrasives: [{ id: "fine-disc", name: "Fine disc", grade: "P2500" }] } },
		],
		[
			"a house limit",
			procedure,
			{ ...shop, limits: houseLimits({ format: 1, values: { "leastLeftUm.factory": { value: 35 } } }) },
		],
	])("changes when %s changes", (_, changed, inShop) => {
		expect(cardCode(changed, inShop)).not.toBe(code);
	});
});

/** The same value with the members of every object in the opposite order. */
function reversed(value: unknown): unknown {
	if (Array.isArray(value)) return value.map(reversed);
	if (value === null || typeof value !== "object") return value;
	return Object.fromEntries(
		Object.entries(value)
			.toReversed()
			.map(([name, member]) => [name, reversed(member)]),
	);
}
