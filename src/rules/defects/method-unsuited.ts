import { type Defect, defect } from "../../model/defects.ts";
import type { ResolvedRow } from "../../model/resolve.ts";
import { liquid, sand, wash } from "../example-rows.ts";
import { common, rule } from "../rule.ts";
import { scopeEntry } from "../scope-entry.ts";

export default rule({
	id: "method-unsuited",
	group: "defects",
	level: "caution",
	source: common,
	why: {
		en: "A procedure in which no row acts on the defect leaves it on the panel, however well the rest is done.",
		es: "Un procedimiento en el que ninguna fila actúa sobre el defecto lo deja en el panel, por bien que se haga lo demás.",
	},
	axes: ["defect"],
	*check({ procedure, situation, rows, allRows, shop }) {
		if (situation.defect === undefined || allRows.length === 0) return;
		const met = defect(situation.defect, shop.book);
		if (met === undefined || !met.polishable) return;
		if (rows.some((row) => row.kind === "incomplete" || actsOn(met, row))) return;
		yield {
			field: "scope" as const,
			pointer: scopeEntry(procedure, "defects", met.id),
			data: { defect: met.id, position: met.position, polishes: rows.some(({ kind }) => kind === "liquid") },
		};
	},
	say: {
		en: ({ defect: met, position, polishes }, say) => ({
			found: `No row acts on a defect of the scope (${say.label("defect", met)})`,
			expected: {
				proud: "What stands proud is levelled by sanding, or by a blade or file (common practice)",
				texture: "Texture is sanded or cut down (common practice)",
				recessed: "What lies in the clear is sanded or polished out (common practice)",
				optical: "What only the eye sees is polished out (common practice)",
				below: "",
			}[position],
			then: polishes
				? "Polishing rounds it and makes it shine; add a row that levels it, or take it out of the scope"
				: "It stays on the panel; add a row that takes it out, or take it out of the scope",
		}),
		es: ({ defect: met, position, polishes }, say) => ({
			found: `Ninguna fila actúa sobre un defecto del alcance (${say.label("defect", met)})`,
			expected: {
				proud: "Lo que sobresale se nivela lijando, o con cuchilla o lima (práctica común)",
				texture: "La textura se lija o se corta (práctica común)",
				recessed: "Lo que está hundido en el barniz se lija o se pule hasta quitarlo (práctica común)",
				optical: "Lo que solo se ve con la luz se quita puliendo (práctica común)",
				below: "",
			}[position],
			then: polishes
				? "El pulido lo redondea y lo hace brillar; añada una fila que lo nivele, o sáquelo del alcance"
				: "Se queda en el panel; añada una fila que lo quite, o sáquelo del alcance",
		}),
	},
	examples: {
		good: [
			{
				title: "A nib taken down by a blade",
				steps: [
					{ stage: "level", place: "spot", tool: "nib-blade", work: { unit: "until-flush" } },
					sand("P2000", { place: "spot" }),
					liquid("heavy-cut", "foam-firm"),
				],
				procedure: { scope: { defects: [{ defect: "dirt-nib", goal: "gone" }] } },
			},
			{
				title: "Orange peel matched with liquids alone",
				steps: [liquid("heavy-cut", "foam-firm")],
				procedure: { scope: { defects: [{ defect: "orange-peel", goal: "match-neighbour" }] } },
			},
			{
				title: "Fallout lifted with clay",
				steps: [wash, { stage: "clean", tool: "clay" }],
				procedure: { scope: { defects: [{ defect: "fallout", goal: "gone" }] } },
			},
			{ title: "No rows yet", steps: [] },
			{
				title: "A row only begun",
				steps: [wash, { stage: "sand" }],
				procedure: { scope: { defects: [{ defect: "dirt-nib", goal: "gone" }] } },
			},
		],
		bad: [
			{
				title: "A nib that is only polished",
				steps: [wash, liquid("heavy-cut", "foam-firm"), liquid("fine", "foam-soft")],
				procedure: { scope: { defects: [{ defect: "dirt-nib", goal: "gone" }] } },
				at: { row: null, field: "scope" },
			},
			{
				title: "Swirls that are only washed",
				steps: [wash],
				procedure: { scope: { defects: [{ defect: "swirl", goal: "gone" }] } },
				at: { row: null, field: "scope" },
			},
			{
				title: "The only sanding is for another defect",
				steps: [sand("P1500", { when: [{ defect: ["orange-peel"] }] }), liquid("fine", "foam-soft")],
				procedure: {
					scope: {
						defects: [
							{ defect: "orange-peel", goal: "gone" },
							{ defect: "run", goal: "gone" },
						],
					},
				},
				at: { row: null, field: "scope" },
			},
		],
	},
});

/** Whether a row does anything to a defect, enough or not. A hard or high defect under a pad is polished, not taken down. */
function actsOn({ position, deposit }: Defect, row: ResolvedRow): boolean {
	if (row.kind === "abrasive") return true;
	if (row.kind === "blade") return position === "proud" || position === "texture";
	if (row.kind === "liquid") return position !== "proud";
	return deposit && row.kind === "wipe" && row.wipe !== "dry-cloth";
}
