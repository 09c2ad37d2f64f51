import type { ResolvedRow } from "../../model/resolve.ts";
import { type CuttingRow, isCutting } from "../chains.ts";
import { liquid, sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "blade-then-liquid",
	group: "grade progression",
	level: "stop",
	source: common,
	why: {
		en: "A nib blade or file leaves a few µm standing and marks around it that no liquid levels: finishing sanding comes between.",
		es: "La cuchilla o la lima de motas deja unos µm en relieve y marcas alrededor que ningún líquido nivela: entre ambas va un lijado de acabado.",
	},
	axes: [],
	*check({ rows }) {
		for (const blade of rows) {
			if (blade.kind !== "blade") continue;
			const next = nextCut(blade, rows);
			if (next?.kind !== "liquid") continue;
			yield {
				row: next,
				field: "liquid" as const,
				data: { bladeRow: blade.index + 1, tool: blade.tool.kind, liquid: next.liquid.class },
			};
		}
	},
	say: {
		en: ({ bladeRow, tool, liquid }, say) => ({
			found: `${say.label("liquid", liquid)} comes straight after the ${say.label("tool", tool)} of row ${bladeRow}`,
			expected: "After a blade or file comes finishing sanding, then liquid (common practice)",
			then: "The rest of the nib and the marks of the blade stay and shine; sand the spot between the two rows",
		}),
		es: ({ bladeRow, tool, liquid }, say) => ({
			found: `${say.label("liquid", liquid)} viene justo después de la ${say.label("tool", tool)} de la fila ${bladeRow}`,
			expected: "Tras la cuchilla o la lima va un lijado de acabado, y después el líquido (práctica común)",
			then: "El resto de la mota y las marcas de la cuchilla quedan y brillan; lije el punto entre las dos filas",
		}),
	},
	examples: {
		good: [
			{
				title: "Nib blade, P2000 on the spot, compound",
				steps: [
					{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } },
					sand("P2000", { place: "spot" }),
					liquid("heavy-cut", "foam-firm"),
				],
			},
			{
				title: "A blade row that names no place, then the spot is sanded",
				steps: [
					{ stage: "level", tool: "nib-file", work: { unit: "strokes", low: 5, high: 10 } },
					sand("P2000", { place: "spot" }),
					liquid("heavy-cut", "foam-firm"),
				],
			},
			{
				title: "Compound first, a blade if needed, and sanding after it",
				steps: [
					liquid("heavy-cut", "foam-firm"),
					{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" }, need: "if-needed" },
					sand("P2000", { place: "spot", need: "if-needed" }),
					liquid("fine", "foam-soft"),
				],
			},
		],
		bad: [
			{
				title: "Nib blade, then compound",
				steps: [
					{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } },
					{ stage: "wipe", wipe: "dry-cloth" },
					liquid("heavy-cut", "wool-twisted"),
					liquid("fine", "foam-medium"),
				],
				at: { row: 3, field: "liquid" },
			},
			{
				title: "A blade and a file, then polish",
				steps: [
					{ stage: "level", place: "spot", tool: "razor", work: { unit: "strokes", low: 10, high: 10 } },
					{ stage: "level", place: "spot", tool: "nib-file", work: { unit: "strokes", low: 10, high: 10 } },
					liquid("medium-cut", "foam-medium", { place: "spot" }),
				],
				at: { row: 3, field: "liquid" },
			},
		],
	},
});

/**
 * The next row that sands or polishes where a blade has been. A blade works a spot whatever place its row
 * names, so that any such row counts but one along an edge when the blade was elsewhere, or the reverse.
 */
function nextCut(blade: ResolvedRow, rows: readonly ResolvedRow[]): CuttingRow | undefined {
	return rows.find(
		(row): row is CuttingRow =>
			row.index > blade.index &&
			isCutting(row) &&
			row.kind !== "blade" &&
			(row.place === "edge-strip") === (blade.place === "edge-strip"),
	);
}
