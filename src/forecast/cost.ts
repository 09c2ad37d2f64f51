import type { Estimate } from "../model/generated/types.ts";
import type { AbrasiveRow, LiquidRow, ResolvedRow } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { coefficient } from "./coefficients.ts";
import { type CarsOfDay, isNoWork, type TimedRow } from "./day.ts";
import type { DayUnknown } from "./day-unknown.ts";
import { independentSum, logNormal, roundedEstimate, scaled } from "./spread.ts";

/** What work costs, in the currency of the book. Null is unknown, never nothing. */
export interface Cost {
	/** Three letters as in ISO 4217; null where the book names none, and then nothing has a figure. */
	currency: string | null;
	discs: Estimate | null;
	liquids: Estimate | null;
	labour: Estimate | null;
	total: Estimate | null;
}

/** The cost of one car, row by row. */
export interface CarCost extends Cost {
	rows: RowCost[];
	unknown: DayUnknown[];
}

export interface RowCost {
	row: ResolvedRow;
	/** Discs, sheets or strips used; 0 for a row without abrasive. */
	discs: Estimate | null;
	/** Liquid used, ml; 0 for a row without liquid. */
	liquidMl: Estimate | null;
	/** Minutes that count as labour; none for a wait. */
	labourMinutes: Estimate | null;
	/** The three together, in the currency of the book. */
	cost: Estimate | null;
}

/**
 * Cost of a procedure on one car: discs by their life, liquid by the millilitre, labour by the minute.
 *
 * - Discs, sheets and strips: area of the place over the area that one does, as `discEvery` says, else its life (of the
 *   stock, else 1 m² dry, 3 m² damp or wet). The middle counts fractions: what is left of a disc does the next car. The
 *   upper end counts whole ones, a fresh disc in every row, as the forecast of removal takes it.
 * - Liquid: `amountMl`, else what the stock says, for each section begun, ×/÷ 1.3. Prices are those of a litre.
 * - Labour: minutes of every row but a wait, at the rate of the book. Changing discs, walking and setting up tools are in
 *   no row's minutes, so that they are left out.
 *
 * Pads, plates, blades, cloths, solvents, water and tools are left out: no life is known of them. Common practice, no
 * source. A 150 mm disc of 1.20 with a life of 1.2 m² on a section of 0.25 m²: 0.208 of it, 0.25 (to 1.20).
 */
export function costOf(rows: readonly TimedRow[], shop: Pick<Shop, "book" | "limits">): CarCost {
	const currency = shop.book.currency ?? null;
	const perHour = shop.book.labourPerHour;
	const unknown: DayUnknown[] = [];
	const tell = (row: ResolvedRow | null, why: DayUnknown["why"], measure: DayUnknown["measure"]) => {
		unknown.push({ row, quantity: "cost", why, measure });
	};
	if (currency === null && rows.length > 0) tell(null, "currency-not-stated", "fill-the-currency");
	if (perHour === undefined && rows.length > 0) tell(null, "labour-rate-not-stated", "fill-the-labour-rate");

	const parts = rows.map(({ row, minutes, cuts }) => {
		const isIncomplete = row.kind === "incomplete";
		const discs = row.kind === "abrasive" ? discsOf(row, shop.limits.panelM2) : isIncomplete && cuts ? null : nothing;
		const liquidMl = row.kind === "liquid" ? liquidMlOf(row) : isIncomplete && cuts ? null : nothing;
		const labourMinutes = row.kind === "wait" ? nothing : minutes;
		const price = priceOf(row);
		if (isIncomplete) tell(row, "incomplete-row", "fill-the-row");
		else if (labourMinutes === null) tell(row, "minutes-unknown", "time-one-row");
		if (liquidMl === null && !isIncomplete) tell(row, "amount-not-stated", "fill-the-amount");
		if (price === undefined) tell(row, "price-not-stated", "fill-the-price");
		return {
			row,
			discs,
			liquidMl,
			labourMinutes,
			discCost: priced(discs, price),
			liquidCost: priced(liquidMl, price, 1000),
			labourCost: priced(labourMinutes, perHour, 60),
		};
	});

	return {
		...together(
			{
				discs: straightSum(parts.map(({ discCost }) => discCost)),
				liquids: independentSum(parts.map(({ liquidCost }) => liquidCost)),
				labour: independentSum(parts.map(({ labourCost }) => labourCost)),
			},
			currency,
		),
		rows: parts.map(({ row, discs, liquidMl, labourMinutes, discCost, liquidCost, labourCost }) => ({
			row,
			discs: discs && roundedEstimate(discs),
			liquidMl: liquidMl && roundedEstimate(liquidMl),
			labourMinutes,
			cost: together({ discs: discCost, liquids: liquidCost, labour: labourCost }, currency).total,
		})),
		unknown,
	};
}

/**
 * Cost of a day's mix of cars: that of one car times the cars, summed over the procedures. How a technician uses discs,
 * liquid and time is the same on every car of a procedure.
 */
export function costOfDay(day: CarsOfDay, shop: Pick<Shop, "book" | "limits">): Cost & Pick<CarCost, "unknown"> {
	const procedures = day
		.filter(({ cars }) => !isNoWork(cars))
		.map(({ rows, cars }) => ({ cost: costOf(rows, shop), cars }));
	const each = (part: "discs" | "liquids" | "labour") => procedures.map(({ cost, cars }) => scaled(cost[part], cars));
	return {
		...together(
			{
				discs: straightSum(each("discs")),
				liquids: independentSum(each("liquids")),
				labour: independentSum(each("labour")),
			},
			shop.book.currency ?? null,
		),
		unknown: procedures.flatMap(({ cost }, index) => cost.unknown.filter(({ row }) => row !== null || index === 0)),
	};
}

const nothing: Estimate = { mid: 0, low: 0, high: 0 };

function discsOf({ areaM2, sectionM2, abrasive, wetness, step }: AbrasiveRow, panelM2: number): Estimate {
	const every = step.discEvery;
	const stated = every === undefined ? 0 : every.count * (every.unit === "panel" ? panelM2 : sectionM2);
	// A life of nothing is none that the stock can mean.
	const lifeM2 = abrasive.lifeM2 || coefficient("lifeM2", wetness ?? "dry").value;
	const used = areaM2 / (stated > 0 ? stated : lifeM2);
	return { mid: used, low: used, high: wholeUp(used) };
}

/** Null where neither row nor stock says how much, and for sections of no area. */
function liquidMlOf({ areaM2, sectionM2, liquid, step }: LiquidRow): Estimate | null {
	const perSection = step.amountMl ?? liquid.item?.mlPerSection;
	if (perSection === undefined || sectionM2 === 0) return null;
	return logNormal(perSection * wholeUp(areaM2 / sectionM2), coefficient("amount", "liquid").sigma);
}

/** The tolerance keeps 1.1/0.1 from becoming twelve sections by rounding. */
function wholeUp(count: number): number {
	return Math.max(1, Math.ceil(count - 1e-9));
}

/** Price of a disc or a litre that the row uses; undefined where the stock states none. */
function priceOf(row: ResolvedRow): number | undefined {
	if (row.kind === "abrasive") return row.abrasive.item?.price;
	if (row.kind === "liquid") return row.liquid.item?.price;
	return 0;
}

/** What an amount costs at a price for so many units; nothing of a thing costs nothing, whatever its price. */
function priced(amount: Estimate | null, price: number | undefined, unitsOfPrice = 1): Estimate | null {
	if (amount === nothing) return nothing;
	return price === undefined ? null : scaled(amount, price / unitsOfPrice);
}

/** Who throws a disc away after one row does so after every row: the ends add, and not in quadrature. */
function straightSum(costs: readonly (Estimate | null)[]): Estimate | null {
	let sum = nothing;
	for (const cost of costs) {
		if (cost === null) return null;
		sum = { mid: sum.mid + cost.mid, low: sum.low + cost.low, high: sum.high + cost.high };
	}
	return sum;
}

/** The parts and their total, rounded; without a currency no figure means anything. */
function together(
	{ discs, liquids, labour }: Pick<Cost, "discs" | "liquids" | "labour">,
	currency: string | null,
): Cost {
	const money = (cost: Estimate | null) => (currency === null ? null : cost && roundedEstimate(cost));
	return {
		currency,
		discs: money(discs),
		liquids: money(liquids),
		labour: money(labour),
		total: money(independentSum([discs, liquids, labour])),
	};
}
