import { type Language, languages } from "../../model/words.ts";

/** Papers that a card is laid out for. */
export const papers = ["A4", "Letter"] as const;
/** One of {@link papers}. */
export type Paper = (typeof papers)[number];

/** How a person wants cards printed; kept in the browser. */
export interface PaperChoice {
	paper: Paper;
	/** Language of the card; null: that of the book. */
	language: Language | null;
	withDrawing: boolean;
}

/** Countries where Letter lies in the printer; elsewhere it is A4. From memory of the Unicode locale data, no source. */
const letterCountries = ["BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"];

const key = "gritwright.paper";

/** What was chosen last in this browser, else the paper of the country that its language names. */
export function paperChoice(storage: Pick<Storage, "getItem"> | null, locale: string): PaperChoice {
	const country = /[-_]([A-Z]{2})\b/.exec(locale)?.[1] ?? "";
	const usual: PaperChoice = {
		paper: letterCountries.includes(country) ? "Letter" : "A4",
		language: null,
		withDrawing: false,
	};
	try {
		const kept = JSON.parse(storage?.getItem(key) ?? "{}") as Partial<PaperChoice> | null;
		return {
			paper: papers.find((paper) => paper === kept?.paper) ?? usual.paper,
			language: languages.find((language) => language === kept?.language) ?? null,
			withDrawing: kept?.withDrawing === true,
		};
	} catch {
		return usual;
	}
}

/** Keeps a choice. A full or forbidden storage costs only its memory. */
export function keepPaperChoice(storage: Pick<Storage, "setItem"> | null, choice: PaperChoice): void {
	try {
		storage?.setItem(key, JSON.stringify(choice));
	} catch {
		// Holds until the dialog is closed.
	}
}
