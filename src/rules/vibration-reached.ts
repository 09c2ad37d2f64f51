import type { Vibration } from "../forecast/vibration.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Say } from "./say.ts";

/** What a finding about hand-arm vibration rests on. */
export type VibrationData = {
	/** A(8) of one car, m/s²; null where no tool's vibration is known. */
	a8Ms2: number | null;
	/** The car of a day, from 1, on which the value is reached; null where it is not known. */
	onCar: number | null;
	limitMs2: number;
	/** The tool that adds most, or of which it is not known; an item's name or a kind. */
	tool: string;
	/** Tools of which it is not known come on top. */
	isAtLeast: boolean;
};

/** Where most of it comes from, and on which car of a day it reaches a value. */
export interface VibrationReached {
	row: ResolvedRow;
	onCar: number;
	data: VibrationData;
}

/**
 * On which car of a day work like this reaches a value of A(8), by the middle of the exposure: it grows with the root of
 * the cars. Null where the known tools add nothing.
 */
export function vibrationReached(vibration: Vibration, limitMs2: number): VibrationReached | null {
	const a8Ms2 = vibration.a8AtLeastMs2.mid;
	const most = vibration.tools.reduce<Vibration["tools"][number] | null>(
		(worst, tool) => ((tool.points?.mid ?? 0) > (worst?.points?.mid ?? 0) ? tool : worst),
		null,
	);
	const row = most?.rows[0];
	if (a8Ms2 === 0 || most === null || row === undefined) return null;
	const onCar = Math.max(1, Math.ceil((limitMs2 / a8Ms2) ** 2 - 1e-9));
	const tool = most.item?.name ?? most.kind;
	return { row, onCar, data: { a8Ms2, onCar, limitMs2, tool, isAtLeast: vibration.a8Ms2 === null } };
}

/** "One car comes to 1.7 m/s²". */
export const sayVibration = {
	en: ({ a8Ms2, onCar, limitMs2, tool, isAtLeast }: VibrationData, say: Say) =>
		`One car comes to ${isAtLeast ? "at least " : ""}${say.number(a8Ms2 ?? 0, 1)} m/s² over eight hours, most of it from the ${say.label("tool", tool)}; ${onCar === 1 ? `it alone reaches ${say.number(limitMs2, 1)} m/s²` : `${say.number(limitMs2, 1)} m/s² is reached on car ${onCar} of a day`}`,
	es: ({ a8Ms2, onCar, limitMs2, tool, isAtLeast }: VibrationData, say: Say) =>
		`Un coche supone ${isAtLeast ? "al menos " : ""}${say.number(a8Ms2 ?? 0, 1)} m/s² en ocho horas, sobre todo por la herramienta (${say.label("tool", tool)}); ${onCar === 1 ? `él solo alcanza ${say.number(limitMs2, 1)} m/s²` : `${say.number(limitMs2, 1)} m/s² se alcanzan con el coche ${onCar} del día`}`,
};
