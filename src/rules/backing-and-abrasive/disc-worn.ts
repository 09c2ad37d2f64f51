import type { AbrasiveRow } from "../../model/resolve.ts";
import type { Shop } from "../../model/shop.ts";
import { sand, sandByHand } from "../example-rows.ts";
import { rule, sheet } from "../rule.ts";

const film = {
	id: "film-disc-1500",
	name: "Film disc 1500",
	grade: "P1500",
	carrier: "film" as const,
	holes: "perforated" as const,
	form: "disc" as const,
	lifeM2: 1,
};

export default rule({
	id: "disc-worn",
	group: "backing and abrasive",
	level: "caution",
	source: sheet("the abrasive's life in the stock", null, "m²"),
	why: {
		en: "A worn disc hardly cuts and scratches with what it has picked up: the row no longer does what it says.",
		es: "Un disco gastado apenas corta y raya con lo que ha recogido: la fila ya no hace lo que dice.",
	},
	axes: [],
	*check({ rows, shop }) {
		for (const row of rows) {
			if (row.kind !== "abrasive") continue;
			const { lifeM2, item } = row.abrasive;
			const passes = row.work.unit === "passes" ? row.work.high : null;
			if (lifeM2 === null || item === null || passes === null) continue;
			const every = row.step.discEvery;
			const areaM2 = every === undefined ? row.areaM2 : every.count * countedM2(every.unit, row, shop);
			const workedM2 = areaM2 * passes;
			if (workedM2 <= lifeM2) continue;
			const sections = Math.floor(lifeM2 / (row.sectionM2 * passes));
			yield {
				row,
				field: "discEvery" as const,
				weight: workedM2,
				basis: sheet(item.sheet?.title ?? item.name, lifeM2, "m²"),
				data: { abrasive: item.name, areaM2, passes, workedM2, lifeM2, sections, set: every !== undefined },
			};
		}
	},
	say: {
		en: ({ abrasive, areaM2, passes, workedM2, lifeM2, sections, set }, say) => ({
			found: `One disc does ${say.number(areaM2)} m² in ${say.number(passes)} passes, ${say.number(workedM2)} m² in all${set ? "" : ", and no change of disc is named"}`,
			expected: `${abrasive} lasts ${say.number(lifeM2)} m² (stock)`,
			then:
				sections > 0
					? `Worn, it hardly cuts and scratches; change it every ${sections === 1 ? "section" : `${sections} sections`}`
					: "Worn, it hardly cuts and scratches; make the section smaller and change the disc for each",
		}),
		es: ({ abrasive, areaM2, passes, workedM2, lifeM2, sections, set }, say) => ({
			found: `Un disco hace ${say.number(areaM2)} m² en ${say.number(passes)} pasadas, ${say.number(workedM2)} m² en total${set ? "" : ", y no se nombra ningún cambio de disco"}`,
			expected: `${abrasive} dura ${say.number(lifeM2)} m² (existencias)`,
			then:
				sections > 0
					? `Gastado apenas corta y raya; cámbielo cada ${sections === 1 ? "sección" : `${sections} secciones`}`
					: "Gastado apenas corta y raya; haga la sección más pequeña y cambie el disco en cada una",
		}),
	},
	remedies({ row, data }) {
		const { sections } = data;
		if (row === null || sections < 1) return [];
		return [
			{
				kind: "offered",
				say: {
					en: `Change the disc every ${sections === 1 ? "section" : `${sections} sections`}`,
					es: `Cambiar el disco cada ${sections === 1 ? "sección" : `${sections} secciones`}`,
				},
				edit: [
					{
						op: "set",
						row: row.step.id,
						field: "discEvery",
						from: row.step.discEvery,
						to: { unit: "section", count: sections },
					},
				],
			},
		];
	},
	examples: {
		good: [
			{ title: "Three passes over a section", steps: [sand("film-disc-1500")], stock: { abrasives: [film] } },
			{
				title: "The whole panel, a new disc each section",
				steps: [sand("film-disc-1500", { place: "panel", discEvery: { unit: "section", count: 1 } })],
				stock: { abrasives: [film] },
			},
			{
				title: "The whole panel with a disc of unknown life",
				steps: [sand("P1500", { place: "panel" })],
			},
			{
				title: "Strokes by hand: nobody counts the area",
				steps: [sandByHand("film-disc-1500", { place: "panel", work: { unit: "strokes", low: 200, high: 300 } })],
				stock: { abrasives: [film] },
			},
		],
		bad: [
			{
				title: "The whole panel with one disc",
				steps: [sand("film-disc-1500", { place: "panel" })],
				stock: { abrasives: [film] },
				at: { row: 1, field: "discEvery" },
			},
			{
				title: "Two sections with one disc, three passes each",
				steps: [sand("film-disc-1500", { place: "panel", discEvery: { unit: "section", count: 2 } })],
				stock: { abrasives: [film] },
				at: { row: 1, field: "discEvery" },
			},
		],
	},
});

/** Area of one of what is counted between two discs, m². */
function countedM2(unit: "section" | "panel", row: AbrasiveRow, { limits }: Shop): number {
	return unit === "panel" ? limits.panelM2 : row.sectionM2;
}
