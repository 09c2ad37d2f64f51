import type { CheckedFile } from "../check/check.ts";
import type { Procedure, Text } from "../model/generated/types.ts";
import type { Shop } from "../model/shop.ts";
import type { Language } from "../model/words.ts";

/** What a format writes from. */
export interface ExportInput {
	procedure: Procedure;
	shop: Shop;
	/** Date of the export, year-month-day. */
	today: string;
	language: Language;
	/** The check of the procedure on that date, for formats that say whether it may be used. */
	check: CheckedFile;
}

/** A form in which a procedure leaves the program: one file in `out/`, called like its id. */
export interface ExportFormat {
	id: string;
	title: Text;
	/** Ending of its files, without the dot. */
	extension: string;
	/** Whether a text is a whole page, a table or a file of a book is the format's own affair; it is written as UTF-8. */
	write(input: ExportInput): string;
}
