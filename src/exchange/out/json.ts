import { canonicalText } from "../../model/canonical.ts";
import type { ExportFormat } from "../format.ts";

/** The procedure as its own file in a book: canonical form, byte for byte. */
export default {
	id: "json",
	title: { en: "Procedure file", es: "Archivo de procedimiento" },
	extension: "json",
	write: ({ procedure }) => canonicalText("procedure", procedure),
} satisfies ExportFormat;
