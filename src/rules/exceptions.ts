import { type Finding, type Level, levels } from "../model/finding.ts";
import type { Box, Exception, Procedure } from "../model/generated/types.ts";
import type { Shop } from "../model/shop.ts";
import { boxHolds, boxSurelyHolds, situationsOf } from "../model/situations.ts";

/** What exceptions are held against. */
export interface Setting {
	procedure: Procedure;
	shop: Shop;
	today: string;
}

/**
 * The findings, those a valid exception covers marked accepted. An exception covers a finding of its rule, row
 * and field while it has not expired, the values it rested on still stand, the level is no higher, and no new
 * situation has come in; one of level stop needs somebody who signs.
 */
export function acceptExceptions(findings: readonly Finding[], setting: Setting): Finding[] {
	const exceptions = setting.procedure.exceptions ?? [];
	if (exceptions.length === 0) return [...findings];
	return findings.map((finding) => {
		const exception = exceptions.find((one) => isAbout(one, finding) && whyNotCovered(one, finding, setting) === null);
		if (exception === undefined) return finding;
		const { by, on, until, reason } = exception;
		return { ...finding, accepted: { by, on, until: until ?? null, reason } };
	});
}

/** Whether an exception speaks of this finding at all, valid or not. */
export function isAbout(exception: Exception, finding: Finding): boolean {
	return (
		exception.rule === finding.rule &&
		(exception.step ?? null) === finding.rowId &&
		(exception.field === undefined || exception.field === finding.field)
	);
}

/** Whether the last day of an exception lies before today. */
export function hasExpired(exception: Exception, today: string): boolean {
	return exception.until !== undefined && exception.until < today;
}

/** Why an exception that speaks of a finding does not accept it. */
export type NotCovered =
	| { why: "expired" | "new-situation" }
	/** Nobody who signs has accepted a finding of level stop. */
	| { why: "unsigned" }
	| { why: "higher-level"; from: Level; to: Level }
	| { why: "other-value"; key: string; from: RestedOn; to: RestedOn };

type RestedOn = number | string | boolean | null;

/** Why an exception does not accept a finding it speaks of; null where it does. */
export function whyNotCovered(
	exception: Exception,
	finding: Finding,
	{ procedure, shop, today }: Setting,
): NotCovered | null {
	if (hasExpired(exception, today)) return { why: "expired" };
	const { level: from = "caution", by, restedOn = {}, situations = [{}] } = exception;
	if (levels.indexOf(finding.level) < levels.indexOf(from)) return { why: "higher-level", from, to: finding.level };
	if (finding.level === "stop" && !shop.book.people?.some(({ name, signs }) => signs && name === by))
		return { why: "unsigned" };
	for (const [key, then] of Object.entries(restedOn)) {
		const now = keptValue(finding.data[key]);
		if (now !== then) return { why: "other-value", key, from: then, to: now };
	}
	return isWithin(finding.situations, situations, procedure) ? null : { why: "new-situation" };
}

/** Lists of a finding are kept in an exception as one string, joined by a comma and a blank. */
function keptValue(now: Finding["data"][string] | undefined): RestedOn {
	if (now === undefined) return null;
	return typeof now === "object" && now !== null ? now.join(", ") : now;
}

function isWithin(inner: readonly Box[], outer: readonly Box[], procedure: Procedure): boolean {
	const served = situationsOf(procedure.scope);
	// Where every situation is excepted, findings hold in none that is named.
	return (served.length > 0 ? served : [{}])
		.filter((one) => inner.some((box) => boxHolds(box, one)))
		.every((one) => outer.some((box) => boxSurelyHolds(box, one)));
}
