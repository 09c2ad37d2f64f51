import { type Defect, defect } from "../model/defects.ts";
import type { Estimate, Procedure } from "../model/generated/types.ts";
import type { Shop } from "../model/shop.ts";
import type { Situation } from "../model/situations.ts";
import { z95 } from "./spread.ts";

/** The defect that a procedure meets in a situation, as far as a forecast turns on it. */
export interface MetDefect {
	position: Defect["position"];
	/** Height above or depth below the film around it, µm, with its 95 % interval; null where nothing says it. */
	um: Estimate | null;
	/** Half its width in mm where it is as low, middling or high as `um` says; null where nothing says it. */
	halfWidthMm: Estimate | null;
	/** Standard deviation of the logarithm of the half-width, over what its height tells. */
	widthSigma: number;
	/** A texture all over the place, peak beside valley; false for a defect that stands alone. */
	isWave: boolean;
	hard: boolean;
	deposit: boolean;
}

/**
 * The defect of a situation: height or depth as the scope has it, else as the table of defects has it. Null where the
 * scope names none, or one that no book knows.
 *
 * The half-width of a texture of wavelength λ is λ/4. One that stands alone is taken wider the higher it is: straight
 * between the ends of both ranges of the table. A nib of 20 to 60 µm and 0.3 to 0.6 mm: at 40 µm 0.45 mm.
 * Common practice, no source.
 */
export function metDefect({
	procedure,
	situation,
	shop,
}: {
	procedure: Pick<Procedure, "scope">;
	situation: Pick<Situation, "defect">;
	shop: Pick<Shop, "book">;
}): MetDefect | null {
	const known = situation.defect === undefined ? undefined : defect(situation.defect, shop.book);
	if (known === undefined) return null;
	const { position, hard, deposit } = known;
	const um = procedure.scope?.defects?.find((one) => one.defect === known.id)?.um ?? known.um ?? null;
	return { position, um, hard, deposit, ...widthOf(known, um) };
}

/** Whether it stands out of the film around it, and is levelled: one that is proud, or a texture. */
export function isProud({ position }: MetDefect): boolean {
	return position === "proud" || position === "texture";
}

/** Whether it lies in the film around it as a scratch does, and is gone when the film is down to its bottom. */
export function isSunk({ position }: MetDefect): boolean {
	return position === "recessed" || position === "optical";
}

function widthOf(
	{ halfWidthMm, wavelengthMm, um: usual }: Defect,
	um: Estimate | null,
): Pick<MetDefect, "halfWidthMm" | "widthSigma" | "isWave"> {
	if (wavelengthMm !== undefined) {
		const quarter = wavelengthMm.mid / 4;
		return {
			halfWidthMm: { mid: quarter, low: quarter, high: quarter },
			widthSigma: sigmaOf(wavelengthMm),
			isWave: true,
		};
	}
	if (halfWidthMm === undefined) return { halfWidthMm: null, widthSigma: 0, isWave: false };
	if (um === null || usual === undefined || usual.low === usual.high) {
		const { mid } = halfWidthMm;
		return { halfWidthMm: { mid, low: mid, high: mid }, widthSigma: sigmaOf(halfWidthMm), isWave: false };
	}
	const at = (heightUm: number) => {
		const along = Math.min(1, Math.max(0, (heightUm - usual.low) / (usual.high - usual.low)));
		return halfWidthMm.low + along * (halfWidthMm.high - halfWidthMm.low);
	};
	return {
		halfWidthMm: { mid: at(um.mid), low: at(um.low), high: at(um.high) },
		widthSigma: 0,
		isWave: false,
	};
}

function sigmaOf({ low, high }: Estimate): number {
	return Math.log(high / low) / (2 * z95);
}
