import type { Procedure, Substrate } from "../model/generated/types.ts";
import { type ResolvedRow, resolveRows } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { type Axis, axes, boxHolds, type Situation } from "../model/situations.ts";
import { CarWork } from "./car-work.ts";
import { forecastOf } from "./forecast.ts";
import { isProud, isSunk, metDefect } from "./met-defect.ts";
import type { Forecast } from "./outcome.ts";
import { PanelHeat } from "./panel-heat.ts";

/** The resolved rows of a procedure and its forecast in any situation, each made once, however many ask for it. */
export class Forecasts {
	readonly procedure: Procedure;
	readonly shop: Shop;
	readonly rows: readonly ResolvedRow[];
	/** Axes that conditions of rows turn on. */
	readonly whenAxes: readonly Axis[];
	/** Axes that a forecast turns on: of situations that differ on others only, it is the same. */
	readonly axes: readonly Axis[];
	private readonly applying = new Map<string, readonly ResolvedRow[]>();
	private readonly lists = new Map<string, readonly ResolvedRow[]>();
	private readonly made = new Map<readonly ResolvedRow[], Map<string, Forecast>>();
	private readonly heated = new Map<readonly ResolvedRow[], Map<Substrate | undefined, PanelHeat>>();
	private readonly worked = new Map<Forecast, CarWork>();
	private readonly workedSame = new Map<string, CarWork>();
	/** Defects by what a forecast turns on: those of one shape are one. */
	private readonly shapes = new Map<string, number>();
	private readonly shapeOf = new Map<string | undefined, number>();

	constructor(procedure: Procedure, shop: Shop) {
		this.procedure = procedure;
		this.shop = shop;
		this.rows = resolveRows(procedure, shop);
		const conditions = this.rows.flatMap((row) => row.when ?? []);
		this.whenAxes = axes.filter((axis) => conditions.some((box) => axis in box));
		this.axes = axes.filter((axis) => axis === "defect" || axis === "clearCoat" || this.whenAxes.includes(axis));
	}

	/** The rows that apply, one list for all situations in which they are the same: the forecast prepares each list once. */
	rowsIn(situation: Situation): readonly ResolvedRow[] {
		if (this.whenAxes.length === 0) return this.rows;
		const values = this.whenAxes.map((axis) => situation[axis]).join("|");
		let rows = this.applying.get(values);
		if (rows === undefined) {
			const here = this.rows.filter(({ when }) => when === null || when.some((box) => boxHolds(box, situation)));
			const places = here.map(({ index }) => index).join();
			rows = this.lists.get(places) ?? here;
			this.lists.set(places, rows);
			this.applying.set(values, rows);
		}
		return rows;
	}

	/**
	 * One forecast for all situations in which it is the same: of the defect it turns on its shape only.
	 *
	 * @param situation told apart at least on the axes of a forecast
	 */
	in(situation: Situation): Forecast {
		const { procedure, shop } = this;
		const rows = this.rowsIn(situation);
		let ofRows = this.made.get(rows);
		if (ofRows === undefined) {
			ofRows = new Map();
			this.made.set(rows, ofRows);
		}
		const key = `${situation.clearCoat}|${this.shapeIn(situation)}`;
		let forecast = ofRows.get(key);
		if (forecast === undefined) {
			forecast = forecastOf({ procedure, rows, situation, shop });
			ofRows.set(key, forecast);
		}
		return forecast;
	}

	/**
	 * How hot the panel gets: it turns on the substrate and on which rows apply, not on the defect or the clear coat.
	 *
	 * @param situation told apart at least on the substrate and the axes of conditions
	 */
	heatIn(situation: Situation): PanelHeat {
		const rows = this.rowsIn(situation);
		const { substrate } = situation;
		let ofRows = this.heated.get(rows);
		if (ofRows === undefined) {
			ofRows = new Map();
			this.heated.set(rows, ofRows);
		}
		let heat = ofRows.get(substrate);
		if (heat === undefined) {
			heat = new PanelHeat(rows, substrate, this.procedure.setUp);
			ofRows.set(substrate, heat);
		}
		return heat;
	}

	/** Vibration, noise and cost of one car where that is what the rows do to the panel. */
	workOf(forecast: Forecast): CarWork {
		const known = this.worked.get(forecast);
		if (known !== undefined) return known;
		// It turns on which rows apply and on their minutes, which most defects leave the same.
		const key = forecast.rows.map(({ row, minutes }) => `${row.index}:${minutes?.mid},${minutes?.high}`).join("|");
		const work = this.workedSame.get(key) ?? new CarWork(forecast, this.shop);
		this.workedSame.set(key, work);
		this.worked.set(forecast, work);
		return work;
	}

	private shapeIn(situation: Situation): number {
		const known = this.shapeOf.get(situation.defect);
		if (known !== undefined) return known;
		const met = metDefect({ procedure: this.procedure, situation, shop: this.shop });
		const shape = met !== null && (isProud(met) || isSunk(met)) ? JSON.stringify(met) : "none";
		const number = this.shapes.get(shape) ?? this.shapes.size;
		this.shapes.set(shape, number);
		this.shapeOf.set(situation.defect, number);
		return number;
	}
}
