import type { ForecastReport } from "../../check/forecast-report.ts";
import type { ResolvedRow } from "../../model/resolve.ts";
import { formatFilm, type FilmUnit } from "../../model/units.ts";
import type { Language } from "../../model/words.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/**
 * Why a row is there, in one sentence computed from the forecast: what it takes off, the scratch it leaves, whose
 * scratches it clears and who clears its own. What is not known is said to be unknown.
 */
export function whyRow(row: ResolvedRow, report: ForecastReport, film: FilmUnit, language: Language): string {
	const say = saying(words, language);
	const um = (value: number) => formatFilm(value, film, language);
	const number = row.index + 1;
	const outcome = report.rows[row.index];
	if (row.kind === "incomplete") return say("whyIncomplete");
	if (row.kind === "reading") {
		const stop = report.stop.filter((one) => one.row === number).toSorted((a, b) => b.clearBelowUm - a.clearBelowUm)[0];
		return stop === undefined ? say("whyReading") : say("whyReadingStop", { film: um(stop.clearBelowUm) });
	}
	if (row.kind === "wipe" || row.kind === "wait" || row.kind === "inspection" || row.kind === "setup")
		return say(
			({ wipe: "whyWipe", wait: "whyWait", inspection: "whyInspection", setup: "whySetup" } as const)[row.kind],
		);
	if (outcome === undefined) return say("whyNotHere");

	const clauses = [
		outcome.removedUm === null ? say("whyRemovedUnknown") : say("whyRemoved", { film: um(outcome.removedUm.mid) }),
	];
	const before = report.rows[row.index - 1]?.scratchFromRow ?? null;
	const left = outcome.scratchUm === null ? null : um(outcome.scratchUm.mid);
	if (left === null) clauses.push(say("whyScratchUnknown"));
	else if (outcome.scratchFromRow === number) {
		clauses.push(before === null ? say("whyLeaves", { depth: left }) : say("whyClears", { depth: left, row: before }));
		const clearedBy = report.rows.find(
			(later) => later.row > number && later.scratchUm !== null && later.scratchFromRow !== number,
		);
		const last = report.rows.at(-1);
		if (clearedBy !== undefined) clauses.push(say("whyClearedBy", { row: clearedBy.row }));
		else if (last !== undefined && last.scratchUm !== null) clauses.push(say("whyNeverCleared"));
	} else if (outcome.scratchFromRow !== null)
		clauses.push(say("whyScratchStays", { depth: left, row: outcome.scratchFromRow }));
	else clauses.push(say("whyDefectStays", { depth: left }));
	return `${clauses.join("; ")}.`;
}
