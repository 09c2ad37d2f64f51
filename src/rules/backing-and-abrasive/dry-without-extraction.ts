import type { Procedure } from "../../model/generated/types.ts";
import type { AbrasiveRow } from "../../model/resolve.ts";
import { sand, sandByHand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

/** Dry strokes by hand that raise too little dust to ask for extraction. Common practice, no source. */
const fewStrokes = 20;

const sander = { id: "palm-sander", name: "Palm sander", kind: "random-orbital" as const, extraction: "none" as const };

export default rule({
	id: "dry-without-extraction",
	group: "backing and abrasive",
	level: "caution",
	source: common,
	why: {
		en: "Dry dust is breathed in, and under the disc it rolls into lumps that scratch: it has to be drawn off where it is made.",
		es: "El polvo seco se respira, y bajo el disco forma grumos que rayan: hay que aspirarlo donde se produce.",
	},
	axes: [],
	*check({ rows, procedure }) {
		const dry = rows.filter((row): row is AbrasiveRow => row.kind === "abrasive" && raisesDust(row));
		const closed = dry.filter(({ tool, abrasive }) => tool.driven && abrasive.holes === "none");
		for (const row of closed)
			yield {
				row,
				field: "holes" as const,
				data: { grade: row.abrasive.grade.text, rows: [String(row.index + 1)], holes: "none" as string | null },
			};
		const bare = dry.filter((row) => !closed.includes(row) && !isDrawnOff(row, procedure));
		const [first] = bare;
		if (first === undefined) return;
		yield {
			row: first,
			field: "tool" as const,
			weight: bare.length,
			data: { grade: first.abrasive.grade.text, rows: bare.map(({ index }) => String(index + 1)), holes: null },
		};
	},
	say: {
		en: ({ grade, rows, holes }, say) => ({
			found:
				holes !== null
					? `${grade} runs dry on a driven tool and has no holes`
					: rows.length === 1
						? `${grade} runs dry, and no extraction is named`
						: `Rows ${say.list(rows)} run dry, and no extraction is named`,
			expected: "Dry sanding is done with extraction, through a disc that lets the dust pass (common practice)",
			then:
				holes !== null
					? "No dust gets away through it: it scratches and is breathed in; take a perforated disc or mesh, or run it damp"
					: "The dust is breathed in and scratches under the disc; name the extraction in the set-up or at the tool, or run it damp",
		}),
		es: ({ grade, rows, holes }, say) => ({
			found:
				holes !== null
					? `${grade} trabaja en seco en una máquina y no tiene agujeros`
					: rows.length === 1
						? `${grade} trabaja en seco y no se nombra ninguna aspiración`
						: `Las filas ${say.list(rows)} trabajan en seco y no se nombra ninguna aspiración`,
			expected: "El lijado en seco se hace con aspiración y con un disco que deja pasar el polvo (práctica común)",
			then:
				holes !== null
					? "El polvo no sale por él: raya y se respira; use un disco perforado o de malla, o trabaje húmedo"
					: "El polvo se respira y raya bajo el disco; nombre la aspiración en la preparación o en la máquina, o trabaje húmedo",
		}),
	},
	examples: {
		good: [
			{ title: "Perforated film with extraction at hand", steps: [sand("P1500")] },
			{
				title: "A sander with its own extraction, nothing said of the bay",
				steps: [sand("P1500", { tool: "palm-sander" })],
				procedure: { setUp: {} },
				stock: { tools: [{ ...sander, extraction: "dry-extractor" }] },
			},
			{
				title: "Fifteen dry strokes on a nib, no extraction",
				steps: [
					sandByHand("P1500", { place: "spot", wetness: "dry", work: { unit: "strokes", low: 10, high: 15 } }),
					{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } },
				],
				procedure: { setUp: {} },
			},
			{ title: "Damp by hand, no extraction", steps: [sandByHand("P1500")], procedure: { setUp: {} } },
		],
		bad: [
			{
				title: "Two dry rows, no extraction named: one finding",
				steps: [sand("P1500"), sand("P2000")],
				procedure: { setUp: {} },
				at: { row: 1, field: "tool" },
			},
			{
				title: "A sander without extraction",
				steps: [sand("P1500", { tool: "palm-sander" })],
				procedure: { setUp: {} },
				stock: { tools: [sander] },
				at: { row: 1, field: "tool" },
			},
			{
				title: "Plain film on an orbital: extraction draws nothing through it",
				steps: [sand("P1500", { holes: "none" })],
				at: { row: 1, field: "holes" },
			},
			{
				title: "Sixty dry strokes by hand",
				steps: [sandByHand("P1000", { wetness: "dry", work: { unit: "strokes", low: 40, high: 60 } })],
				procedure: { setUp: { extraction: false } },
				at: { row: 1, field: "tool" },
			},
		],
	},
});

/** Whether a row is set dry and is more than a few strokes; of a dry foam disc another rule speaks. */
function raisesDust({ wetness, tool, work, abrasive }: AbrasiveRow): boolean {
	if (wetness !== "dry") return false;
	if (tool.driven) return abrasive.carrier !== "foam";
	if (work.unit === "strokes") return (work.high ?? 0) > fewStrokes;
	return work.unit !== "until-flush";
}

/** Whether something draws the dust off: at the tool, or in the bay. */
function isDrawnOff({ tool }: AbrasiveRow, { setUp }: Procedure): boolean {
	return (tool.extraction !== null && tool.extraction !== "none") || setUp?.extraction === true;
}
