import type { LiquidRow } from "../../model/resolve.ts";
import { type Shop, stockItem } from "../../model/shop.ts";
import { liquid, rotary } from "../example-rows.ts";
import { liquidName, padName } from "../liquids.ts";
import { common, rule, sheet } from "../rule.ts";
import { sheetNameOf } from "../scratches-left.ts";

const compound = {
	id: "wool-compound",
	name: "Wool compound",
	class: "heavy-cut" as const,
	pads: ["wool-twisted", "blue-foam"],
	sheet: { title: "Wool compound data sheet" },
};
const blueFoam = { id: "blue-foam", name: "Blue foam 150 mm", kind: "foam-firm" as const };
const greyFoam = { id: "grey-foam", name: "Grey foam 150 mm", kind: "foam-firm" as const };

export default rule({
	id: "pad-liquid-mismatch",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "What cuts is the pair of liquid and pad. On a pad it is not made for, a liquid cuts too little or leaves marks that the next row does not expect.",
		es: "Lo que corta es la pareja de líquido y boina. En una boina que no le corresponde, el líquido corta poco o deja marcas que la fila siguiente no espera.",
	},
	axes: [],
	*check({ rows, shop }) {
		for (const row of rows) {
			if (row.kind !== "liquid") continue;
			const meant = row.liquid.item?.pads ?? [];
			const fits = meant.length > 0 ? isAmong(row, meant, shop) : !isExtreme(row);
			if (fits) continue;
			const name = sheetNameOf(row);
			yield {
				row,
				field: "pad" as const,
				basis: meant.length > 0 ? sheet(name, meant.join(", "), null) : common,
				data: {
					pad: padName(row),
					liquid: liquidName(row),
					liquidClass: row.liquid.class,
					pads: [...meant],
					sheet: name,
				},
			};
		}
	},
	say: {
		en: ({ pad, liquid: one, liquidClass, pads, sheet: name }, say) => ({
			found: `${say.label("liquid", one)} is worked on ${say.label("pad", pad)}`,
			expected:
				pads.length > 0
					? `It is meant for ${say.list(
							pads.map((meant) => say.label("pad", meant)),
							"or",
						)} (${name})`
					: liquidClass === "finest"
						? "The finest liquid goes on foam, not on wool (common practice)"
						: "A heavy cut goes on wool, microfibre or firmer foam, not on soft foam (common practice)",
			then:
				liquidClass === "finest"
					? "Wool leaves marks deeper than this liquid takes off; they show on dark colours"
					: "The pair cuts too little, heats the panel or leaves its own marks; take a pad meant for it",
		}),
		es: ({ pad, liquid: one, liquidClass, pads, sheet: name }, say) => ({
			found: `${say.label("liquid", one)} se trabaja con ${say.label("pad", pad)}`,
			expected:
				pads.length > 0
					? `Está hecho para ${say.list(
							pads.map((meant) => say.label("pad", meant)),
							"or",
						)} (${name})`
					: liquidClass === "finest"
						? "El líquido más fino va con espuma, no con lana (práctica común)"
						: "Un corte fuerte va con lana, microfibra o espuma más firme, no con espuma blanda (práctica común)",
			then:
				liquidClass === "finest"
					? "La lana deja marcas más hondas de lo que este líquido quita; se ven en colores oscuros"
					: "La pareja corta poco, calienta el panel o deja marcas propias; use una boina hecha para él",
		}),
	},
	examples: {
		good: [
			{
				title: "A pad that the sheet names by kind",
				steps: [rotary("wool-compound", "wool-twisted")],
				stock: { liquids: [compound] },
			},
			{
				title: "A pad that the sheet names itself, and its kind",
				steps: [liquid("wool-compound", "blue-foam"), liquid("wool-compound", "foam-firm")],
				stock: { liquids: [compound], pads: [blueFoam] },
			},
			{ title: "Without a sheet: fine on medium foam", steps: [liquid("fine", "foam-medium")] },
			{
				title: "Without a sheet: heavy cut by hand",
				steps: [liquid("heavy-cut", "hand-applicator", { tool: "bare-hand" })],
			},
		],
		bad: [
			{
				title: "A pad that the sheet does not name",
				steps: [liquid("wool-compound", "foam-soft")],
				stock: { liquids: [compound] },
				at: { row: 1, field: "pad" },
			},
			{
				title: "Another pad of the same kind as the one named",
				steps: [liquid("wool-compound", "grey-foam")],
				stock: { liquids: [compound], pads: [blueFoam, greyFoam] },
				at: { row: 1, field: "pad" },
			},
			{ title: "Heavy cut on soft foam", steps: [liquid("heavy-cut", "foam-soft")], at: { row: 1, field: "pad" } },
			{ title: "Finest on knitted wool", steps: [rotary("finest", "wool-knit")], at: { row: 1, field: "pad" } },
		],
	},
});

/** Whether the sheet names the pad, by kind or by itself. A row that names a kind only may mean any pad of that kind. */
function isAmong({ pad }: LiquidRow, meant: readonly string[], { stock }: Shop): boolean {
	if (meant.includes(pad.kind)) return true;
	return pad.item ? meant.includes(pad.item.id) : meant.some((id) => stockItem(stock, "pads", id)?.kind === pad.kind);
}

/** The pairs that no sheet is needed for: the strongest liquid on the softest foam, the finest on any wool. */
function isExtreme({ liquid: { class: one }, pad: { kind } }: LiquidRow): boolean {
	return (one === "heavy-cut" && kind === "foam-soft") || (one === "finest" && kind.startsWith("wool-"));
}
