import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import type { Procedure, Stock } from "./generated/types.ts";
import type { Shop } from "./shop.ts";

/** SHA-256, in hexadecimal, of a value's canonical JSON (RFC 8785). */
export function digestOf(value: unknown): string {
	return bytesToHex(sha256(utf8ToBytes(canonicalJson(value))));
}

/**
 * JSON in the canonical form of RFC 8785: members sorted by UTF-16 code unit, no blanks, numbers and strings as
 * ECMAScript writes them (the RFC's own definition). Members that are undefined are left out.
 */
export function canonicalJson(value: unknown): string {
	if (Array.isArray(value)) return `[${value.map((one) => canonicalJson(one ?? null)).join(",")}]`;
	if (value === null || typeof value !== "object") return JSON.stringify(value);
	const members = Object.entries(value)
		.filter(([, member]) => member !== undefined)
		.toSorted(([a], [b]) => (a < b ? -1 : 1))
		.map(([name, member]) => `${JSON.stringify(name)}:${canonicalJson(member)}`);
	return `{${members.join(",")}}`;
}

const crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/**
 * The code on a card: ten Crockford base-32 characters of the digest over what the card says — the procedure
 * without state and revision, the stock items it names, and the limits. The same code means the same work.
 */
export function cardCode(procedure: Procedure, shop: Shop): string {
	const { state, revision, revisionDate, methodChanged, ...said } = procedure;
	const hex = digestOf({ procedure: said, stock: namedStock(procedure, shop.stock), limits: shop.limits });
	const bits = BigInt(`0x${hex.slice(0, 16)}`) >> 14n;
	let code = "";
	for (let place = 45n; place >= 0n; place -= 5n) code += crockford[Number((bits >> place) & 31n)];
	return code;
}

/** Items of the stock that the rows name by id, in the order of the stock. */
function namedStock({ steps = [] }: Procedure, stock: Stock): unknown[] {
	const named = new Set(
		steps.flatMap(({ abrasive, backing, pad, liquid, tool }) => [abrasive, backing, pad, liquid, tool]),
	);
	return Object.values(stock)
		.filter(Array.isArray)
		.flat()
		.filter(({ id }: { id: string }) => named.has(id));
}
