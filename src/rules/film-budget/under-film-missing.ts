import type { ReadingRow } from "../../model/resolve.ts";
import { liquid, reading, sand } from "../example-rows.ts";
import { isSandingOrBlade } from "../film-taken.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "under-film-missing",
	group: "film budget",
	level: "caution",
	source: common,
	why: {
		en: "A gauge that reads the whole paint does not tell clear from colour and primer: 120 µm may hold 60 of clear, or 25.",
		es: "Un medidor que lee toda la pintura no distingue el barniz del color y la imprimación: 120 µm pueden llevar 60 de barniz, o 25.",
	},
	axes: ["clearCoat"],
	*check({ procedure, rows, situation }) {
		const { known, underUm } = procedure.film ?? {};
		if (underUm !== undefined || situation.clearCoat === "matt") return;
		const gauges = rows.filter((row): row is ReadingRow => row.kind === "reading").flatMap(({ gauge }) => gauge ?? []);
		if (gauges.some(({ layer }) => layer === "clear")) return;
		const readsTotal = known === "total-reading" || (known === undefined && gauges.length > 0);
		if (!readsTotal || !rows.some((row) => row.kind === "reading" || isSandingOrBlade(row))) return;
		yield { field: "film" as const, data: { gauge: gauges[0]?.name ?? null } };
	},
	say: {
		en: ({ gauge }) => ({
			found: `${gauge ?? "The gauge"} reads the whole paint, and nothing is said of what lies under the clear`,
			expected: "With a reading of the whole paint goes the film under the clear (common practice)",
			then: "Without it no reading tells how much clear is left; fill what lies under it, or read the clear alone",
		}),
		es: ({ gauge }) => ({
			found: `${gauge ?? "El medidor"} lee toda la pintura, y no se dice qué hay bajo el barniz`,
			expected: "Con una lectura de toda la pintura va la película que hay bajo el barniz (práctica común)",
			then: "Sin ella ninguna lectura dice cuánto barniz queda; indique lo que hay debajo, o mida solo el barniz",
		}),
	},
	examples: {
		good: [
			{
				title: "A total reading, and what lies under the clear",
				steps: [reading, sand("P2000")],
				procedure: { film: { known: "total-reading", underUm: { mid: 60, low: 45, high: 75 } } },
			},
			{ title: "The clear alone is read", steps: [reading, sand("P2000")] },
			{
				title: "Polishing alone, without readings",
				steps: [liquid("fine", "foam-soft")],
				procedure: { film: { known: "total-reading" } },
			},
		],
		bad: [
			{
				title: "A total reading and no more",
				steps: [reading, sand("P2000")],
				procedure: { film: { known: "total-reading" } },
				at: { row: null, field: "film" },
			},
			{
				title: "Nothing said, and the gauge of the row reads the total",
				steps: [{ stage: "measure", tool: "metal-gauge" }, sand("P2000")],
				procedure: { film: {} },
				stock: { gauges: [{ id: "metal-gauge", name: "Metal gauge", reads: ["steel"], layer: "total" }] },
				at: { row: null, field: "film" },
			},
		],
	},
});
