import type { FileKind } from "./canonical.ts";
import { isRecord } from "./pointer.ts";
import { type Problem, problemOf } from "./problem.ts";

/** Turns a file of one format into the next; pure, and leaves what it does not know as it is. */
export type Upgrade = (file: Record<string, unknown>) => Record<string, unknown>;

/** For each kind of file the steps from format 1 to 2, from 2 to 3, and so on. */
export type UpgradeChain = Readonly<Record<FileKind, readonly Upgrade[]>>;

/** Every step there is. A new format of a file adds one function at the end of its list. */
export const upgrades: UpgradeChain = {
	audits: [],
	book: [],
	cohorts: [],
	limits: [],
	procedure: [],
	stock: [],
	story: [],
	trials: [],
};

/** The format in which a kind of file is written now. */
export function formatOf(kind: FileKind, chain: UpgradeChain = upgrades): number {
	return chain[kind].length + 1;
}

/**
 * A file brought to the format of today; `from` is the format it was read in. A file without a sensible
 * format comes back as it is, for the schema to name it; one of a newer format is refused (`newer-format`).
 */
export function upgrade(
	kind: FileKind,
	value: unknown,
	chain: UpgradeChain = upgrades,
): { value: unknown; from: number } | { problem: Problem } {
	const known = formatOf(kind, chain);
	if (!isRecord(value)) return { value, from: known };
	const found = value.format;
	if (typeof found !== "number" || !Number.isInteger(found) || found < 1) return { value, from: known };
	if (found > known) return { problem: problemOf("newer-format", { pointer: "/format" }, { found, known }) };
	let file = value;
	for (let format = found; format < known; format++) {
		const step = chain[kind][format - 1] as Upgrade;
		file = { ...step(file), format: format + 1 };
	}
	return { value: file, from: found };
}
