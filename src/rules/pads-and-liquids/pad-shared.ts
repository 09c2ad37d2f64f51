import type { LiquidRow, ResolvedRow } from "../../model/resolve.ts";
import { liquid, rotary, without } from "../example-rows.ts";
import { liquidName, mayBeSameLiquid, padName } from "../liquids.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "pad-shared",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "A pad keeps the liquid it was used with: under a finer one it goes on cutting and marking as before.",
		es: "La boina retiene el líquido con que se usó: bajo uno más fino sigue cortando y marcando como antes.",
	},
	axes: [],
	*check({ rows }) {
		for (const row of rows) {
			if (row.kind !== "liquid" || row.padUse !== "same-as-row") continue;
			const from = lastOnPad(row, rows);
			if (from === undefined || mayBeSameLiquid(from, row)) continue;
			yield {
				row,
				field: "padUse" as const,
				data: {
					pad: padName(row),
					liquid: liquidName(row),
					fromLiquid: liquidName(from),
					fromRow: from.index + 1,
				},
			};
		}
	},
	say: {
		en: ({ pad, liquid: one, fromLiquid, fromRow }, say) => ({
			found: `${say.label("liquid", one)} goes on the ${say.label("pad", pad)} pad that carried ${say.label("liquid", fromLiquid)} in row ${fromRow}`,
			expected: "Each liquid has a pad of its own (common practice)",
			then: "What is left of the first liquid goes on marking; take a fresh pad, or one that has been cleaned",
		}),
		es: ({ pad, liquid: one, fromLiquid, fromRow }, say) => ({
			found: `${say.label("liquid", one)} va en la boina (${say.label("pad", pad)}) que llevó ${say.label("liquid", fromLiquid)} en la fila ${fromRow}`,
			expected: "Cada líquido tiene su propia boina (práctica común)",
			then: "Los restos del primero siguen marcando; use una boina nueva, o una lavada",
		}),
	},
	remedies({ row, data }, { procedure: { steps = [] } }) {
		const from = steps[data.fromRow - 1]?.pad;
		if (row?.kind !== "liquid" || (row.step.pad === undefined && from === undefined)) return [];
		const { id, pad, padUse } = row.step;
		return [
			{
				kind: "sure",
				say: { en: `Take a fresh pad in row ${row.index + 1}`, es: `Usar una boina nueva en la fila ${row.index + 1}` },
				edit: [
					...(pad === undefined ? [{ op: "set" as const, row: id, field: "pad", to: from }] : []),
					{ op: "set", row: id, field: "padUse", from: padUse, to: "fresh" },
				],
			},
		];
	},
	examples: {
		good: [
			{
				title: "The same liquid again on the same pad",
				steps: [
					liquid("heavy-cut", "foam-firm", { place: "edge-strip" }),
					liquid("heavy-cut", "foam-firm", { padUse: "same-as-row" }),
				],
			},
			{
				title: "Another liquid on a cleaned pad of the same kind",
				steps: [liquid("medium-cut", "foam-medium"), liquid("fine", "foam-medium", { padUse: "cleaned" })],
			},
			{
				title: "A fresh pad came in between",
				steps: [
					liquid("medium-cut", "foam-medium"),
					liquid("fine", "foam-medium", { padUse: "fresh" }),
					liquid("fine", "foam-medium", { padUse: "same-as-row" }),
				],
			},
		],
		bad: [
			{
				title: "Heavy cut, then fine on the same pad",
				steps: [
					liquid("heavy-cut", "foam-medium"),
					{ stage: "wipe", wipe: "dry-cloth" },
					liquid("fine", "foam-medium", { padUse: "same-as-row" }),
				],
				at: { row: 3, field: "padUse" },
			},
			{
				title: "The pad named by the row before only",
				steps: [
					rotary("heavy-cut", "wool-twisted"),
					without("pad", rotary("fine", "wool-twisted", { padUse: "same-as-row" })),
				],
				at: { row: 2, field: "padUse" },
			},
		],
	},
});

/** The last row before it that used the same pad. */
function lastOnPad({ index, pad }: LiquidRow, rows: readonly ResolvedRow[]): LiquidRow | undefined {
	return rows.findLast(
		(row): row is LiquidRow =>
			row.kind === "liquid" && row.index < index && row.pad.kind === pad.kind && row.pad.item === pad.item,
	);
}
