import Papa from "papaparse";
import { headerOf, stepFields } from "../../model/fields/columns.ts";
import type { FieldContext, FieldValue, StepField } from "../../model/fields/reading.ts";
import { writeNumber } from "../../model/fields/span.ts";
import { write } from "../../model/fields/write.ts";
import type { Estimate, Procedure, Step, Text, Wear } from "../../model/generated/types.ts";
import { label, type Language, languages } from "../../model/words.ts";
import type { ExportFormat } from "../format.ts";
import { formula } from "../formula.ts";

/**
 * A table with the columns of the screen, under lines that tell title, scope, film and conditions. It reads back as the
 * same rows, scope and film; ids, state, variants and exceptions are not in it. Semicolons in Spanish, whose decimal sign is the comma.
 */
export default {
	id: "csv",
	title: { en: "Spreadsheet (CSV)", es: "Hoja de cálculo (CSV)" },
	extension: "csv",
	write: ({ procedure, shop, language }) => {
		const { steps = [] } = procedure;
		const columns = columnsOf(steps, language);
		const door: FieldContext = {
			language,
			stock: shop.stock,
			rows: steps.map(({ id }) => id),
			...(shop.book.gradeScale === undefined ? {} : { gradeScale: shop.book.gradeScale }),
		};
		const lines = [
			...contextLines(procedure, door),
			[],
			[numberHeader[language], ...columns.map(({ header }) => header)],
			...steps.map((step, at) => [String(at + 1), ...columns.map(({ cell }) => cell(step, door))]),
		];
		return `${Papa.unparse(lines, { delimiter: language === "es" ? ";" : ",", newline: "\n", escapeFormulae: formula })}\n`;
	},
} satisfies ExportFormat;

const numberHeader: Record<Language, string> = { en: "No.", es: "N.º" };

/** Columns that stand even where no row fills them; each alone, so that reading does not have to tell a pad from a backing. */
const firstSeen: readonly StepField[] = [
	"stage",
	"abrasive",
	"backing",
	"pad",
	"wetness",
	"liquid",
	"wipe",
	"tool",
	"speed",
	"work",
];

interface OutColumn {
	header: string;
	cell(step: Step, door: FieldContext): string;
}

function columnsOf(steps: readonly Step[], language: Language): OutColumn[] {
	const used = stepFields.filter(
		(field) => !firstSeen.includes(field) && steps.some((step) => step[field] !== undefined),
	);
	const typed = [...new Set(steps.flatMap(({ asTyped = {} }) => Object.keys(asTyped)))];
	return [
		...[...firstSeen, ...used].flatMap((field) => fieldColumns(field, steps, language)),
		...typed.map(
			(field): OutColumn => ({
				header: `${headerOf("asTyped", language)}: ${headerOf(field, language)}`,
				cell: ({ asTyped }) => asTyped?.[field] ?? "",
			}),
		),
	];
}

/** One column for a field; for own words one for each language that a row has them in. */
function fieldColumns(field: StepField, steps: readonly Step[], language: Language): OutColumn[] {
	const header = headerOf(field, language);
	if (field === "instruction" || field === "padCare" || field === "check" || field === "light") {
		return languages
			.filter((one) => steps.some((step) => step[field]?.[one] !== undefined))
			.map((one) => ({
				header: one === language ? header : `${header} (${one})`,
				cell: (step) => step[field]?.[one] ?? "",
			}));
	}
	return [
		{
			header,
			cell: (step, door) => {
				const value = step[field];
				const context = step.tool === undefined ? door : { ...door, tool: step.tool };
				return value === undefined ? "" : write(value as FieldValue, { ...context, field });
			},
		},
	];
}

function contextLines(procedure: Procedure, door: FieldContext): string[][] {
	const { scope = {}, film = {}, cure = {}, setUp = {} } = procedure;
	const { language } = door;
	const lines: string[][] = [[keys.format[language], String(procedure.format)]];
	const add = (key: keyof typeof keys, text: string | undefined) => {
		if (text !== undefined && text !== "") lines.push([keys[key][language], text]);
	};
	const addText = (key: keyof typeof keys, text: Text | undefined) => {
		for (const one of languages) {
			const words = text?.[one];
			if (words !== undefined && words !== "")
				lines.push([one === language ? keys[key][language] : `${keys[key][language]} (${one})`, words]);
		}
	};
	const list = (kind: "substrate" | "clearCoat" | "tone" | "feature", values: readonly string[] = []) =>
		values.map((value) => label(kind, value, language)).join(", ");
	addText("title", procedure.title);
	addText("purpose", procedure.purpose);
	addText("chooseWhen", procedure.chooseWhen);
	add("defects", (scope.defects ?? []).map((one) => defectText(one, language)).join("; "));
	add("substrates", list("substrate", scope.substrates));
	add("clearCoats", list("clearCoat", scope.clearCoats));
	add("tones", list("tone", scope.tones));
	add("features", list("feature", scope.features));
	if (scope.except && scope.except.length > 0) add("except", write(scope.except, { ...door, field: "when" }));
	if (film.known !== undefined) add("film", label("filmKnown", film.known, language));
	if (film.underUm) add("under", filmText(film.underUm, language));
	const assumed = Object.entries(film.assumed ?? {});
	add(
		"assumed",
		assumed.map(([kind, um]) => `${label("clearCoat", kind, language)} ${filmText(um, language)}`).join("; "),
	);
	if (film.startReadingUm !== undefined) add("startReading", `${writeNumber(film.startReadingUm, language)} µm`);
	if (film.leastLeftUm !== undefined) add("least", `${writeNumber(film.leastLeftUm, language)} µm`);
	if (cure.hours !== undefined) add("cure", `${writeNumber(cure.hours, language)} h`);
	if (cure.bake) add("bake", bakeText(cure.bake, language));
	add("wear", (procedure.wear ?? []).map((one) => wearText(one, language)).join("; "));
	if (setUp.extraction !== undefined)
		add("extraction", { en: setUp.extraction ? "yes" : "no", es: setUp.extraction ? "sí" : "no" }[language]);
	addText("light", setUp.light);
	if (setUp.panelC !== undefined) add("panelC", `${writeNumber(setUp.panelC, language)} °C`);
	for (const { text } of procedure.startWhen ?? []) addText("startWhen", text);
	for (const { text } of procedure.giveUpWhen ?? []) addText("giveUpWhen", text);
	add("writtenBy", procedure.writtenBy);
	add("revision", procedure.revision === undefined ? undefined : String(procedure.revision));
	add("revisionDate", procedure.revisionDate);
	add("reviewBy", procedure.reviewBy);
	for (const { title } of procedure.sources ?? []) add("sources", title);
	addText("notes", procedure.notes);
	return lines;
}

/** Keys of the lines above the table; each stands among the spellings that reading knows. */
const keys = {
	format: { en: "Format", es: "Formato" },
	title: { en: "Title", es: "Título" },
	purpose: { en: "Purpose", es: "Propósito" },
	chooseWhen: { en: "Choose when", es: "Elegir cuando" },
	defects: { en: "Defects", es: "Defectos" },
	substrates: { en: "Substrates", es: "Sustrato" },
	clearCoats: { en: "Clear coats", es: "Barnices" },
	tones: { en: "Tones", es: "Tonos" },
	features: { en: "Features", es: "Rasgos" },
	except: { en: "Except", es: "Excepto" },
	film: { en: "Film", es: "Película" },
	under: { en: "Under the clear", es: "Bajo el barniz" },
	assumed: { en: "Clear assumed", es: "Barniz supuesto" },
	startReading: { en: "Clear reading at start", es: "Lectura del barniz al empezar" },
	least: { en: "Least clear left", es: "Barniz mínimo" },
	cure: { en: "Cure", es: "Curado" },
	bake: { en: "Bake", es: "Horneado" },
	wear: { en: "Wear", es: "Protección" },
	extraction: { en: "Extraction", es: "Aspiración" },
	light: { en: "Light", es: "Luz" },
	panelC: { en: "Panel temperature", es: "Temperatura del panel" },
	startWhen: { en: "Start when", es: "Empezar cuando" },
	giveUpWhen: { en: "Give up when", es: "Abandonar cuando" },
	writtenBy: { en: "Written by", es: "Escrito por" },
	revision: { en: "Revision", es: "Revisión" },
	revisionDate: { en: "Date", es: "Fecha" },
	reviewBy: { en: "Review by", es: "Revisar antes de" },
	sources: { en: "Source", es: "Fuente" },
	notes: { en: "Notes", es: "Notas" },
} satisfies Record<string, Record<Language, string>>;

function filmText({ mid, low, high }: Estimate, language: Language): string {
	return `${writeNumber(mid, language)} (${writeNumber(low, language)}–${writeNumber(high, language)}) µm`;
}

function defectText(
	{ defect, goal, um }: NonNullable<NonNullable<Procedure["scope"]>["defects"]>[number],
	language: Language,
): string {
	const figure = um ? ` ${filmText(um, language)}` : "";
	return `${label("defect", defect, language)}${figure}${goal === undefined ? "" : `, ${label("goal", goal, language)}`}`;
}

function bakeText(
	{ celsius, minutes, waitHours }: NonNullable<NonNullable<Procedure["cure"]>["bake"]>,
	language: Language,
): string {
	const wait = waitHours === undefined ? "" : `, ${writeNumber(waitHours, language)} h`;
	return `${writeNumber(celsius, language)} °C ${writeNumber(minutes, language)} min${wait}`;
}

function wearText({ item, filter, stages }: Wear, language: Language): string {
	const word = { en: "filter", es: "filtro" }[language];
	const where = stages === undefined ? "" : `: ${stages.map((stage) => label("stage", stage, language)).join(", ")}`;
	return `${label("gear", item, language)}${filter === undefined ? "" : ` (${word} ${filter})`}${where}`;
}
