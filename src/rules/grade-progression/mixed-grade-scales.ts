import type { GradeScale } from "../../model/grades.ts";
import type { AbrasiveRow } from "../../model/resolve.ts";
import { sand, sandByHand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "mixed-grade-scales",
	group: "grade progression",
	level: "caution",
	source: common,
	why: {
		en: "Numbers of two scales do not compare: JIS 2000 is finer than P2500. Whoever fetches by number takes the wrong disc.",
		es: "Los números de dos escalas no se comparan: JIS 2000 es más fino que P2500. Quien busca por número coge el disco equivocado.",
	},
	axes: [],
	*check({ rows }) {
		const numbered = rows.filter(
			(row): row is AbrasiveRow => row.kind === "abrasive" && row.abrasive.grade.scale !== "um",
		);
		const usual = mostUsed(numbered);
		if (usual === undefined) return;
		// An item of the stock is fetched by its name, whatever scale its maker uses.
		const other = numbered.filter(({ abrasive }) => abrasive.grade.scale !== usual && abrasive.item === null);
		const [first] = other;
		if (first === undefined) return;
		yield {
			row: first,
			field: "abrasive" as const,
			weight: other.length,
			data: {
				grade: first.abrasive.grade.text,
				medianUm: first.abrasive.medianUm,
				scale: first.abrasive.grade.scale,
				usualScale: usual,
				rows: other.map(({ index }) => String(index + 1)),
			},
		};
	},
	say: {
		en: ({ grade, medianUm, scale, usualScale, rows }, say) => ({
			found: `${rows.length > 1 ? `Rows ${say.list(rows)} leave the scale of the others: ` : ""}${grade} is on ${say.label("gradeScale", scale)}, the others are on ${say.label("gradeScale", usualScale)}`,
			expected: "One procedure keeps to one scale (common practice)",
			then: `${grade} has a grain of ${say.um(medianUm)}; write the grade of the other scale, or name the item of the stock`,
		}),
		es: ({ grade, medianUm, scale, usualScale, rows }, say) => ({
			found: `${rows.length > 1 ? `Las filas ${say.list(rows)} se salen de la escala de las demás: ` : ""}${grade} está en ${say.label("gradeScale", scale)}, las demás en ${say.label("gradeScale", usualScale)}`,
			expected: "Un procedimiento se mantiene en una sola escala (práctica común)",
			then: `${grade} tiene un grano de ${say.um(medianUm)}; escriba el grano de la otra escala, o nombre el artículo de las existencias`,
		}),
	},
	examples: {
		good: [
			{ title: "All on P", steps: [sand("P1500"), sand("P2000"), sand("P3000")] },
			{ title: "A grade in µm beside P", steps: [sand("16 µm"), sand("P2000")] },
			{
				title: "A JIS paper of the stock, called by its name",
				steps: [sandByHand("wet-paper-2000"), sand("P3000")],
				stock: { abrasives: [{ id: "wet-paper-2000", name: "Wet paper 2000", grade: "JIS 2000", form: "sheet" }] },
			},
		],
		bad: [
			{
				title: "JIS 2000 among P grades",
				steps: [sand("P1500"), sand("P2000"), sandByHand("#2000")],
				at: { row: 3, field: "abrasive" },
			},
			{
				title: "Two rows of the other scale, one finding",
				steps: [sand("JIS 1000"), sand("P2000"), sand("P3000"), sand("P5000"), sand("CAMI 1500")],
				at: { row: 1, field: "abrasive" },
			},
		],
	},
});

/** The scale of most rows; of two with as many, that of a grade typed in a row, then the one that comes first. */
function mostUsed(rows: readonly AbrasiveRow[]): GradeScale | undefined {
	const counts = new Map<GradeScale, number>();
	const typedFirst = rows.toSorted(
		(one, other) => Number(one.abrasive.item !== null) - Number(other.abrasive.item !== null),
	);
	for (const { abrasive } of typedFirst) counts.set(abrasive.grade.scale, (counts.get(abrasive.grade.scale) ?? 0) + 1);
	// The sort is stable and a map keeps first-met order, which settles a tie.
	return [...counts].toSorted(([, one], [, other]) => other - one)[0]?.[0];
}
