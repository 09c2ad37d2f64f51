import type { FieldValue, StepField } from "../../model/fields/reading.ts";
import { write } from "../../model/fields/write.ts";
import type { ResolvedRow } from "../../model/resolve.ts";
import type { Shop } from "../../model/shop.ts";
import { formatNumber } from "../../model/units.ts";
import { label, type Language } from "../../model/words.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/** What a field that the row leaves open counts as, and where that comes from; both in words. */
export interface RowDefault {
	text: string;
	from: string;
}

/** What rules and forecast take for the fields that a row leaves open. A field without an entry stands for nothing. */
export function rowDefaults(row: ResolvedRow, shop: Shop, language: Language): Partial<Record<StepField, RowDefault>> {
	const say = saying(words, language);
	const defaults: Partial<Record<StepField, RowDefault>> = {};
	const { stock } = shop;
	const fill = <Field extends StepField>(field: Field, value: FieldValue<Field> | null | undefined, from: string) => {
		if (row.step[field] !== undefined || value === null || value === undefined) return;
		defaults[field] = { text: write(value, { field, language, stock }), from };
	};
	fill("place", row.place, say("fromSchema"));
	if (row.place === "spot") fill("spotMm", row.spotMm, say("fromHouse"));
	fill("need", row.need, say("fromSchema"));
	if (row.kind === "abrasive" || row.kind === "liquid") {
		const tool = row.tool.item?.name ?? label("tool", row.tool.kind, language);
		const { forceN, overlap, armSpeedMs } = row.hand;
		fill("forceN", forceN, say("fromTool", { tool }));
		fill("overlap", overlap, say("fromTool", { tool }));
		fill("armSpeedMs", armSpeedMs, say("fromTool", { tool }));
		fill("sectionM2", row.sectionM2, row.sectionM2 < shop.limits.sectionM2 ? say("fromPlace") : say("fromHouse"));
		// A dial mark is a figure of its own; what it means in the tool's motion stands beside it.
		if (row.speed !== null && row.speed.asSet.unit === "dial") {
			const { low, high, unit } = row.speed;
			const span = [low, high].map((value) => formatNumber(value, language, 0));
			defaults.speed = {
				text: `${low === high ? span[0] : span.join("–")} ${label("speedUnit", unit, language)}`,
				from: say("fromDial", { tool }),
			};
		}
	}
	if (row.kind === "abrasive") {
		const { item, carrier, holes } = row.abrasive;
		const of = item === null ? say("fromSchema") : say("fromItem", { item: item.name });
		fill("carrier", carrier, of);
		fill("holes", holes, of);
		fill("wetness", "dry", say("fromSchema"));
	}
	if (row.kind === "liquid" && row.step.pad === undefined)
		defaults.pad = {
			text: row.pad.item?.name ?? label("pad", row.pad.kind, language),
			from: say("fromEarlierRow"),
		};
	return defaults;
}
