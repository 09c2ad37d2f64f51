import type { AbrasiveRow, LiquidRow } from "../model/resolve.ts";
import { coefficient } from "./coefficients.ts";
import type { Coverage } from "./coverage.ts";
import { pressureKpa } from "./removal.ts";

/** How the face of a row gives way to what is not flat. */
export interface Contact {
	/** Mean pressure of the face on a flat panel, kPa. */
	pressureKpa: number;
	/** Area of the face, mm². */
	faceMm2: number;
	/** What yields between the hand or machine and the grain, from the panel up. */
	layers: readonly Layer[];
	/** Standard deviation of the logarithm of their modulus: shared, as they come from one stock. */
	modulusSigma: number;
	/** Bending stiffness D of the carrier, N·mm; 0 for one that bends freely. */
	plateNmm: number;
	/** What the softness of the carrier makes of the removal on an even film. */
	carrierFactor: number;
	/** Contact on curved parts of the panel. */
	curves: Curves;
}

interface Layer {
	/** Effective modulus E*, MPa. */
	modulusMpa: number;
	thicknessMm: number;
}

/** Contact along a line of a curved panel. */
export interface CurveContact {
	/** Half the width of the strip that the face touches, mm. */
	halfWidthMm: number;
	/** Pressure there over that on a flat panel: at least 1. */
	pressureFactor: number;
}

export type Curves = Readonly<Record<"gentle-curve" | "body-line", CurveContact>>;

/** How a row meets the panel: its layers from the disc's foam or the soft layer to plate, block or fingers, or its pad. */
export function contactOf(row: AbrasiveRow | LiquidRow, coverage: Coverage): Contact {
	const { layers, modulusSigma } = stackOf(row);
	const faceMm2 = coverage.faceM2 * 1e6;
	const carrier = row.kind === "abrasive" ? (row.abrasive.carrier ?? "film") : null;
	return {
		pressureKpa: pressureKpa(row.hand.forceN, coverage),
		faceMm2,
		layers,
		modulusSigma,
		plateNmm: carrier === "film" ? filmStiffnessNmm() : 0,
		carrierFactor: carrier === null ? 1 : coefficient("carrier", carrier).value,
		curves: {
			"gentle-curve": curveContact(row, layers, faceMm2, "gentle-curve"),
			"body-line": curveContact(row, layers, faceMm2, "body-line"),
		},
	};
}

/**
 * Stiffness of a face against a bump: the extra mean pressure on it for each µm that it stands proud, K in kPa per µm
 * (MPa per mm), for a bump of half-width a in mm.
 *
 * Mean pressure under a flat punch on an elastic half-space, K = 2E* / (πa) (Johnson, Contact Mechanics, 1985, from
 * memory); a layer thinner than that reaches gives way as t over E*, so that its compliance is the smaller of the two.
 * Layers in series add their compliances; one at the depth d bears the bump's force on a disc of radius a + d.
 * A film carrier on a layer soft enough to be bridged is a plate on an elastic foundation of k = E* over t, which under a
 * force in the middle has the stiffness 8√(kD) (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 1959,
 * from memory); it stands beside the layer, so that stiffnesses add. On a firmer layer the carrier is taken to follow
 * it. Valid while the bump is low beside its width, and the layers are linear: a few tens of µm.
 *
 * Medium plate, 2 MPa, a = 0.45 mm: 4/(π·0.45) = 2.83 kPa/µm. Soft plate under film, 0.5 MPa, 10 mm: 0.707 + 1.129.
 */
export function stiffnessKpaPerUm({ layers, plateNmm }: Contact, halfWidthMm: number): number {
	let depthMm = 0;
	let complianceUmPerKpa = 0;
	for (const { modulusMpa, thicknessMm } of layers) {
		const spreadMm = halfWidthMm + depthMm;
		let stiffness = 1 / Math.min(thicknessMm / modulusMpa, (Math.PI * spreadMm) / (2 * modulusMpa));
		if (depthMm === 0 && modulusMpa < coefficient("carrierPlate", "bridgesBelow").value)
			stiffness += (8 * Math.sqrt((modulusMpa / thicknessMm) * plateNmm)) / (Math.PI * halfWidthMm ** 2);
		complianceUmPerKpa += (halfWidthMm / spreadMm) ** 2 / stiffness;
		depthMm += thicknessMm;
	}
	return 1 / complianceUmPerKpa;
}

function stackOf(row: AbrasiveRow | LiquidRow): Pick<Contact, "layers" | "modulusSigma"> {
	const layers: Layer[] = [];
	const add = (kind: string, thicknessMm: number) =>
		layers.push({ modulusMpa: coefficient("modulus", kind).value, thicknessMm });
	if (row.kind === "liquid") {
		add("pad", coefficient("layer", "pad").value);
		return { layers, modulusSigma: coefficient("modulus", "pad").sigma };
	}
	if (row.abrasive.carrier === "foam") add("foam-disc", coefficient("layer", "foam-disc").value);
	if (row.interfaceMm > 0) add("interface", row.interfaceMm);
	const behind = row.backing?.kind ?? "bare-hand";
	add(behind, coefficient("layer", "backing").value);
	return { layers, modulusSigma: coefficient("modulus", behind).sigma };
}

/** Bending stiffness of a film carrier, D = E·t³ / (12(1 − ν²)): 4 GPa, 75 µm, 0.4: 0.167 N·mm. */
function filmStiffnessNmm(): number {
	const thicknessMm = coefficient("carrierPlate", "thicknessUm").value / 1000;
	const poisson = coefficient("carrierPlate", "poisson").value;
	return (coefficient("carrierPlate", "modulus").value * thicknessMm ** 3) / (12 * (1 - poisson ** 2));
}

/**
 * Contact along a curve of radius r: half-width b = √(4Fr / (πE*ℓ)) of a cylinder on an elastic half-space (Hertz;
 * Johnson, Contact Mechanics, 1985, from memory), at most half the face; pressure F / (2bℓ), so that a point on the line
 * loses as many times what a flat panel loses. ℓ is the mean length of the face along the line, its area over its width,
 * E* that of the softest layer. The panel is taken as stiff, the face as thick beside b.
 *
 * 30 N on a body line of 10 mm, 150 mm disc: firm plate 0.57 mm, soft layer 5.7 mm.
 */
function curveContact(
	{ hand, tool }: AbrasiveRow | LiquidRow,
	layers: readonly Layer[],
	faceMm2: number,
	curve: "gentle-curve" | "body-line",
): CurveContact {
	const widthMm = tool.diameterMm ?? tool.face?.acrossMm ?? Math.sqrt(faceMm2);
	const softestMpa = Math.min(...layers.map(({ modulusMpa }) => modulusMpa));
	const radiusMm = coefficient("curve", curve).value;
	const reachMm = Math.sqrt((4 * hand.forceN * radiusMm) / (Math.PI * softestMpa * (faceMm2 / widthMm)));
	const halfWidthMm = Math.min(reachMm, widthMm / 2);
	return { halfWidthMm, pressureFactor: widthMm / (2 * halfWidthMm) };
}
