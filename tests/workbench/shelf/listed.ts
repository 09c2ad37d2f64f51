import type { ProcedureListed } from "../../../src/api/types.ts";

/** A procedure as the server lists it: released, clean, known; `some` says what is different. */
export function listed(id: string, some: Partial<ProcedureListed> = {}): ProcedureListed {
	return {
		id,
		title: { en: id },
		purpose: null,
		state: "released",
		revision: 3,
		revisionDate: "2026-05-12",
		variantOf: null,
		chooseWhen: null,
		scope: {
			defects: [{ defect: "dirt-nib" }],
			substrates: ["steel", "aluminium"],
			clearCoats: ["refinish"],
			tones: ["dark"],
		},
		code: "Z20HRBYY3M",
		rows: 6,
		counts: { stop: 0, caution: 0, advice: 0 },
		accepted: 0,
		takenUm: { mid: 12, low: 8, high: 17 },
		leftUm: { mid: 33, low: 24, high: 42 },
		minutes: { mid: 41.2, low: 35, high: 52 },
		...some,
	};
}
