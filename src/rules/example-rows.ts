import type { Step } from "../model/generated/types.ts";

/** Rows that examples are built of, each in order by itself; `more` changes what the example is about. */
export type Fragment = Partial<Step>;

/** Sanding on a firm plate with a fine-orbit machine, three passes over a section. */
export function sand(abrasive: string, more: Fragment = {}): Fragment {
	return {
		stage: "sand",
		abrasive,
		carrier: "film",
		holes: "perforated",
		backing: "firm-plate",
		wetness: "dry",
		tool: "random-orbital",
		speed: { unit: "opm", low: 8000, high: 8000 },
		work: { unit: "passes", low: 3, high: 3 },
		edges: "taped",
		...more,
	};
}

/** Sanding by hand on a soft block, ten strokes. */
export function sandByHand(abrasive: string, more: Fragment = {}): Fragment {
	return {
		stage: "sand",
		abrasive,
		carrier: "waterproof-paper",
		backing: "soft-block",
		wetness: "damp",
		tool: "block",
		work: { unit: "strokes", low: 10, high: 10 },
		edges: "taped",
		...more,
	};
}

/** A liquid on a pad with a random orbital, four passes over a section. */
export function liquid(liquidClass: string, pad: string, more: Fragment = {}): Fragment {
	return {
		stage: liquidClass === "heavy-cut" ? "compound" : liquidClass === "finest" ? "finish" : "polish",
		liquid: liquidClass,
		pad,
		tool: "random-orbital",
		speed: { unit: "opm", low: 4500, high: 4500 },
		work: { unit: "passes", low: 4, high: 4 },
		edges: "taped",
		...more,
	};
}

/** The same with a rotary at 1,500 rpm. */
export function rotary(liquidClass: string, pad: string, more: Fragment = {}): Fragment {
	return liquid(liquidClass, pad, { tool: "rotary", speed: { unit: "rpm", low: 1500, high: 1500 }, ...more });
}

export const wash: Fragment = { stage: "clean", wipe: "wash" };
export const alcoholWipe: Fragment = { stage: "wipe", wipe: "alcohol-wipe" };
export const reading: Fragment = { stage: "measure", tool: "gauge" };
export const inspection: Fragment = { stage: "inspect", tool: "lamp" };

/** A row with one cell left empty. */
export function without(field: keyof Fragment, row: Fragment): Fragment {
	const { [field]: _empty, ...rest } = row;
	return rest;
}
