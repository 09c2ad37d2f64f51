import type { Shop } from "../model/shop.ts";
import { type CarCost, costOf } from "./cost.ts";
import type { CarsOfDay, TimedRow } from "./day.ts";
import { type Noise, noiseOf } from "./noise.ts";
import type { Forecast, Unknown } from "./outcome.ts";
import { type Vibration, vibrationOf } from "./vibration.ts";

/**
 * What one car of a procedure costs the one who works on it and the shop, each made when first asked for. The times are
 * those of the forecast, so that work until flush counts as long as it takes on this defect.
 */
export class CarWork {
	private readonly timed: readonly TimedRow[];
	private readonly shop: Pick<Shop, "book" | "limits">;
	private madeVibration: Vibration | null = null;
	private madeNoise: Noise | null = null;
	private madeCost: CarCost | null = null;

	constructor({ rows }: Forecast, shop: Pick<Shop, "book" | "limits">) {
		this.timed = rows;
		this.shop = shop;
	}

	/** The cars of a day on which this procedure alone is worked. */
	day(cars: number): CarsOfDay {
		return [{ rows: this.timed, cars }];
	}

	/** Hand-arm vibration of a day of one such car. */
	get vibration(): Vibration {
		this.madeVibration ??= vibrationOf(this.day(1), this.shop.limits);
		return this.madeVibration;
	}

	/** Noise of a day of one such car. */
	get noise(): Noise {
		this.madeNoise ??= noiseOf(this.day(1));
		return this.madeNoise;
	}

	get cost(): CarCost {
		this.madeCost ??= costOf(this.timed, this.shop);
		return this.madeCost;
	}

	/** Why vibration, noise or cost are not known. */
	get unknown(): Unknown[] {
		return [...this.vibration.unknown, ...this.noise.unknown, ...this.cost.unknown];
	}
}
