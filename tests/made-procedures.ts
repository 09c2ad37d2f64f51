import type { ClearCoat, Procedure, Step, Substrate, Tone } from "../src/model/generated/types.ts";

/** A seeded source of numbers from 0 up to 1 (mulberry32, public domain). */
export function seeded(seed: number): () => number {
	let state = seed >>> 0;
	return () => {
		state = (state + 0x6d2b79f5) >>> 0;
		let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
		mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
		return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
	};
}

const defects = ["dirt-nib", "orange-peel", "run", "sand-scratch", "scuff", "swirl", "haze", "water-spot"];
const substrates: Substrate[] = ["steel", "aluminium", "plastic", "composite"];
const clearCoats: ClearCoat[] = ["factory", "factory-hard", "refinish", "refinish-fast", "flexible", "tinted"];
const tones: Tone[] = ["dark", "mid", "light"];
const grades = ["P1000", "P1200", "P1500", "P2000", "P2500", "P3000"];
const backings = ["rigid-block", "soft-block", "firm-plate", "medium-plate", "soft-plate"];
const pads = ["wool-twisted", "wool-knit", "microfibre", "foam-firm", "foam-medium", "foam-soft"];
const liquids = ["heavy-cut", "medium-cut", "fine", "finest"];

/**
 * A plausible procedure, sometimes faulty: sanding from coarse to fine, liquids from strong to fine, wipes and
 * inspections between, a scope of one to four values on each axis. The same source of numbers gives the same one.
 */
export function madeProcedure(random: () => number, id: string, rowCount = 6 + Math.floor(random() * 10)): Procedure {
	const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)] as T;
	const some = <T>(from: readonly T[], most = 4): T[] => {
		const count = 1 + Math.floor(random() * Math.min(most, from.length));
		return [...from].toSorted(() => random() - 0.5).slice(0, count);
	};
	const passes = () => {
		const low = 2 + Math.floor(random() * 3);
		return { unit: "passes" as const, low, high: low + Math.floor(random() * 2) };
	};
	const rowId = () => Array.from({ length: 10 }, () => String.fromCharCode(97 + Math.floor(random() * 26))).join("");
	const sanding = Math.max(1, Math.floor(rowCount * 0.4));
	const polishing = Math.max(1, Math.floor(rowCount * 0.35));
	const steps: Step[] = [
		{ id: rowId(), stage: "clean", wipe: "wash" },
		...some(grades, sanding)
			.toSorted((a, b) => Number(a.slice(1)) - Number(b.slice(1)))
			.map(
				(abrasive): Step => ({
					id: rowId(),
					stage: "sand",
					abrasive,
					carrier: abrasive === "P3000" ? "foam" : "film",
					wetness: abrasive === "P3000" ? "damp" : "dry",
					holes: "perforated",
					backing: pick(backings),
					tool: "random-orbital",
					speed: { unit: "opm", low: 7000, high: 9000 },
					work: passes(),
					edges: pick(["taped", "kept-off", "free"]),
				}),
			),
		...some(liquids, polishing)
			.toSorted((a, b) => liquids.indexOf(a) - liquids.indexOf(b))
			.flatMap((liquid): Step[] => [
				{
					id: rowId(),
					stage: liquid === "heavy-cut" ? "compound" : liquid === "finest" ? "finish" : "polish",
					liquid,
					pad: pick(pads),
					tool: random() < 0.4 ? "rotary" : "random-orbital",
					speed: { unit: "rpm", low: 1400, high: 1800 },
					work: passes(),
					edges: pick(["taped", "kept-off", "free"]),
				},
				{ id: rowId(), stage: "wipe", wipe: "alcohol-wipe" },
			]),
	];
	while (steps.length < rowCount) steps.push({ id: rowId(), stage: "inspect", tool: "lamp" });
	return {
		format: 1,
		id,
		title: { en: `Made procedure ${id}` },
		revision: 1,
		state: "draft",
		scope: {
			defects: some(defects).map((defect) => ({ defect, goal: "gone" })),
			substrates: some(substrates),
			clearCoats: some(clearCoats),
			tones: some(tones),
			features: ["flat"],
		},
		film: { known: "clear-reading" },
		cure: { hours: 24 },
		wear: [{ item: "respirator", filter: "P100" }, { item: "gloves" }, { item: "eyes" }],
		steps: steps.slice(0, rowCount),
		writtenBy: "Made by the benchmark",
	};
}
