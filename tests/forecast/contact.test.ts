import { describe, expect, it } from "vitest";
import { type Contact, contactOf, stiffnessKpaPerUm } from "../../src/forecast/contact.ts";
import { coverageOf } from "../../src/forecast/coverage.ts";
import { compound, cuttingRow, type Fragment, polish, sand, sandByHand } from "./rows.ts";

function contact(fragment: Fragment): Contact {
	const row = cuttingRow(fragment);
	const coverage = coverageOf(row);
	if (coverage === null) throw new Error(`no coverage of ${JSON.stringify(fragment)}`);
	return contactOf(row, coverage);
}

const stiffness = (fragment: Fragment, halfWidthMm: number) => stiffnessKpaPerUm(contact(fragment), halfWidthMm);

describe("the stiffness against a bump", () => {
	it("is that of a flat punch on an elastic half-space", () => {
		const medium = sand("P1500", { backing: "medium-plate" });
		for (const halfWidthMm of [0.3, 0.45, 0.6])
			expect(stiffness(medium, halfWidthMm)).toBeCloseTo((2 * 2) / (Math.PI * halfWidthMm), 12);
	});

	it("is that of the layer's thickness where the bump is wide beside it", () => {
		expect(stiffness(sand("P1500", { backing: "medium-plate" }), 50)).toBeCloseTo(2 / 10, 12);
	});

	it("rises where a film carrier bridges a soft layer, as a plate on an elastic foundation", () => {
		const film = stiffness(sand("P1500", { backing: "soft-plate" }), 0.45);
		const paper = stiffness(sand("P1500", { backing: "soft-plate", carrier: "paper" }), 0.45);
		const plateNmm = (4000 * 0.075 ** 3) / (12 * (1 - 0.4 ** 2));
		expect(paper).toBeCloseTo((2 * 0.5) / (Math.PI * 0.45), 12);
		expect(film - paper).toBeCloseTo((8 * Math.sqrt((0.5 / 10) * plateNmm)) / (Math.PI * 0.45 ** 2), 12);
	});

	it("falls with every layer that is put in", () => {
		const alone = stiffness(sand("P1500", { carrier: "paper" }), 0.45);
		const over = (interfaceMm: number) => stiffness(sand("P1500", { carrier: "paper", interfaceMm }), 0.45);
		const layer = (2 * 0.1) / (Math.PI * 0.45);
		expect(over(10)).toBeLessThan(layer);
		expect(over(10)).toBeGreaterThan(0.99 * layer);
		// As the layer gets thinner, it comes to what stands behind it.
		expect(over(1e-6) / alone).toBeCloseTo(1, 3);
		expect([over(0.01), over(0.1), over(1)].toSorted((one, other) => other - one)).toEqual([
			over(0.01),
			over(0.1),
			over(1),
		]);
	});

	it("ranks what stands behind the grain as the trade does", () => {
		const ranked = [
			sandByHand("P1500"),
			sand("P1500"),
			sandByHand("P1500", { backing: "soft-block" }),
			sand("P1500", { backing: "medium-plate" }),
			sand("P1500", { backing: "soft-plate" }),
			sand("P1500", { interfaceMm: 10 }),
			sand("P1500", { carrier: "foam" }),
			polish("fine", "foam-soft"),
		].map((fragment) => stiffness(fragment, 0.6));
		expect(ranked).toEqual(ranked.toSorted((one, other) => other - one));
	});
});

describe("the contact on a curve", () => {
	it.each<[string, Fragment, number]>([
		["a firm plate", sand("P1500"), 10],
		["a soft layer", sand("P1500", { interfaceMm: 5 }), 0.1],
		["a pad", compound("heavy-cut", "wool-twisted"), 0.05],
	])("is that of a cylinder pressed on an elastic half-space under %s", (_, fragment, modulusMpa) => {
		const { diameterMm } = cuttingRow(fragment).tool;
		const widthMm = diameterMm ?? 0;
		const halfWidthMm = Math.sqrt((4 * 30 * 10) / (Math.PI * modulusMpa * ((Math.PI / 4) * widthMm)));
		const { curves } = contact(fragment);
		expect(curves["body-line"].halfWidthMm).toBeCloseTo(halfWidthMm, 9);
		expect(curves["body-line"].pressureFactor).toBeCloseTo(widthMm / (2 * halfWidthMm), 9);
	});

	it("covers at most half the tool, at the pressure of a flat panel", () => {
		const { curves } = contact(compound("heavy-cut", "wool-twisted", { forceN: 400 }));
		expect(curves["gentle-curve"]).toEqual({ halfWidthMm: 90, pressureFactor: 1 });
	});

	it("keeps the force: pressure times strip is what pressure times face is on a flat panel", () => {
		const { curves, faceMm2, pressureKpa } = contact(sandByHand("P1500"));
		const { halfWidthMm, pressureFactor } = curves["body-line"];
		expect(pressureKpa * pressureFactor * 2 * halfWidthMm * (faceMm2 / 125)).toBeCloseTo(pressureKpa * faceMm2, 6);
	});
});
