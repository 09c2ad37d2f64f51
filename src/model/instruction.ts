import type { FieldValue, StepField } from "./fields/reading.ts";
import { write } from "./fields/write.ts";
import type { Step, Stock } from "./generated/types.ts";
import { capitalised } from "./sentence.ts";
import { label, type Language } from "./words.ts";

/**
 * What the technician is told, made from the fields of a row: "P1500 film, firm plate, damp, 3 passes crosswise".
 * It stands in every language without being written in any, and is used where the row has no words of its own.
 * Only what the row says appears: no defaults. A row that says nothing gives an empty text.
 *
 * @param stock items are named as on the shelf, with the grade of an abrasive where its name lacks it
 */
export function instructionOf(step: Step, language: Language, stock?: Stock): string {
	const say = (field: StepField): string => {
		const value: FieldValue | undefined = step[field];
		return value === undefined ? "" : write(value, { field, language, ...(stock ? { stock } : {}) });
	};
	const join = joints[language];
	const onPad = step.liquid !== undefined && step.pad !== undefined;
	const parts = [
		step.abrasive || step.liquid || step.wipe ? "" : say("stage"),
		spaced(abrasiveInWords(step, say("abrasive"), stock), say("carrier")),
		step.holes === undefined || step.holes === "none" ? "" : say("holes"),
		onPad ? `${say("liquid")} ${join.onPad} ${say("pad")}` : say("liquid") || say("pad"),
		say("wipe"),
		say("backing"),
		step.interfaceMm ? join.interface(say("interfaceMm")) : "",
		say("tool"),
		step.wetWith === "soapy-water" ? `${say("wetness")} ${join.with} ${say("wetWith")}`.trim() : say("wetness"),
		say("speed"),
		spaced(say("work"), say("pattern")),
		say("amountMl"),
		step.waitFor === undefined ? say("waitMinutes") : `${say("waitMinutes")} ${join.to} ${say("waitFor")}`.trim(),
		spaced(say("place"), step.place === "spot" ? say("spotMm") : ""),
		say("edges"),
		say("by"),
		step.need === "if-needed" ? label("need", "if-needed", language) : "",
	].filter((part) => part !== "");
	return capitalised(parts.join(", "));
}

const joints = {
	en: { onPad: "on", with: "with", to: "to", interface: (size: string) => `${size} interface` },
	es: { onPad: "con", with: "con", to: "para", interface: (size: string) => `interfaz de ${size}` },
};

/** The name of a stock item, and its grade where the name does not hold it. */
function abrasiveInWords(step: Step, written: string, stock: Stock | undefined): string {
	const grade = stock?.abrasives?.find(({ id }) => id === step.abrasive)?.grade;
	return grade === undefined || written.includes(grade) ? written : `${written} ${grade}`;
}

function spaced(...words: string[]): string {
	return words.filter((word) => word !== "").join(" ");
}
