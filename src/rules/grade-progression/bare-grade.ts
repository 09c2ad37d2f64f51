import { sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "bare-grade",
	group: "grade progression",
	level: "advice",
	source: common,
	why: {
		en: "The same number means a different grain on each scale: 1500 is 12.6 µm on P, 8 µm on JIS and 3 µm on CAMI.",
		es: "El mismo número es otro grano en cada escala: 1500 son 12,6 µm en P, 8 µm en JIS y 3 µm en CAMI.",
	},
	axes: [],
	*check({ rows, shop }) {
		if (shop.book.gradeScale !== undefined) return;
		const bare = rows.filter((row) => row.kind === "abrasive" && row.abrasive.grade.bare);
		if (bare.length === 0) return;
		yield { data: { rows: bare.map(({ index }) => String(index + 1)), count: bare.length }, weight: bare.length };
	},
	say: {
		en: ({ rows, count }, say) => ({
			found: `The grade of row${count === 1 ? "" : "s"} ${say.list(rows)} has no scale, and the book names none`,
			expected:
				"A grade is written with its scale, such as P1500, or the book says what a bare number means (common practice)",
			then: "It is read as P; set the grade scale of the book, and it is settled for every procedure",
		}),
		es: ({ rows, count }, say) => ({
			found: `El grano de la${count === 1 ? "" : "s"} fila${count === 1 ? "" : "s"} ${say.list(rows)} no lleva escala, y el libro no nombra ninguna`,
			expected:
				"Un grano se escribe con su escala, como P1500, o el libro dice qué significa un número solo (práctica común)",
			then: "Se lee como P; fije la escala de grano del libro y queda resuelto para todos los procedimientos",
		}),
	},
	examples: {
		good: [
			{ title: "A bare number in a book with a scale", steps: [sand("1500")], book: { gradeScale: "P" } },
			{ title: "Grades with their scale", steps: [sand("P1500"), sand("P2000")], book: { gradeScale: undefined } },
		],
		bad: [
			{
				title: "Two bare numbers, no scale in the book",
				steps: [sand("1500"), sand("2000"), sand("P3000")],
				book: { gradeScale: undefined },
				at: { row: null, field: null },
			},
		],
	},
});
