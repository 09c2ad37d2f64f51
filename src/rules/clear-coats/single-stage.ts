import { liquid, rotary, sand } from "../example-rows.ts";
import { isFilmAtStake } from "../film-taken.ts";
import { common, rule } from "../rule.ts";
import { scopeEntry } from "../scope-entry.ts";

export default rule({
	id: "single-stage",
	group: "clear coats",
	level: "caution",
	source: common,
	why: {
		en: "Single-stage paint has no clear: what comes off is colour. Colour on the pad is no warning there, and the limit is the whole topcoat.",
		es: "La pintura monocapa no lleva barniz: lo que se quita es color. El color en la boina no avisa de nada, y el límite es toda la capa de acabado.",
	},
	axes: ["defect", "clearCoat"],
	*check(input) {
		const { procedure, situation, forecast } = input;
		if (situation.clearCoat !== "single-stage" || !isFilmAtStake(input)) return;
		// A procedure that says how much topcoat it counts on was written with it in mind.
		if (procedure.film?.assumed?.["single-stage"] !== undefined) return;
		yield {
			field: "scope" as const,
			pointer: scopeEntry(procedure, "clearCoats", "single-stage"),
			data: { startUm: forecast.startUm?.mid ?? null },
		};
	},
	say: {
		en: ({ startUm }, say) => ({
			found: "The scope claims single-stage paint, and nothing is said of its topcoat",
			expected: "There the whole topcoat is the film, and the procedure says how much it counts on (common practice)",
			then: `What comes off is colour, down to the primer; state the topcoat assumed${startUm === null ? "" : ` (the forecast takes ${say.um(startUm)})`}, or write a procedure of its own`,
		}),
		es: ({ startUm }, say) => ({
			found: "El alcance incluye pintura monocapa, y no se dice nada de su capa de acabado",
			expected:
				"Ahí toda la capa de acabado es la película, y el procedimiento dice con cuánta cuenta (práctica común)",
			then: `Lo que se quita es color, hasta la imprimación; indique la capa supuesta${startUm === null ? "" : ` (el pronóstico toma ${say.um(startUm)})`}, o haga un procedimiento aparte`,
		}),
	},
	examples: {
		good: [
			{
				title: "Single-stage with its topcoat stated",
				steps: [sand("P2000"), liquid("medium-cut", "foam-medium")],
				procedure: {
					scope: { clearCoats: ["single-stage"] },
					film: { known: "total-reading", assumed: { "single-stage": { mid: 60, low: 45, high: 75 } } },
				},
			},
			{
				title: "Single-stage that is lightly polished",
				steps: [liquid("medium-cut", "foam-medium")],
				procedure: { scope: { clearCoats: ["single-stage"] } },
			},
		],
		bad: [
			{
				title: "Single-stage in a procedure for clear",
				steps: [sand("P1500"), rotary("heavy-cut", "wool-twisted")],
				procedure: { scope: { clearCoats: ["refinish", "single-stage"] } },
				at: { row: null, field: "scope" },
			},
		],
	},
});
