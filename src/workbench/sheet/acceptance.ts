import type { Edit } from "../../model/edits.ts";
import type { Finding } from "../../model/finding.ts";
import type { Exception, Procedure } from "../../model/generated/types.ts";
import type { Shop } from "../../model/shop.ts";
import { isAbout, type Setting, whyNotCovered } from "../../rules/exceptions.ts";
import { rules } from "../../rules/generated/rules.ts";

/** What a person says when they accept a finding; dates as year-month-day. */
export interface Acceptance {
	reason: string;
	by: string;
	on: string;
	/** Last day; null for no end. */
	until: string | null;
}

/** Whether a finding can be accepted at all: what is said of exceptions themselves cannot. */
export function canBeAccepted(finding: Finding): boolean {
	return finding.accepted === null && rules.find(({ id }) => id === finding.rule)?.readsFindings !== true;
}

/**
 * Who may accept a finding, by name: everybody of the book, or for level stop those who sign. Somebody whom the book
 * does not list may accept the lower levels too.
 */
export function acceptorsOf({ level }: Finding, { book }: Shop): string[] {
	return (book.people ?? []).filter(({ signs }) => level !== "stop" || signs === true).map(({ name }) => name);
}

/**
 * The edit that accepts a finding as it stands, with every value it rests on. An exception at the same place that no
 * longer covers it makes room.
 */
export function acceptEdit(finding: Finding, said: Acceptance, { exceptions }: Procedure): Edit {
	const { rule, rowId, field, data, level, situations } = finding;
	const exception: Exception = {
		rule,
		...(rowId === null ? {} : { step: rowId }),
		...(field === null ? {} : { field }),
		restedOn: Object.fromEntries(
			Object.entries(data).map(([key, value]) => [
				key,
				typeof value === "object" && value !== null ? value.join(", ") : value,
			]),
		),
		level,
		...(situations.some((box) => Object.keys(box).length === 0) ? {} : { situations }),
		reason: said.reason.trim(),
		by: said.by.trim(),
		on: said.on,
		...(said.until === null ? {} : { until: said.until }),
	};
	const others = (exceptions ?? []).filter((one) => !(isAbout(one, finding) && one.field === exception.field));
	return [
		{
			op: "setPart",
			pointer: "/exceptions",
			...(exceptions === undefined ? {} : { from: exceptions }),
			to: [...others, exception],
		},
	];
}

/** The edit that takes back what accepts a finding; null where nothing of the procedure as it stands does. */
export function takeBackEdit(finding: Finding, { exceptions }: Procedure, setting: Setting): Edit | null {
	// The exception stands in the finding no longer by itself, so that it is found as the check found it.
	const open: Finding = { ...finding, accepted: null };
	const others = (exceptions ?? []).filter(
		(one) => !(isAbout(one, open) && whyNotCovered(one, open, setting) === null),
	);
	if (others.length === (exceptions ?? []).length) return null;
	return [
		{
			op: "setPart",
			pointer: "/exceptions",
			from: exceptions,
			...(others.length === 0 ? {} : { to: others }),
		},
	];
}
