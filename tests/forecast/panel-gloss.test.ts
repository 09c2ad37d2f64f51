import { describe, expect, it } from "vitest";
import { glossAfterRows, hazeAfter } from "../../src/forecast/panel-gloss.ts";
import type { RowOutcome } from "../../src/forecast/outcome.ts";
import { houseLimits } from "../../src/model/limits.ts";
import { compound, forecast, passes, polish, sand } from "./rows.ts";

const limits = houseLimits();

describe("gloss after each row", () => {
	it("is matt after sanding and rises with each finer liquid to what the default numbers say", () => {
		const gloss = glossAfterRows(
			forecast([
				sand("P2000"),
				compound("heavy-cut", "wool-twisted", passes(8)),
				polish("medium-cut", "foam-medium"),
				polish("fine", "foam-medium"),
				polish("finest", "foam-soft"),
			]),
		);
		expect(gloss[0]?.matt).toBe(true);
		expect(gloss.slice(1).map((one) => one && Math.round(one.at20Gu.mid))).toEqual([49, 76, 79, 82]);
	});

	it("is not known where the scratches are not", () => {
		const dial = { unit: "dial" as const, low: 3, high: 3 };
		const unread = forecast([sand("P2000"), compound("heavy-cut", "wool-twisted", { speed: dial })]);
		expect(glossAfterRows(unread).map((one) => one === null)).toEqual([false, true]);
	});
});

describe("haze after a row", () => {
	const rotary = last(forecast([compound("fine", "foam-medium")]).rows);
	const orbital = last(forecast([polish("fine", "foam-medium")]).rows);

	it("is three times as bright where a rotary left the marks", () => {
		const trail = hazeAfter(rotary, "dark", limits)?.ratio.mid ?? 0;
		expect(trail / (hazeAfter(orbital, "dark", limits)?.ratio.mid ?? 1)).toBeCloseTo(3, 4);
	});

	it("is seen on dark and not on light", () => {
		expect(hazeAfter(orbital, "dark", limits)?.visible).toBe(true);
		expect(hazeAfter(orbital, "light", limits)?.visible).toBe(false);
	});

	it("follows the limit of the house", () => {
		expect(hazeAfter(orbital, "dark", { hazeVisible: 0.2 })?.visible).toBe(false);
		expect(hazeAfter(orbital, "dark", { hazeVisible: 0.1 })?.visible).toBe(true);
	});

	it("is the same on a metallic colour, and not known without a tone", () => {
		expect(hazeAfter(orbital, "dark-effect", limits)).toEqual(hazeAfter(orbital, "dark", limits));
		expect(hazeAfter(orbital, undefined, limits)).toBeNull();
	});
});

function last(rows: readonly RowOutcome[]): RowOutcome {
	const row = rows.at(-1);
	if (row === undefined) throw new Error("no rows");
	return row;
}
