import { unknownFields } from "../../model/unknown-fields.ts";
import type { Procedure, Step } from "../../model/generated/types.ts";
import { pointerParts } from "../../model/pointer.ts";
import { sand, wash } from "../example-rows.ts";
import { rule } from "../rule.ts";

export default rule({
	id: "unknown-field",
	group: "record",
	level: "caution",
	source: { kind: "standard", name: "procedure.schema.json", value: null, unit: null },
	why: {
		en: "A field that nothing reads is often a known one misspelt: what stands in it is neither judged nor printed.",
		es: "Un campo que nada lee suele ser uno conocido mal escrito: lo que contiene ni se juzga ni se imprime.",
	},
	axes: [],
	*check({ procedure, allRows }) {
		for (const pointer of unknownFields("procedure", procedure)) {
			const parts = pointerParts(pointer);
			const name = parts.at(-1) ?? "";
			const row = parts[0] === "steps" ? allRows[Number(parts[1])] : undefined;
			const part = row === undefined ? parts[0] : parts[2];
			const field = part === name && parts.length === (row === undefined ? 1 : 3) ? undefined : part;
			yield { row, field: field as keyof Procedure | keyof Step | undefined, pointer, data: { name } };
		}
	},
	say: {
		en: ({ name }, say) => ({
			found: `The field ${say.quote(name)} is not known`,
			expected: "The schema of a procedure has no such field there",
			then: "It is kept, and nothing reads it; give it the name that was meant, or put the text into the notes",
		}),
		es: ({ name }, say) => ({
			found: `El campo ${say.quote(name)} no se conoce`,
			expected: "El esquema de un procedimiento no tiene ahí ese campo",
			then: "Se conserva y nada lo lee; póngale el nombre que se quería, o pase el texto a las notas",
		}),
	},
	examples: {
		good: [
			{ title: "Only fields that are known", steps: [wash, sand("P1500", { note: "Change the disc often" })] },
			{
				title: "Text as typed, kept under the field it was typed into",
				steps: [sand("P1500", { speed: undefined, asTyped: { speed: "slow" } })],
			},
		],
		bad: [
			{
				title: "A misspelt field in a row",
				steps: [sand("P1500", { colour: "blue" } as object)],
				at: { row: 1, field: null },
			},
			{
				title: "A field the scope does not have",
				steps: [sand("P1500")],
				procedure: { scope: { defects: [{ defect: "sand-scratch" }], panels: ["bonnet"] } as object },
				at: { row: null, field: "scope" },
			},
		],
	},
});
