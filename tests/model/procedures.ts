import fc from "fast-check";
import type { Procedure, Step } from "../../src/model/generated/types.ts";

/** A row id that reads well in a failing test. */
export const rowId = (letter: string) => letter.repeat(10);

const words = fc.record({ en: fc.constantFrom("a", "b", "c"), es: fc.constantFrom("d", "e") }, { requiredKeys: [] });

const fields = {
	stage: fc.constantFrom("level", "sand", "refine", "polish"),
	abrasive: fc.constantFrom("P800", "P1500", "P3000"),
	instruction: words,
	speed: fc.record({ unit: fc.constantFrom("rpm", "dial"), low: fc.nat(3), high: fc.nat(3) }),
	waitMinutes: fc.constantFrom(0, 0.5, 10),
	mustNotVary: fc.subarray(["abrasive", "speed", "work"]),
	asTyped: fc.record({ speed: fc.constantFrom("fast", "slow"), work: fc.constant("some") }, { requiredKeys: [] }),
	shopNote: fc.constantFrom("x", null, { "10": 1, "2": 2 }),
};

const step = fc.record(fields, { requiredKeys: [] }) as unknown as fc.Arbitrary<Omit<Step, "id">>;

const letters = [..."abcdefghij"];

const steps = fc
	.tuple(fc.shuffledSubarray(letters, { maxLength: 7 }), fc.array(step, { minLength: 10, maxLength: 10 }))
	.map(([ids, contents]) => ids.map((letter, index) => ({ id: rowId(letter), ...contents[index] }) as Step));

const reasons = ["one", "two", "three", "four"];

const parts = {
	revision: fc.integer({ min: 1, max: 3 }),
	title: words,
	scope: fc.record(
		{
			tones: fc.shuffledSubarray(["dark", "mid", "light"]),
			defects: fc.subarray([{ defect: "run" }, { defect: "swirl" }, { defect: "haze", goal: "gone" }]),
		},
		{ requiredKeys: [] },
	),
	film: fc.record(
		{ startReadingUm: fc.nat(2), assumed: fc.record({ factory: fc.constant({ mid: 40, low: 30, high: 50 }) }) },
		{ requiredKeys: [] },
	),
	startWhen: fc.shuffledSubarray(reasons).map((list) => list.map((en) => ({ text: { en } }))),
	notes: words,
	bayNumber: fc.nat(2),
};

/** Procedures over few rows, few values, so that two of them often agree and often differ; schema-valid but for unknown fields. */
export const procedures = fc
	.tuple(fc.record(parts, { requiredKeys: ["title"] }), steps)
	.map(([outside, rows]) => ({ format: 1, id: "test", ...outside, steps: rows }) as unknown as Procedure);

type Change = { kind: number; at: number; to: number; step: Omit<Step, "id">; parts: object; id: string };

const change: fc.Arbitrary<Change> = fc.record({
	kind: fc.nat(5),
	at: fc.nat(20),
	to: fc.nat(20),
	step,
	parts: fc.record(parts, { requiredKeys: [] }),
	id: fc.constantFrom(..."klmnopqrst").map(rowId),
});

/** What a person makes of a procedure: a few rows changed, put in, taken out or moved, a few parts set. */
export const changes = fc.array(change, { maxLength: 4 });

/** @param side keeps the new rows of two sides apart */
export function changed(procedure: Procedure, list: readonly Change[], side: string): Procedure {
	let { steps: rows = [], ...outside } = procedure;
	for (const { kind, at, to, step: content, parts: set, id } of list) {
		const index = at % Math.max(1, rows.length);
		const row = rows[index];
		if (kind === 0) outside = { ...outside, ...set };
		else if (kind === 1 && !rows.some((one) => one.id === side + id.slice(1)))
			rows = rows.toSpliced(to % (rows.length + 1), 0, { id: side + id.slice(1), ...content });
		else if (row === undefined) continue;
		else if (kind === 2) rows = rows.toSpliced(index, 1);
		else if (kind === 3) rows = rows.toSpliced(index, 1).toSpliced(to % rows.length, 0, row);
		else {
			const [field] = Object.keys(content);
			if (field !== undefined) rows = rows.with(index, { ...row, [field]: content[field as keyof typeof content] });
		}
	}
	return { ...outside, steps: rows };
}
