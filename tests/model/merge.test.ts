import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalText } from "../../src/model/canonical.ts";
import type { Procedure, Step } from "../../src/model/generated/types.ts";
import { type Conflict, merge } from "../../src/model/merge.ts";
import { changed, changes, procedures, rowId } from "./procedures.ts";

const [a, b, c, d] = ["a", "b", "c", "d"].map(rowId) as [string, string, string, string];
const procedure = (...steps: Step[]): Procedure => ({ format: 1, id: "test", title: { en: "Test" }, steps });
const order = (letters: string) => procedure(...[...letters].map((letter) => ({ id: rowId(letter) })));
const letters = ({ steps }: Procedure) => (steps ?? []).map(({ id }) => id[0]).join("");
const row = (step: object) => procedure({ id: a, ...step });

describe("merge", () => {
	it.each([
		["takes what either side put in", "abc", "axbc", "abcy", "axbcy"],
		["orders rows put in at one place by their ids", "ab", "ayb", "axb", "axyb"],
		["keeps runs of rows together", "ab", "aypb", "axqb", "axqypb"],
		["takes out what either side took out", "abcd", "acd", "abd", "ad"],
		["keeps a row behind one that was taken out in its place", "abcd", "abxcd", "acd", "axcd"],
		["moves what one side moved", "abcd", "bcda", "abcd", "bcda"],
		["moves what each side moved", "abcd", "bacd", "abdc", "badc"],
		["lets rows follow the row they were put behind", "abc", "axbc", "bca", "bcax"],
		["takes a move that both made once", "abcd", "dabc", "dabc", "dabc"],
		["takes the longer of two moves of one row", "abcd", "bacd", "bcad", "bcad"],
	])("%s", (_, base, mine, theirs, expected) => {
		const { merged, conflicts } = merge(order(base), order(mine), order(theirs));
		expect([letters(merged), conflicts]).toEqual([expected, []]);
		expect(letters(merge(order(base), order(theirs), order(mine)).merged)).toBe(expected);
	});

	it("names orders that contradict each other, and keeps mine", () => {
		const { merged, conflicts } = merge(order("abc"), order("bac"), order("acb"));
		const named = (text: string) => ({ value: [...text].map(rowId) });
		expect(letters(merged)).toBe("bac");
		expect(conflicts).toEqual([
			{
				code: "order",
				row: null,
				field: null,
				pointer: "/steps",
				base: named("abc"),
				mine: named("bac"),
				theirs: named("acb"),
			},
		]);
	});

	it.each([
		[
			"different fields of a row",
			{ stage: "sand" },
			{ stage: "sand", note: "x" },
			{ stage: "level" },
			{ stage: "level", note: "x" },
		],
		[
			"words by language",
			{ note: { en: "a" } },
			{ note: { en: "b" } },
			{ note: { en: "a", es: "c" } },
			{ note: { en: "b", es: "c" } },
		],
		[
			"unread texts",
			{},
			{ asTyped: { speed: "x" } },
			{ asTyped: { work: "y" } },
			{ asTyped: { speed: "x", work: "y" } },
		],
		[
			"a field that took the place of its unread text",
			{ asTyped: { overlap: "?" } },
			{ overlap: 0.5 },
			{ note: "x", asTyped: { overlap: "?" } },
			{ overlap: 0.5, note: "x" },
		],
		["fields the schema does not know", { own: 1 }, { own: 2 }, { own: 1, other: 1 }, { own: 2, other: 1 }],
	])("brings together %s", (_, base, mine, theirs, expected) => {
		expect(merge(row(base), row(mine), row(theirs))).toEqual({ merged: row(expected), conflicts: [] });
		expect(merge(row(base), row(theirs), row(mine))).toEqual({ merged: row(expected), conflicts: [] });
	});

	it.each<[string, object, object, object, Partial<Conflict>]>([
		[
			"a field",
			{ stage: "sand" },
			{ stage: "level" },
			{},
			{ field: "stage", base: { value: "sand" }, mine: { value: "level" }, theirs: {} },
		],
		[
			"a value of several parts, as a whole",
			{ speed: { unit: "rpm", low: 1, high: 2 } },
			{ speed: { unit: "rpm", low: 2, high: 2 } },
			{ speed: { unit: "rpm", low: 1, high: 3 } },
			{
				field: "speed",
				mine: { value: { unit: "rpm", low: 2, high: 2 } },
				theirs: { value: { unit: "rpm", low: 1, high: 3 } },
			},
		],
		[
			"a field and its unread text",
			{},
			{ overlap: 0.5 },
			{ asTyped: { overlap: "?" } },
			{ field: "overlap", mine: { value: 0.5 }, theirs: { asTyped: "?" } },
		],
	])("names %s that both changed, and keeps mine", (_, base, mine, theirs, conflict) => {
		const result = merge(row(base), row(mine), row(theirs));
		expect(result.merged).toEqual(row(mine));
		expect(result.conflicts).toMatchObject([{ code: "changed-both", row: a, pointer: null, ...conflict }]);
	});

	it.each([
		["changed", procedure({ id: b, note: "x" }, { id: c })],
		["moved", procedure({ id: c }, { id: b })],
	])("names a row that one side removed and the other %s", (_, touched) => {
		const base = procedure({ id: b }, { id: c });
		// Of two rows that changed places either may count as moved; take both out to meet the one that does.
		const removed = touched.steps?.[0]?.note === undefined ? procedure() : procedure({ id: c });
		const kept = merge(base, touched, removed);
		expect(kept.conflicts).toMatchObject([{ code: "removed-and-changed", field: null, theirs: {} }]);
		expect(kept.merged.steps?.map(({ id }) => id)).toContain(kept.conflicts[0]?.row);
		const gone = merge(base, removed, touched);
		expect(gone.conflicts).toMatchObject([{ code: "removed-and-changed", field: null, mine: {} }]);
		expect(gone.merged).toEqual(removed);
	});

	it("merges lists outside the rows by element where that is safe", () => {
		const scope = (...tones: string[]) => ({ ...procedure(), scope: { tones } }) as Procedure;
		const tones = (base: Procedure, mine: Procedure, theirs: Procedure) =>
			merge(base, mine, theirs).merged.scope?.tones;
		expect(tones(scope("dark", "mid"), scope("dark", "mid", "light"), scope("mid"))).toEqual(["mid", "light"]);
		expect(tones(scope("dark", "mid"), scope("light", "mid"), scope("dark", "mid-effect"))).toEqual([
			"light",
			"mid-effect",
		]);
	});

	it("takes a list as a whole where both changed one element", () => {
		const wear = (filter: string) => ({ ...procedure(), wear: [{ item: "respirator", filter }] }) as Procedure;
		const { merged, conflicts } = merge(wear("one"), wear("two"), wear("three"));
		expect(merged).toEqual(wear("two"));
		expect(conflicts).toMatchObject([{ code: "changed-both", row: null, pointer: "/wear" }]);
	});

	it("merges parts inside, and values of several numbers as a whole", () => {
		const film = (parts: object) => ({ ...procedure(), film: parts }) as Procedure;
		const at = (mid: number) => ({ mid, low: 1, high: 99 });
		const result = merge(
			film({ assumed: { factory: at(40) } }),
			film({ assumed: { factory: at(41) }, known: "none" }),
			film({ assumed: { factory: at(42), flexible: at(30) } }),
		);
		expect(result.merged).toEqual(film({ assumed: { factory: at(41), flexible: at(30) }, known: "none" }));
		expect(result.conflicts).toMatchObject([{ pointer: "/film/assumed/factory", theirs: { value: at(42) } }]);
	});

	it("takes the rows as a whole where they cannot be told apart", () => {
		const twice = procedure({ id: a }, { id: a });
		expect(merge(twice, twice, order("ab"))).toEqual({ merged: order("ab"), conflicts: [] });
		expect(merge(twice, order("a"), order("b")).conflicts).toMatchObject([{ code: "changed-both", pointer: "/steps" }]);
	});

	it("merges a row that both put in, field by field", () => {
		const { merged, conflicts } = merge(
			order("a"),
			procedure({ id: a }, { id: d, note: "x" }),
			procedure({ id: a }, { id: d, stage: "sand" }),
		);
		expect([merged, conflicts]).toEqual([procedure({ id: a }, { id: d, note: "x", stage: "sand" }), []]);
	});
});

/** Everything a side says of a procedure, by name: its rows, their cells, its parts. */
function statements(one: Procedure): Map<string, string> {
	const said = new Map<string, string>();
	const say = (name: string, value: unknown) => {
		if (value !== undefined) said.set(name, canonicalText("book", value));
	};
	const { steps = [], ...parts } = one;
	for (const { id, asTyped = {}, ...fields } of steps) {
		say(`row ${id}`, true);
		for (const [field, value] of Object.entries(fields))
			if (field === "instruction")
				for (const [language, words] of Object.entries(value)) say(`cell ${id} ${field} ${language}`, words);
			else say(`cell ${id} ${field}`, { value });
		for (const [field, text] of Object.entries(asTyped)) say(`typed ${id} ${field}`, text);
	}
	for (const [part, value] of Object.entries(parts)) {
		if (part === "scope" || part === "film" || part === "title" || part === "notes")
			for (const [inner, member] of Object.entries(value as object)) say(`part /${part}/${inner}`, member);
		else say(`part /${part}`, value);
	}
	return said;
}

type Orders = Map<string, string>;

/** For each two rows the one that comes first. */
function orders({ steps = [] }: Procedure): Orders {
	return new Map(
		steps.flatMap(({ id }, index) =>
			steps.slice(index + 1).map((later) => [[id, later.id].toSorted().join(" "), id] as const),
		),
	);
}

/** The conflict that names a statement. */
function naming(conflicts: Conflict[], statement: string): Conflict | undefined {
	const [what, first = "", second] = statement.split(" ");
	return conflicts.find(({ code, row: id, field, pointer }) => {
		if (code === "removed-and-changed" && id !== null && statement.includes(id)) return true;
		if (what === "part")
			return pointer !== null && (`${pointer}/`.startsWith(`${first}/`) || `${first}/`.startsWith(`${pointer}/`));
		return id === first && (field === second || second === undefined);
	});
}

describe("the laws of merge", () => {
	const sides = fc.tuple(procedures, changes, changes).map(([base, one, two]) => ({
		base,
		mine: changed(base, one, "x"),
		theirs: changed(base, two, "y"),
	}));
	const unrelated = fc.record({ base: procedures, mine: procedures, theirs: procedures });
	const all = fc.oneof({ weight: 3, arbitrary: sides }, { weight: 1, arbitrary: unrelated });

	it("give the other side where one changed nothing", () => {
		fc.assert(
			fc.property(all, ({ base, mine }) => {
				expect(merge(base, mine, base)).toEqual({ merged: mine, conflicts: [] });
				expect(merge(base, base, mine)).toEqual({ merged: mine, conflicts: [] });
				expect(merge(base, mine, mine)).toEqual({ merged: mine, conflicts: [] });
			}),
			{ seed: 41, numRuns: 500 },
		);
	});

	it("lose no change of either side: it is in the result or named with both values", () => {
		let lists = 0;
		fc.assert(
			fc.property(all, ({ base, mine, theirs }) => {
				const { merged, conflicts } = merge(base, mine, theirs);
				const [was, is] = [statements(base), statements(merged)];
				for (const side of [mine, theirs]) {
					const said = statements(side);
					for (const name of new Set([...was.keys(), ...said.keys()])) {
						if (was.get(name) === said.get(name) || is.get(name) === said.get(name)) continue;
						// What stood in a row that this side took out is spoken of by the row itself.
						const [what, first] = name.split(" ");
						if (what !== "part" && what !== "row" && !said.has(`row ${first}`)) continue;
						const conflict = naming(conflicts, name);
						if (conflict === undefined && /part \/(startWhen|scope\/)/.test(name)) {
							lists++;
							expect(mergedLists(was.get(name), said.get(name), is.get(name)), name).toBe(true);
							continue;
						}
						expect(conflict, name).toBeDefined();
						expect(conflict?.mine).not.toEqual(conflict?.theirs);
					}
				}
			}),
			{ seed: 42, numRuns: 1000 },
		);
		expect(lists).toBeGreaterThan(20);
	});

	it("lose no change of order: of rows that all three have, or it is named", () => {
		let changes = 0;
		fc.assert(
			fc.property(all, ({ base, mine, theirs }) => {
				const { merged, conflicts } = merge(base, mine, theirs);
				const isNamed = conflicts.some(({ code }) => code === "order");
				const [was, one, two, is] = [base, mine, theirs, merged].map(orders) as [Orders, Orders, Orders, Orders];
				for (const [pair, first] of was) {
					if (!one.has(pair) || !two.has(pair)) continue;
					const changedTo = [one.get(pair), two.get(pair)].find((id) => id !== first) ?? first;
					if (changedTo !== first) changes++;
					expect(is.get(pair)).toBe(isNamed ? one.get(pair) : changedTo);
				}
			}),
			{ seed: 47, numRuns: 1000 },
		);
		expect(changes).toBeGreaterThan(200);
	});

	it("keep the order of rows that either side put in among its others", () => {
		fc.assert(
			fc.property(procedures, changes, changes, (base, first, second) => {
				const insertsOnly = (list: typeof first) => list.filter(({ kind }) => kind === 1);
				const mine = changed(base, insertsOnly(first), "x");
				const theirs = changed(base, insertsOnly(second), "y");
				const is = orders(merge(base, mine, theirs).merged);
				for (const [pair, id] of [...orders(mine), ...orders(theirs)]) expect(is.get(pair)).toBe(id);
			}),
			{ seed: 48, numRuns: 500 },
		);
	});

	it("make up nothing: every row, cell and part is one of a side", () => {
		fc.assert(
			fc.property(all, ({ base, mine, theirs }) => {
				const { merged } = merge(base, mine, theirs);
				const [one, two] = [statements(mine), statements(theirs)];
				for (const [name, value] of statements(merged)) {
					if (/part \/(startWhen|scope\/|notes|title)/.test(name)) continue;
					expect([one.get(name), two.get(name)], name).toContain(value);
				}
			}),
			{ seed: 43, numRuns: 500 },
		);
	});

	it("name a conflict only where both sides changed a place, each in its own way", () => {
		fc.assert(
			fc.property(all, ({ base, mine, theirs }) => {
				for (const { base: was, mine: one, theirs: two, code } of merge(base, mine, theirs).conflicts) {
					expect(one).not.toEqual(two);
					if (code === "removed-and-changed") expect([one, two]).toContainEqual({});
					else {
						expect(one).not.toEqual(was);
						expect(two).not.toEqual(was);
					}
				}
			}),
			{ seed: 44, numRuns: 500 },
		);
	});

	it("are the same for both sides but for the sides of conflicts", () => {
		const swapped = ({ mine, theirs, ...rest }: Conflict): Conflict => ({ ...rest, mine: theirs, theirs: mine });
		const sorted = (conflicts: Conflict[]) => conflicts.map((one) => canonicalText("book", one)).toSorted();
		fc.assert(
			fc.property(all, ({ base, mine, theirs }) => {
				const here = merge(base, mine, theirs);
				const there = merge(base, theirs, mine);
				expect(sorted(there.conflicts.map(swapped))).toEqual(sorted(here.conflicts));
				if (here.conflicts.length === 0) expect(there.merged).toEqual(here.merged);
				const [one, two] = [statements(here.merged), statements(there.merged)];
				for (const name of new Set([...one.keys(), ...two.keys()]))
					if (one.get(name) !== two.get(name)) expect(naming(here.conflicts, name), name).toBeDefined();
				if (letters(here.merged) !== letters(there.merged))
					expect(here.conflicts.map(({ code }) => code)).toEqual(
						expect.arrayContaining([expect.stringMatching(/^(order|removed-and-changed)$/)]),
					);
			}),
			{ seed: 45, numRuns: 1000 },
		);
	});

	it("change none of the three", () => {
		fc.assert(
			fc.property(all, (three) => {
				const before = JSON.stringify(three);
				merge(three.base, three.mine, three.theirs);
				expect(JSON.stringify(three)).toBe(before);
			}),
			{ seed: 46, numRuns: 500 },
		);
	});
});

/** True where a merged list has what a side put in and lacks what it took out. */
function mergedLists(was = "[]", said = "[]", is = "[]"): boolean {
	const [before, after, merged] = [was, said, is].map((text) =>
		(JSON.parse(text) as unknown[]).map((one) => JSON.stringify(one)),
	) as [string[], string[], string[]];
	return (
		after.filter((one) => !before.includes(one)).every((one) => merged.includes(one)) &&
		before.filter((one) => !after.includes(one)).every((one) => !merged.includes(one))
	);
}
