import { describe, expect, it } from "vitest";
import {
	allowedMinutes,
	type NoiseCriterion,
	noiseCriteria,
	noiseDosePercent,
	noiseOf,
	timeWeightedAverageDb,
} from "../../src/forecast/noise.ts";
import reference from "../reference/noise.json" with { type: "json" };
import { dayOf, shopWith } from "./day.ts";
import { type Fragment, sand, sandByHand } from "./rows.ts";

interface Example {
	periods: { dBA: number; hours: number }[];
	osha_dose_pct: number;
	osha_twa_dBA: number;
	niosh_dose_pct: number;
	niosh_twa_dBA: number;
}

function valueOf(id: string): unknown {
	const entry = reference.find((one) => one.id === id);
	if (!entry || !("values" in entry)) throw new Error(`no reference ${id}`);
	return entry.values;
}

function criterion(id: string): NoiseCriterion {
	const found = noiseCriteria.find((one) => one.id === id);
	if (!found) throw new Error(`no criterion ${id}`);
	return found;
}

const osha = criterion("osha");
const niosh = criterion("niosh");
const published = valueOf("noise_example_published") as Example & { printed_osha_dose_pct: number };
const named = [published, ...(valueOf("noise_examples") as Example[])].map((one) => ({
	...one,
	name: one.periods.map(({ dBA, hours }) => `${dBA} dB(A) for ${hours} h`).join(", "),
}));

describe("the time allowed at a level", () => {
	it.each(valueOf("osha_reference_durations") as { dBA: number; hours_exact: number; hours_printed: number }[])(
		"at $dBA dB(A) is $hours_exact h by the regulation",
		({ dBA, hours_exact, hours_printed }) => {
			const hours = allowedMinutes(dBA, osha) / 60;
			// The exact column has four or five figures, the table of the regulation one decimal.
			expect(hours / hours_exact).toBeCloseTo(1, 3);
			expect(Math.abs(hours - hours_printed)).toBeLessThan(0.051);
		},
	);

	it.each([
		[85, 480],
		[88, 240],
		[91, 120],
		[94, 60],
		[97, 30],
		[100, 15],
	])("at %s dB(A) is %s min by the recommendation, as its table has it", (db, minutes) => {
		expect(allowedMinutes(db, niosh)).toBe(minutes);
	});
});

describe("the noise dose", () => {
	// Printed to six figures.
	it.each(named)("of $name is that of the reference by both criteria", (example) => {
		const periods = example.periods.map(({ dBA, hours }) => ({ db: dBA, minutes: 60 * hours }));
		const doses = { osha: noiseDosePercent(periods, osha), niosh: noiseDosePercent(periods, niosh) };
		expect(doses.osha / example.osha_dose_pct).toBeCloseTo(1, 5);
		expect(doses.niosh / example.niosh_dose_pct).toBeCloseTo(1, 5);
		expect(Math.abs(timeWeightedAverageDb(doses.osha, osha) - example.osha_twa_dBA)).toBeLessThan(6e-4);
		expect(Math.abs(timeWeightedAverageDb(doses.niosh, niosh) - example.niosh_twa_dBA)).toBeLessThan(6e-4);
	});

	it("agrees within 1 % with the printed example, which takes its time from a rounded table", () => {
		const dose = noiseDosePercent([{ db: 92, minutes: 480 }], osha);
		expect(Math.abs(dose / published.printed_osha_dose_pct - 1)).toBeLessThan(0.01);
	});

	it("from which action is due is the action level over 8 hours", () => {
		const { TWA_dBA, dose_pct } = valueOf("osha_action_level") as { TWA_dBA: number; dose_pct: number };
		expect(osha.actionDosePercent).toBe(dose_pct);
		expect(noiseDosePercent([{ db: TWA_dBA, minutes: 480 }], osha)).toBeCloseTo(dose_pct, 9);
		// The regulation rounds 5/lg 2 to 16.61.
		expect(timeWeightedAverageDb(dose_pct, osha)).toBeCloseTo(TWA_dBA, 3);
	});

	it("leaves levels below 80 dB(A) out", () => {
		expect(noiseDosePercent([{ db: 79.9, minutes: 480 }], osha)).toBe(0);
		expect(noiseDosePercent([{ db: 80, minutes: 480 }], osha)).toBeCloseTo(25, 9);
	});
});

const shop = shopWith({
	tools: [
		{ id: "loud", name: "Loud", kind: "random-orbital", noiseDb: 95, noiseKDb: 0 },
		{ id: "less-loud", name: "Less loud", kind: "random-orbital", noiseDb: 90, noiseKDb: 0 },
		{ id: "usual", name: "Usual", kind: "random-orbital", noiseDb: 82 },
		{ id: "quiet", name: "Quiet", kind: "random-orbital", noiseDb: 70 },
		{ id: "unstated", name: "Unstated", kind: "random-orbital" },
	],
});
const worked = (tool: string, minutes: number): Fragment =>
	sand("P1500", { tool, work: { unit: "minutes", low: minutes, high: minutes } });
const noise = (...procedures: [Fragment[], number][]) => {
	const { by, ...rest } = noiseOf(dayOf(shop, ...procedures));
	const found = (id: string) => {
		const one = by.find((each) => each.criterion.id === id);
		if (!one) throw new Error(`nothing by ${id}`);
		return one;
	};
	return { ...rest, osha: found("osha"), niosh: found("niosh") };
};

describe("the noise of a day", () => {
	it("is that of the regulator's example for rows and cars that make it up", () => {
		const [, example] = named;
		const found = noise([[worked("loud", 60)], 4], [[worked("less-loud", 120)], 2]);
		expect(found.unknown).toEqual([]);
		expect(found.osha.dosePercent?.mid).toBeCloseTo(example?.osha_dose_pct ?? 0, 6);
		expect(found.osha.averageDb?.mid).toBeCloseTo(example?.osha_twa_dBA ?? 0, 4);
		expect(found.niosh.dosePercent?.mid).toBeCloseTo(example?.niosh_dose_pct ?? 0, 3);
		expect(found.niosh.averageDb?.mid).toBeCloseTo(example?.niosh_twa_dBA ?? 0, 4);
	});

	it("takes a level without stated uncertainty as known within 3 dB, and a threshold inside that to both sides", () => {
		const { osha: found } = noise([[worked("usual", 240)], 1]);
		expect(found.dosePercent?.mid).toBeCloseTo(noiseDosePercent([{ db: 82, minutes: 240 }], osha), 5);
		expect(found.dosePercent?.high).toBeCloseTo(noiseDosePercent([{ db: 85, minutes: 240 }], osha), 5);
		expect(found.dosePercent?.low).toBe(0);
		expect(found.averageDb?.low).toBe(0);
	});

	it("is a dose of nothing for quiet tools and for hand work, with no average to give", () => {
		const quiet = noise([[worked("quiet", 480), sandByHand("P2000")], 1]);
		expect([quiet.osha.dosePercent?.mid, quiet.osha.averageDb, quiet.unknown]).toEqual([0, null, []]);
	});

	it.each<[string, Fragment, string]>([
		["a tool without a level", worked("unstated", 5), "noise-not-stated"],
		["work until flush", sand("P1500", { tool: "loud", work: { unit: "until-flush" } }), "minutes-unknown"],
		["an incomplete row", { stage: "sand", abrasive: "P1500" }, "incomplete-row"],
	])("is unknown and not nothing, and what is known still counts: %s", (_, fragment, why) => {
		const { osha: found, unknown } = noise([[worked("loud", 240), fragment], 1]);
		expect([found.dosePercent, found.averageDb]).toEqual([null, null]);
		expect(found.doseAtLeastPercent.mid).toBeCloseTo(100, 6);
		expect(unknown).toEqual([expect.objectContaining({ quantity: "noise", why })]);
	});

	it("names each tool with its level and time", () => {
		const { tools } = noise([[worked("loud", 5), worked("quiet", 2), worked("loud", 1)], 3]);
		expect(tools.map(({ item, noiseDb, minutes }) => [item?.id, noiseDb?.mid, minutes?.mid])).toEqual([
			["loud", 95, 18],
			["quiet", 70, 6],
		]);
	});
});
