import { countFindings } from "../../check/check.ts";
import { card } from "../../print/card.ts";
import type { ExportFormat } from "../format.ts";

/** The bench card as one HTML page, to print or to turn into PDF. */
export default {
	id: "card",
	title: { en: "Bench card", es: "Tarjeta de banco" },
	extension: "html",
	write: ({ check, ...input }) => card({ ...input, counts: countFindings([check]) }),
} satisfies ExportFormat;
