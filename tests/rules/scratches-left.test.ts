import { describe, expect, it } from "vitest";
import type { Finding } from "../../src/model/finding.ts";
import { exampleProcedure, exampleShop } from "../../src/rules/example.ts";
import { type Fragment, liquid, rotary, sand, sandByHand } from "../../src/rules/example-rows.ts";
import rule from "../../src/rules/grade-progression/scratch-left-behind.ts";
import { judge } from "../../src/rules/judge.ts";
import type { Example } from "../../src/rules/rule.ts";

const passes = (count: number): Fragment => ({ work: { unit: "passes", low: count, high: count } });
const foam: Fragment = { carrier: "foam", holes: "none", wetness: "damp" };
const spot: Fragment = { place: "spot" };
const panel: Fragment = { place: "panel" };

describe("scratches left behind", () => {
	it.each<[string, Fragment[]]>([
		[
			"compound on wool after P3000 foam",
			[sand("P1500"), sand("P2000"), sand("P3000", foam), rotary("heavy-cut", "wool-twisted", passes(1))],
		],
		[
			"compound on wool after P2000",
			[sand("P2000"), rotary("heavy-cut", "wool-twisted", passes(2)), liquid("fine", "foam-soft")],
		],
		[
			"medium cut after P3000 foam",
			[
				sand("P2000"),
				sand("P3000", foam),
				liquid("medium-cut", "microfibre", passes(2)),
				liquid("finest", "foam-soft"),
			],
		],
	])("are gone after the passes that the finding names: %s", (_, steps) => {
		const [finding] = found(steps);
		const { passes: needed } = finding?.data ?? {};
		if (finding === undefined || finding.row === null || typeof needed !== "number")
			throw new Error(`no passes in ${JSON.stringify(finding)}`);
		const mended = steps.map((step, index) => (index === finding.row ? { ...step, ...passes(needed) } : step));
		expect(found(mended)).toEqual([]);
		const before = steps.map((step, index) => (index === finding.row ? { ...step, ...passes(1) } : step));
		expect(found(before)).toHaveLength(1);
	});

	it("are named by the row that made them, not by the row that should have cleared them", () => {
		const [finding] = found([sand("P800"), sand("P2000", passes(1)), rotary("heavy-cut", "wool-twisted", passes(2))]);
		expect(finding?.data).toMatchObject({ fromRow: 1, fromGrade: "P800", endRow: 3 });
	});

	it("are said once, at the liquid row that cuts most, however many rows follow", () => {
		const steps = [
			sand("P1200"),
			liquid("medium-cut", "foam-medium"),
			liquid("fine", "foam-soft"),
			liquid("finest", "foam-soft"),
		];
		expect(found(steps)).toHaveLength(1);
		expect(found(steps)[0]?.row).toBe(1);
	});

	it("are looked for where a panel chain ends, though a spot is polished after it", () => {
		const steps = [
			sand("P1500", panel),
			liquid("fine", "foam-soft", { ...panel, ...passes(1) }),
			sand("P3000", { ...foam, ...spot }),
			rotary("heavy-cut", "wool-twisted", spot),
		];
		expect(found(steps).map(({ data }) => [data.fromRow, data.endRow])).toEqual([[1, 2]]);
	});

	it("take more passes on a spot, where a pass is a second of contact", () => {
		const [finding] = found([sandByHand("P2000", spot), liquid("medium-cut", "microfibre", { ...spot, ...passes(6) })]);
		expect(finding?.data.passes).toBeGreaterThan(10);
	});

	it("of an edge strip are looked for under a later row that works the edges freely, not under one that tapes them", () => {
		const strip = sandByHand("P800", { place: "edge-strip" });
		const polish = (edges: "free" | "taped") => liquid("fine", "foam-soft", { ...panel, edges });
		expect(found([strip, polish("free")]).map(({ data }) => data.fromRow)).toEqual([1]);
		expect(found([strip, polish("taped")]).map(({ data }) => data.fromRow)).not.toContain(1);
	});

	it("name no passes where more of the same would not do", () => {
		const [finding] = found([sand("P600"), liquid("finest", "foam-soft")]);
		expect(finding?.data.passes).toBeNull();
		expect(finding?.level).toBe("stop");
	});
});

function found(steps: Fragment[]): Finding[] {
	const example: Example = { title: "chain", steps };
	return judge(
		{ procedure: exampleProcedure(example), problems: [], shop: exampleShop(example), today: "2026-03-02" },
		[rule],
	);
}
