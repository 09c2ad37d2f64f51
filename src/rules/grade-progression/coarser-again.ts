import { plannedRows, sandingPairs, standsBetween } from "../chains.ts";
import { liquid, sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

/** Medians of two scales are measured by different methods, which differ by up to 43 % on one and the same grade. */
const scalesDifferBy = 1.43;

export default rule({
	id: "coarser-again",
	group: "grade progression",
	level: "caution",
	source: common,
	why: {
		en: "A coarser grade after a finer one puts back the scratches that the finer one has just cleared, and its work is lost.",
		es: "Un grano más grueso después de uno más fino vuelve a dejar los arañazos que el fino acababa de eliminar, y su trabajo se pierde.",
	},
	axes: [],
	*check({ rows }) {
		const planned = plannedRows(rows);
		for (const { from, to } of sandingPairs(planned)) {
			if (from.place !== to.place || from.spotMm !== to.spotMm) continue;
			if (standsBetween(({ kind }) => kind === "blade", from, to, planned)) continue;
			const sameScale = from.abrasive.grade.scale === to.abrasive.grade.scale;
			if (to.abrasive.medianUm <= from.abrasive.medianUm * (sameScale ? 1 : scalesDifferBy)) continue;
			yield {
				row: to,
				field: "abrasive" as const,
				weight: to.abrasive.medianUm / from.abrasive.medianUm,
				data: { fromGrade: from.abrasive.grade.text, fromRow: from.index + 1, grade: to.abrasive.grade.text },
			};
		}
	},
	say: {
		en: ({ fromGrade, fromRow, grade }, say) => ({
			found: `${grade} comes after ${fromGrade} of row ${fromRow} on the same place`,
			expected: "Grades run from coarse to fine on one place (common practice)",
			then: `It puts coarser scratches back; move the row before row ${fromRow}, or mark it "${say.label("need", "if-needed")}" where it is a second try`,
		}),
		es: ({ fromGrade, fromRow, grade }, say) => ({
			found: `${grade} viene después de ${fromGrade} de la fila ${fromRow} en el mismo lugar`,
			expected: "En un mismo lugar se va de grano grueso a fino (práctica común)",
			then: `Vuelve a dejar arañazos más gruesos; pase la fila antes de la fila ${fromRow}, o márquela «${say.label("need", "if-needed")}» donde sea un segundo intento`,
		}),
	},
	examples: {
		good: [
			{ title: "P1500, P2000, P3000", steps: [sand("P1500"), sand("P2000"), sand("P3000")] },
			{
				title: "P3000 over the panel, then P1500 on one nib",
				steps: [sand("P3000", { place: "panel" }), sand("P1500", { place: "spot" })],
			},
			{
				title: "A nib at P2000, then the whole panel at P1500 for its texture",
				steps: [sand("P2000", { place: "spot" }), sand("P1500", { place: "panel" })],
			},
			{
				title: "A second cycle, if needed",
				steps: [
					sand("P1500", { place: "spot" }),
					sand("P3000", { place: "spot" }),
					sand("P1500", { place: "spot", need: "if-needed" }),
					sand("P3000", { place: "spot", need: "if-needed" }),
				],
			},
			{
				title: "A light P2500 to show the nib, a blade, and sanding from P1500",
				steps: [
					sand("P2500", { place: "spot" }),
					{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } },
					sand("P1500", { place: "spot" }),
				],
			},
		],
		bad: [
			{
				title: "P2000, then P1500 on the same section",
				steps: [sand("P2000"), sand("P1500"), sand("P2500")],
				at: { row: 2, field: "abrasive" },
			},
			{
				title: "Sanded again coarser after the compound",
				steps: [sand("P2000"), liquid("heavy-cut", "foam-firm"), sand("P1500")],
				at: { row: 3, field: "abrasive" },
			},
		],
	},
});
