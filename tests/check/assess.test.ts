import { describe, expect, it } from "vitest";
import { assess } from "../../src/check/assess.ts";
import { forecastReport } from "../../src/check/forecast-report.ts";
import type { Procedure } from "../../src/model/generated/types.ts";
import { genericShop } from "../../src/model/shop.ts";
import { type Case, judge } from "../../src/rules/judge.ts";
import { madeProcedure, seeded } from "../made-procedures.ts";

const scope: Procedure["scope"] = {
	defects: [{ defect: "dirt-nib" }, { defect: "sand-scratch" }],
	clearCoats: ["factory", "refinish"],
	tones: ["dark", "light"],
};

describe("assess", () => {
	it("finds what judge finds and reports what forecastReport reports (60 generated procedures, seed 31)", () => {
		const random = seeded(31);
		for (let turn = 0; turn < 60; turn += 1) {
			const one = caseOf(
				withConditions({ ...madeProcedure(random, `made-${turn}`), ...(turn % 2 ? { scope } : {}) }, turn),
			);
			const [tone] = one.procedure.scope?.tones ?? [];
			for (const asked of [{}, tone === undefined ? {} : { tone }]) {
				const { findings, report } = assess(one, asked);
				expect(findings).toEqual(judge(one));
				expect(report).toEqual(forecastReport(one.procedure, genericShop, asked));
			}
		}
	});

	it("finds the same in one situation asked for as in all", () => {
		const one = caseOf({ ...madeProcedure(seeded(5), "made"), scope });
		expect(assess(one, { tone: "dark", clearCoat: "factory" }).findings).toEqual(assess(one).findings);
	});

	it("says the film at the start and the limits of each clear coat asked for", () => {
		const one = caseOf({ ...madeProcedure(seeded(5), "made"), scope });
		const { leastLeftUm, mostTakenUm } = genericShop.limits;
		const of = (clearCoat: "factory" | "refinish") => ({
			clearCoat,
			leastLeftUm: leastLeftUm[clearCoat],
			mostTakenUm: mostTakenUm[clearCoat],
		});
		const all = assess(one).report;
		expect(all.limits).toEqual([of("factory"), of("refinish")]);
		expect(all.startUm?.situation?.clearCoat).toBe("factory");
		const asked = assess(one, { clearCoat: "refinish" }).report;
		expect(asked.limits).toEqual([of("refinish")]);
		expect(asked.startUm).toMatchObject(genericShop.limits.assumedClearUm.refinish ?? {});
	});
});

function caseOf(procedure: Procedure): Case {
	return { procedure, problems: [], shop: genericShop, today: "2026-03-02" };
}

/** Some rows apply on one tone or for one defect only, as in a procedure with a side for each. */
function withConditions(procedure: Procedure, turn: number): Procedure {
	const when = turn % 2 ? [{ defect: ["sand-scratch"] }] : [{ tone: ["dark" as const] }];
	return {
		...procedure,
		steps: (procedure.steps ?? []).map((step, at) => (at % 4 === turn % 4 ? { ...step, when } : step)),
	};
}
