import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { enumerations } from "../../src/model/generated/enumerations.ts";
import type { Stage, Step, Stock } from "../../src/model/generated/types.ts";
import { procedure as isProcedure } from "../../src/model/generated/validators.js";
import { type ResolvedRow, type RowKind, resolveRows } from "../../src/model/resolve.ts";
import { genericShop, type Shop } from "../../src/model/shop.ts";
import { rowId } from "./procedures.ts";

type Fields = Partial<Step>;

const sanding: Fields = {
	stage: "sand",
	tool: "random-orbital",
	abrasive: "P1500",
	backing: "firm-plate",
	speed: { unit: "opm", low: 8000, high: 8000 },
	work: { unit: "passes", low: 3, high: 3 },
};

const polishing: Fields = {
	stage: "polish",
	tool: "rotary",
	pad: "foam-medium",
	liquid: "fine",
	speed: { unit: "rpm", low: 1500, high: 1500 },
	work: { unit: "passes", low: 4, high: 4 },
};

const stock: Omit<Stock, "format"> = {
	abrasives: [
		{
			id: "film-1500",
			name: "Film 1500",
			grade: "P1500",
			carrier: "film",
			holes: "perforated",
			diameterMm: 75,
			lifeM2: 1,
		},
		{ id: "foam-9000", name: "Foam 9000", grade: "P9000", medianUm: 2, carrier: "foam" },
		{ id: "old-paper", name: "Old paper", grade: "P2000", withdrawn: true },
		{ id: "odd-disc", name: "Odd disc", grade: "very fine" },
	],
	backings: [{ id: "plate-125", name: "Plate 125", kind: "medium-plate", diameterMm: 125 }],
	pads: [{ id: "square-pad", name: "Square pad", kind: "foam-firm", diameterMm: 130 }],
	liquids: [{ id: "first-cut", name: "First cut", class: "heavy-cut" }],
	tools: [
		{
			id: "dial-sander",
			name: "Dial sander",
			kind: "random-orbital",
			diameterMm: 125,
			orbitMm: 5,
			speed: { unit: "opm", low: 4000, high: 10000 },
			dial: [
				{ mark: 6, value: 10000 },
				{ mark: 1, value: 4000 },
				{ mark: 3, value: 7000 },
			],
			drive: "air",
			extraction: "dry-extractor",
			wetUse: "damp",
		},
		// A trick: an item that carries the word of another kind.
		{ id: "rotary", name: "Our rotary is an orbital", kind: "gear-orbital" },
	],
	gauges: [{ id: "clear-gauge", name: "Clear gauge", reads: ["plastic"], layer: "clear", accuracyUm: 2, repeatUm: 1 }],
};

const shop: Shop = { ...genericShop, stock: { format: 1, ...stock }, generic: false };

describe("the kind of a row", () => {
	const kinds: Record<Stage, Exclude<RowKind, "incomplete">> = {
		clean: "wipe",
		mask: "setup",
		measure: "reading",
		level: "abrasive",
		sand: "abrasive",
		refine: "abrasive",
		compound: "liquid",
		polish: "liquid",
		finish: "liquid",
		wipe: "wipe",
		wait: "wait",
		inspect: "inspection",
		seal: "setup",
	};

	it.each(enumerations.Stage)("follows from the stage %s", (stage) => {
		const row = resolve({ stage });
		expect(row.kind === "incomplete" ? row.would : row.kind).toBe(kinds[stage]);
	});

	it.each<[string, Fields, RowKind]>([
		["a nib blade", { ...sanding, stage: "level", tool: "nib-blade" }, "blade"],
		["a nib file", { ...sanding, stage: "sand", tool: "nib-file" }, "blade"],
		["a razor", { ...sanding, stage: "refine", tool: "razor" }, "blade"],
		["a wipe with clay", { stage: "clean", tool: "clay" }, "wipe"],
		["an abrasive without stage", { ...sanding, stage: undefined }, "abrasive"],
		["a liquid without stage", { ...polishing, stage: undefined }, "liquid"],
		["a wipe without stage", { wipe: "wash" }, "wipe"],
		["clay without stage", { tool: "clay" }, "wipe"],
		["a wait without stage", { waitFor: "cool" }, "wait"],
		["a blade without stage", { tool: "razor", work: { unit: "until-flush" } }, "blade"],
		["a gauge without stage", { tool: "gauge" }, "reading"],
		["a gauge of the stock without stage", { tool: "clear-gauge" }, "reading"],
		["a lamp without stage", { tool: "lamp" }, "inspection"],
	])("is told for %s", (_, fields, kind) => {
		expect(resolve(fields).kind).toBe(kind);
	});

	it.each<[string, Fields]>([
		["nothing", {}],
		["a place", { place: "panel" }],
		["a sander alone", { tool: "random-orbital" }],
	])("cannot be told from %s: the stage is missing", (_, fields) => {
		expect(resolve(fields)).toMatchObject({ kind: "incomplete", would: null, missing: ["stage"] });
	});
});

describe("what a row needs", () => {
	it.each<[string, Fields, string[]]>([
		["a sanding row", { stage: "sand" }, ["tool", "abrasive", "backing", "work"]],
		["a sanding row with a driven tool", without(sanding, "speed", "backing"), ["backing", "speed"]],
		["a sanding row by hand", { ...without(sanding, "speed"), tool: "block" }, []],
		["a sanding row with the bare hand", { ...without(sanding, "speed", "backing"), tool: "bare-hand" }, []],
		["a liquid row", { stage: "compound" }, ["tool", "pad", "liquid", "work"]],
		["a liquid row with a driven tool", without(polishing, "speed"), ["speed"]],
		["a liquid row by hand", { ...without(polishing, "speed"), tool: "bare-hand", pad: "hand-applicator" }, []],
		["a blade row", { stage: "level", tool: "nib-blade" }, ["work"]],
		["a wipe", { stage: "wipe", tool: "cloth" }, ["wipe"]],
		["a wait", { stage: "wait" }, ["waitMinutes"]],
		["a wait of so many minutes", { stage: "wait", waitMinutes: 0 }, []],
		["work with a unit and no figure", { ...sanding, work: { unit: "passes" } }, ["work"]],
		["work until flush", { ...sanding, work: { unit: "until-flush" } }, []],
		["a reading, an inspection, masking", { stage: "measure" }, []],
	])("is known for %s", (_, fields, missing) => {
		const row = resolve(fields);
		expect(row.kind === "incomplete" ? row.missing : []).toEqual(missing);
	});
});

describe("a speed", () => {
	it.each<[string, Fields, object | null]>([
		[
			"in opm as it is",
			{ speed: { unit: "opm", low: 7000, high: 9000 } },
			{ unit: "opm", low: 7000, high: 9000, mid: 8000 },
		],
		[
			"of an orbital in rpm as its orbits",
			{ speed: { unit: "rpm", low: 5000, high: 5000 } },
			{ unit: "opm", mid: 5000 },
		],
		[
			"of a range typed backwards",
			{ speed: { unit: "opm", low: 9000, high: 7000 } },
			{ low: 7000, high: 9000, mid: 8000 },
		],
		["at a mark of the dial", dial(3), { unit: "opm", low: 7000, high: 7000 }],
		["between two marks, straight", dial(4.5), { mid: 8500 }],
		["over a range of marks", dial(1, 3), { low: 4000, high: 7000, mid: 5500 }],
		["at the first and last mark", dial(1, 6), { low: 4000, high: 10000 }],
		["below the dial as unknown", dial(0.5), null],
		["above the dial as unknown", dial(7), null],
		["half beyond the dial as unknown", dial(5, 7), null],
		["by a dial of which no table is known as unknown", { ...dial(3), tool: "random-orbital" }, null],
	])("is read %s", (_, fields, expected) => {
		const row = resolve({ ...sanding, tool: "dial-sander", ...fields });
		if (row.kind !== "abrasive") throw new Error(`${row.kind} row`);
		if (expected === null) expect(row.speed).toBeNull();
		else expect(row.speed).toMatchObject({ ...expected, asSet: fields.speed });
	});
});

describe("work", () => {
	it.each<[Step["work"], object]>([
		[
			{ unit: "passes", low: 2, high: 4 },
			{ low: 2, high: 4, mid: 3 },
		],
		[
			{ unit: "strokes", low: 10 },
			{ low: 10, high: 10, mid: 10 },
		],
		[
			{ unit: "minutes", high: 2 },
			{ low: 2, high: 2, mid: 2 },
		],
		[
			{ unit: "passes", low: 4, high: 2 },
			{ low: 2, high: 4, mid: 3 },
		],
		[{ unit: "until-flush" }, { low: null, high: null, mid: null }],
	])("of %j is %j", (work, expected) => {
		expect(resolve({ ...sanding, work })).toMatchObject({ work: expected });
	});
});

describe("the pad of an earlier row", () => {
	const same: Fields = { ...without(polishing, "pad"), padUse: "same-as-row" };

	it("is taken over, past rows that use none", () => {
		const rows = resolveAll([polishing, { stage: "wipe", wipe: "alcohol-wipe" }, same, same]);
		expect(rows.map((row) => (row.kind === "liquid" ? row.pad.kind : row.kind))).toEqual([
			"foam-medium",
			"wipe",
			"foam-medium",
			"foam-medium",
		]);
	});

	it("is taken over from a row that lacks something else", () => {
		expect(resolveAll([without(polishing, "work"), same])[1]).toMatchObject({
			kind: "liquid",
			pad: { kind: "foam-medium" },
		});
	});

	it("is the last one named", () => {
		expect(resolveAll([polishing, { ...polishing, pad: "foam-soft" }, same])[2]).toMatchObject({
			pad: { kind: "foam-soft" },
		});
	});

	it("is missing where no row before names one", () => {
		expect(resolve(same)).toMatchObject({ kind: "incomplete", missing: ["pad"] });
	});

	it.each(["lost-pad", "foam"])("does not stand in for a pad that the row names and nobody knows: %s", (pad) => {
		const row = resolveAll([polishing, { ...same, pad }])[1];
		expect(row).toMatchObject({ kind: "incomplete", unknownRefs: [{ field: "pad", text: pad }] });
	});
});

describe("the stock", () => {
	it("is looked up before the kinds", () => {
		expect(resolve({ ...polishing, tool: "rotary" })).toMatchObject({
			tool: { kind: "gear-orbital", item: { id: "rotary" } },
		});
	});

	it("gives what its items know", () => {
		const row = resolve({ ...sanding, tool: "dial-sander", abrasive: "film-1500", carrier: "mesh" });
		expect(row).toMatchObject({
			abrasive: { grade: { text: "P1500" }, carrier: "film", holes: "perforated", lifeM2: 1 },
			tool: { kind: "random-orbital", drive: "air", extraction: "dry-extractor", wetUse: "damp", orbitMm: 5 },
		});
	});

	it.each<[string, Fields, number | null]>([
		["the disc", { abrasive: "film-1500", backing: "plate-125" }, 75],
		["else the plate", { backing: "plate-125" }, 125],
		["else the tool", { tool: "dial-sander" }, 125],
		["else the usual one", {}, 150],
		["none by hand", { tool: "block", backing: "plate-125" }, null],
	])("gives the diameter of %s", (_, fields, diameterMm) => {
		expect(resolve({ ...sanding, ...fields })).toMatchObject({ kind: "abrasive", tool: { diameterMm } });
	});

	it("gives withdrawn items too: a rule speaks of them", () => {
		expect(resolve({ ...sanding, abrasive: "old-paper" })).toMatchObject({
			kind: "abrasive",
			abrasive: { item: { withdrawn: true }, grade: { text: "P2000" } },
			unknownRefs: [],
		});
	});

	it("gives an abrasive that no table has by its median", () => {
		expect(resolve({ ...sanding, abrasive: "foam-9000" })).toMatchObject({
			kind: "abrasive",
			abrasive: { medianUm: 2, grade: { text: "P9000", um: 2 } },
		});
	});

	it("gives the gauge of a reading, and none for a kind", () => {
		expect(resolve({ stage: "measure", tool: "clear-gauge" })).toMatchObject({ gauge: { id: "clear-gauge" } });
		expect(resolve({ stage: "measure", tool: "gauge" })).toMatchObject({ gauge: null, unknownRefs: [] });
	});
});

describe("what a row names and nobody knows", () => {
	it.each<[keyof Step, string, Fields]>([
		["tool", "lost-sander", sanding],
		["abrasive", "fine disc", sanding],
		["abrasive", "odd-disc", sanding],
		["backing", "magic-plate", sanding],
		["pad", "lost-pad", polishing],
		["liquid", "wonder-liquid", polishing],
	])("is kept: %s %s", (field, text, fields) => {
		expect(resolve({ ...fields, [field]: text })).toMatchObject({
			kind: "incomplete",
			missing: [field],
			unknownRefs: [{ field, text }],
			unknownGrade: null,
		});
	});

	it("is a grade with its neighbours where the text is one that no table has", () => {
		expect(resolve({ ...sanding, abrasive: "P1700" })).toMatchObject({
			kind: "incomplete",
			unknownRefs: [],
			unknownGrade: { text: "P1700", nearest: ["P1500", "P2000"] },
		});
	});
});

describe("a place", () => {
	it.each<[Fields, number, number]>([
		[{}, 0.25, 0.25],
		[{ place: "section", sectionM2: 0.5 }, 0.5, 0.5],
		[{ place: "panel" }, 1.5, 0.25],
		[{ place: "edge-strip" }, 0.05, 0.05],
		[{ place: "blend-zone" }, 0.5, 0.25],
		[{ place: "spot", spotMm: 100 }, Math.PI * 0.05 ** 2, Math.PI * 0.05 ** 2],
	])("of %j covers %d m², %d m² at one go", (fields, areaM2, sectionM2) => {
		const row = resolve({ ...sanding, ...fields });
		expect(row.areaM2).toBeCloseTo(areaM2, 12);
		expect(row.sectionM2).toBeCloseTo(sectionM2, 12);
	});
});

describe("any rows that the schema allows", () => {
	const reference = fc.constantFrom(
		...Object.values(stock).flatMap((items) => items.map(({ id }) => id)),
		...enumerations.ToolKind,
		...enumerations.PadKind,
		...enumerations.BackingKind,
		...enumerations.LiquidClass,
		"P1500",
		"P1700",
		"JIS 2000",
		"2000",
		"16 µm",
		"",
		"constructor",
		"__proto__",
		"µ",
	);
	const number = fc.constantFrom(0, 1, 3, 4.5, 7, 1500, 8000, 1e9);
	const fields = fc.record(
		{
			stage: fc.constantFrom(...enumerations.Stage),
			place: fc.constantFrom(...enumerations.Place),
			spotMm: fc.constantFrom(1, 30, 500),
			tool: reference,
			abrasive: reference,
			backing: reference,
			pad: reference,
			liquid: reference,
			padUse: fc.constantFrom("fresh", "cleaned", "same-as-row"),
			wetness: fc.constantFrom(...enumerations.Wetness),
			wipe: fc.constantFrom("wash", "solvent-wipe", "alcohol-wipe", "dry-cloth"),
			speed: fc.record({ unit: fc.constantFrom("rpm", "opm", "spm", "dial"), low: number, high: number }),
			work: fc.record(
				{ unit: fc.constantFrom("passes", "strokes", "until-flush", "minutes"), low: number, high: number },
				{ requiredKeys: ["unit"] },
			),
			waitMinutes: fc.constantFrom(0, 5),
			asTyped: fc.dictionary(fc.constantFrom("speed", "pad", "work"), fc.string({ maxLength: 8 })),
		},
		{ requiredKeys: [] },
	) as fc.Arbitrary<Fields>;

	it("resolve without a throw, one for one, complete in what their kind has, or with what is missing", () => {
		let complete = 0;
		fc.assert(
			fc.property(fc.array(fields, { maxLength: 8 }), fc.boolean(), (list, generic) => {
				const steps = list.map((one, index) => ({ id: rowId("abcdefgh"[index] ?? "z"), ...one }));
				const isValid = isProcedure({ format: 1, id: "fuzzed", title: {}, steps });
				expect(isValid, JSON.stringify(isProcedure.errors)).toBe(true);
				const before = JSON.stringify(steps);
				const rows = resolveRows({ steps }, generic ? genericShop : shop);
				expect(JSON.stringify(steps)).toBe(before);
				expect(rows.map(({ step, index }) => [step, index])).toEqual(steps.map((step, index) => [step, index]));
				for (const row of rows) {
					expect(row.areaM2).toBeGreaterThan(0);
					expect(row.sectionM2).toBeLessThanOrEqual(row.areaM2);
					if (row.kind === "incomplete") expect(row.missing.length).toBeGreaterThan(0);
					else complete += 1;
					if (row.kind === "abrasive") expect(row.abrasive.medianUm).toBeGreaterThan(0);
					if ((row.kind === "abrasive" || row.kind === "liquid") && row.speed)
						expect(row.speed.low).toBeLessThanOrEqual(row.speed.high);
				}
			}),
			{ seed: 20260302, numRuns: 500 },
		);
		expect(complete).toBeGreaterThan(100);
	});
});

function resolve(fields: Fields): ResolvedRow {
	return resolveAll([fields])[0] as ResolvedRow;
}

function resolveAll(list: readonly Fields[]): ResolvedRow[] {
	return resolveRows(
		{ steps: list.map((fields, index) => ({ id: rowId("abcdefgh"[index] ?? "z"), ...fields })) },
		shop,
	);
}

function without(fields: Fields, ...names: (keyof Step)[]): Fields {
	return Object.fromEntries(Object.entries(fields).filter(([name]) => !names.includes(name as keyof Step)));
}

function dial(low: number, high = low): Fields {
	return { speed: { unit: "dial", low, high } };
}
