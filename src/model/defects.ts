import table from "./data/defects.json" with { type: "json" };
import type { Book, Estimate, ShopDefect } from "./generated/types.ts";
import { label, type Language, languages } from "./words.ts";

/** Where a defect lies: on the clear, as a texture of it, in it, only in what the eye sees, or below or beyond the clear. */
export type DefectPosition = ShopDefect["position"];

/** A defect of the trade or of the shop's own. Figures are common practice, no source, unless the shop gave them. */
export interface Defect {
	id: string;
	position: DefectPosition;
	/** Harder than the clear around it: a soft backing rides over it. */
	hard: boolean;
	/** Height or depth in µm: 95 % interval, its middle the geometric mean. Absent where no figure is meaningful. */
	um?: Estimate;
	/** Lies on the surface as a deposit: washing, a solvent or clay may lift it. */
	deposit: boolean;
	/** Half its width in mm: the usual range, its middle the geometric mean. A shop gives one figure. */
	halfWidthMm?: Estimate;
	/** Wavelength of a texture in mm, likewise. */
	wavelengthMm?: Estimate;
	/** Whether sanding and polishing can fix it at all. */
	polishable: boolean;
	/** It comes back until the film has stopped shrinking. */
	returns: boolean;
}

/** The defects every book knows, in the order of the table. */
export const defects: readonly Defect[] = table.defects.map(fromTable);

/** The defect of that id: one of the table, else one of the book's own; undefined where neither has it. */
export function defect(id: string, book?: Pick<Book, "defects">): Defect | undefined {
	const own = book?.defects?.find((one) => one.id === id);
	return byId.get(id) ?? (own && fromShop(own));
}

/** The name of a defect in a language; for one of the shop's own that lacks the language, its other name; else its id. */
export function defectName(id: string, language: Language, book?: Pick<Book, "defects">): string {
	if (byId.has(id)) return label("defect", id, language);
	const name = book?.defects?.find((one) => one.id === id)?.name;
	return [language, ...languages].map((one) => name?.[one]).find((one) => one !== undefined) ?? id;
}

const byId = new Map(defects.map((one) => [one.id, one]));

interface Row {
	id: string;
	position: string;
	hard?: boolean;
	deposit?: boolean;
	um?: number[];
	halfWidthMm?: number[];
	wavelengthMm?: number[];
	polishable: boolean;
	returns?: boolean;
}

function fromTable({
	id,
	position,
	hard = false,
	deposit = false,
	um,
	halfWidthMm,
	wavelengthMm,
	polishable,
	returns = false,
}: Row): Defect {
	const found: Defect = {
		id,
		position: position as DefectPosition,
		hard,
		deposit,
		polishable,
		returns,
	};
	if (um) found.um = range(um);
	if (halfWidthMm) found.halfWidthMm = range(halfWidthMm);
	if (wavelengthMm) found.wavelengthMm = range(wavelengthMm);
	return found;
}

function fromShop({ id, position, hard = false, um, halfWidthMm, wavelengthMm, polishable }: ShopDefect): Defect {
	const found: Defect = {
		id,
		position,
		hard,
		deposit: false,
		polishable,
		returns: false,
	};
	if (um) found.um = um;
	if (halfWidthMm !== undefined) found.halfWidthMm = range([halfWidthMm, halfWidthMm]);
	if (wavelengthMm !== undefined) found.wavelengthMm = range([wavelengthMm, wavelengthMm]);
	return found;
}

function range(ends: number[]): Estimate {
	return { mid: middle(ends), low: ends[0] as number, high: ends[1] as number };
}

/** Geometric mean: heights and widths spread by factors, so their middle is where the factor to either end is equal. */
function middle([low = 0, high = 0]: number[]): number {
	return low === high ? low : Math.sqrt(low * high);
}
