import type { Procedure, Step } from "./generated/types.ts";
import { isRecord } from "./pointer.ts";

/**
 * A new row id: ten letters a–z.
 *
 * @param random a source of numbers from 0 up to, but not including, 1
 */
export function newRowId(random: () => number): string {
	return Array.from({ length: 10 }, () => String.fromCharCode(97 + Math.floor(random() * 26))).join("");
}

/** Whether a value has the form of a row id. */
export function isRowId(value: unknown): value is string {
	return typeof value === "string" && /^[a-z]{10}$/.test(value);
}

/**
 * A procedure, or a part of one, with new ids for some of its rows. What refers to an id that no row keeps follows it:
 * the row to go back to, and the accepted findings. Where several rows had the id, it follows the first of them.
 * Anything among the rows that is no row stays as it is.
 *
 * @param newIds by the place of the row, from 0
 */
export function withRowIds<Part extends Pick<Procedure, "steps" | "exceptions">>(
	procedure: Part,
	newIds: ReadonlyMap<number, string>,
): Part {
	const steps: unknown = procedure.steps;
	if (!Array.isArray(steps)) return procedure;
	const kept = new Set(steps.filter((_, place) => !newIds.has(place)).map((step: Step | null) => step?.id));
	const renamed = new Map<unknown, string>();
	for (const [place, id] of newIds) {
		const before: unknown = steps[place]?.id;
		if (before !== undefined && !kept.has(before as string) && !renamed.has(before)) renamed.set(before, id);
	}
	const following = (record: unknown, key: string): unknown =>
		isRecord(record) && renamed.has(record[key]) ? { ...record, [key]: renamed.get(record[key]) } : record;
	const withIds = steps.map((step: unknown, place) => {
		if (!isRecord(step)) return step;
		const id = newIds.get(place);
		const own = id === undefined ? step : { ...step, id };
		const ifNot = following(own.ifNot, "back");
		return ifNot === own.ifNot ? own : { ...own, ifNot };
	});
	const exceptions: unknown = procedure.exceptions;
	return {
		...procedure,
		steps: withIds,
		...(Array.isArray(exceptions) ? { exceptions: exceptions.map((one) => following(one, "step")) } : {}),
	};
}

/** Whether a text may be an id in a book: lower-case letters and digits with single hyphens, at most 80. */
export function isSlug(text: string): boolean {
	return /^[a-z0-9]+(?:-[a-z0-9]+)*$/.test(text) && text.length <= 80;
}

/** An id made from a name, at most 60 characters; empty where the name has no letter or digit. */
export function slugOf(name: string): string {
	return name
		.normalize("NFKD")
		.replace(/\p{M}/gu, "")
		.toLowerCase()
		.replace(/[^a-z0-9]+/g, "-")
		.replace(/^-/, "")
		.slice(0, 60)
		.replace(/-$/, "");
}

/** The id, then others like it with a number behind: `nib`, `nib-2`, `nib-3` … without end. */
export function* idsLike(id: string): Generator<string, never> {
	yield id;
	const stem = id
		.replace(/-\d{1,2}$/, "")
		.slice(0, 70)
		.replace(/-$/, "");
	for (let number = 2; ; number += 1) yield `${stem}-${number}`;
}

/** The id, or the first like it that is not taken. */
export function freeId(id: string, taken: ReadonlySet<string>): string {
	for (const free of idsLike(id)) if (!taken.has(free)) return free;
	throw new RangeError(`no id like ${id} is free of ${taken.size}`);
}
