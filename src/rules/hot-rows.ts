import type { PanelHeat, RowUpper } from "../forecast/panel-heat.ts";
import type { Substrate } from "../model/generated/types.ts";
import type { HouseLimits } from "../model/limits.ts";
import { isSandingOrBlade } from "./film-taken.ts";
import { type Found, house } from "./rule.ts";
import type { Say } from "./say.ts";

/** What a finding about a hot surface rests on, °C. */
export type HotData = {
	at: "panel" | "edge";
	/** Null where it cannot be told. */
	hottestC: number | null;
	/** Upper end of the 95 % interval. */
	likelyHighC: number | null;
	cautionC: number;
	stopC: number;
	startC: number;
	/** Whether the procedure says how warm the panel may be at the start. */
	isStartStated: boolean;
	substrate: Substrate;
};

/** The two house limits that a surface is measured against. */
interface HeatLimits {
	caution: "hotCautionC" | "hotPlasticCautionC";
	stop: "hotStopC" | "hotPlasticStopC";
}

/**
 * The rows that get the surface to a limit or over it, in the field or at an edge that they work freely, at the upper end
 * of `work`: of rows that follow each other that hot, the hottest. Of one whose dial mark stands in no table it is not known.
 */
export function* hotRows(
	heat: PanelHeat,
	substrate: Substrate,
	limits: HouseLimits,
	{ caution, stop }: HeatLimits,
): Iterable<Found<HotData>> {
	const [cautionC, stopC] = [limits[caution], limits[stop]];
	const { startC, isStartStated } = heat;
	const shared = { cautionC, stopC, startC, isStartStated, substrate };
	// Where film is at stake as well, a rule of the film budget speaks of the dial; of a row that lacks more, the record group.
	const isFilmRule = heat.upper.some(({ row }) => isSandingOrBlade(row));
	for (const { row, why } of isFilmRule ? [] : heat.unknown) {
		if (row === null || why !== "dial-not-in-table") continue;
		yield {
			row,
			field: "speed",
			level: "advice",
			weight: 0,
			basis: house(caution, cautionC, "C"),
			data: { at: "panel", hottestC: null, likelyHighC: null, ...shared },
		};
	}
	for (const at of ["panel", "edge"] as const) {
		let hottest: number | null = null;
		for (let index = 0; index <= heat.upper.length; index += 1) {
			const hereC = judgedC(heat.upper[index], at);
			if (hereC !== null && hereC >= cautionC) {
				if (hottest === null || hereC > (judgedC(heat.upper[hottest], at) ?? 0)) hottest = index;
				continue;
			}
			const one = hottest === null ? undefined : heat.upper[hottest];
			const hottestC = judgedC(one, at);
			if (hottest === null || one === undefined || hottestC === null) continue;
			const estimates = heat.rows[hottest];
			const likelyHighC = (at === "edge" ? estimates?.edgeHottestC : estimates?.hottestC)?.high ?? null;
			const stops = hottestC >= stopC;
			yield {
				row: one.row,
				field: "work",
				...(stops ? { level: "stop" } : {}),
				weight: hottestC,
				basis: stops ? house(stop, stopC, "C") : house(caution, cautionC, "C"),
				data: { at, hottestC, likelyHighC, ...shared },
			};
			hottest = null;
		}
	}
}

/** What was found, for the sentence of a rule about heat. */
export const sayHot = {
	en: ({ at, hottestC, likelyHighC, substrate, startC, isStartStated }: HotData, say: Say) =>
		hottestC === null
			? "How hot this row gets the surface is not known, since its dial mark is not in the tool's table"
			: `The surface ${at === "edge" ? "at an edge " : ""}gets to ${degrees(hottestC, say)} on ${say.label("substrate", substrate)}${likelyHighC === null ? "" : `, perhaps ${degrees(likelyHighC, say)}`}, from ${degrees(startC, say)} at the start${isStartStated ? "" : " (assumed)"}`,
	es: ({ at, hottestC, likelyHighC, substrate, startC, isStartStated }: HotData, say: Say) =>
		hottestC === null
			? "No se sabe cuánto calienta esta fila la superficie: la marca del dial no está en la tabla de la herramienta"
			: `La superficie ${at === "edge" ? "de un borde " : ""}llega a ${degrees(hottestC, say)} en ${say.label("substrate", substrate)}${likelyHighC === null ? "" : `, quizá ${degrees(likelyHighC, say)}`}, desde ${degrees(startC, say)} al empezar${isStartStated ? "" : " (supuestos)"}`,
};

/** Whose limits those are. */
export const sayHeatLimits = {
	en: ({ cautionC, stopC }: HotData, say: Say) =>
		`Care is due from ${degrees(cautionC, say)} and work stops at ${degrees(stopC, say)} (house limits)`,
	es: ({ cautionC, stopC }: HotData, say: Say) =>
		`Cuidado desde ${degrees(cautionC, say)} y parar a ${degrees(stopC, say)} (límites de la casa)`,
};

/** "52 °C". */
export function degrees(celsius: number, say: Say): string {
	return `${say.number(celsius, 0)} °C`;
}

/** Temperature that a limit judges, °C: the edge in rows that work it freely and on edge strips only. */
function judgedC(one: RowUpper | undefined, at: "panel" | "edge"): number | null {
	if (one === undefined) return null;
	if (at === "panel") return one.hottestC;
	return one.row.edges === "free" || one.row.place === "edge-strip" ? one.edgeHottestC : null;
}
