import type { WordKind } from "./words.ts";

/** What the schema says of the form of a value: the known keys of an object in their order, or what a map or a list holds. */
export interface Shape {
	/** The property in trade words, English. */
	title?: string;
	/** A record: its known keys, in the order of the schema. */
	keys?: Record<string, Shape>;
	/** A map with free keys: every value has this shape. */
	each?: Shape;
	/** A list: every element has this shape. */
	items?: Shape;
	/** One of a set of values: the words for them. */
	words?: WordKind;
}

/** The shape of one member of an object or one element of a list; undefined where the schema does not know it. */
export function shapeOfPart(shape: Shape | undefined, key: string | number): Shape | undefined {
	if (shape === undefined) return undefined;
	if (typeof key === "number") return shape.items;
	if (shape.keys !== undefined && Object.hasOwn(shape.keys, key)) return shape.keys[key];
	return shape.each;
}
