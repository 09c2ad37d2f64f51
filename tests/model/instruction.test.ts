import { describe, expect, it } from "vitest";
import type { Step, Stock } from "../../src/model/generated/types.ts";
import { instructionOf } from "../../src/model/instruction.ts";

const stock: Stock = {
	format: 1,
	abrasives: [
		{ id: "blue-line-1500", name: "Slate film disc", grade: "P1500", carrier: "film" },
		{ id: "slate-3000", name: "Slate P3000 foam", grade: "P3000" },
	],
	liquids: [{ id: "brisk", name: "Brisk", class: "heavy-cut" }],
};

describe("instructionOf", () => {
	it.each<[Omit<Step, "id">, string, string]>([
		[
			{
				stage: "sand",
				abrasive: "P1500",
				carrier: "film",
				backing: "firm-plate",
				wetness: "damp",
				work: { unit: "passes", low: 3, high: 3 },
				pattern: "crosswise",
			},
			"P1500 film, firm plate, damp, 3 passes crosswise",
			"P1500 film, plato firme, húmedo, 3 pasadas en cruz",
		],
		[
			{
				stage: "compound",
				liquid: "heavy-cut",
				pad: "wool-twisted",
				tool: "rotary",
				speed: { unit: "rpm", low: 1200, high: 1500 },
				work: { unit: "passes", low: 2, high: 4 },
				amountMl: 5,
			},
			"Heavy cut on twisted wool, rotary, 1200–1500 rpm, 2–4 passes, 5 ml",
			"Corte fuerte con lana trenzada, rotativa, 1200–1500 rpm, 2–4 pasadas, 5 ml",
		],
		[
			{
				stage: "level",
				tool: "nib-blade",
				work: { unit: "until-flush" },
				place: "spot",
				spotMm: 40,
				need: "if-needed",
			},
			"Level, nib blade, until flush, spot 40 mm, if needed",
			"Nivelar, cuchilla de motas, hasta enrasar, punto 40 mm, si hace falta",
		],
		[{ stage: "wait", waitMinutes: 10, waitFor: "cool" }, "Wait, 10 min to cool", "Esperar, 10 min para enfriar"],
		[{ stage: "wipe", wipe: "alcohol-wipe" }, "Alcohol wipe", "Alcohol"],
		[
			{ stage: "refine", abrasive: "P3000", carrier: "foam", interfaceMm: 5, wetness: "damp", wetWith: "soapy-water" },
			"P3000 foam, 5 mm interface, damp with soapy water",
			"P3000 espuma, interfaz de 5 mm, húmedo con agua jabonosa",
		],
		[{ stage: "inspect" }, "Inspect", "Inspeccionar"],
		[
			{ stage: "sand", abrasive: "blue-line-1500", work: { unit: "passes", low: 1, high: 1 } },
			"Slate film disc P1500, 1 pass",
			"Slate film disc P1500, 1 pasada",
		],
		[{ stage: "refine", abrasive: "slate-3000" }, "Slate P3000 foam", "Slate P3000 foam"],
		[{ stage: "compound", liquid: "brisk" }, "Brisk", "Brisk"],
		[{}, "", ""],
	])("says %j as %j and %j", (step, en, es) => {
		expect(instructionOf({ id: "aaaaaaaaaa", ...step }, "en", stock)).toBe(en);
		expect(instructionOf({ id: "aaaaaaaaaa", ...step }, "es", stock)).toBe(es);
	});
});
