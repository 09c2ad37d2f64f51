import { defect } from "../../model/defects.ts";
import { liquid } from "../example-rows.ts";
import { common, rule } from "../rule.ts";
import { scopeEntry } from "../scope-entry.ts";

export default rule({
	id: "not-polishable",
	group: "defects",
	level: "stop",
	source: common,
	why: {
		en: "A defect that lies below the clear, or where the clear is gone, is not taken out by sanding and polishing; the attempt takes film off and leaves it there.",
		es: "Un defecto bajo el barniz, o donde ya no hay barniz, no se quita lijando y puliendo; el intento quita barniz y el defecto sigue ahí.",
	},
	axes: ["defect"],
	*check({ procedure, situation, shop }) {
		if (situation.defect === undefined) return;
		const met = defect(situation.defect, shop.book);
		if (met === undefined || met.polishable) return;
		yield {
			field: "scope" as const,
			pointer: scopeEntry(procedure, "defects", met.id),
			data: { defect: met.id, position: met.position },
		};
	},
	say: {
		en: ({ defect: met }, say) => ({
			found: `The scope claims a defect that polishing does not fix (${say.label("defect", met)})`,
			expected: "It needs refinishing (common practice)",
			then: "The work would take film off and leave the defect; take it out of the scope and send the panel to be refinished",
		}),
		es: ({ defect: met }, say) => ({
			found: `El alcance incluye un defecto que el pulido no arregla (${say.label("defect", met)})`,
			expected: "Hay que repintar (práctica común)",
			then: "El trabajo quitaría barniz y dejaría el defecto; sáquelo del alcance y mande el panel a repintar",
		}),
	},
	remedies({ data }, { procedure: { scope } }) {
		const from = scope?.defects ?? [];
		const to = from.filter((one) => one.defect !== data.defect);
		if (to.length === 0 || to.length === from.length) return [];
		return [
			{
				kind: "offered",
				say: { en: "Take the defect out of the scope", es: "Sacar el defecto del alcance" },
				edit: [{ op: "setPart", pointer: "/scope/defects", from, to }],
			},
		];
	},
	examples: {
		good: [
			{
				title: "Swirls",
				steps: [liquid("fine", "foam-soft")],
				procedure: { scope: { defects: [{ defect: "swirl", goal: "gone" }] } },
			},
			{
				title: "A defect of the shop's own that polishing fixes",
				steps: [liquid("fine", "foam-soft")],
				procedure: { scope: { defects: [{ defect: "belt-rub", goal: "gone" }] } },
				book: { defects: [{ id: "belt-rub", name: { en: "Belt rub" }, position: "recessed", polishable: true }] },
			},
		],
		bad: [
			{
				title: "Stone chips beside swirls",
				steps: [liquid("fine", "foam-soft")],
				procedure: {
					scope: {
						defects: [
							{ defect: "swirl", goal: "gone" },
							{ defect: "chip", goal: "gone" },
						],
					},
				},
				at: { row: null, field: "scope" },
			},
			{
				title: "A defect of the shop's own that needs refinishing",
				steps: [liquid("fine", "foam-soft")],
				procedure: { scope: { defects: [{ defect: "ghost-line", goal: "match-neighbour" }] } },
				book: { defects: [{ id: "ghost-line", name: { en: "Ghost line" }, position: "below", polishable: false }] },
				at: { row: null, field: "scope" },
			},
		],
	},
});
