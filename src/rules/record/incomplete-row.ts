import type { IncompleteRow, StepField } from "../../model/resolve.ts";
import { liquid, rotary, sand, sandByHand, wash } from "../example-rows.ts";
import { lacksOnly } from "../liquids.ts";
import { common, rule } from "../rule.ts";

type Data = {
	empty: boolean;
	kind: string | null;
	missing: string[];
};

export default rule<Data>({
	id: "incomplete-row",
	group: "record",
	level: "caution",
	source: common,
	why: {
		en: "What a row leaves open each technician fills in another way, and neither check nor forecast can speak of it.",
		es: "Lo que una fila deja abierto, cada técnico lo completa a su manera, y ni la comprobación ni el pronóstico pueden decir nada.",
	},
	axes: [],
	*check({ allRows }) {
		for (const row of allRows) {
			if (row.kind !== "incomplete") continue;
			if (isEmptyRow(row)) {
				yield {
					row,
					level: "advice" as const,
					data: { empty: true, kind: null, missing: [] },
				};
				continue;
			}
			// What a liquid row suffers from a missing pad or liquid alone has a rule of its own.
			if ((["pad", "liquid"] as const).some((field) => lacksOnly(field, row))) continue;
			const missing: string[] = row.missing.filter((field) => isLeftEmpty(field, row, allRows));
			const [field] = missing as StepField[];
			if (field !== undefined) yield { row, field, data: { empty: false, kind: row.would, missing } };
		}
	},
	say: {
		en: ({ empty, kind, missing }, say) => ({
			found: empty
				? "The row is empty"
				: kind === null
					? "No stage is set, and no other field says what the row does"
					: `${say.list(missing.map((field) => say.field(field)))} ${missing.length === 1 ? "is" : "are"} missing`,
			expected: empty
				? "A row says what is done"
				: kind === null
					? "A row has a stage (common practice)"
					: `${needs.en[kind as keyof typeof needs.en] ?? needs.en.other} (common practice)`,
			then: empty ? "Fill it, or take it out" : "Until then the row is neither judged nor forecast",
		}),
		es: ({ empty, kind, missing }, say) => ({
			found: empty
				? "La fila está vacía"
				: kind === null
					? "No hay etapa, y ningún otro campo dice qué hace la fila"
					: `Falta${missing.length === 1 ? "" : "n"} ${say.list(missing.map((field) => say.field(field)))}`,
			expected: empty
				? "Una fila dice qué se hace"
				: kind === null
					? "Una fila tiene etapa (práctica común)"
					: `${needs.es[kind as keyof typeof needs.es] ?? needs.es.other} (práctica común)`,
			then: empty ? "Complétela o quítela" : "Hasta entonces la fila ni se juzga ni se pronostica",
		}),
	},
	remedies({ row, data }, { procedure: { steps = [] } }) {
		if (row === null || !data.empty) return [];
		return [
			{
				kind: "offered",
				say: { en: `Take out row ${row.index + 1}`, es: `Quitar la fila ${row.index + 1}` },
				edit: [{ op: "remove", step: row.step, after: steps[row.index - 1]?.id ?? null }],
			},
		];
	},
	examples: {
		good: [
			{ title: "A wipe needs no grade", steps: [wash] },
			{ title: "Hand work needs no speed", steps: [sandByHand("P2000")] },
			{ title: "A wait with its reason only", steps: [{ stage: "wait", waitFor: "cool" }] },
			{ title: "Masking, measuring, looking", steps: [{ stage: "mask" }, { stage: "measure" }, { stage: "inspect" }] },
			{
				title: "The pad of the row before",
				steps: [liquid("fine", "foam-soft"), liquid("fine", "foam-soft", { pad: undefined, padUse: "same-as-row" })],
			},
			{
				title: "A speed that could not be read is not missing",
				steps: [rotary("fine", "foam-medium", { speed: undefined, asTyped: { speed: "slow" } })],
			},
			{ title: "An unknown tool is not missing", steps: [sand("P1500", { tool: "lost-sander" })] },
			{ title: "A grade that does not exist is not missing", steps: [sand("P1700")] },
			{ title: "A pad alone is missing", steps: [liquid("fine", "foam-medium", { pad: undefined })] },
		],
		bad: [
			{ title: "Only the stage is set", steps: [{ stage: "sand" }], at: { row: 1, field: "tool" } },
			{
				title: "A driven tool without speed",
				steps: [sand("P1500", { speed: undefined })],
				at: { row: 1, field: "speed" },
			},
			{ title: "A wipe that does not say with what", steps: [{ stage: "wipe" }], at: { row: 1, field: "wipe" } },
			{ title: "A wait without time or reason", steps: [{ stage: "wait" }], at: { row: 1, field: "waitMinutes" } },
			{ title: "A place and nothing else", steps: [{ place: "panel" }], at: { row: 1, field: "stage" } },
			{ title: "An empty row", steps: [wash, {}], at: { row: 2, field: null }, level: "advice" },
		],
	},
});

/** What each kind of row needs. */
const needs = {
	en: {
		abrasive: "Sanding needs abrasive, tool, backing, work, and the speed of a driven tool",
		liquid: "Polishing needs liquid, pad, tool, work, and the speed of a driven tool",
		blade: "A blade row needs its tool and work",
		wipe: "A wipe says with what",
		wait: "A wait has its minutes or its reason",
		other: "A row has what its stage needs",
	},
	es: {
		abrasive: "Para lijar hacen falta abrasivo, herramienta, respaldo, trabajo y, con máquina, velocidad",
		liquid: "Para pulir hacen falta líquido, boina, herramienta, trabajo y, con máquina, velocidad",
		blade: "Una fila de cuchilla necesita herramienta y trabajo",
		wipe: "Una limpieza dice con qué",
		wait: "Una espera tiene minutos o motivo",
		other: "Una fila tiene lo que pide su etapa",
	},
};

function isEmptyRow({ step }: IncompleteRow): boolean {
	return Object.keys(step).every((field) => field === "id" || step[field as StepField] === undefined);
}

/** Whether a cell holds nothing: no unread text, no reference to what is not there, no grade that does not exist. */
function isLeftEmpty(
	field: StepField,
	row: IncompleteRow,
	allRows: readonly { index: number; step: IncompleteRow["step"] }[],
) {
	const { step, unknownRefs, unknownGrade, index } = row;
	if (step.asTyped !== undefined && Object.hasOwn(step.asTyped, field)) return false;
	if (unknownRefs.some((one) => one.field === field)) return false;
	if (field === "abrasive" && unknownGrade !== null) return false;
	// The pad of an earlier row that names one: what is wrong with it is said there.
	if (field === "pad" && step.padUse === "same-as-row")
		return !allRows.some((one) => one.index < index && (one.step.pad ?? one.step.asTyped?.pad) !== undefined);
	return true;
}
