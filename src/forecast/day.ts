import type { Estimate, ToolItem, ToolKind } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { DayUnknown } from "./day-unknown.ts";
import type { RowTerms } from "./row-terms.ts";
import { independentSum, scaled } from "./spread.ts";

/** A row with its time: what exposure and cost are made from. */
export type TimedRow = Pick<RowTerms, "row" | "minutes" | "cuts">;

/**
 * The cars of one technician's day: the rows of each procedure that apply, and on how many cars of the day they are
 * worked. Rows done only `if-needed` count as done.
 */
export type CarsOfDay = readonly { rows: readonly TimedRow[]; cars: number }[];

/** How long one driven tool is in the hand in a day. */
export interface ToolTime {
	kind: ToolKind;
	/** Null where rows name only the kind of tool. */
	item: ToolItem | null;
	/** Minutes of its rows whose time is known. */
	minutes: Estimate;
	/** Its rows, each once however many the cars. */
	rows: ResolvedRow[];
	/** Those of them whose time is not known. */
	untimed: ResolvedRow[];
}

/**
 * The time in hand of each driven tool, in order of first use, and the rows of which not even the tool is known.
 *
 * A row's time is that of its work (see `minutesOf`): the tool runs all of it, and nothing is added for idling. Times of
 * rows are independent; how fast the technician works a row is the same on every car, so a car's time counts `cars`
 * times.
 */
export function toolTimes(day: CarsOfDay): { tools: ToolTime[]; incomplete: ResolvedRow[] } {
	const tools = new Map<string, ToolTime>();
	const incomplete: ResolvedRow[] = [];
	for (const { rows, cars } of day) {
		if (isNoWork(cars)) continue;
		const ofCar = new Map<ToolTime, Estimate[]>();
		for (const { row, minutes, cuts } of rows) {
			if (row.kind === "incomplete" && cuts) incomplete.push(row);
			if (!row.tool?.driven) continue;
			const { kind, item } = row.tool;
			// The id of an item is never the word for a kind.
			const key = item?.id ?? kind;
			const tool = tools.get(key) ?? { kind, item, minutes: nothing, rows: [], untimed: [] };
			tools.set(key, tool);
			tool.rows.push(row);
			if (minutes === null) tool.untimed.push(row);
			else ofCar.set(tool, [...(ofCar.get(tool) ?? []), minutes]);
		}
		for (const [tool, times] of ofCar)
			tool.minutes = independentSum([tool.minutes, scaled(independentSum(times), cars)]) ?? tool.minutes;
	}
	return { tools: [...tools.values()], incomplete };
}

/** Minutes of a day's work; null where those of a row are not known. */
export function minutesOfDay(day: CarsOfDay): Estimate | null {
	return independentSum(
		day
			.filter(({ cars }) => !isNoWork(cars))
			.map(({ rows, cars }) => scaled(independentSum(rows.map(({ minutes }) => minutes)), cars)),
	);
}

/** What rows that do not say enough leave unknown of an exposure. */
export function untold(
	quantity: DayUnknown["quantity"],
	{ tools, incomplete }: ReturnType<typeof toolTimes>,
): DayUnknown[] {
	return [
		...incomplete.map((row) => ({ row, quantity, why: "incomplete-row", measure: "fill-the-row" }) as const),
		...tools.flatMap(({ untimed }) =>
			untimed.map((row) => ({ row, quantity, why: "minutes-unknown", measure: "time-one-row" }) as const),
		),
	];
}

/**
 * @throws RangeError on a number of cars that is none
 */
export function isNoWork(cars: number): boolean {
	if (!(cars >= 0 && cars < Number.POSITIVE_INFINITY)) throw new RangeError(`${cars} cars in a day`);
	return cars === 0;
}

const nothing: Estimate = { mid: 0, low: 0, high: 0 };
