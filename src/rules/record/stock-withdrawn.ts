import type { StepField } from "../../model/resolve.ts";
import type { Shop } from "../../model/shop.ts";
import { sand, sandByHand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";
import { itemNamed, itemsOf, type StockItem } from "../stock-references.ts";

const oldFilm = {
	id: "film-1500-old",
	name: "Film 1500, old series",
	grade: "P1500",
	carrier: "film" as const,
	holes: "perforated" as const,
	withdrawn: true,
	replacedBy: "film-1500",
};
const newFilm = {
	id: "film-1500",
	name: "Film 1500",
	grade: "P1500",
	carrier: "film" as const,
	holes: "perforated" as const,
};

export default rule({
	id: "stock-withdrawn",
	group: "record",
	level: "caution",
	source: common,
	why: {
		en: "An item that is no longer stocked is replaced at the bench by whatever lies nearest.",
		es: "Lo que ya no está en existencias se sustituye en el puesto por lo primero que haya a mano.",
	},
	axes: [],
	*check({ allRows, shop }) {
		for (const row of allRows) {
			for (const { field, item } of itemsOf(row, shop)) {
				if (!item.withdrawn) continue;
				const instead = replacementOf(field, item, shop);
				const data = { item: item.name, replacedBy: instead?.name ?? null, isSame: !!instead && isSame(item, instead) };
				yield { row, field, data };
			}
		}
	},
	say: {
		en: ({ item, replacedBy, isSame: same }) => ({
			found: `${item} is no longer stocked`,
			expected: "A row names what lies on the shelf (the shop's stock)",
			then:
				replacedBy === null
					? "The stock names nothing in its place; choose what takes it"
					: `${replacedBy} takes its place${same ? "" : "; it is not the same in every figure, so look at the row again"}`,
		}),
		es: ({ item, replacedBy, isSame: same }) => ({
			found: `${item} ya no está en existencias`,
			expected: "Una fila nombra lo que hay en el estante (las existencias del taller)",
			then:
				replacedBy === null
					? "Las existencias no nombran nada en su lugar; elija qué lo sustituye"
					: `Lo sustituye ${replacedBy}${same ? "" : "; no es igual en todos sus datos, así que revise la fila"}`,
		}),
	},
	remedies({ row, field: name, data }, { shop }) {
		const field = name as StepField | null;
		const from = field === null ? undefined : row?.step[field];
		const item = field === null ? undefined : itemNamed(field, from, shop);
		if (row === null || field === null || item === undefined) return [];
		const instead = replacementOf(field, item, shop);
		if (instead === undefined) return [];
		return [
			{
				kind: data.isSame ? "sure" : "offered",
				say: {
					en: `Take ${instead.name} in place of ${item.name}`,
					es: `Usar ${instead.name} en lugar de ${item.name}`,
				},
				edit: [{ op: "set", row: row.step.id, field, from, to: instead.id }],
			},
		];
	},
	examples: {
		good: [
			{ title: "An item in stock", steps: [sand("film-1500")], stock: { abrasives: [newFilm] } },
			{
				title: "A withdrawn item that no row names",
				steps: [sand("film-1500")],
				stock: { abrasives: [oldFilm, newFilm] },
			},
		],
		bad: [
			{
				title: "Replaced by one that is the same in every figure",
				steps: [sand("film-1500-old")],
				stock: { abrasives: [oldFilm, newFilm] },
				at: { row: 1, field: "abrasive" },
			},
			{
				title: "Replaced by another carrier",
				steps: [sandByHand("film-1500-old")],
				stock: { abrasives: [oldFilm, { ...newFilm, carrier: "paper" as const }] },
				at: { row: 1, field: "abrasive" },
			},
			{
				title: "Nothing in its place",
				steps: [sand("film-1500-old")],
				stock: { abrasives: [{ ...oldFilm, replacedBy: "never-bought" }] },
				at: { row: 1, field: "abrasive" },
			},
		],
	},
});

/** What takes the place of an item and is stocked; a replacement that was itself replaced is followed. */
function replacementOf(field: StepField, item: StockItem, shop: Shop): StockItem | undefined {
	const met = new Set([item.id]);
	for (let at = itemNamed(field, item.replacedBy, shop); at !== undefined; at = itemNamed(field, at.replacedBy, shop)) {
		if (met.has(at.id)) return undefined;
		if (!at.withdrawn) return at;
		met.add(at.id);
	}
	return undefined;
}

/** Whether two items agree in everything a rule or the forecast can read of them. */
function isSame(one: StockItem, other: StockItem): boolean {
	return figures(one) === figures(other);
}

function figures(item: StockItem): string {
	const { id: _id, name: _name, withdrawn: _withdrawn, replacedBy: _by, price: _price, sheet: _sheet, ...rest } = item;
	return JSON.stringify(Object.entries(rest).toSorted(([a], [b]) => (a < b ? -1 : 1)));
}
