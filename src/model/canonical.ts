import { shapes } from "./generated/shape.ts";
import type { BookFiles } from "./generated/types.ts";
import { type Shape, shapeOfPart } from "./shape.ts";

/** A kind of file of a book, by the name of its schema. */
export type FileKind = keyof BookFiles;

/**
 * The one form a file has on disk: keys in the order of the schema, then unknown keys by code unit, in every
 * object; two-space indent; final newline. Members that are undefined are left out.
 *
 * A number JSON cannot spell keeps its value as far as a reader can take it back: `1e999`, `-0`.
 *
 * @throws RangeError for NaN, which no file can hold
 */
export function canonicalText(kind: FileKind, value: unknown): string {
	return `${write(value, shapes[kind], "\n")}\n`;
}

// JSON.stringify would put keys such as "10" first, whatever the order they were given in.
function write(value: unknown, shape: Shape | undefined, newline: string): string {
	if (value === null || typeof value !== "object") return writeScalar(value);
	const inner = `${newline}  `;
	if (Array.isArray(value)) {
		if (value.length === 0) return "[]";
		const elements = value.map((element) => inner + write(element, shape?.items, inner));
		return `[${elements.join(",")}${newline}]`;
	}
	const members = keysInOrder(value, shape).map(
		(key) =>
			`${inner}${JSON.stringify(key)}: ${write((value as Record<string, unknown>)[key], shapeOfPart(shape, key), inner)}`,
	);
	return members.length === 0 ? "{}" : `{${members.join(",")}${newline}}`;
}

function writeScalar(value: unknown): string {
	if (typeof value !== "number") return JSON.stringify(value) ?? "null";
	if (Number.isNaN(value)) throw new RangeError("NaN cannot be written to a file");
	if (Object.is(value, -0)) return "-0";
	if (!Number.isFinite(value)) return value < 0 ? "-1e999" : "1e999";
	return String(value);
}

function keysInOrder(value: object, shape: Shape | undefined): string[] {
	const present = Object.keys(value).filter((key) => (value as Record<string, unknown>)[key] !== undefined);
	const known = Object.keys(shape?.keys ?? {}).filter((key) => present.includes(key));
	const unknown = present.filter((key) => !known.includes(key)).toSorted();
	return [...known, ...unknown];
}
