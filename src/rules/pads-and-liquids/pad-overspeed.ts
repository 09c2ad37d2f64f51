import type { BackingItem, PadItem } from "../../model/generated/types.ts";
import type { AbrasiveRow, LiquidRow } from "../../model/resolve.ts";
import { type Shop, stockItem } from "../../model/shop.ts";
import { liquid, rotary, sand } from "../example-rows.ts";
import { rule, sheet } from "../rule.ts";

const woolPad = { id: "wool-pad", name: "Wool pad 180 mm", kind: "wool-twisted" as const, maxRpm: 2500 };
const plate = { id: "plate-150", name: "Plate 150 mm", kind: "firm-plate" as const, maxRpm: 10000 };

export default rule({
	id: "pad-overspeed",
	group: "pads and liquids",
	level: "stop",
	source: sheet("the rating of the pad or plate", null, "rpm"),
	why: {
		en: "A pad or plate run faster than it is rated for can come apart and hit the person who holds the tool.",
		es: "Una boina o un plato por encima de su velocidad máxima puede romperse y golpear a quien sujeta la máquina.",
	},
	axes: [],
	*check({ rows, shop }) {
		for (const row of rows) {
			if ((row.kind !== "abrasive" && row.kind !== "liquid") || !row.tool.driven || row.speed === null) continue;
			const weakest = weakestOn(row, shop);
			const { high, unit } = row.speed;
			if (weakest === undefined || high <= weakest.maxRpm) continue;
			yield {
				row,
				field: "speed" as const,
				weight: high / weakest.maxRpm,
				basis: sheet(weakest.name, weakest.maxRpm, unit),
				data: { name: weakest.name, speed: high, unit, highest: weakest.maxRpm },
			};
		}
	},
	say: {
		en: ({ name, speed, unit, highest }, say) => ({
			found: `${name} runs at up to ${say.number(speed, 0)} ${say.label("speedUnit", unit)}`,
			expected: `It is rated for ${say.number(highest, 0)} at most (stock)`,
			then: "It can come apart and injure; set a lower speed, or take one rated for it",
		}),
		es: ({ name, speed, unit, highest }, say) => ({
			found: `${name} gira a hasta ${say.number(speed, 0)} ${say.label("speedUnit", unit)}`,
			expected: `Admite ${say.number(highest, 0)} como máximo (existencias)`,
			then: "Puede romperse y herir a alguien; baje la velocidad, o use otra pieza que la admita",
		}),
	},
	remedies({ row, data }) {
		const speed = row?.step.speed;
		if (!row || speed === undefined || speed.unit === "dial") return [];
		const { highest } = data;
		const to = { unit: speed.unit, low: Math.min(speed.low, speed.high, highest), high: highest };
		return [
			{
				kind: "offered",
				say: {
					en: `Lower the speed to ${highest}; the row then cuts less`,
					es: `Bajar la velocidad a ${highest}; la fila corta entonces menos`,
				},
				edit: [{ op: "set", row: row.step.id, field: "speed", from: speed, to }],
			},
		];
	},
	examples: {
		good: [
			{
				title: "A rotary at the rating of its pad",
				steps: [rotary("heavy-cut", "wool-pad", { speed: { unit: "rpm", low: 1200, high: 2500 } })],
				stock: { pads: [woolPad] },
			},
			{
				title: "A pad of unknown rating",
				steps: [rotary("heavy-cut", "wool-twisted", { speed: { unit: "rpm", low: 3000, high: 3000 } })],
			},
			{
				title: "A plate within its rating",
				steps: [sand("P1500", { backing: "plate-150" })],
				stock: { backings: [plate] },
			},
			{
				title: "A dial mark that no table tells",
				steps: [liquid("heavy-cut", "wool-pad", { speed: { unit: "dial", low: 6, high: 6 } })],
				stock: { pads: [woolPad] },
			},
		],
		bad: [
			{
				title: "Wool above its rating",
				steps: [rotary("heavy-cut", "wool-pad", { speed: { unit: "rpm", low: 1800, high: 2800 } })],
				stock: { pads: [woolPad] },
				at: { row: 1, field: "speed" },
			},
			{
				title: "A plate above its rating",
				steps: [sand("P1500", { backing: "plate-150", speed: { unit: "opm", low: 12000, high: 12000 } })],
				stock: { backings: [plate] },
				at: { row: 1, field: "speed" },
			},
			{
				title: "A dial mark that means more than the pad is rated for",
				steps: [rotary("heavy-cut", "wool-pad", { tool: "polisher", speed: { unit: "dial", low: 6, high: 6 } })],
				stock: {
					pads: [woolPad],
					tools: [{ id: "polisher", name: "Polisher", kind: "rotary", dial: [{ mark: 6, value: 3000 }] }],
				},
				at: { row: 1, field: "speed" },
			},
		],
	},
});

/** What turns with the tool and has the lowest rating: the pad and the plate under it, or the plate under the disc. */
function weakestOn(row: AbrasiveRow | LiquidRow, { stock }: Shop): { name: string; maxRpm: number } | undefined {
	const turning: (PadItem | BackingItem | null | undefined)[] =
		row.kind === "liquid" ? [row.pad.item, stockItem(stock, "backings", row.step.backing)] : [row.backing?.item];
	const rated = turning.flatMap((item) => (item?.maxRpm ? [{ name: item.name, maxRpm: item.maxRpm }] : []));
	return rated.toSorted((one, other) => one.maxRpm - other.maxRpm)[0];
}
