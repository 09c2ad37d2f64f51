import { liquid, rotary, sand } from "../example-rows.ts";
import { rule, sheet } from "../rule.ts";
import { chanceOfShow, rowsBeyondSheet, scratchesLeft } from "../scratches-left.ts";

const compound = {
	id: "strong-compound",
	name: "Strong compound",
	class: "heavy-cut" as const,
	clearsGrade: "P1500",
	sheet: { title: "Strong compound data sheet" },
};

export default rule({
	id: "too-coarse-to-compound",
	group: "grade progression",
	level: "caution",
	source: sheet("the liquid's sheet", null, null),
	why: {
		en: "A liquid clears scratches down from a certain grade; from coarser ones it rounds the edges only, and they come back into sight.",
		es: "Un líquido elimina arañazos a partir de cierto grano; los más gruesos solo los redondea, y vuelven a verse.",
	},
	axes: ["defect", "clearCoat"],
	*check(input) {
		const found = rowsBeyondSheet(input.rows, input.shop);
		if (found.length === 0) return;
		const left = scratchesLeft(input);
		for (const { row, from, clears, sheetName } of found) {
			const chance = left.find((one) => one.from === from)?.chance ?? 0;
			yield {
				row,
				field: "liquid" as const,
				level: chance > chanceOfShow ? ("stop" as const) : undefined,
				weight: chance,
				basis: sheet(sheetName, clears.text, null),
				data: {
					fromGrade: from.abrasive.grade.text,
					fromRow: from.index + 1,
					clearsGrade: clears.text,
					sheet: sheetName,
				},
			};
		}
	},
	say: {
		en: ({ fromGrade, fromRow, clearsGrade, sheet: name }) => ({
			found: `The liquid meets the ${fromGrade} scratches of row ${fromRow}`,
			expected: `It clears ${clearsGrade} and finer (${name})`,
			then: `Scratches of ${fromGrade} may stay and show later; refine to ${clearsGrade} or finer before this row`,
		}),
		es: ({ fromGrade, fromRow, clearsGrade, sheet: name }) => ({
			found: `El líquido se encuentra con los arañazos de ${fromGrade} de la fila ${fromRow}`,
			expected: `Elimina ${clearsGrade} y más finos (${name})`,
			then: `Los arañazos de ${fromGrade} pueden quedar y verse después; afine hasta ${clearsGrade} o más fino antes de esta fila`,
		}),
	},
	examples: {
		good: [
			{
				title: "P1500 under a compound that clears P1500",
				steps: [sand("P1500"), rotary("strong-compound", "wool-twisted")],
				stock: { liquids: [compound] },
			},
			{
				title: "P1000 refined to P2000 first",
				steps: [sand("P1000"), sand("P2000"), rotary("strong-compound", "wool-twisted")],
				stock: { liquids: [compound] },
			},
			{ title: "A liquid without a sheet", steps: [sand("P1000"), rotary("heavy-cut", "wool-twisted")] },
		],
		bad: [
			{
				title: "P1200 under a compound that clears P1500",
				steps: [
					sand("P1200"),
					rotary("strong-compound", "wool-twisted", { work: { unit: "passes", low: 8, high: 8 } }),
					liquid("fine", "foam-soft"),
				],
				stock: { liquids: [compound] },
				at: { row: 2, field: "liquid" },
			},
			{
				title: "P800 under the same compound, two passes: the forecast leaves the scratches, too",
				steps: [sand("P800"), rotary("strong-compound", "wool-twisted", { work: { unit: "passes", low: 2, high: 2 } })],
				stock: { liquids: [compound] },
				at: { row: 2, field: "liquid" },
				level: "stop",
			},
		],
	},
});
