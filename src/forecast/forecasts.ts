import type { Procedure } from "../model/generated/types.ts";
import { type ResolvedRow, resolveRows } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { type Axis, axes, boxHolds, type Situation } from "../model/situations.ts";
import { forecastOf, startingScratch } from "./forecast.ts";
import type { Forecast } from "./outcome.ts";

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
	 * One forecast for all situations in which it is the same: of the defect it turns on the depth of a scratch only.
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
		const scratch = startingScratch({ procedure, situation, shop });
		const depth = scratch instanceof Object ? `${scratch.low}/${scratch.mid}/${scratch.high}` : scratch;
		const key = `${situation.clearCoat}|${depth}`;
		let forecast = ofRows.get(key);
		if (forecast === undefined) {
			forecast = forecastOf({ procedure, rows, situation, shop });
			ofRows.set(key, forecast);
		}
		return forecast;
	}
}
