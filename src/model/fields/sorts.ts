import { discEvery } from "./disc-every.ts";
import { fieldList } from "./field-list.ts";
import { ifNot } from "./if-not.ts";
import { freeText, ownWords } from "./own-words.ts";
import { quantities, quantity } from "./quantity.ts";
import type { FieldValue, Sort, StepField } from "./reading.ts";
import { speed } from "./speed.ts";
import { abrasive, stockItem } from "./stock-item.ts";
import { when } from "./when.ts";
import { word } from "./word.ts";
import { work } from "./work.ts";

/** How each field of a step is read and written. A field added to the schema does not compile until it stands here. */
export const sorts: { [Field in StepField]-?: Sort<FieldValue<Field>> } = {
	stage: word("stage"),
	instruction: ownWords,
	place: word("place"),
	spotMm: quantity(quantities.spotMm),
	edges: word("edges"),
	tool: stockItem("tool"),
	abrasive,
	carrier: word("carrier"),
	holes: word("holes"),
	backing: stockItem("backing"),
	interfaceMm: quantity(quantities.interfaceMm),
	pad: stockItem("pad"),
	padUse: word("padUse"),
	padCare: ownWords,
	wetness: word("wetness"),
	wetWith: word("wetWith"),
	liquid: stockItem("liquid"),
	wipe: word("wipe"),
	speed,
	work,
	pattern: word("pattern"),
	forceN: quantity(quantities.forceN),
	overlap: quantity(quantities.overlap),
	armSpeedMs: quantity(quantities.armSpeedMs),
	sectionM2: quantity(quantities.sectionM2),
	amountMl: quantity(quantities.amountMl),
	discEvery,
	waitMinutes: quantity(quantities.waitMinutes),
	waitFor: word("waitFor"),
	need: word("need"),
	ifNot,
	when,
	check: ownWords,
	light: ownWords,
	by: word("by"),
	mustNotVary: fieldList,
	note: freeText,
};
