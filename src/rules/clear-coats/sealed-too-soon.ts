import { curedHours, isRefinishClear } from "../cure.ts";
import { liquid } from "../example-rows.ts";
import { common, rule } from "../rule.ts";

const seal = { stage: "seal" as const };

export default rule({
	id: "sealed-too-soon",
	group: "clear coats",
	level: "caution",
	source: common,
	why: {
		en: "A refinish clear goes on giving off solvent for weeks. Wax or sealant over it holds it in: the clear stays soft and may cloud.",
		es: "Un barniz de reparación sigue soltando disolvente durante semanas. La cera o el sellador lo encierran: el barniz queda blando y puede velarse.",
	},
	parameters: { days: 30 },
	axes: ["clearCoat"],
	*check({ procedure, rows, situation: { clearCoat }, parameters }) {
		if (!isRefinishClear(clearCoat)) return;
		for (const row of rows) {
			if (row.stage !== "seal" || row.kind !== "setup") continue;
			const hours = curedHours(procedure, row, rows);
			if (hours === null || hours >= parameters.days * 24) continue;
			yield { row, field: "stage" as const, data: { hours, limitDays: parameters.days } };
		}
	},
	say: {
		en: ({ hours, limitDays }, say) => ({
			found: `A clear that may be ${say.number(hours)} hours old is sealed`,
			expected: `A refinish clear is sealed after ${say.number(limitDays)} days at the earliest (common practice)`,
			then: "Solvent stays shut in and the clear soft; leave the row out and tell the owner when to have it sealed",
		}),
		es: ({ hours, limitDays }, say) => ({
			found: `Se sella un barniz que puede tener ${say.number(hours)} horas`,
			expected: `Un barniz de reparación no se sella antes de ${say.number(limitDays)} días (práctica común)`,
			then: "El disolvente queda encerrado y el barniz blando; quite la fila y diga al dueño cuándo sellarlo",
		}),
	},
	remedies({ row, data }, { procedure: { steps = [] } }) {
		if (row === null || steps.some(({ ifNot }) => ifNot?.back === row.step.id)) return [];
		return [
			{
				kind: "offered",
				say: {
					en: `Take out row ${row.index + 1}; sealing waits ${data.limitDays} days`,
					es: `Quitar la fila ${row.index + 1}; el sellado espera ${data.limitDays} días`,
				},
				edit: [{ op: "remove", step: row.step, after: steps[row.index - 1]?.id ?? null }],
			},
		];
	},
	examples: {
		good: [
			{
				title: "A factory clear is sealed after polishing",
				steps: [liquid("fine", "foam-soft"), seal],
				procedure: { scope: { clearCoats: ["factory"] }, cure: { hours: 24 } },
			},
			{ title: "Nothing said of cure", steps: [liquid("fine", "foam-soft"), seal] },
			{
				title: "A refinish clear of 60 days",
				steps: [liquid("fine", "foam-soft"), seal],
				procedure: { cure: { hours: 1440 } },
			},
		],
		bad: [
			{
				title: "Sealed the day after spraying",
				steps: [liquid("fine", "foam-soft"), seal],
				procedure: { cure: { hours: 24 } },
				at: { row: 2, field: "stage" },
			},
		],
	},
});
