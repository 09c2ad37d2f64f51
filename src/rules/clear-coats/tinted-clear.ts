import { isSandingOrBlade } from "../film-taken.ts";
import { liquid, sand } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

export default rule({
	id: "tinted-clear",
	group: "clear coats",
	level: "caution",
	source: common,
	why: {
		en: "A tinted clear carries colour. Where it is sanded thinner it turns lighter, and the place shows against the rest.",
		es: "Un barniz teñido lleva color. Donde se lija y queda más fino se aclara, y el sitio se nota junto al resto.",
	},
	axes: ["clearCoat"],
	*check({ rows, situation: { clearCoat } }) {
		if (clearCoat !== "tinted") return;
		const first = rows.find(isSandingOrBlade);
		if (first?.kind !== "abrasive") return;
		yield { row: first, field: "abrasive" as const, data: { grade: first.abrasive.grade.text, place: first.place } };
	},
	say: {
		en: ({ grade, place }, say) => ({
			found: `${grade} sands a tinted clear (${say.label("place", place)})`,
			expected: "Tinted clear is polished, and sanded only after a try on a hidden place (common practice)",
			then: "Where it gets thinner the colour changes for good; polish only, or keep tinted clear for refinishing",
		}),
		es: ({ grade, place }, say) => ({
			found: `${grade} lija un barniz teñido (${say.label("place", place)})`,
			expected: "El barniz teñido se pule, y solo se lija tras probar en un sitio oculto (práctica común)",
			then: "Donde queda más fino el color cambia para siempre; solo pula, o deje el barniz teñido para repintar",
		}),
	},
	examples: {
		good: [
			{
				title: "Tinted clear that is only polished",
				steps: [liquid("fine", "foam-soft")],
				procedure: { scope: { clearCoats: ["tinted"] } },
			},
			{
				title: "Sanding that is not for tinted clear",
				steps: [sand("P2000", { when: [{ clearCoat: ["refinish"] }] }), liquid("heavy-cut", "foam-firm")],
				procedure: { scope: { clearCoats: ["refinish", "tinted"] } },
			},
		],
		bad: [
			{
				title: "Tinted clear sanded like any other",
				steps: [sand("P1500"), sand("P2000"), liquid("heavy-cut", "foam-firm")],
				procedure: { scope: { clearCoats: ["refinish", "tinted"] } },
				at: { row: 1, field: "abrasive" },
			},
		],
	},
});
