import tables from "./data/grades.json" with { type: "json" };

/** The scales a grade is written in; `um` is the median itself, in micrometres. */
export type GradeScale = "P" | "JIS" | "CAMI" | "um";

/** The scales a bare number may stand for, as a book sets it. */
export type BareScale = Exclude<GradeScale, "um">;

/** A grade of abrasive that a published table holds, or one given in micrometres. */
export interface Grade {
	kind: "grade";
	/** The one way it is written in files: `P1500`, `JIS 2000`, `CAMI 1500`, `16 µm`. */
	text: string;
	scale: GradeScale;
	/** Median grain d50 in µm. JIS: by the electrical-resistance method. */
	um: number;
	/** No scale was written: the number was read on the scale of the book, or as P where the book has none. */
	bare: boolean;
}

/** A number on a known scale that the scale does not have, with the real grades on either side of it. */
export interface UnknownGrade {
	kind: "unknown";
	/** As it would be written if it existed: `P1700`. */
	text: string;
	/** P1700 → P1500, P2000; beyond the end of the table the last one alone. */
	nearest: string[];
	/** No scale was written. */
	bare: boolean;
}

/** Where a median comes from and how it was measured. */
export interface MedianSource {
	source: string;
	/** Medians of one grade differ by method: JIS 1000 is 11.5 µm by electrical resistance and 15.5 µm by sedimentation. */
	method: string;
	/** Whether the figure was seen in a public page, is from memory, or is common practice without a source. */
	how: string;
}

/** The numbers of each scale with their median in µm, coarsest first, and the source of each. */
export const gradeTables: Record<BareScale, ReadonlyMap<number, { um: number } & MedianSource>> = {
	P: tableOf(tables.P),
	JIS: tableOf(tables.JIS),
	CAMI: tableOf(tables.CAMI),
};

/** JIS medians by the sedimentation method, 5 to 43 % larger than the electrical ones that {@link readGrade} gives. */
export const jisBySedimentation = tableOf(tables["JIS by sedimentation"]);

/**
 * Reads a grade as people write it: `p2000`, `2000 P`, `#2000` (JIS), `ANSI 400` (CAMI), `grit 2000`, `grano 2000`, `16 micras`.
 * Between tabulated grades nothing is interpolated: the answer names the neighbours.
 *
 * @param bareScale the scale of a number without one; absent: P, and the grade is marked `bare` either way
 * @returns null where the text is no grade at all
 */
export function readGrade(text: string, bareScale: BareScale = "P"): Grade | UnknownGrade | null {
	const key = `${bareScale} ${text}`;
	let found = remembered.get(key);
	if (found === undefined) {
		found = parseGrade(text, bareScale);
		if (remembered.size >= mostRemembered) remembered.clear();
		remembered.set(key, found);
	}
	return found;
}

/** Where the median of a grade comes from; undefined for a grade given in µm, which is its own median. */
export function medianSource({ text, scale }: Grade): MedianSource | undefined {
	return scale === "um" ? undefined : gradeTables[scale].get(Number(text.replace(/\D+/g, "")));
}

// A book of ten thousand files repeats a few dozen grades, and reading one is the costliest part of a row.
const remembered = new Map<string, Grade | UnknownGrade | null>();
const mostRemembered = 2000;
const longestGrade = 40;
const largestUm = 3000;

const microns =
	/^(\d+(?:[.,]\d+)?)\s*(?:[µμu]m?|mic|microns?|micr[oó]n|micras?|micrones|micrometres?|micrometers?|micr[oó]metros?)\.?$/;
const gritWords = /(?<![a-z])(?:grits?|grades?|granos?|grados?|gr|lija|fepa|iso)(?![a-z])[.:]?/g;
const scaled = /^(p|jis\s*#?|#|cami|ansi)?[\s.-]*(\d{1,2}[.,\s]\d{3}|\d{1,5})[\s-]*(p|jis|cami|ansi)?$/;

function parseGrade(text: string, bareScale: BareScale): Grade | UnknownGrade | null {
	if (text.length > longestGrade) return null;
	const plain = text.trim().toLowerCase();
	const micron = microns.exec(plain);
	if (micron) return gradeInMicrons(micron[1] as string);
	const parts = scaled.exec(plain.replace(gritWords, " ").trim());
	if (!parts) return null;
	const [, before, digits = "", after] = parts;
	if (before !== undefined && after !== undefined && scaleOf(before) !== scaleOf(after)) return null;
	// A grade is a whole number, so a point, comma or space before three digits can only part the thousands.
	const number = Number(digits.replace(/\D/g, ""));
	if (number === 0) return null;
	const written = before ?? after;
	return tabulated(number, written === undefined ? bareScale : scaleOf(written), written === undefined);
}

function gradeInMicrons(digits: string): Grade | UnknownGrade | null {
	const decimal = Number(digits.replace(",", "."));
	// "1.500 µm" is one and a half to one reader and fifteen hundred to another.
	if (/^\d{1,3}[.,]\d{3}$/.test(digits) && !digits.startsWith("0")) {
		const thousands = Number(digits.replace(/\D/g, ""));
		return {
			kind: "unknown",
			text: `${digits} µm`,
			nearest: [`${decimal} µm`, `${thousands} µm`],
			bare: false,
		};
	}
	if (!(decimal > 0 && decimal <= largestUm)) return null;
	return {
		kind: "grade",
		text: `${decimal} µm`,
		scale: "um",
		um: decimal,
		bare: false,
	};
}

function scaleOf(written: string): BareScale {
	if (written === "p") return "P";
	return written === "cami" || written === "ansi" ? "CAMI" : "JIS";
}

function tabulated(number: number, scale: BareScale, bare: boolean): Grade | UnknownGrade {
	const median = gradeTables[scale].get(number);
	if (median)
		return {
			kind: "grade",
			text: written(number, scale),
			scale,
			um: median.um,
			bare,
		};
	const numbers = [...gradeTables[scale].keys()];
	const coarser = numbers.findLast((one) => one < number);
	const finer = numbers.find((one) => one > number);
	const nearest = [coarser, finer].filter((one) => one !== undefined).map((one) => written(one, scale));
	return { kind: "unknown", text: written(number, scale), nearest, bare };
}

function written(number: number, scale: BareScale): string {
	return scale === "P" ? `P${number}` : `${scale} ${number}`;
}

function tableOf(
	parts: (MedianSource & { medians: number[][] })[],
): ReadonlyMap<number, { um: number } & MedianSource> {
	return new Map(
		parts.flatMap(({ medians, ...source }) =>
			medians.map(([number = 0, um = 0]) => [number, { um, ...source }] as const),
		),
	);
}
