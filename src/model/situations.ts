import type { Box, ClearCoat, Scope, Substrate, Tone } from "./generated/types.ts";

/** The axes of a situation, in the order in which they are said. */
export const axes = ["defect", "substrate", "clearCoat", "tone"] as const;
export type Axis = (typeof axes)[number];

/**
 * One combination of defect, substrate, clear coat and tone that a procedure claims to serve.
 * An axis on which the scope names nothing is absent: not known, and no rule may take it for known.
 */
export interface Situation {
	defect?: string;
	substrate?: Substrate;
	clearCoat?: ClearCoat;
	tone?: Tone;
}

const toneForms: Partial<Record<Tone, Tone[]>> = {
	dark: ["dark", "dark-effect"],
	mid: ["mid", "mid-effect"],
	light: ["light", "light-effect"],
};

/**
 * Every situation of a scope, less the excepted ones, in the order of the axes; never empty unless all are excepted.
 *
 * @param onto the axes to tell apart; situations that differ only on others are one
 */
export function situationsOf(scope: Scope | undefined, onto: readonly Axis[] = axes): Situation[] {
	const except = scope?.except ?? [];
	if (except.length === 0) return combinations(claimedValues(scope), onto);
	const served = combinations(claimedValues(scope), axes).filter(
		(one) => !except.some((box) => boxSurelyHolds(box, one)),
	);
	return onto === axes ? served : projections(served, onto);
}

function combinations(claimed: Record<Axis, string[]>, onto: readonly Axis[]): Situation[] {
	let all: Situation[] = [{}];
	for (const axis of onto) {
		const values = claimed[axis];
		if (values.length > 0) all = all.flatMap((one) => values.map((value) => ({ ...one, [axis]: value })));
	}
	return all;
}

/** The values a scope claims on each axis; `dark` stands for itself and its metallic or pearl form, likewise the others. */
export function claimedValues(scope: Scope | undefined): Record<Axis, string[]> {
	return {
		defect: distinct((scope?.defects ?? []).map(({ defect }) => defect)),
		substrate: distinct(scope?.substrates ?? []),
		clearCoat: distinct(scope?.clearCoats ?? []),
		tone: distinct((scope?.tones ?? []).flatMap((tone) => toneForms[tone] ?? [tone])),
	};
}

/** Whether a situation lies in a box. An axis that the situation does not know cannot rule it out. */
export function boxHolds(box: Box, situation: Situation): boolean {
	return axes.every((axis) => {
		const wanted = box[axis];
		const value = situation[axis];
		if (wanted === undefined || value === undefined) return true;
		if ((wanted as string[]).includes(value)) return true;
		return axis === "tone" && value.endsWith("-effect") && (wanted as string[]).includes(value.slice(0, -7));
	});
}

/** Whether a situation is known to lie in a box: one that names an axis which the situation does not know leaves it open. */
export function boxSurelyHolds(box: Box, situation: Situation): boolean {
	return axes.every((axis) => box[axis] === undefined || situation[axis] !== undefined) && boxHolds(box, situation);
}

/** The situation reduced to some axes: what a rule that reads only these may know. */
function project(situation: Situation, onto: readonly Axis[]): Situation {
	const seen: Record<string, string> = {};
	for (const axis of onto) {
		const value = situation[axis];
		if (value !== undefined) seen[axis] = value;
	}
	return seen;
}

/** The distinct projections of all situations onto some axes, in first-met order. */
export function projections(situations: readonly Situation[], onto: readonly Axis[]): Situation[] {
	if (situations.length === 0) return [];
	if (onto.length === 0) return [{}];
	const seen = new Map<string, Situation>();
	for (const situation of situations) {
		let key = "";
		for (const axis of onto) key += `${situation[axis] ?? ""}|`;
		if (!seen.has(key)) seen.set(key, project(situation, onto));
	}
	return [...seen.values()];
}

/**
 * The fewest boxes found for a set of projected situations, for people to read: `[{}]` when it is every combination
 * that the scope claims. They hold in these situations and in no other of the scope, but for one thing a box cannot
 * say: a solid tone without its metallic form, since `dark` means both.
 *
 * @param some the projections in which something holds, all on the same axes
 * @param scope the scope they were taken from; an axis whose every claimed value is in a box is left out of it
 */
export function boxesOf(some: readonly Situation[], scope: Scope | undefined): Box[] {
	const claimed = claimedValues(scope);
	let boxes = some.map((one) =>
		Object.fromEntries(axes.filter((axis) => one[axis] !== undefined).map((axis) => [axis, [one[axis] as string]])),
	) as Record<string, string[]>[];
	for (const axis of axes) boxes = joinAlong(boxes, axis);
	return boxes.map((box) => {
		const said: Record<string, string[]> = {};
		for (const axis of axes) {
			const values = box[axis];
			if (values === undefined || values.length === claimed[axis].length) continue;
			said[axis] = axis === "tone" ? foldTones(values) : values;
		}
		return said;
	});
}

/** Joins boxes that agree on every axis but this one. */
function joinAlong(boxes: Record<string, string[]>[], axis: Axis): Record<string, string[]>[] {
	const joined = new Map<string, Record<string, string[]>>();
	for (const box of boxes) {
		const values = box[axis];
		const key = JSON.stringify({ ...box, [axis]: values === undefined ? undefined : null });
		const same = joined.get(key);
		if (same === undefined || values === undefined) joined.set(key, box);
		else joined.set(key, { ...same, [axis]: distinct([...(same[axis] ?? []), ...values]) });
	}
	return [...joined.values()];
}

/** `dark` for a tone and its metallic or pearl form together. */
function foldTones(values: readonly string[]): string[] {
	return values.filter((tone) => !(tone.endsWith("-effect") && values.includes(tone.slice(0, -7))));
}

function distinct<T>(values: readonly T[]): T[] {
	return [...new Set(values)];
}
