import type { ProcedureListed, ProceduresListed } from "../api/types.ts";
import { readShop } from "../book/book.ts";
import { partsDigest, procedureDigest, procedureIds, readProcedure } from "../book/procedures.ts";
import { assess } from "../check/assess.ts";
import { countFindings } from "../check/check.ts";
import { cardCode } from "../model/digest.ts";
import type { OpenFile } from "../model/document.ts";
import type { Estimate } from "../model/generated/types.ts";
import { type Problem, problemOf } from "../model/problem.ts";
import { procedureFile } from "../model/procedure-file.ts";
import type { Shop } from "../model/shop.ts";

/** What came of one file: its card, and what is wrong with it as a file. */
interface Summary {
	/** Of the file, what it was judged by, and the date. */
	key: string;
	procedure: ProcedureListed | null;
	problem: Problem | null;
}

/** Summaries of procedures, made anew only where the file, what it is judged by or the date has changed. */
export class Summaries {
	readonly #kept = new Map<string, Map<string, Summary>>();

	/**
	 * Every procedure of a book in the order of ids.
	 *
	 * @param today year-month-day
	 */
	list(folder: string, today: string): ProceduresListed | { problem: Problem } {
		// Taken before the files are read: what changes in between makes the summary old, never wrong for good.
		const parts = partsDigest(folder);
		const read = readShop(folder);
		if ("problem" in read) return read;
		const listed = procedureIds(folder);
		if ("problem" in listed) return listed;
		const before = this.#kept.get(folder);
		const summaries = new Map<string, Summary>();
		for (const id of listed.ids) {
			const key = `${procedureDigest(folder, id)} ${parts} ${today}`;
			const kept = before?.get(id);
			summaries.set(id, kept?.key === key ? kept : summaryOf(folder, id, key, read.shop, today));
		}
		this.#kept.set(folder, summaries);
		const all = [...summaries];
		return {
			procedures: all.flatMap(([, { procedure }]) => procedure ?? []),
			problems: [
				...read.problems,
				...all.flatMap(([id, { problem }]) => (problem === null ? [] : [{ name: procedureFile(id), problem }])),
			],
		};
	}
}

function summaryOf(folder: string, id: string, key: string, shop: Shop, today: string): Summary {
	const read = readProcedure(folder, id);
	if ("problem" in read) return { key, procedure: null, problem: read.problem };
	const found = read.file.readable.id;
	return {
		key,
		procedure: cardOf(id, read.file, shop, today),
		problem: found === id ? null : problemOf("other-id", null, { name: procedureFile(id), found }),
	};
}

function cardOf(id: string, { readable, problems }: OpenFile<"procedure">, shop: Shop, today: string): ProcedureListed {
	const { findings, report } = assess({ procedure: readable, problems, shop, today });
	return {
		id,
		title: readable.title,
		purpose: readable.purpose ?? null,
		state: readable.state ?? "draft",
		revision: readable.revision ?? null,
		revisionDate: readable.revisionDate ?? null,
		variantOf: readable.variantOf ?? null,
		chooseWhen: readable.chooseWhen ?? null,
		scope: readable.scope ?? {},
		code: cardCode(readable, shop),
		rows: readable.steps?.length ?? 0,
		counts: countFindings([{ findings }]),
		accepted: findings.filter(({ accepted }) => accepted !== null).length,
		takenUm: estimateOf(report.totals.removedUm),
		leftUm: estimateOf(report.totals.filmLeftUm),
		minutes: estimateOf(report.totals.minutes),
	};
}

/** The figures alone, without the situation they are worst in. */
function estimateOf(worst: Estimate | null): Estimate | null {
	return worst === null ? null : { mid: worst.mid, low: worst.low, high: worst.high };
}
