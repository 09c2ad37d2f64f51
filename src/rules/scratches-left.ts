import type { RowOutcome } from "../forecast/outcome.ts";
import { z95 } from "../forecast/spread.ts";
import type { Estimate } from "../model/generated/types.ts";
import { type Grade, readGrade } from "../model/grades.ts";
import type { AbrasiveRow, LiquidRow, ResolvedRow } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { type CuttingRow, chainEnds, coversPlace, isCutting, surfacesUnder } from "./chains.ts";
import type { RuleInput } from "./rule.ts";

/** Scratches that the liquid rows of a chain may not clear, by the forecast. */
export interface ScratchesLeft {
	/** Last liquid row of the chain. */
	end: LiquidRow;
	/** Row that made them; null for the defect itself. */
	from: CuttingRow | null;
	/** Probability, 0 to 1, that they are left. */
	chance: number;
	/** Depth left after the last row, µm: middle and upper end. */
	leftUm: number;
	leftHighUm: number;
	/** Depth at which they count as cleared, µm: the house limit, or what the last row itself leaves if that is more. */
	clearedUm: number;
	/** Liquid row that takes off most of them in a pass; the last one where none counts passes. */
	strongest: LiquidRow;
	/** Passes of that row that would clear them, all others as they are; null where so many are no way out. */
	passes: number | null;
}

/** A liquid row on scratches coarser than its sheet says it clears. */
export interface BeyondSheet {
	row: LiquidRow;
	from: AbrasiveRow;
	clears: Grade;
	sheetName: string;
}

/** Chance from which scratches are worth a word, and from which the panel will show them. Common practice, no source. */
const chanceOfNote = 0.2;
export const chanceOfShow = 0.5;

/** Standard deviations that the removal asked for lies above the middle: a chance of about one in seven is left. */
const reserveSigmas = 1.1;

/**
 * More passes than this in one row heat the panel and load the pad: not a way out. On a spot, where a pass is a second
 * of contact, there may be more. Common practice, no source.
 */
const mostPasses = { spot: 30, elsewhere: 10 };

/**
 * The scratches left where chains end in a liquid row, one entry for each row that made them. A chain that ends in
 * sanding is meant to be matt at that row and is not judged here, nor is one whose forecast is unknown.
 */
export function scratchesLeft({
	rows,
	forecast,
	shop,
}: Pick<RuleInput, "rows" | "forecast" | "shop">): ScratchesLeft[] {
	const outcomes = forecast.rows.filter(isOutcomeOfCut);
	// What stands proud is levelled; only what lies in the film is a scratch itself.
	const defectUm = forecast.toBottomUm === null ? null : forecast.defectUm;
	const byMaker = new Map<CuttingRow | null, ScratchesLeft>();
	for (const end of chainEnds(rows)) {
		if (end.kind !== "liquid") continue;
		const at = outcomes.findIndex(({ row }) => row === end);
		const outcome = outcomes[at];
		if (outcome === undefined || outcome.notClearedChance === null) continue;
		const clearedUm = Math.max(shop.limits.scratchClearedUm, outcome.ownScratchUm?.mid ?? 0);
		const deepest = deepestAfter(outcomes.slice(0, at + 1), defectUm, clearedUm);
		if (deepest === null) continue;
		// A later chain that works over the same scratches, such as one on a spot, may still clear them.
		byMaker.delete(deepest.from);
		if (outcome.notClearedChance <= chanceOfNote) continue;
		const { from, madeUm, goneUm } = deepest;
		const leftUm = madeUm.mid - goneUm.mid;
		byMaker.set(from, {
			end,
			from,
			chance: outcome.notClearedChance,
			leftUm: Math.max(0, leftUm),
			leftHighUm: Math.max(0, leftUm + Math.hypot(madeUm.high - madeUm.mid, goneUm.mid - goneUm.low)),
			clearedUm,
			...wayOut(deepest, clearedUm, end),
		});
	}
	return [...byMaker.values()];
}

/** Liquid rows on scratches coarser than their sheet says they clear, each with the coarsest of them. */
export function rowsBeyondSheet(rows: readonly ResolvedRow[], shop: Shop): BeyondSheet[] {
	return rows.flatMap((row) => {
		if (row.kind !== "liquid") return [];
		const clears = gradeCleared(row, shop);
		if (clears === null) return [];
		const [from] = surfacesUnder(row, rows)
			.filter((one): one is AbrasiveRow => one.kind === "abrasive")
			.filter(({ abrasive }) => abrasive.grade.text !== clears.text && abrasive.medianUm > clears.um)
			.toSorted((one, other) => other.abrasive.medianUm - one.abrasive.medianUm);
		return from === undefined ? [] : [{ row, from, clears, sheetName: sheetNameOf(row) }];
	});
}

/** The coarsest grade that the sheet of a row's liquid says it clears; null where no sheet says so. */
export function gradeCleared({ liquid }: LiquidRow, { book }: Shop): Grade | null {
	const text = liquid.item?.clearsGrade;
	const grade = text === undefined ? null : readGrade(text, book.gradeScale);
	return grade?.kind === "grade" ? grade : null;
}

/** The sheet of a row's liquid by its title, else by the liquid's name. */
export function sheetNameOf({ liquid }: LiquidRow): string {
	return liquid.item?.sheet?.title ?? liquid.item?.name ?? liquid.class;
}

interface OutcomeOfCut extends RowOutcome {
	row: CuttingRow;
}

function isOutcomeOfCut(outcome: RowOutcome): outcome is OutcomeOfCut {
	return isCutting(outcome.row);
}

/** Scratches of one row, or the defect, and what has been done to them since. */
interface Scratch {
	from: CuttingRow | null;
	madeUm: Estimate;
	after: OutcomeOfCut[];
	goneUm: { mid: number; low: number };
}

/**
 * Of all scratches that the last of these rows works over, those most likely deeper than cleared: the depth made
 * stands highest over what is cleared and gone together, which is what the forecast's chance turns on.
 */
function deepestAfter(outcomes: readonly OutcomeOfCut[], defectUm: Estimate | null, clearedUm: number): Scratch | null {
	const end = outcomes.at(-1);
	if (end === undefined) return null;
	const scratches: Scratch[] = defectUm === null ? [] : [scratchOf(null, defectUm, outcomes)];
	// Of scratches equally deep at one place, those made last stand highest: less has been taken off them.
	const makers = new Map<string, { row: CuttingRow; madeUm: Estimate }>();
	for (const { row, ownScratchUm: madeUm } of outcomes.slice(0, -1))
		if (madeUm !== null && worksOver(end.row, row))
			makers.set(`${row.place}/${row.areaM2}/${madeUm.mid}`, { row, madeUm });
	for (const { row, madeUm } of makers.values()) scratches.push(scratchOf(row, madeUm, outcomes));
	const height = ({ madeUm, goneUm }: Scratch) => madeUm.mid / (clearedUm + goneUm.mid);
	return scratches.toSorted((one, other) => height(other) - height(one))[0] ?? null;
}

function scratchOf(from: CuttingRow | null, madeUm: Estimate, outcomes: readonly OutcomeOfCut[]): Scratch {
	const after = outcomes.filter(({ row }) =>
		from === null ? row.place !== "edge-strip" : row.index > from.index && worksOver(row, from),
	);
	const goneUm = { mid: 0, low: 0 };
	for (const { removedUm } of after) {
		goneUm.mid += removedUm?.mid ?? 0;
		goneUm.low += removedUm?.low ?? 0;
	}
	return { from, madeUm, after, goneUm };
}

/** Whether a later row cuts where an earlier one did; a row that neither tapes edges nor keeps off them cuts there, too. */
function worksOver(later: ResolvedRow, earlier: ResolvedRow): boolean {
	if (coversPlace(later, earlier)) return true;
	return (
		earlier.place === "edge-strip" && later.place !== "spot" && later.edges !== "taped" && later.edges !== "kept-off"
	);
}

/** The liquid row that takes off most in a pass, and the passes of it that clear the scratch, all other rows as they are. */
function wayOut(
	{ madeUm, after, goneUm }: Scratch,
	clearedUm: number,
	end: LiquidRow,
): Pick<ScratchesLeft, "strongest" | "passes"> {
	let strongest: { row: LiquidRow; passes: number; umPerPass: number; sigma: number } | null = null;
	for (const { row, removedUm } of after) {
		if (row.kind !== "liquid" || row.work.unit !== "passes" || !row.work.mid || removedUm === null) continue;
		const umPerPass = removedUm.mid / row.work.mid;
		if (umPerPass > (strongest?.umPerPass ?? 0))
			strongest = { row, passes: row.work.mid, umPerPass, sigma: sigmaOf(removedUm) };
	}
	if (strongest === null) return { strongest: end, passes: null };
	const reserve = Math.exp(reserveSigmas * Math.hypot(sigmaOf(madeUm), strongest.sigma));
	const missingUm = madeUm.mid * reserve - clearedUm - goneUm.mid;
	const most = mostPasses[strongest.row.place === "spot" ? "spot" : "elsewhere"];
	const passes = Math.max(
		Math.ceil(strongest.passes + missingUm / strongest.umPerPass),
		Math.floor(strongest.passes) + 1,
	);
	return { strongest: strongest.row, passes: passes > most ? null : passes };
}

/** Standard deviation of the logarithm, from the middle and the upper end of the 95 % interval. */
function sigmaOf({ mid, high }: Estimate): number {
	return Math.log(high / mid) / z95;
}
