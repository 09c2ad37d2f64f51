import type { StepField } from "../model/fields/reading.ts";
import type { Speed, Step } from "../model/generated/types.ts";
import { type Shop, stockItem } from "../model/shop.ts";

/**
 * What the sheet of the stock item in a field of a row says of the row's other fields. Only what it declares for the
 * item's use, as one value or as a range: the speed and the amount of a liquid, its pad where it is meant for one alone,
 * how wet an abrasive runs where there is one way, the speed of a tool that has no other. How fast a tool, plate or pad
 * *can* run is a limit and no setting; carrier and holes are taken from the item itself, and so need no copy in the row.
 */
export function sheetFills(step: Step, field: StepField, { stock }: Shop): Partial<Step> {
	switch (field) {
		case "abrasive": {
			const [wetness, ...others] = stockItem(stock, "abrasives", step.abrasive)?.wetness ?? [];
			return wetness === undefined || others.length > 0 ? {} : { wetness };
		}
		case "liquid": {
			const item = stockItem(stock, "liquids", step.liquid);
			const [pad, ...others] = item?.pads ?? [];
			return {
				...(pad === undefined || others.length > 0 ? {} : { pad }),
				...(item?.mlPerSection === undefined ? {} : { amountMl: item.mlPerSection }),
				...(item?.speed !== undefined && isSetOn(item.speed, step.tool, stock) ? { speed: item.speed } : {}),
			};
		}
		case "tool": {
			const speed = stockItem(stock, "tools", step.tool)?.speed;
			return speed === undefined || speed.low !== speed.high ? {} : { speed };
		}
		default:
			return {};
	}
}

/** Whether the tool of a row, where one is named, is set in the unit of a speed: revolutions say nothing of an orbital. */
function isSetOn({ unit }: Speed, tool: string | undefined, stock: Shop["stock"]): boolean {
	const kind = stockItem(stock, "tools", tool)?.kind ?? tool;
	switch (kind) {
		case undefined:
			return true;
		case "rotary":
			return unit === "rpm";
		case "random-orbital":
		case "gear-orbital":
			return unit === "opm";
		default:
			return false;
	}
}
