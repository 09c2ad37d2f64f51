import { isStepField } from "../../model/fields/columns.ts";
import { nearReadings } from "../../model/fields/near.ts";
import { read } from "../../model/fields/read.ts";
import { write } from "../../model/fields/write.ts";
import type { FieldValue, StepField } from "../../model/fields/reading.ts";
import type { Basis } from "../../model/finding.ts";
import { shapes } from "../../model/generated/shape.ts";
import type { Procedure, Step } from "../../model/generated/types.ts";
import { pointerParts, pointerTo } from "../../model/pointer.ts";
import { type ProblemCode, type SchemaProblem, sayProblem } from "../../model/problem.ts";
import type { ResolvedRow } from "../../model/resolve.ts";
import { type Shape, shapeOfPart } from "../../model/shape.ts";
import type { Shop } from "../../model/shop.ts";
import { label, type WordKind } from "../../model/words.ts";
import outcomes from "../data/schema-outcomes.json" with { type: "json" };
import { sand, wash } from "../example-rows.ts";
import { type Found, rule } from "../rule.ts";

const schema: Basis = { kind: "standard", name: "procedure.schema.json", value: null, unit: null };

/** What the schema found that keeps no cell from being read. */
const harmless: Partial<Record<ProblemCode, "caution" | "advice">> = {
	"repeated-row-id": "caution",
	"byte-order-mark": "advice",
};

type Data = Record<string, string | number | boolean | null | readonly string[]> &
	(
		| { code: "as-typed"; text: string; column: string; why: string | null; readings: readonly string[] }
		| { code: ProblemCode; inFile: string }
	);

export default rule<Data>({
	id: "unread-cell",
	group: "record",
	level: "stop",
	source: schema,
	why: {
		en: "What could not be read is not judged: the row looks right on the wall, and nobody has checked it.",
		es: "Lo que no se pudo leer no se juzga: la fila parece correcta en la pared, y nadie la ha comprobado.",
	},
	axes: [],
	*check({ allRows, problems, procedure, shop }) {
		for (const row of allRows)
			for (const [column, text] of Object.entries(row.step.asTyped ?? {}))
				yield foundTyped(text, column, row, procedure, shop);
		for (const problem of problems) yield foundFrom(problem, problems, allRows);
	},
	say: {
		en: (data, say) => {
			if (!isAsTyped(data)) return sayOfFile(data, "en");
			const { text, column, why, readings } = data;
			const could = readings.map((reading) => say.quote(say.label(column as WordKind, reading)));
			return {
				found: `${say.quote(text)} could not be read${why === null ? "" : `: ${say.label("unread", why)}`}`,
				expected:
					could.length === 0
						? "Expected is a word, figure or item that this column knows, or an empty cell"
						: `${why === null ? "It could mean" : "Near it is"} ${say.list(could, "or")}`,
				then: "The text is kept, and the row is judged without it; write it anew or clear the cell",
			};
		},
		es: (data, say) => {
			if (!isAsTyped(data)) return sayOfFile(data, "es");
			const { text, column, why, readings } = data;
			const could = readings.map((reading) => say.quote(say.label(column as WordKind, reading)));
			return {
				found: `${say.quote(text)} no se pudo leer${why === null ? "" : `: ${say.label("unread", why)}`}`,
				expected:
					could.length === 0
						? "Se espera una palabra, cifra o artículo que esta columna conozca, o una celda vacía"
						: `${why === null ? "Podría significar" : "Se parece a"} ${say.list(could, "or")}`,
				then: "El texto se conserva y la fila se juzga sin él; escríbalo de nuevo o vacíe la celda",
			};
		},
	},
	remedies({ row, data }, { procedure, shop }) {
		if (row === null || !isAsTyped(data) || !isStepField(data.column)) return [];
		const { text, column } = data;
		const { asTyped: from, id } = row.step;
		if (row.step[column] !== undefined || from === undefined) return [];
		const { [column]: _, ...others } = from;
		const to = Object.keys(others).length === 0 ? undefined : others;
		return readAgain(text, column, row.step, procedure, shop).values.map((value) => {
			const word = (language: "en" | "es") => label(column as WordKind, keptForm(value, column), language);
			return {
				kind: "offered" as const,
				say: { en: `Read it as ${word("en")}`, es: `Leerlo como ${word("es")}` },
				edit: [
					{ op: "set" as const, row: id, field: column, to: value },
					{ op: "set" as const, row: id, field: "asTyped", from, ...(to === undefined ? {} : { to }) },
				],
			};
		});
	},
	examples: {
		good: [
			{ title: "Everything was read", steps: [wash, sand("P1500")] },
			{ title: "A cell left empty", steps: [{ stage: "sand" }] },
		],
		bad: [
			{
				title: "A speed in words",
				steps: [sand("P1500", { speed: undefined, asTyped: { speed: "not too fast" } })],
				at: { row: 1, field: "speed" },
			},
			{
				title: "A wool pad, of which there are three",
				steps: [
					{
						stage: "compound",
						liquid: "heavy-cut",
						tool: "rotary",
						speed: { unit: "rpm", low: 1500, high: 1500 },
						work: { unit: "passes", low: 4, high: 4 },
						asTyped: { pad: "wool pad" },
					},
				],
				at: { row: 1, field: "pad" },
			},
		],
	},
});

function isAsTyped(data: Data): data is Extract<Data, { code: "as-typed" }> {
	return data.code === "as-typed";
}

function foundTyped(text: string, column: string, row: ResolvedRow, procedure: Procedure, shop: Shop): Found<Data> {
	const { why, values } = readAgain(text, column, row.step, procedure, shop);
	return {
		row,
		field: isStepField(column) ? column : "asTyped",
		pointer: pointerTo(`/steps/${row.index}/asTyped`, column),
		data: {
			code: "as-typed",
			text,
			column,
			why,
			readings: isStepField(column) ? values.map((value) => keptForm(value, column)) : [],
		},
	};
}

/** The values between which a person has to choose; where the text gives no value, why, and what is near it. */
function readAgain(text: string, column: string, step: Step, procedure: Procedure, shop: Shop) {
	if (!isStepField(column)) return { why: null, values: [] };
	const context = { field: column, ...contextOf(step, procedure, shop) };
	const reading = read(text, context);
	if ("unread" in reading) return { why: reading.unread, values: nearReadings(text, context) };
	return { why: null, values: "between" in reading ? reading.between : [reading.value] };
}

function contextOf({ tool }: Step, { steps = [] }: Procedure, { book, stock }: Shop) {
	return {
		language: book.language ?? ("en" as const),
		rows: steps.map(({ id }) => id),
		stock,
		...(book.gradeScale === undefined ? {} : { gradeScale: book.gradeScale }),
		...(tool === undefined ? {} : { tool }),
	};
}

/** A value as a finding keeps it: a word of the vocabulary or an id as it is, anything else as its text in English. */
function keptForm(value: FieldValue, column: StepField): string {
	return typeof value === "string" ? value : write(value as never, { field: column, language: "en" });
}

/** A problem of the schema as a finding: at its row where that is left, else at its part of the procedure. */
function foundFrom(
	{ code, pointer: inFile, row: rowInFile, field, data }: SchemaProblem,
	problems: readonly SchemaProblem[],
	allRows: readonly ResolvedRow[],
): Found<Data> {
	const found = { data: { ...data, code, inFile }, level: harmless[code] };
	if (rowInFile === null)
		return { ...found, field: (field ?? undefined) as keyof Procedure | undefined, pointer: inFile };
	const leftOut = problems.filter(({ pointer }) => isWholeRow(pointer)).map(({ row }) => row ?? 0);
	const row = allRows[rowInFile - leftOut.filter((one) => one < rowInFile).length];
	if (row === undefined || isWholeRow(inFile)) return { ...found, field: "steps", pointer: "/steps" };
	const pointer = [`/steps/${row.index}`, ...pointerParts(inFile).slice(2)].reduce((at, part) => pointerTo(at, part));
	return { ...found, row, field: (field ?? undefined) as keyof Step | undefined, pointer };
}

/** A row that is not even a record is not among the rows that are judged. */
function isWholeRow(pointer: string): boolean {
	return /^\/steps\/\d+$/.test(pointer);
}

function sayOfFile({ code, inFile, ...data }: Extract<Data, { inFile: string }>, language: "en" | "es") {
	const sentence = sayProblem({ code, message: "", place: null, data }, language);
	const below = placeBelow(inFile, language);
	const { expected, then } = outcomes[outcomeOf(code, inFile)];
	return {
		found: below === "" ? sentence : `${below}: ${sentence}`,
		expected: expected[language],
		then: then[language],
	};
}

/** What the schema expects instead and what became of the part, by problem: beside what went wrong it depends on whether a whole row or its id is meant. */
function outcomeOf(code: ProblemCode, inFile: string): keyof typeof outcomes {
	if (code === "repeated-row-id") return code;
	if (/^\/steps\/\d+\/id$/.test(inFile)) return "row-id";
	if (isWholeRow(inFile)) return "row";
	if (code === "missing" && pointerParts(inFile).length > 1) return "missing-inside";
	if (code === "too-many-rows" && inFile !== "/steps") return "too-many";
	return Object.hasOwn(outcomes, code) ? (code as keyof typeof outcomes) : "not-valid";
}

/** "Low" of `/steps/2/speed/low`: what the row and field, or the part, do not yet say. */
function placeBelow(inFile: string, language: "en" | "es"): string {
	const parts = pointerParts(inFile);
	const said = parts[0] === "steps" && parts.length > 2 ? 3 : 1;
	const words: string[] = [];
	let shape: Shape | undefined = shapes.procedure;
	for (const [index, part] of parts.entries()) {
		const inner: Shape | undefined = shape?.items ?? shapeOfPart(shape, part);
		if (index >= said) words.push(shape?.items ? String(Number(part) + 1) : (inner?.title ?? part));
		shape = inner;
	}
	if (parts[0] === "steps" && parts.length === 2) return `${language === "es" ? "Fila" : "Row"} ${words[0]}`;
	return words.join(", ");
}
