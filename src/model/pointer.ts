/** The parts of an RFC 6901 JSON Pointer; none for the whole document. */
export function pointerParts(pointer: string): string[] {
	return pointer
		.split("/")
		.slice(1)
		.map((part) => part.replaceAll("~1", "/").replaceAll("~0", "~"));
}

/** The pointer to one member or element of what `pointer` points at. */
export function pointerTo(pointer: string, part: string | number): string {
	return `${pointer}/${String(part).replaceAll("~", "~0").replaceAll("/", "~1")}`;
}

/** The value a pointer points at; undefined where there is none. Only own members count. */
export function valueAt(value: unknown, parts: readonly string[]): unknown {
	let at = value;
	for (const part of parts) {
		if (at === null || typeof at !== "object" || !Object.hasOwn(at, part)) return undefined;
		if (Array.isArray(at) && part === "length") return undefined;
		at = (at as Record<string, unknown>)[part];
	}
	return at;
}

/** True for an object that is neither null nor a list. */
export function isRecord(value: unknown): value is Record<string, unknown> {
	return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** Names that reach the machinery of objects: never a field, never a part of a pointer that is written through. */
export const unsafeNames: ReadonlySet<string> = new Set(["__proto__", "constructor", "prototype"]);
