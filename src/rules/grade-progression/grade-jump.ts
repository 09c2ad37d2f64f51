import { outcomeOf } from "../../forecast/outcome.ts";
import type { Step } from "../../model/generated/types.ts";
import { gradeTables, readGrade } from "../../model/grades.ts";
import type { AbrasiveRow } from "../../model/resolve.ts";
import type { Shop } from "../../model/shop.ts";
import { sandingPairs } from "../chains.ts";
import { sand } from "../example-rows.ts";
import { insertedRowId } from "../inserted-row-id.ts";
import { house, rule } from "../rule.ts";

export default rule({
	id: "grade-jump",
	group: "grade progression",
	level: "caution",
	source: house("gradeStepRatio", 2.4, null),
	why: {
		en: "Each sanding row must clear the scratches of the row before it; too large a step leaves some of them, and they show after polishing.",
		es: "Cada fila de lijado debe eliminar los arañazos de la anterior; un salto demasiado grande deja algunos, y se ven tras el pulido.",
	},
	axes: ["defect", "clearCoat"],
	*check({ rows, shop, forecast }) {
		const limit = shop.limits.gradeStepRatio;
		for (const { from, to } of sandingPairs(rows)) {
			const ratio = from.abrasive.medianUm / to.abrasive.medianUm;
			if (ratio <= limit) continue;
			const chance = outcomeOf(to, forecast)?.notClearedChance ?? null;
			yield {
				row: to,
				field: "abrasive" as const,
				level: chance !== null && chance <= 0.05 ? ("advice" as const) : undefined,
				weight: chance ?? 1,
				basis: house("gradeStepRatio", limit, null),
				data: {
					fromGrade: from.abrasive.grade.text,
					fromRow: from.index + 1,
					grade: to.abrasive.grade.text,
					ratio,
					limit,
					chance,
				},
			};
		}
	},
	say: {
		en: ({ fromGrade, fromRow, grade, ratio, limit, chance }, say) => ({
			found: `${fromGrade} of row ${fromRow} to ${grade} is a step of ${say.number(ratio)} in grain`,
			expected: `The house limit is ${say.number(limit)}`,
			then:
				chance !== null && chance <= 0.05
					? "The forecast still clears the coarser scratches at these passes"
					: `Scratches of ${fromGrade} may be left; put a grade between the two, or sand longer`,
		}),
		es: ({ fromGrade, fromRow, grade, ratio, limit, chance }, say) => ({
			found: `De ${fromGrade} en la fila ${fromRow} a ${grade} hay un salto de ${say.number(ratio)} en grano`,
			expected: `El límite de la casa es ${say.number(limit)}`,
			then:
				chance !== null && chance <= 0.05
					? "El pronóstico aún elimina los arañazos más gruesos con estas pasadas"
					: `Pueden quedar arañazos de ${fromGrade}; ponga un grano intermedio o lije más`,
		}),
	},
	remedies({ row: to, data }, { procedure: { steps = [] }, rows, shop }) {
		const from = rows.find(({ index }) => index === data.fromRow - 1);
		if (to?.kind !== "abrasive" || from?.kind !== "abrasive") return [];
		const between = gradeBetween(from, to, shop);
		if (between === undefined) return [];
		const before = steps[to.index - 1]?.id ?? null;
		const taken = steps.map(({ id }) => id);
		const { instruction, check, ifNot, mustNotVary, note, asTyped, ...same } = to.step;
		const { carrier, holes } = to.abrasive;
		const step: Step = {
			...same,
			...(carrier === null ? {} : { carrier }),
			...(holes === null ? {} : { holes }),
			id: insertedRowId(before, to.step.id, taken),
			abrasive: between,
		};
		return [
			{
				kind: "offered",
				say: {
					en: `Insert a row with ${between} before row ${to.index + 1}, otherwise like row ${to.index + 1}`,
					es: `Insertar una fila con ${between} antes de la fila ${to.index + 1}, por lo demás igual a la fila ${to.index + 1}`,
				},
				edit: [{ op: "insert", step, after: before }],
			},
		];
	},
	examples: {
		good: [{ title: "P1500 then P2000 on the same section", steps: [sand("P1500"), sand("P2000")] }],
		bad: [
			{
				title: "P600 then P2000, two passes",
				steps: [sand("P600"), sand("P2000", { work: { unit: "passes", low: 2, high: 2 } })],
				at: { row: 2, field: "abrasive" },
			},
		],
	},
});

/**
 * The abrasive nearest to halfway, by ratio of medians, between two rows: an item of the stock on the same carrier
 * where there is one, else a grade of the scale of the finer row.
 */
function gradeBetween(
	{ abrasive: from }: AbrasiveRow,
	{ abrasive: to }: AbrasiveRow,
	{ stock, book }: Shop,
): string | undefined {
	const items = (stock.abrasives ?? [])
		.filter(({ carrier, withdrawn }) => !withdrawn && (carrier ?? null) === to.carrier)
		.flatMap(({ id, grade: text, medianUm }) => {
			const grade = readGrade(text, book.gradeScale);
			return grade?.kind === "grade" ? [{ text: id, um: medianUm ?? grade.um }] : [];
		});
	const scale = to.grade.scale === "um" ? "P" : to.grade.scale;
	const grades = [...gradeTables[scale].keys()].flatMap((number) => {
		const grade = readGrade(String(number), scale);
		return grade?.kind === "grade" ? [grade] : [];
	});
	const middleUm = Math.sqrt(from.medianUm * to.medianUm);
	const distance = ({ um }: { um: number }) => Math.abs(Math.log(um / middleUm));
	const lies = ({ um }: { um: number }) => um < from.medianUm && um > to.medianUm;
	const nearest = (some: { text: string; um: number }[]) =>
		some.filter(lies).toSorted((one, other) => distance(one) - distance(other))[0]?.text;
	return nearest(items) ?? nearest(grades);
}
