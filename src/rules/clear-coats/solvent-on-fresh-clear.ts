import { curedHours, isRefinishClear } from "../cure.ts";
import { alcoholWipe, liquid, sand, wash } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

const solventWipe = { stage: "wipe" as const, wipe: "solvent-wipe" as const };

export default rule({
	id: "solvent-on-fresh-clear",
	group: "clear coats",
	level: "caution",
	source: common,
	why: {
		en: "Solvent gets into a clear that has not yet hardened: it softens, swells its scratches and dulls it again days later.",
		es: "El disolvente entra en un barniz que aún no ha endurecido: lo ablanda, hincha sus arañazos y días después vuelve a estar apagado.",
	},
	parameters: { hours: 24 },
	axes: ["clearCoat"],
	*check({ procedure, rows, situation: { clearCoat }, parameters }) {
		if (!isRefinishClear(clearCoat)) return;
		for (const row of rows) {
			if (row.kind !== "wipe" || row.wipe !== "solvent-wipe") continue;
			const hours = curedHours(procedure, row, rows);
			if (hours === null || hours >= parameters.hours) continue;
			yield { row, field: "wipe" as const, data: { hours, limitHours: parameters.hours } };
		}
	},
	say: {
		en: ({ hours, limitHours }, say) => ({
			found: `Solvent is wiped over a clear that may be ${say.number(hours)} hours old`,
			expected: `No solvent on a refinish clear within ${say.number(limitHours)} hours (common practice)`,
			then: "It softens the clear and the gloss goes back; wash, or wipe with alcohol and water, or wait longer",
		}),
		es: ({ hours, limitHours }, say) => ({
			found: `Se pasa disolvente por un barniz que puede tener ${say.number(hours)} horas`,
			expected: `Nada de disolvente sobre un barniz de reparación antes de ${say.number(limitHours)} horas (práctica común)`,
			then: "Ablanda el barniz y el brillo se pierde; lave, limpie con alcohol y agua, o espere más",
		}),
	},
	examples: {
		good: [
			{
				title: "Solvent after two days",
				steps: [solventWipe, sand("P2000")],
				procedure: { cure: { hours: 48 } },
			},
			{
				title: "Alcohol on a fresh clear",
				steps: [wash, liquid("fine", "foam-soft"), alcoholWipe],
				procedure: { cure: { hours: 12 } },
			},
			{ title: "Nothing said of cure", steps: [solventWipe, liquid("fine", "foam-soft")] },
			{
				title: "A baked clear",
				steps: [solventWipe, sand("P2000")],
				procedure: { cure: { hours: 2, bake: { celsius: 60, minutes: 30 } } },
			},
		],
		bad: [
			{
				title: "Solvent twelve hours after spraying",
				steps: [solventWipe, sand("P2000")],
				procedure: { cure: { hours: 12 } },
				at: { row: 1, field: "wipe" },
			},
			{
				title: "A wait for cure that is too short",
				steps: [{ stage: "wait", waitFor: "cure", waitMinutes: 120 }, solventWipe, liquid("fine", "foam-soft")],
				procedure: { cure: { hours: 12 } },
				at: { row: 2, field: "wipe" },
			},
		],
	},
});
