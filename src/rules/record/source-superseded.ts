import type { Sheet, Source } from "../../model/generated/types.ts";
import type { Shop } from "../../model/shop.ts";
import { sand } from "../example-rows.ts";
import { rule, sheet } from "../rule.ts";
import type { StockItem } from "../stock-references.ts";

const film = (sheetOf: Sheet) => ({ id: "film-1500", name: "Film 1500", grade: "P1500", sheet: sheetOf });
const filmSheet = { title: "Film discs, technical sheet", revision: "C", date: "2025-03-10" };

export default rule({
	id: "source-superseded",
	group: "record",
	level: "caution",
	source: sheet("the sheet of the stock item", null, null),
	why: {
		en: "Suppliers change their sheets: what a procedure took from an older one may no longer hold.",
		es: "Los proveedores cambian sus fichas: lo que un procedimiento tomó de una anterior puede no valer ya.",
	},
	axes: [],
	*check({ procedure: { sources = [] }, shop }) {
		for (const [index, source] of sources.entries()) {
			const newest = sheetsFor(source, shop)
				.filter((one) => isNewer(one, source))
				.toSorted((a, b) => ((a.date ?? "") < (b.date ?? "") ? 1 : -1))[0];
			if (newest === undefined) continue;
			yield {
				field: "sources" as const,
				pointer: `/sources/${index}`,
				basis: sheet(newest.title, newest.revision ?? null, null),
				data: {
					title: source.title,
					revision: source.revision ?? null,
					date: source.date ?? null,
					newTitle: newest.title,
					newRevision: newest.revision ?? null,
					newDate: newest.date ?? null,
				},
			};
		}
	},
	say: {
		en: ({ title, revision, date, newTitle, newRevision, newDate }, say) => ({
			found: `The procedure rests on ${say.quote(title)}${which.en(revision, date)}`,
			expected: `The stock has a newer one${newTitle === title ? "" : `, ${say.quote(newTitle)}`}${which.en(newRevision, newDate)}`,
			then: "Compare the rows with the new sheet, then name it as the source",
		}),
		es: ({ title, revision, date, newTitle, newRevision, newDate }, say) => ({
			found: `El procedimiento se basa en ${say.quote(title)}${which.es(revision, date)}`,
			expected: `Las existencias tienen una más nueva${newTitle === title ? "" : `, ${say.quote(newTitle)}`}${which.es(newRevision, newDate)}`,
			then: "Compare las filas con la ficha nueva y nómbrela después como fuente",
		}),
	},
	examples: {
		good: [
			{
				title: "The sheet of today",
				steps: [sand("film-1500")],
				procedure: { sources: [{ ...filmSheet, item: "film-1500" }] },
				stock: { abrasives: [film(filmSheet)] },
			},
			{
				title: "A source newer than what the stock has noted",
				steps: [sand("film-1500")],
				procedure: { sources: [{ title: filmSheet.title, date: "2025-09-01" }] },
				stock: { abrasives: [film(filmSheet)] },
			},
			{
				title: "No date on either: nobody can say which is newer",
				steps: [sand("film-1500")],
				procedure: { sources: [{ title: filmSheet.title, revision: "spring", item: "film-1500" }] },
				stock: { abrasives: [film({ title: filmSheet.title, revision: "autumn" })] },
			},
			{
				title: "A source that is no sheet of the stock",
				steps: [sand("film-1500")],
				procedure: { sources: [{ title: "Notes of the paint course", date: "2019-04-01" }] },
				stock: { abrasives: [film(filmSheet)] },
			},
		],
		bad: [
			{
				title: "An older date of the same sheet",
				steps: [sand("film-1500")],
				procedure: { sources: [{ title: filmSheet.title, revision: "B", date: "2023-11-02", item: "film-1500" }] },
				stock: { abrasives: [film(filmSheet)] },
				at: { row: null, field: "sources" },
			},
			{
				title: "Found by its title, an earlier letter",
				steps: [sand("film-1500")],
				procedure: { sources: [{ title: filmSheet.title, revision: "B" }] },
				stock: { abrasives: [film(filmSheet)] },
				at: { row: null, field: "sources" },
			},
		],
	},
});

const which = {
	en: (revision: string | null, date: string | null) =>
		`${revision === null ? "" : `, revision ${revision}`}${date === null ? "" : ` of ${date}`}`,
	es: (revision: string | null, date: string | null) =>
		`${revision === null ? "" : `, revisión ${revision}`}${date === null ? "" : ` del ${date}`}`,
};

/** The sheets of the stock that a source speaks of: that of the item it names, else those with its title. */
function sheetsFor({ item, title }: Source, { stock }: Shop): Sheet[] {
	const items = Object.values(stock).flatMap((list) => (Array.isArray(list) ? (list as StockItem[]) : []));
	return items
		.filter(({ id, sheet: own }) => (item === undefined ? own?.title === title : id === item))
		.flatMap(({ sheet: own }) => own ?? []);
}

/** By date where both have one, else by revision where both are whole numbers or single letters; else nobody can say. */
function isNewer(one: Sheet, than: Source): boolean {
	if (one.date !== undefined && than.date !== undefined) return one.date > than.date;
	const [revision = "", earlier = ""] = [one.revision?.trim().toUpperCase(), than.revision?.trim().toUpperCase()];
	if (/^\d{1,9}$/.test(revision) && /^\d{1,9}$/.test(earlier)) return Number(revision) > Number(earlier);
	return /^[A-Z]$/.test(revision) && /^[A-Z]$/.test(earlier) && revision > earlier;
}
