import { stockItem } from "../../model/shop.ts";
import type { AbrasiveRow, ResolvedRow } from "../../model/resolve.ts";
import { isCutting } from "../chains.ts";
import { liquid, sand, without } from "../example-rows.ts";
import { lacksOnly } from "../liquids.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "liquid-missing",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "A pad run dry heats the panel and marks it instead of polishing it; and from a strong liquid to the finest there is a factor of ten in cut.",
		es: "Una boina en seco calienta y marca el panel en lugar de pulirlo; y del líquido más fuerte al más fino el corte cambia más de diez veces.",
	},
	axes: [],
	*check({ rows, allRows, shop }) {
		for (const row of allRows) {
			if (!lacksOnly("liquid", row)) continue;
			const { pad } = row.step;
			const name = pad === undefined ? null : (stockItem(shop.stock, "pads", pad)?.name ?? pad);
			yield { row, field: "liquid" as const, data: { pad: name, sanded: null as string | null } };
		}
		const last = rows.findLast((row) => isCutting(row));
		if (last?.kind === "abrasive" && isLeftSanded(last, allRows))
			yield { row: last, data: { pad: null as string | null, sanded: last.abrasive.grade.text as string | null } };
	},
	say: {
		en: ({ pad, sanded }, say) =>
			sanded !== null
				? {
						found: `The work ends sanded at ${sanded}, and no liquid row follows`,
						expected: "What is sanded is compounded and polished back (common practice)",
						then: "The panel stays matt; add the liquid rows, or the row that seals or repaints it where that is meant",
					}
				: {
						found: `${pad === null ? "A pad" : say.label("pad", pad)} works with no liquid named`,
						expected: "A polishing row names its liquid (common practice)",
						then: "What the row takes off and leaves is not known, and a dry pad burns; name the liquid or its class",
					},
		es: ({ pad, sanded }, say) =>
			sanded !== null
				? {
						found: `El trabajo termina lijado a ${sanded}, y no sigue ninguna fila de líquido`,
						expected: "Lo lijado se corta y se pule después (práctica común)",
						then: "El panel queda mate; añada las filas de líquido, o la fila que sella o repinta donde así se quiera",
					}
				: {
						found: `${pad === null ? "Una boina" : say.label("pad", pad)} trabaja sin líquido nombrado`,
						expected: "Una fila de pulido nombra su líquido (práctica común)",
						then: "No se sabe qué quita ni qué deja, y una boina seca quema; nombre el líquido o su clase",
					},
	},
	examples: {
		good: [
			{ title: "A class of liquid", steps: [liquid("medium-cut", "foam-medium")] },
			{ title: "Sanded and polished back", steps: [sand("P2000"), liquid("medium-cut", "foam-medium")] },
			{ title: "Made ready for paint, and said so", steps: [sand("P1000"), { stage: "seal" }] },
			{ title: "A blend zone made ready for clear", steps: [sand("P1500", { place: "blend-zone" })] },
			{ title: "Sanded, the polishing only begun", steps: [sand("P2000"), { stage: "compound" }] },
			{ title: "A row only begun", steps: [{ stage: "polish", pad: "foam-soft" }] },
			{
				title: "A liquid that could not be read",
				steps: [without("liquid", liquid("fine", "foam-soft", { asTyped: { liquid: "the white one" } }))],
			},
		],
		bad: [
			{ title: "Sanded, and left so", steps: [sand("P1500"), sand("P2000")], at: { row: 2, field: null } },
			{
				title: "Polish with a pad alone",
				steps: [without("liquid", liquid("fine", "foam-medium"))],
				at: { row: 1, field: "liquid" },
			},
			{
				title: "Compound, then the same pad with nothing named",
				steps: [
					liquid("heavy-cut", "foam-firm"),
					without("liquid", without("pad", liquid("fine", "foam-soft", { padUse: "same-as-row" }))),
				],
				at: { row: 2, field: "liquid" },
			},
		],
	},
});

/** Whether sanding is the end of the work on the clear: nothing polishes, seals or repaints it, not even a row only begun. */
function isLeftSanded({ place }: AbrasiveRow, rows: readonly ResolvedRow[]): boolean {
	if (place === "blend-zone" || place === "edge-strip") return false;
	return !rows.some((row) => row.stage === "seal" || row.kind === "liquid" || row.kind === "incomplete");
}
