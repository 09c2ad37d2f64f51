import { isRecord } from "./pointer.ts";

/** True where two JSON values mean the same: order of keys and members that are undefined do not count. */
export function same(a: unknown, b: unknown): boolean {
	if (a === b) return true;
	if (Array.isArray(a) && Array.isArray(b))
		return a.length === b.length && a.every((element, index) => same(element, b[index]));
	if (!isRecord(a) || !isRecord(b)) return false;
	const keys = keysOf(a);
	return keys.length === keysOf(b).length && keys.every((key) => Object.hasOwn(b, key) && same(a[key], b[key]));
}

/** The keys of the members that are there. */
export function keysOf(record: Record<string, unknown>): string[] {
	return Object.keys(record).filter((key) => record[key] !== undefined);
}

/** A copy of a record with one member set, or taken out where the value is undefined. */
export function withMember<T extends object>(record: T, key: string, value: unknown): T {
	const { [key as keyof T]: _, ...rest } = record;
	return (value === undefined ? rest : { ...record, [key]: value }) as T;
}
