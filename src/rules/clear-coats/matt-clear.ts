import { isCutting } from "../chains.ts";
import { liquid, sand, wash } from "../example-rows.ts";
import { common, rule } from "../rule.ts";
import { scopeEntry } from "../scope-entry.ts";

export default rule({
	id: "matt-clear",
	group: "clear coats",
	level: "stop",
	source: common,
	why: {
		en: "Matt clear is matt in its surface. Any abrasive makes it shine in that place, and nothing but refinishing brings the matt back.",
		es: "El barniz mate es mate en su superficie. Cualquier abrasivo le saca brillo en ese sitio, y solo repintando vuelve a ser mate.",
	},
	axes: ["clearCoat"],
	*check({ procedure, rows, situation: { clearCoat } }) {
		if (clearCoat !== "matt") return;
		const first = rows.find(isCutting);
		if (first === undefined) return;
		yield {
			field: "scope" as const,
			pointer: scopeEntry(procedure, "clearCoats", clearCoat),
			data: { fromRow: first.index + 1 },
		};
	},
	say: {
		en: ({ fromRow }) => ({
			found: `The scope claims matt clear, and from row ${fromRow} on the rows cut`,
			expected: "Matt clear is neither sanded nor polished (common practice)",
			then: "It turns glossy there and cannot be polished back; take matt out of the scope, and refinish matt panels",
		}),
		es: ({ fromRow }) => ({
			found: `El alcance incluye barniz mate, y desde la fila ${fromRow} las filas cortan`,
			expected: "El barniz mate ni se lija ni se pule (práctica común)",
			then: "Se vuelve brillante y no hay pulido que lo devuelva; saque el mate del alcance, y repinte los paneles mate",
		}),
	},
	remedies(_, { procedure: { scope } }) {
		const from = scope?.clearCoats ?? [];
		const to = from.filter((one) => one !== "matt");
		if (to.length === 0) return [];
		return [
			{
				kind: "offered",
				say: { en: "Take matt clear out of the scope", es: "Sacar el barniz mate del alcance" },
				edit: [{ op: "setPart", pointer: "/scope/clearCoats", from, to }],
			},
		];
	},
	examples: {
		good: [
			{
				title: "Matt clear that is only washed",
				steps: [wash],
				procedure: { scope: { clearCoats: ["matt"] } },
			},
			{
				title: "The rows that cut are not for matt",
				steps: [wash, liquid("fine", "foam-soft", { when: [{ clearCoat: ["refinish"] }] })],
				procedure: { scope: { clearCoats: ["refinish", "matt"] } },
			},
		],
		bad: [
			{
				title: "Matt among others, polished",
				steps: [wash, liquid("fine", "foam-soft")],
				procedure: { scope: { clearCoats: ["refinish", "matt"] } },
				at: { row: null, field: "scope" },
			},
			{
				title: "A nib sanded in matt clear",
				steps: [sand("P2000", { place: "spot" })],
				procedure: { scope: { defects: [{ defect: "dirt-nib", goal: "gone" }], clearCoats: ["matt"] } },
				at: { row: null, field: "scope" },
			},
		],
	},
});
