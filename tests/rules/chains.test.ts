import { describe, expect, it } from "vitest";
import type { Step } from "../../src/model/generated/types.ts";
import { type ResolvedRow, resolveRows } from "../../src/model/resolve.ts";
import { genericShop } from "../../src/model/shop.ts";
import { chainEnds, sandingPairs, surfacesUnder } from "../../src/rules/chains.ts";
import { type Fragment, liquid, sand, sandByHand, wash } from "../../src/rules/example-rows.ts";

const blade: Fragment = { stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } };

describe("rows of one place", () => {
	it.each<[string, Fragment[], number[]]>([
		["the last row of one place", [sand("P1500"), sand("P2000"), liquid("fine", "foam-soft")], [3]],
		[
			"a panel row and a later spot row, since the spot leaves the panel as it is",
			[
				sand("P2000", { place: "panel" }),
				liquid("fine", "foam-soft", { place: "panel" }),
				sand("P3000", { place: "spot" }),
			],
			[2, 3],
		],
		[
			"an edge strip by itself",
			[sand("P2000"), sandByHand("P2000", { place: "edge-strip" }), liquid("fine", "foam-soft")],
			[2, 3],
		],
		["no row that only washes", [sand("P2000"), wash], [1]],
	])("lets chains end at %s", (_, steps, expected) => {
		expect(numbers(chainEnds(resolved(steps)))).toEqual(expected);
	});

	it.each<[string, Fragment[], number[]]>([
		["the row before it", [sand("P1500"), sand("P2000"), liquid("fine", "foam-soft")], [2]],
		[
			"a spot and the section around it",
			[sand("P1500"), sand("P3000", { place: "spot" }), liquid("fine", "foam-soft")],
			[1, 2],
		],
		["no edge strip", [sand("P1500"), sandByHand("P2000", { place: "edge-strip" }), liquid("fine", "foam-soft")], [1]],
		["a blade on a spot", [blade, liquid("fine", "foam-soft")], [1]],
	])("lets the last row meet %s", (_, steps, expected) => {
		const rows = resolved(steps);
		expect(numbers(surfacesUnder(rows.at(-1) as ResolvedRow, rows))).toEqual(expected);
	});

	it("pairs a sanding row with each one whose scratches it meets, across rows of other kinds", () => {
		const rows = resolved([
			sand("P1500", { place: "panel" }),
			wash,
			sand("P2000", { place: "spot" }),
			sand("P3000", { place: "panel" }),
		]);
		expect(sandingPairs(rows).map(({ from, to }) => [from.index + 1, to.index + 1])).toEqual([
			[1, 4],
			[3, 4],
		]);
	});
});

function resolved(steps: readonly Fragment[]): ResolvedRow[] {
	const withIds = steps.map((step, index) => ({ id: `row${"abcdefghij".charAt(index).repeat(7)}`, ...step }) as Step);
	return resolveRows({ steps: withIds }, genericShop);
}

function numbers(rows: readonly ResolvedRow[]): number[] {
	return rows.map(({ index }) => index + 1);
}
