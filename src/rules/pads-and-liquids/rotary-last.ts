import { outcomeOf, type RowOutcome } from "../../forecast/outcome.ts";
import { hazeAfter } from "../../forecast/panel-gloss.ts";
import type { LiquidRow, ResolvedRow } from "../../model/resolve.ts";
import { chainEnds } from "../chains.ts";
import { liquid, rotary } from "../example-rows.ts";
import { liquidName } from "../liquids.ts";
import { common, rule } from "../rule.ts";

const dark = {
	scope: {
		defects: [{ defect: "swirl", goal: "gone" as const }],
		clearCoats: ["refinish" as const],
		tones: ["dark" as const],
	},
};

export default rule({
	id: "rotary-last",
	group: "pads and liquids",
	level: "caution",
	source: common,
	why: {
		en: "A rotary leaves fine marks that all run one way; on a dark colour they show as trails in the sun.",
		es: "La rotativa deja marcas finas en un solo sentido; en un color oscuro se ven como hologramas al sol.",
	},
	axes: ["defect", "clearCoat", "tone"],
	*check({ rows, forecast, situation: { tone }, shop }) {
		if ((tone !== "dark" && tone !== "dark-effect") || !rows.some(isRotary)) return;
		const isSeen = (outcome: RowOutcome | undefined) => {
			const haze = outcome && hazeAfter(outcome, tone, shop.limits);
			return haze ? haze.visible : null;
		};
		const found = (row: LiquidRow, isWorkedOver: boolean) => {
			const finishes = row.liquid.class === "finest" && row.pad.kind.startsWith("foam-") && !isWorkedOver;
			return {
				row,
				field: "tool" as const,
				level: finishes ? ("advice" as const) : undefined,
				data: { liquid: liquidName(row), tone, finishes, isWorkedOver },
			};
		};
		const last = chainEnds(rows).filter(
			(row): row is LiquidRow => isRotary(row) && !isTakenOver(row, rows) && !isHalfTyped(rows, row),
		);
		for (const row of last) {
			// Where the scratches are not known, a trail may be among them.
			if (isSeen(outcomeOf(row, forecast)) !== false) yield found(row, false);
		}
		const end = forecast.rows.at(-1);
		const from = end?.scratchFrom ?? null;
		if (last.length > 0 || from === null || !isRotary(from) || isHalfTyped(rows, from)) return;
		if (isSeen(end)) yield found(from, true);
	},
	say: {
		en: ({ liquid: one, finishes, isWorkedOver }, say) => ({
			found: isWorkedOver
				? `The trails of the rotary with ${say.label("liquid", one)} are still to be seen on a dark colour after the last row`
				: `The rotary with ${say.label("liquid", one)} is the last to touch a dark colour`,
			expected: "On dark, an orbital or a hand takes the trails of a rotary out (common practice)",
			then: isWorkedOver
				? "The rows after it take off too little; give them more passes, or put a fine row with an orbital between"
				: finishes
					? "Even the finest liquid may leave trails; look at it in strong light after the wipe, or finish with an orbital"
					: "Its trails show in the sun; put a fine or finest row with an orbital after it",
		}),
		es: ({ liquid: one, finishes, isWorkedOver }, say) => ({
			found: isWorkedOver
				? `Los hologramas de la rotativa con ${say.label("liquid", one)} se ven aún en un color oscuro tras la última fila`
				: `La rotativa con ${say.label("liquid", one)} es lo último que toca un color oscuro`,
			expected: "En oscuro, una orbital o la mano quita los hologramas de la rotativa (práctica común)",
			then: isWorkedOver
				? "Las filas siguientes quitan demasiado poco; deles más pasadas o ponga entre medias una fila fina con orbital"
				: finishes
					? "Hasta el líquido más fino puede dejarlos; mírelo con luz fuerte tras limpiar, o acabe con una orbital"
					: "Los hologramas se ven al sol; ponga después una fila fina o finísima con orbital",
		}),
	},
	examples: {
		good: [
			{
				title: "Rotary, then an orbital",
				steps: [
					rotary("heavy-cut", "wool-twisted"),
					liquid("medium-cut", "foam-medium"),
					liquid("finest", "foam-soft"),
				],
				procedure: dark,
			},
			{
				title: "Rotary on the spot, then by hand over it",
				steps: [
					rotary("medium-cut", "foam-medium", { place: "spot" }),
					liquid("fine", "hand-applicator", {
						place: "spot",
						tool: "bare-hand",
						work: { unit: "passes", low: 60, high: 60 },
					}),
				],
				procedure: dark,
			},
			{
				title: "Rotary over the panel, then an orbital, place not said",
				steps: [rotary("heavy-cut", "wool-twisted", { place: "panel" }), liquid("medium-cut", "foam-medium")],
				procedure: dark,
			},
			{
				title: "An orbital on dark only",
				steps: [rotary("medium-cut", "foam-medium"), liquid("fine", "foam-medium", { when: [{ tone: ["dark"] }] })],
				procedure: { scope: { ...dark.scope, tones: ["dark", "light"] } },
			},
			{
				title: "Rotary last on a light colour",
				steps: [rotary("medium-cut", "foam-medium")],
				procedure: { scope: { ...dark.scope, tones: ["light"] } },
			},
		],
		bad: [
			{
				title: "Rotary last on dark",
				steps: [rotary("heavy-cut", "wool-twisted"), rotary("fine", "foam-soft")],
				procedure: dark,
				at: { row: 2, field: "tool" },
			},
			{
				title: "Rotary over the panel, the orbital on one spot only",
				steps: [
					rotary("medium-cut", "foam-medium", { place: "panel" }),
					liquid("finest", "foam-soft", { place: "spot" }),
				],
				procedure: dark,
				at: { row: 1, field: "tool" },
			},
			{
				title: "The finest liquid alone does not take the trails of wool out",
				steps: [rotary("heavy-cut", "wool-twisted"), liquid("finest", "foam-soft")],
				procedure: dark,
				at: { row: 1, field: "tool" },
			},
			{
				title: "Finest on soft foam with a rotary",
				steps: [rotary("heavy-cut", "wool-twisted"), rotary("finest", "foam-soft")],
				procedure: dark,
				at: { row: 2, field: "tool" },
				level: "advice",
			},
		],
	},
});

function isRotary(row: ResolvedRow): row is LiquidRow {
	return row.kind === "liquid" && row.tool.kind === "rotary";
}

/** A half-typed polishing row after it may be the very row that is missing. */
function isHalfTyped(rows: readonly ResolvedRow[], { index }: LiquidRow): boolean {
	return rows.some((later) => later.index > index && later.kind === "incomplete" && later.would === "liquid");
}

/** Whether a later row that says nothing of its place, and so may mean the same one, is worked without a rotary. */
function isTakenOver({ index }: LiquidRow, rows: readonly ResolvedRow[]): boolean {
	return rows.some(
		(row) => row.index > index && row.kind === "liquid" && row.tool.kind !== "rotary" && row.step.place === undefined,
	);
}
