import type { Basis } from "../../model/finding.ts";
import type { AbrasiveRow } from "../../model/resolve.ts";
import { sand, sandByHand } from "../example-rows.ts";
import { common, rule, sheet } from "../rule.ts";

const mainsSander = {
	id: "mains-sander",
	name: "Mains sander",
	kind: "random-orbital" as const,
	drive: "mains" as const,
};
const airSander = { id: "air-sander", name: "Air sander", kind: "random-orbital" as const, drive: "air" as const };

type Danger = "sheet" | "mains" | "dry-extractor";

export default rule({
	id: "wet-on-mains",
	group: "backing and abrasive",
	level: "stop",
	source: common,
	why: {
		en: "Water in a mains tool, or in an extractor made for dry dust, can kill; a tool's manual says how wet it may be used.",
		es: "El agua en una herramienta enchufada, o en un aspirador para polvo seco, puede matar; el manual dice cuánta agua admite.",
	},
	axes: [],
	*check({ rows }) {
		for (const row of rows) {
			if (row.kind !== "abrasive" || !row.tool.driven) continue;
			const danger = dangerOf(row);
			if (danger === null || row.wetness === null) continue;
			yield {
				row,
				field: "wetness" as const,
				basis: basisOf(danger, row),
				data: {
					wetness: row.wetness,
					danger,
					wetUse: row.tool.wetUse,
					tool: row.tool.item?.name ?? row.tool.kind,
					sheet: manualOf(row),
				},
			};
		}
	},
	say: {
		en: ({ wetness, danger, wetUse, tool, sheet: name }, say) => ({
			found: {
				sheet: `The ${say.label("tool", tool)} is used ${say.label("wetness", wetness)}`,
				mains: `The ${say.label("tool", tool)} runs on mains electricity and is used ${say.label("wetness", wetness)}`,
				"dry-extractor": `The ${say.label("tool", tool)} draws into a dry extractor and is used ${say.label("wetness", wetness)}`,
			}[danger],
			expected: {
				sheet: `Its manual allows ${wetUse === "damp" ? "damp use at most" : "dry use only"} (${name})`,
				mains: "Wet sanding is done by air or by hand, unless the tool's manual allows water (common practice)",
				"dry-extractor": "Slurry goes into an extractor made for it, or into none (common practice)",
			}[danger],
			then: "Water ruins a tool or extractor not made for it, and with electricity it can kill; use one made for water, or sand dry",
		}),
		es: ({ wetness, danger, wetUse, tool, sheet: name }, say) => ({
			found: {
				sheet: `«${say.label("tool", tool)}» se usa ${say.label("wetness", wetness)}`,
				mains: `«${say.label("tool", tool)}» funciona con la red eléctrica y se usa ${say.label("wetness", wetness)}`,
				"dry-extractor": `«${say.label("tool", tool)}» aspira hacia un aspirador en seco y se usa ${say.label("wetness", wetness)}`,
			}[danger],
			expected: {
				sheet: `Su manual permite ${wetUse === "damp" ? "como mucho uso húmedo" : "solo uso en seco"} (${name})`,
				mains: "Se lija al agua con aire o a mano, salvo que el manual de la máquina admita agua (práctica común)",
				"dry-extractor": "El lodo va a un aspirador hecho para él, o a ninguno (práctica común)",
			}[danger],
			then: "El agua estropea lo que no está hecho para ella y, con electricidad, puede matar; use una máquina para agua, o lije en seco",
		}),
	},
	examples: {
		good: [
			{
				title: "Damp on a mains tool whose manual says nothing",
				steps: [sand("P3000", { carrier: "foam", wetness: "damp", tool: "mains-sander" })],
				stock: { tools: [mainsSander] },
			},
			{
				title: "Wet on an air tool",
				steps: [sand("P2000", { wetness: "wet", tool: "air-sander" })],
				stock: { tools: [airSander] },
			},
			{
				title: "Wet on a mains tool made for water",
				steps: [sand("P2000", { wetness: "wet", tool: "mains-sander" })],
				stock: { tools: [{ ...mainsSander, wetUse: "wet" }] },
			},
			{ title: "Wet by hand", steps: [sandByHand("P2000", { wetness: "wet" })] },
			{ title: "Wet on a tool of unknown drive", steps: [sand("P2000", { wetness: "wet" })] },
		],
		bad: [
			{
				title: "Wet on a mains tool",
				steps: [sand("P2000", { wetness: "wet", tool: "mains-sander" })],
				stock: { tools: [mainsSander] },
				at: { row: 1, field: "wetness" },
			},
			{
				title: "Wet into a dry extractor",
				steps: [sand("P2000", { wetness: "wet", tool: "air-sander" })],
				stock: { tools: [{ ...airSander, extraction: "dry-extractor" }] },
				at: { row: 1, field: "wetness" },
			},
			{
				title: "Damp on a tool whose manual forbids it",
				steps: [sand("P3000", { carrier: "foam", wetness: "damp", tool: "mains-sander" })],
				stock: { tools: [{ ...mainsSander, wetUse: "no", sheet: { title: "Mains sander manual" } }] },
				at: { row: 1, field: "wetness" },
			},
		],
	},
});

/** What is wrong with the water, the tool's own manual first; null where nothing is, or nothing is known. */
function dangerOf({ tool, wetness }: AbrasiveRow): Danger | null {
	if (wetness !== "wet" && wetness !== "damp") return null;
	if (tool.wetUse === "no" || (tool.wetUse === "damp" && wetness === "wet")) return "sheet";
	if (wetness !== "wet") return null;
	if (tool.drive === "mains" && tool.wetUse === null) return "mains";
	return tool.extraction === "dry-extractor" ? "dry-extractor" : null;
}

function basisOf(danger: Danger, row: AbrasiveRow): Basis {
	return danger === "sheet" ? sheet(manualOf(row), row.tool.wetUse, null) : common;
}

function manualOf({ tool }: AbrasiveRow): string {
	return tool.item?.sheet?.title ?? tool.item?.name ?? tool.kind;
}
