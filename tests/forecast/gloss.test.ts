import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
	fresnelReflectance,
	glossGu,
	glossOf,
	hazeOf,
	hazeRatio,
	leavesTrail,
	specularKept,
} from "../../src/forecast/gloss.ts";
import { ownScratch } from "../../src/forecast/scratches.ts";
import type { LiquidClass, PadKind, Tone } from "../../src/model/generated/types.ts";
import { houseLimits } from "../../src/model/limits.ts";
import reference from "../reference/gloss.json" with { type: "json" };
import { compound, cuttingRow, type Fragment, forecast, polish, resolved, sand, seededNormal } from "./rows.ts";

function values(id: string): unknown {
	const entry = reference.find((one) => one.id === id);
	if (!entry || !("values" in entry)) throw new Error(`no reference ${id}`);
	return entry.values;
}

interface Reflected {
	angle_deg: number;
	R: number;
	gloss_GU: number;
}

const otherIndices = Object.entries(values("fresnel_other_n") as Record<string, Reflected[]>);
const reflected = [
	...(values("fresnel_n1567") as Reflected[]).map((one) => ({ index: 1.567, ...one })),
	...(values("fresnel_n150") as Reflected[]).map((one) => ({ index: 1.5, ...one })),
	...otherIndices.flatMap(([index, ones]) => ones.map((one) => ({ index: Number(index), ...one }))),
];

describe("the reflectance of a smooth surface", () => {
	// The references are printed to seven decimals, gloss to four.
	it.each(reflected)("of index $index at $angle_deg° is $R, $gloss_GU GU", ({ index, angle_deg, R, gloss_GU }) => {
		expect(fresnelReflectance(index, angle_deg)).toBeCloseTo(R, 7);
		expect(Math.abs(glossGu(0, angle_deg, index) - gloss_GU)).toBeLessThan(1e-4);
	});

	it("straight on is ((n − 1)/(n + 1))²", () => {
		for (const [index, expected] of Object.entries(values("fresnel_normal_incidence") as Record<string, number>))
			expect(fresnelReflectance(Number(index), 0)).toBeCloseTo(expected, 7);
	});

	it("agrees with the form by angles of Snell's law", () => {
		fc.assert(
			fc.property(
				fc.double({ min: 1.3, max: 1.8, noNaN: true }),
				fc.double({ min: 1, max: 85, noNaN: true }),
				(index, angleDeg) => {
					const t = (angleDeg * Math.PI) / 180;
					const inside = Math.asin(Math.sin(t) / index);
					const rs = (Math.sin(t - inside) / Math.sin(t + inside)) ** 2;
					const rp = (Math.tan(t - inside) / Math.tan(t + inside)) ** 2;
					expect(fresnelReflectance(index, angleDeg)).toBeCloseTo((rs + rp) / 2, 11);
				},
			),
			{ seed: 20 },
		);
	});

	it("makes gloss rise with the index as the reference says", () => {
		for (const [angle, expected] of Object.entries(values("gloss_index_sensitivity") as Record<string, number>)) {
			const rise = (glossGu(0, Number(angle), 1.568) - glossGu(0, Number(angle), 1.566)) / 2;
			expect(rise).toBeCloseTo(expected, 5);
		}
	});
});

describe("the specular share that a rough surface keeps", () => {
	it.each(values("bennett_porteus_table") as { sigma_um: number; t0: number; t20: number; t60: number; t85: number }[])(
		"at Rq $sigma_um µm is as in the reference",
		({ sigma_um, t0, t20, t60, t85 }) => {
			// Printed to six decimals.
			for (const [angle, expected] of [
				[0, t0],
				[20, t20],
				[60, t60],
				[85, t85],
			] as const)
				expect(Math.abs(specularKept(sigma_um, angle, 550) - expected)).toBeLessThan(6e-7);
		},
	);

	it.each(values("bennett_porteus_inverse") as { fraction: number; t20_um: number; t60_um: number }[])(
		"is $fraction at the roughness of the reference",
		({ fraction, t20_um, t60_um }) => {
			// The roughness is printed to 1e-5 µm, which moves the share by less than 4e-4.
			expect(Math.abs(specularKept(t20_um, 20, 550) - fraction)).toBeLessThan(4e-4);
			expect(Math.abs(specularKept(t60_um, 60, 550) - fraction)).toBeLessThan(4e-4);
		},
	);

	it("gives the reference's gloss of a rough clear at its own wavelength", () => {
		for (const [angle, expected] of Object.entries(values("gloss_combined_example") as Record<string, number>))
			expect(glossGu(0, Number(angle), 1.5) * specularKept(0.02, Number(angle), 555)).toBeCloseTo(expected, 3);
	});

	it("is below a tenth, so that the surface is matt, before the law stops holding", () => {
		const rayleigh = (values("rayleigh_smooth_criterion") as Record<string, number>)["20"] ?? 0;
		expect(550 / 1000 / (8 * Math.cos((20 * Math.PI) / 180))).toBeCloseTo(rayleigh, 5);
		expect(specularKept(rayleigh, 20, 550)).toBeLessThan(0.1);
		expect(glossOf(exactly(6 * rayleigh)).matt).toBe(true);
	});
});

const limits = houseLimits();
const own = (row: Fragment) => ownScratch(cuttingRow(row));
const exactly = (um: number) => ({ mid: um, low: um, high: um });
const hazeAfter = (row: Fragment, tone: Tone, isTrail = false) => hazeOf({ depthUm: own(row), isTrail, tone }, limits);

const heavy = compound("heavy-cut", "wool-twisted");
const medium = polish("medium-cut", "foam-medium");
const fine = polish("fine", "foam-soft");
const finest = polish("finest", "foam-soft");

describe("gloss", () => {
	it.each([
		["heavy-cut", heavy, 49, 0.5],
		["medium-cut", medium, 76, 0.5],
		["fine", fine, 79.5, 0.05],
		["finest", finest, 81.6, 0.05],
	] as const)("at 20° after %s is the default outcome", (_, row, expected, within) => {
		expect(Math.abs(glossOf(own(row)).at20Gu.mid - expected)).toBeLessThan(within);
	});

	it("of a smooth clear is that of the reference at both angles", () => {
		const [at20, at60] = values("fresnel_n150") as Reflected[];
		const gloss = glossOf(exactly(0));
		expect([gloss.at20Gu.mid, gloss.at60Gu.mid]).toEqual([
			expect.closeTo(at20?.gloss_GU ?? 0, 4),
			expect.closeTo(at60?.gloss_GU ?? 0, 4),
		]);
	});

	it.each([
		["P1500", true],
		["P2000", true],
		["P3000", true],
	])("of a surface sanded with %s is matt", (grade, matt) => {
		expect(glossOf(own(sand(grade))).matt).toBe(matt);
	});

	it("is lost first at 20°", () => {
		const { at20Gu, at60Gu } = glossOf(own(heavy));
		expect(at20Gu.mid / glossOf(exactly(0)).at20Gu.mid).toBeLessThan(at60Gu.mid / glossOf(exactly(0)).at60Gu.mid);
	});

	it("falls as scratches get deeper, and its interval holds its middle", () => {
		const depth = fc.double({ min: 0, max: 2, noNaN: true });
		fc.assert(
			fc.property(depth, depth, (one, other) => {
				const [less, more] = [Math.min(one, other), Math.max(one, other)];
				const shallow = glossOf({ mid: less, low: less / 1.4, high: less * 1.4 });
				const deep = glossOf({ mid: more, low: more / 1.4, high: more * 1.4 });
				for (const angle of ["at20Gu", "at60Gu"] as const) {
					expect(deep[angle].mid).toBeLessThanOrEqual(shallow[angle].mid);
					for (const { low, mid, high } of [shallow[angle], deep[angle]])
						expect(0 <= low && low <= mid && mid <= high).toBe(true);
				}
			}),
			{ seed: 60 },
		);
	});
});

describe("visible haze", () => {
	// Outcomes are stated to three decimals.
	it.each<[string, Fragment, Tone, number, boolean]>([
		["fine on dark", fine, "dark", 0.127, true],
		["finest on dark", finest, "dark", 0.021, false],
		["heavy-cut on light", heavy, "light", 0.023, false],
	])("after %s is the default outcome", (_, row, tone, expected, visible) => {
		const haze = hazeAfter(row, tone);
		expect(haze?.ratio.mid).toBeCloseTo(expected, 3);
		expect(haze?.visible).toBe(visible);
	});

	it("is that of the plain tone for metallic and pearl", () => {
		for (const tone of ["dark", "mid", "light"] as const)
			expect(hazeAfter(fine, `${tone}-effect`)).toEqual(hazeAfter(fine, tone));
	});

	it("is three times as strong for a rotary's marks, so that they show on dark after the finest liquid", () => {
		const even = hazeAfter(finest, "dark");
		const trail = hazeAfter(finest, "dark", true);
		expect((trail?.ratio.mid ?? 0) / (even?.ratio.mid ?? 1)).toBeCloseTo(3, 4);
		expect([even?.visible, trail?.visible]).toEqual([false, true]);
	});

	it("is not told where no tone is named", () => {
		expect(hazeOf({ depthUm: exactly(0.05), isTrail: false, tone: undefined }, limits)).toBeNull();
	});

	it("is judged by the house limit", () => {
		const asked = { depthUm: exactly(0.02), isTrail: false, tone: "dark" } as const;
		expect(hazeOf(asked, { hazeVisible: 0.01 })?.visible).toBe(true);
	});

	it("lies in its interval in 95 % of draws", () => {
		const normal = seededNormal(8);
		const spread = (middle: number, times: number) => middle * times ** (normal() / 1.96);
		const { ratio } = hazeAfter(fine, "dark", true) ?? { ratio: exactly(0) };
		const draws = 20000;
		let inside = 0;
		for (let draw = 0; draw < draws; draw++) {
			const rqUm = spread(0.05, 1.4) / spread(6, 1.4);
			const index = spread(1.5, 1.015);
			const haze = hazeRatio({ rqUm, index, scratchedShare: 1, returned: spread(0.01, 2), trail: spread(3, 1.5) });
			if (haze >= ratio.low && haze <= ratio.high) inside++;
		}
		// Standard error of the share: 0.15 %; the law bends a little over the interval.
		expect(inside / draws).toBeGreaterThan(0.94);
		expect(inside / draws).toBeLessThan(0.96);
	});
});

describe("a row that leaves trails", () => {
	it.each<[string, Fragment, boolean]>([
		["a rotary with a liquid", heavy, true],
		["a random orbital", fine, false],
		["a gear-driven orbital", { ...fine, tool: "gear-orbital" }, false],
		["a rotary that sands", sand("P1500", { tool: "rotary", speed: { unit: "rpm", low: 900, high: 900 } }), false],
	])("is told from the tool: %s", (_, row, expected) => {
		expect(leavesTrail(cuttingRow(row))).toBe(expected);
	});

	it("is none where the defect itself is the deepest, or the row does not cut", () => {
		expect(leavesTrail(null)).toBe(false);
		const [wipe] = resolved([{ stage: "wipe", wipe: "alcohol-wipe" }]);
		expect(leavesTrail(wipe ?? null)).toBe(false);
	});
});

describe("the finest stage", () => {
	const beforeFinest: [LiquidClass, PadKind][] = [
		["medium-cut", "foam-medium"],
		["fine", "foam-soft"],
	];

	it.each(beforeFinest)("takes off the last haze on dark tones that %s on %s leaves", (liquid, pad) => {
		for (const tone of ["dark", "dark-effect"] as const) {
			expect(hazeAfter(polish(liquid, pad), tone)?.visible).toBe(true);
			expect(hazeAfter(finest, tone)?.visible).toBe(false);
		}
	});

	it.each(beforeFinest)("is not needed on light tones after %s on %s", (liquid, pad) => {
		for (const tone of ["light", "light-effect"] as const)
			expect(hazeAfter(polish(liquid, pad), tone)?.visible).toBe(false);
	});

	it("hardly cuts", () => {
		expect(forecast([finest]).rows[0]?.removedUm?.high).toBeLessThan(0.2);
		expect(forecast([finest]).rows[0]?.removedUm?.mid).toBeCloseTo(0.06, 2);
	});
});
