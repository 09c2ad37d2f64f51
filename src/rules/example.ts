import type { Procedure, Step } from "../model/generated/types.ts";
import { houseLimits } from "../model/limits.ts";
import { genericShop, type Shop } from "../model/shop.ts";
import type { Example } from "./rule.ts";

/**
 * The whole procedure of an example: its own parts over a plain procedure that is otherwise in order
 * (a scope, film known, gear, a date), so that an example shows one point only.
 */
export function exampleProcedure(example: Example): Procedure {
	return {
		format: 1,
		id: "example",
		title: { en: example.title },
		scope: {
			defects: [{ defect: "sand-scratch", goal: "gone" }],
			substrates: ["steel"],
			clearCoats: ["refinish"],
			tones: ["mid"],
			features: ["flat"],
		},
		film: { known: "clear-reading" },
		wear: [{ item: "respirator", filter: "P100" }, { item: "gloves" }, { item: "eyes" }, { item: "hearing" }],
		setUp: { extraction: true },
		...example.procedure,
		steps: example.steps.map((step, index) => ({ id: exampleRowId(index), ...step }) as Step),
	};
}

/** The shop an example is judged by. */
export function exampleShop(example: Example): Shop {
	return {
		book: { ...genericShop.book, ...example.book },
		stock: { format: 1, ...example.stock },
		limits: houseLimits({ format: 1, ...example.limits }),
		generic: false,
	};
}

/** Row ids of examples: `aaaaaaaaaa`, `aaaaaaaaab`, … */
function exampleRowId(index: number): string {
	const letter = (place: number) => String.fromCharCode(97 + (Math.floor(index / 26 ** place) % 26));
	return `aaaaaaa${letter(2)}${letter(1)}${letter(0)}`;
}
