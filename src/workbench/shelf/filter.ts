import type { ProcedureListed } from "../../api/types.ts";
import { defectName } from "../../model/defects.ts";
import { type Level, levels } from "../../model/finding.ts";
import type { Book } from "../../model/generated/types.ts";
import { foldText, label, type Language, valuesOf } from "../../model/words.ts";

type State = ProcedureListed["state"];

/** What a person looks for on the Shelf; null and empty ask for nothing. */
export interface Filter {
	/** Words of title, defect or scope, or the code of a card. */
	text: string;
	/** Procedures with open findings of a level, or with none at all. */
	findings: Level | "none" | null;
	state: State | null;
	/** A defect that the scope names, by id. */
	defect: string | null;
}

/** In whose words the text is looked for. */
export interface Reader {
	language: Language;
	book: Pick<Book, "defects"> | undefined;
}

export const noFilter: Filter = { text: "", findings: null, state: null, defect: null };

/** The filter that the query of an address holds; what it does not understand asks for nothing. */
export function readFilter(query: string): Filter {
	const asked = new URLSearchParams(query);
	return {
		text: asked.get("text") ?? "",
		findings: ([...levels, "none"] as const).find((one) => one === asked.get("findings")) ?? null,
		state: valuesOf("state").find((one) => one === asked.get("state")) ?? null,
		defect: asked.get("defect") || null,
	};
}

/** The query that holds a filter: empty for none, else with its question mark. */
export function filterQuery(filter: Filter): string {
	const asked = Object.entries(filter).filter((pair): pair is [string, string] => Boolean(pair[1]));
	return asked.length === 0 ? "" : `?${new URLSearchParams(asked)}`;
}

/** The procedures that a filter asks for, in their order. */
export function matching(procedures: readonly ProcedureListed[], filter: Filter, reader: Reader): ProcedureListed[] {
	const words = foldedWords(filter.text);
	const code = readCode(filter.text);
	return procedures.filter((one) => {
		if (filter.state !== null && one.state !== filter.state) return false;
		if (filter.defect !== null && !defectsOf(one).includes(filter.defect)) return false;
		if (filter.findings === "none" && levels.some((level) => one.counts[level] > 0)) return false;
		if (filter.findings !== null && filter.findings !== "none" && one.counts[filter.findings] === 0) return false;
		if (code !== null && one.code === code) return true;
		const text = searched(one, reader);
		return words.every((word) => text.includes(word));
	});
}

/**
 * A text as the code of a card, as its letters are meant: without case, spaces and hyphens, and with the digits that
 * Crockford's base 32 lets letters be mistaken for. Null where it is none.
 */
export function readCode(text: string): string | null {
	const code = text.toUpperCase().replace(/[\s-]/g, "").replace(/O/g, "0").replace(/[IL]/g, "1");
	return /^[0-9A-HJKMNP-TV-Z]{10}$/.test(code) ? code : null;
}

/** Ids of the defects in a scope, in its order. */
export function defectsOf({ scope }: Pick<ProcedureListed, "scope">): string[] {
	return (scope.defects ?? []).map(({ defect }) => defect);
}

/** A procedure with its variants under it. */
export interface Entry {
	procedure: ProcedureListed;
	variants: Entry[];
}

/** The procedures whose first defect is `defect`; null for those that name none. */
export interface Group {
	defect: string | null;
	entries: Entry[];
}

/** Procedures by their first defect, in the order of the trade's list, the shop's own after; variants under what they vary. */
export function grouped(procedures: readonly ProcedureListed[]): Group[] {
	const shown = new Map(procedures.map((one) => [one.id, one]));
	// What stands above is left out below it, so that variants in a circle end.
	const entry = (procedure: ProcedureListed, above: readonly string[] = []): Entry => {
		const upTo = [...above, procedure.id];
		const variants = procedures.filter(({ id, variantOf }) => variantOf === procedure.id && !upTo.includes(id));
		return { procedure, variants: variants.map((one) => entry(one, upTo)) };
	};
	const groups = new Map<string | null, Entry[]>();
	for (const procedure of procedures) {
		if (!standsAlone(procedure, shown)) continue;
		const first = defectsOf(procedure)[0] ?? null;
		groups.set(first, [...(groups.get(first) ?? []), entry(procedure)]);
	}
	const order: string[] = valuesOf("defect");
	const place = (defect: string | null) =>
		defect === null ? order.length + 1 : order.includes(defect) ? order.indexOf(defect) : order.length;
	return [...groups]
		.map(([defect, entries]) => ({ defect, entries }))
		.toSorted((a, b) => place(a.defect) - place(b.defect));
}

/** A variant of something not shown, or one in a circle of variants, stands by itself. */
function standsAlone(procedure: ProcedureListed, shown: ReadonlyMap<string, ProcedureListed>): boolean {
	const circle: ProcedureListed[] = [];
	for (let one: ProcedureListed | undefined = procedure; one !== undefined; one = shown.get(one.variantOf ?? "")) {
		if (circle.includes(one)) return circle.indexOf(one) === 0 && circle.every(({ id }) => id >= procedure.id);
		circle.push(one);
	}
	return circle.length === 1;
}

function searched(procedure: ProcedureListed, { language, book }: Reader): string {
	const { id, title, purpose, chooseWhen, scope } = procedure;
	const texts = [
		id,
		...Object.values(title),
		...Object.values(purpose ?? {}),
		...Object.values(chooseWhen ?? {}),
		...defectsOf(procedure).map((defect) => defectName(defect, language, book)),
		...(scope.substrates ?? []).map((value) => label("substrate", value, language)),
		...(scope.clearCoats ?? []).map((value) => label("clearCoat", value, language)),
		...(scope.tones ?? []).map((value) => label("tone", value, language)),
	];
	return texts.flatMap((text) => foldedWords(text)).join(" ");
}

function foldedWords(text: string): string[] {
	return text
		.split(/[\s,;:/-]+/)
		.map(foldText)
		.filter((word) => word !== "");
}
