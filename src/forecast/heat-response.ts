import type { Substrate } from "../model/generated/types.ts";
import { coefficient } from "./coefficients.ts";

/** A panel as heat meets it: its layers from the surface down, the panel itself last, and the air over it. */
export interface PanelLayers {
	layers: readonly Layer[];
	/** Heat given to the air for each kelvin that the surface is warmer, W/m²K; above 0. */
	convectionWm2K: number;
}

export interface Layer {
	thicknessM: number;
	conductivityWmK: number;
	densityKgM3: number;
	specificHeatJkgK: number;
}

/**
 * How a panel warms after a steady heat flux has been switched on at its surface, as a sum over its thermal modes:
 * the surface rises by q·(R₀ + Σ cₙ·(1 − exp(−λₙt))), the panel by q·Σ sₙ·cₙ·(1 − exp(−λₙt)) in its mean, q in W/m².
 *
 * Of the modes those faster than 30 /s are counted as settled at once (R₀, P₀): from 0.25 s after a change of the flux the
 * surface is right within 0.001 K for 10 kW/m², and before that a little too hot. A pad of 40 mm at 0.25 m/s is on a
 * point that long.
 */
export interface StepResponse {
	/** λₙ in 1/s, from the slowest. */
	rates: Float64Array;
	/** cₙ in K for each W/m². */
	surface: Float64Array;
	/** sₙ: mean temperature of the panel in a mode over that of the surface. */
	panelShare: Float64Array;
	/** R₀ in K for each W/m²: the drop across the film. */
	atOnce: number;
	/** P₀ in K for each W/m²: below 0, the panel behind the film being that little late. */
	panelAtOnce: number;
}

/**
 * The layers of a usual car panel: clear 45 µm, the coats under it 60 µm, then 0.8 mm steel, 1.0 mm aluminium, 3 mm
 * plastic or composite. All from `data/heat.json`: common practice, no source. The same object for the same substrate.
 */
export function panelLayers(substrate: Substrate): PanelLayers {
	let panel = usualPanels.get(substrate);
	if (panel === undefined) {
		panel = {
			layers: ["clear", "undercoats", substrate].map(usualLayer),
			convectionWm2K: coefficient("heat", "convection").value,
		};
		usualPanels.set(substrate, panel);
	}
	return panel;
}

/**
 * The step response of a panel, computed once for each.
 *
 * One-dimensional conduction ρc·∂T/∂t = k·∂²T/∂x² in each layer, temperature and flux continuous between layers, no
 * flux through the back, at the surface the given flux less h·T to the air. In a mode of rate λ the temperature of a
 * layer is A·cos ψ with ψ = βx + ψ₀ counted from the back, β = √(λρc/k), and the flux towards the surface A·Z·sin ψ with
 * Z = kβ; λ is a mode's where Z·tan ψ = h at the surface. The angle atan((Z/h)·tan ψ), followed through all quadrants,
 * grows with λ and passes π/4 + nπ once for each n, so that no mode is missed. Its share of the response is
 * cₙ = φₙ(surface)²/(λₙ·∫ρcφₙ² dx), and Σ cₙ = 1/h: in the end all that comes in goes into the air.
 *
 * 0.8 mm steel under paint, 10 W/m²K: slowest mode 0.0032 /s, all others settled within 0.15 s of contact.
 * Source: separation of variables for composite slabs (Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed., 1959;
 * Mikhailov and Özışık, 1984), from memory; the tests compare with finite differences and closed forms. Valid for
 * sources much wider than the panel is thick and for times in which heat does not spread sideways over the place: in
 * metal √(αt) is 3 to 8 cm in a minute, so that a small spot on metal stays cooler than this says.
 *
 * @throws RangeError for a panel without layers, or with a figure that is not above 0
 */
export function stepResponse(panel: PanelLayers): StepResponse {
	let response = responses.get(panel);
	if (response === undefined) {
		response = makeResponse(panel);
		responses.set(panel, response);
	}
	return response;
}

/**
 * Rise of the surface, and of the panel in its mean, in K, the given time after 1 W/m² was switched on.
 * Nothing before; see {@link StepResponse} for the first quarter of a second.
 */
export function risesAfter(panel: PanelLayers, seconds: number): { surfaceK: number; panelK: number } {
	if (seconds < 0) return { surfaceK: 0, panelK: 0 };
	const { rates, surface, panelShare, atOnce, panelAtOnce } = stepResponse(panel);
	let surfaceK = atOnce;
	let panelK = panelAtOnce;
	for (let mode = 0; mode < rates.length; mode += 1) {
		const reached = -(surface[mode] as number) * Math.expm1(-(rates[mode] as number) * seconds);
		surfaceK += reached;
		panelK += reached * (panelShare[mode] as number);
	}
	return { surfaceK, panelK };
}

/**
 * What the given time without flux leaves of each mode: exp(−λₙt), kept for the few times that come again and again, as
 * rows of one tool share theirs.
 */
export function keptAfter(response: StepResponse, seconds: number): Float64Array {
	let bySeconds = keptModes.get(response);
	if (bySeconds === undefined) {
		bySeconds = new Map();
		keptModes.set(response, bySeconds);
	}
	let kept = bySeconds.get(seconds);
	if (kept === undefined) {
		if (bySeconds.size >= mostKept) bySeconds.clear();
		kept = response.rates.map((rate) => Math.exp(-rate * seconds));
		bySeconds.set(seconds, kept);
	}
	return kept;
}

const usualPanels = new Map<Substrate, PanelLayers>();

function usualLayer(kind: string): Layer {
	return {
		thicknessM: coefficient("thicknessUm", kind).value / 1e6,
		conductivityWmK: coefficient("conductivity", kind).value,
		densityKgM3: coefficient("density", kind).value,
		specificHeatJkgK: coefficient("specificHeat", kind).value,
	};
}

const responses = new WeakMap<PanelLayers, StepResponse>();

const keptModes = new WeakMap<StepResponse, Map<number, Float64Array>>();

/** Beyond that many times none comes again; 1,024 draws of a procedure make so many. */
const mostKept = 4096;

/** Faster modes, in 1/s, count as settled at once. */
const fastestRate = 30;

function makeResponse(panel: PanelLayers): StepResponse {
	refuseImpossible(panel);
	const rates: number[] = [];
	const surface: number[] = [];
	const panelShare: number[] = [];
	let atOnce = 1 / panel.convectionWm2K;
	let panelAtOnce = atOnce;
	let root = 0;
	for (;;) {
		root = nextRoot(panel, Math.PI / 4 + rates.length * Math.PI, root);
		const mode = modeAt(panel, root);
		// The slowest is kept whatever its rate: without it a response would know no time.
		if (rates.length > 0 && mode.rate > fastestRate) break;
		rates.push(mode.rate);
		surface.push(mode.surface);
		panelShare.push(mode.panelShare);
		atOnce -= mode.surface;
		panelAtOnce -= mode.surface * mode.panelShare;
	}
	return {
		rates: Float64Array.from(rates),
		surface: Float64Array.from(surface),
		panelShare: Float64Array.from(panelShare),
		// A stack without a film leaves rounding only, on either side of 0.
		atOnce: Math.max(0, atOnce),
		panelAtOnce,
	};
}

function refuseImpossible({ layers, convectionWm2K }: PanelLayers): void {
	const figures = [convectionWm2K, ...layers.flatMap((layer) => Object.values(layer) as number[])];
	if (layers.length === 0 || !figures.every((figure) => figure > 0 && Number.isFinite(figure)))
		throw new RangeError(`a panel of ${layers.length} layers has a figure that is not above 0: ${figures.join(", ")}`);
}

/** The square root of the rate at which the surface angle reaches `angle`, between `below` and wherever that is. */
function nextRoot(panel: PanelLayers, angle: number, below: number): number {
	let low = below;
	let step = Math.PI / walk(panel, 1).angleOfTravel;
	while (walk(panel, low + step).surfaceAngle < angle) {
		low += step;
		step *= 2;
	}
	let high = low + step;
	for (;;) {
		const middle = (low + high) / 2;
		if (middle <= low || middle >= high) return middle;
		if (walk(panel, middle).surfaceAngle < angle) low = middle;
		else high = middle;
	}
}

function modeAt(panel: PanelLayers, root: number): { rate: number; surface: number; panelShare: number } {
	const rate = root * root;
	const { atSurface, squared, meanOfPanel } = walk(panel, root);
	return { rate, surface: (atSurface * atSurface) / (rate * squared), panelShare: meanOfPanel / atSurface };
}

interface Walk {
	/** The angle that must be π/4 + nπ for a mode. */
	surfaceAngle: number;
	/** Sum of all layers' own angles βd. */
	angleOfTravel: number;
	/** Temperature at the surface for 1 at the back. */
	atSurface: number;
	/** ∫ρcφ² dx, J/m²K. */
	squared: number;
	meanOfPanel: number;
}

/** From the insulated back to the surface through all layers, for the rate that is the square of `root`. */
function walk({ layers, convectionWm2K }: PanelLayers, root: number): Walk {
	let amplitude = 1;
	let angle = 0;
	let impedance = 0;
	let angleOfTravel = 0;
	let squared = 0;
	let meanOfPanel = 1;
	for (let index = layers.length - 1; index >= 0; index -= 1) {
		const { thicknessM, conductivityWmK, densityKgM3, specificHeatJkgK } = layers[index] as Layer;
		const capacity = densityKgM3 * specificHeatJkgK;
		const wave = root * Math.sqrt(capacity / conductivityWmK);
		const before = impedance;
		impedance = conductivityWmK * wave;
		if (index < layers.length - 1) {
			const flux = (before / impedance) * Math.sin(angle);
			amplitude *= Math.hypot(Math.cos(angle), flux);
			angle = stretched(angle, before / impedance);
		}
		const end = angle + wave * thicknessM;
		squared += capacity * amplitude ** 2 * (thicknessM / 2 + (Math.sin(2 * end) - Math.sin(2 * angle)) / (4 * wave));
		if (index === layers.length - 1) meanOfPanel = Math.sin(end) / end;
		angleOfTravel += wave * thicknessM;
		angle = end;
	}
	return {
		surfaceAngle: stretched(angle, impedance / convectionWm2K),
		angleOfTravel,
		atSurface: amplitude * Math.cos(angle),
		squared,
		meanOfPanel,
	};
}

/** The angle whose tangent is `factor` times that of `angle`, in the same quadrant of the same turn. */
function stretched(angle: number, factor: number): number {
	const sine = Math.sin(angle);
	const cosine = Math.cos(angle);
	return angle - Math.atan2(sine, cosine) + Math.atan2(factor * sine, cosine);
}
