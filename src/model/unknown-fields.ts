import type { FileKind } from "./canonical.ts";
import { shapes } from "./generated/shape.ts";
import { pointerTo } from "./pointer.ts";
import { type Shape, shapeOfPart } from "./shape.ts";

/** Pointers to every member that the schema does not know; members of free maps and of unknown members are not named. */
export function unknownFields(kind: FileKind, value: unknown): string[] {
	const found: string[] = [];
	const path: (string | number)[] = [];
	const walk = (part: unknown, shape: Shape | undefined) => {
		if (shape === undefined || part === null || typeof part !== "object") return;
		if (Array.isArray(part)) {
			if (shape.items === undefined) return;
			for (const [index, element] of part.entries()) step(index, element, shape.items);
			return;
		}
		if (shape.keys === undefined && shape.each === undefined) return;
		for (const key of Object.keys(part)) {
			const inner = shapeOfPart(shape, key);
			if (inner === undefined) found.push([...path, key].reduce<string>(pointerTo, ""));
			else step(key, (part as Record<string, unknown>)[key], inner);
		}
	};
	const step = (key: string | number, member: unknown, shape: Shape) => {
		if (member === null || typeof member !== "object") return;
		path.push(key);
		walk(member, shape);
		path.pop();
	};
	walk(value, shapes[kind]);
	return found;
}
