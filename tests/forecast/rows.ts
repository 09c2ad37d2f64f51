import fc from "fast-check";
import { type ForecastInput, forecastOf } from "../../src/forecast/forecast.ts";
import type { Forecast } from "../../src/forecast/outcome.ts";
import type { ClearCoat, LiquidClass, PadKind, Procedure, Step } from "../../src/model/generated/types.ts";
import { type ResolvedRow, resolveRows } from "../../src/model/resolve.ts";
import { genericShop, type Shop } from "../../src/model/shop.ts";

/** A row without its id. */
export type Fragment = Omit<Step, "id">;

export function passes(low: number, high = low): Fragment {
	return { work: { unit: "passes", low, high } };
}

/** Sanding with a random orbital at its usual speed: film on a firm plate, dry, three passes. */
export function sand(abrasive: string, other: Fragment = {}): Fragment {
	return {
		stage: "sand",
		abrasive,
		carrier: "film",
		backing: "firm-plate",
		wetness: "dry",
		tool: "random-orbital",
		speed: { unit: "opm", low: 8000, high: 8000 },
		...passes(3),
		...other,
	};
}

export function sandByHand(abrasive: string, other: Fragment = {}): Fragment {
	return { stage: "sand", abrasive, backing: "rigid-block", tool: "block", ...passes(3), ...other };
}

/** P3000 on a foam disc, damp, four passes. */
export const refineP3000: Fragment = sand("P3000", {
	stage: "refine",
	carrier: "foam",
	backing: "soft-plate",
	wetness: "damp",
	...passes(4),
});

/** Four passes with a random orbital for polishing. */
export function polish(liquid: LiquidClass, pad: PadKind, other: Fragment = {}): Fragment {
	return {
		stage: "polish",
		liquid,
		pad,
		tool: "random-orbital",
		speed: { unit: "opm", low: 4500, high: 4500 },
		...passes(4),
		...other,
	};
}

/** Four passes with a rotary. */
export function compound(liquid: LiquidClass, pad: PadKind, other: Fragment = {}): Fragment {
	return polish(liquid, pad, {
		stage: "compound",
		tool: "rotary",
		speed: { unit: "rpm", low: 1500, high: 1500 },
		...other,
	});
}

export const wholeChain: readonly Fragment[] = [
	sand("P1500"),
	sand("P2000"),
	refineP3000,
	compound("heavy-cut", "wool-twisted"),
	polish("medium-cut", "foam-medium"),
	polish("finest", "foam-soft"),
];

export function resolved(fragments: readonly Fragment[], shop: Shop = genericShop): ResolvedRow[] {
	return resolveRows({ steps: fragments.map((one, index) => ({ id: `row${index}`, ...one })) }, shop);
}

/** The one row of a fragment, of the kind that cuts. */
export function cuttingRow(fragment: Fragment): Extract<ResolvedRow, { hand: unknown }> {
	const [row] = resolved([fragment]);
	if (row === undefined || !("hand" in row)) throw new Error(`${JSON.stringify(fragment)} makes no row that cuts`);
	return row;
}

interface Setting {
	defect?: string;
	clearCoat?: ClearCoat;
	procedure?: Partial<Pick<Procedure, "scope" | "film">>;
	shop?: Shop;
}

/** The forecast of rows on refinish clear, unless another is asked for; `clearCoat: undefined` names none. */
export function forecast(fragments: readonly Fragment[], setting: Setting = {}): Forecast {
	const { procedure = {}, shop = genericShop } = setting;
	const situation: ForecastInput["situation"] = {};
	if (setting.defect !== undefined) situation.defect = setting.defect;
	const clearCoat = "clearCoat" in setting ? setting.clearCoat : "refinish";
	if (clearCoat !== undefined) situation.clearCoat = clearCoat;
	return forecastOf({ procedure, rows: resolved(fragments, shop), situation, shop });
}

const grades = ["P800", "P1000", "P1200", "P1500", "P2000", "P2500", "P3000"] as const;
const workDone = fc
	.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 0, max: 3 }))
	.map(([low, more]): Fragment => passes(low, low + more));
const places = fc.constantFrom<NonNullable<Step["place"]>>("spot", "section", "panel", "blend-zone", "edge-strip");
const edges = fc.constantFrom<NonNullable<Step["edges"]>>("free", "taped", "kept-off", "by-hand");
const sanding = fc
	.record({
		grade: fc.constantFrom(...grades),
		carrier: fc.constantFrom("film", "paper", "stretch-cloth", "foam"),
		backing: fc.constantFrom("rigid-block", "firm-plate", "medium-plate", "soft-plate"),
		wetness: fc.constantFrom("dry", "damp", "wet"),
		place: places,
		edges,
		work: workDone,
	})
	.map(({ grade, work, ...other }): Fragment => sand(grade, { ...other, ...work }));
const polishing = fc
	.record({
		liquid: fc.constantFrom<LiquidClass>("heavy-cut", "medium-cut", "fine", "finest"),
		pad: fc.constantFrom<PadKind>("wool-twisted", "microfibre", "foam-firm", "foam-medium", "foam-soft"),
		place: places,
		edges,
		work: workDone,
		rotary: fc.boolean(),
	})
	.map(
		({ liquid, pad, rotary, work, ...other }): Fragment =>
			(rotary ? compound : polish)(liquid, pad, { ...other, ...work }),
	);
const idle = fc.constantFrom<Fragment>(
	{ stage: "wipe", wipe: "alcohol-wipe" },
	{ stage: "measure" },
	{ stage: "inspect" },
	{ stage: "wait", waitMinutes: 5 },
);

/** Rows that a forecast knows all about. */
export const knownRows: fc.Arbitrary<Fragment[]> = fc.array(fc.oneof(sanding, polishing, idle), {
	minLength: 1,
	maxLength: 8,
});

export const clearCoats = fc.constantFrom<ClearCoat>("factory", "factory-hard", "refinish", "refinish-fast", "tinted");

/** A reproducible source of uniform numbers in [0, 1): a counter, mixed. */
export function seededUniform(seed: number): () => number {
	let state = seed >>> 0;
	return () => {
		state = (state + 0x9e3779b9) >>> 0;
		let mixed = state ^ (state >>> 16);
		mixed = Math.imul(mixed, 0x21f0aaad);
		mixed ^= mixed >>> 15;
		mixed = Math.imul(mixed, 0x735a2d97);
		return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32;
	};
}

/** Standard normal numbers from uniform ones (Box and Muller 1958). */
export function seededNormal(seed: number): () => number {
	const uniform = seededUniform(seed);
	return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
