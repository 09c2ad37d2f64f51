import { sand, sandByHand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

const paperSheet = {
	id: "wet-sheet-2000",
	name: "Wet sheet 2000",
	grade: "P2000",
	carrier: "waterproof-paper" as const,
	form: "sheet" as const,
};
const filmDisc = {
	id: "film-disc-1500",
	name: "Film disc 1500",
	grade: "P1500",
	carrier: "film" as const,
	form: "disc" as const,
};

export default rule({
	id: "carrier-tool-mismatch",
	group: "backing and abrasive",
	level: "caution",
	source: common,
	why: {
		en: "A sheet or strip does not hold on the plate of a machine: it shifts, folds and cuts with its edge.",
		es: "Una hoja o tira no se sujeta en el plato de una máquina: se mueve, se dobla y corta con el borde.",
	},
	axes: [],
	*check({ rows }) {
		for (const row of rows) {
			if (row.kind !== "abrasive" || !row.tool.driven) continue;
			const { form, item } = row.abrasive;
			if (item === null || (form !== "sheet" && form !== "strip")) continue;
			yield { row, field: "abrasive" as const, data: { abrasive: item.name, form, tool: row.tool.kind } };
		}
	},
	say: {
		en: ({ abrasive, form, tool }, say) => ({
			found: `${abrasive} is a ${say.label("form", form)}, and the tool is a ${say.label("tool", tool)}`,
			expected: "Machines take discs; sheets and strips go on a block (common practice)",
			then: "It shifts and its edge scratches; take a disc, or work this row on a block",
		}),
		es: ({ abrasive, form, tool }, say) => ({
			found: `${abrasive} es una ${say.label("form", form)}, y la herramienta es una máquina (${say.label("tool", tool)})`,
			expected: "Las máquinas llevan discos; las hojas y tiras van en un taco (práctica común)",
			then: "Se mueve y su borde raya; use un disco, o haga esta fila con taco",
		}),
	},
	examples: {
		good: [
			{ title: "A disc on a block", steps: [sandByHand("film-disc-1500")], stock: { abrasives: [filmDisc] } },
			{ title: "A sheet on a block", steps: [sandByHand("wet-sheet-2000")], stock: { abrasives: [paperSheet] } },
			{
				title: "A grade of no stated form on a machine",
				steps: [sand("P2000", { carrier: "waterproof-paper" })],
			},
		],
		bad: [
			{
				title: "A sheet on a random orbital",
				steps: [sand("film-disc-1500"), sand("wet-sheet-2000", { wetness: "damp" })],
				stock: { abrasives: [filmDisc, paperSheet] },
				at: { row: 2, field: "abrasive" },
			},
			{
				title: "A strip on a gear-driven orbital",
				steps: [sand("file-strip-800", { tool: "gear-orbital", speed: { unit: "opm", low: 4500, high: 4500 } })],
				stock: { abrasives: [{ id: "file-strip-800", name: "File strip 800", grade: "P800", form: "strip" }] },
				at: { row: 1, field: "abrasive" },
			},
		],
	},
});
