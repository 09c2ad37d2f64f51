import { describe, expect, it } from "vitest";
import { importSheet } from "../../src/exchange/sheet-in.ts";
import { genericShop } from "../../src/model/shop.ts";

/** What a sheet with one line above its table says of film, in µm; `kinds` counts the clear coats it is assumed of. */
function filmOf(line: string): object {
	const text = `${line}\nStage;Abrasive;Backing;Tool;Speed;Passes\nsand;P2000 film;firm plate;DA;8000 opm;3\n`;
	const sheet = importSheet({ text, name: "line.csv", shop: genericShop });
	if ("problem" in sheet) throw new Error(sheet.problem.message);
	const { context, procedure } = sheet;
	return {
		clearUm: context.filmUm ?? null,
		leastUm: context.leastLeftUm ?? null,
		totalUm: context.totalUm ?? null,
		kinds: Object.keys(procedure.film?.assumed ?? {}).length,
	};
}

describe("a line of film above the table", () => {
	it.each([
		["Film: clear 50 µm, min 35 µm", 50, 35, null, 7],
		["Film: clear 2.4 mil min 1.6 mil", 60.96, 40.64, null, 7],
		["Film build 60 µm minimum 40 µm", 60, 40, null, 7],
		["Espesor barniz: 55,5 µm", 55.5, null, null, 7],
		["Espesor 60 µm mínimo 40 µm", 60, 40, null, 7],
		["Clear film 48 µm / leave at least 35 µm", 48, 35, null, 7],
		["Starting clear: 2.0 mil", 50.8, null, null, 7],
		["Min. remaining clear 40 µm", null, 40, null, 0],
		["Film available 55 µm", 55, null, null, 7],
		["Film: at least 40 µm", null, 40, null, 0],
		["Clear coat: refinish 60 µm", 60, null, null, 1],
		["Clear: 55 um, not below 40", 55, 40, null, 7],
		["Initial film thickness: 110 µm total, clear 45", 45, null, 110, 7],
		["Film: 110 µm total leave at least 90 µm", null, null, 110, 0],
		["Film budget: 15 µm", null, null, null, 0],
		["Film after: 40 µm", null, null, null, 0],
	])("reads: %s", (line, clearUm, leastUm, totalUm, kinds) => {
		expect(filmOf(line)).toEqual({ clearUm, leastUm, totalUm, kinds });
	});
});

describe("extraction", () => {
	const extractionOf = (line: string, tool = "DA", wetness = "dry") => {
		const text = `${line}\nStage;Abrasive;Backing;Wet/dry;Tool;Speed;Passes\nsand;P2000 film;firm plate;${wetness};${tool};8000 opm;3\n`;
		const sheet = importSheet({ text, name: "line.csv", shop: genericShop });
		if ("problem" in sheet) throw new Error(sheet.problem.message);
		return sheet.procedure.setUp?.extraction;
	};

	it.each([
		["Dust extraction: M class", "DA", "dry", true],
		["Extraction: no", "DA with extraction", "dry", false],
		["Defect: nib", "DA with extraction", "dry", true],
		["Defect: nib", "DA", "dry with vacuum", true],
		["Defecto: mota", "orbital con aspiración", "seco", true],
		["Defect: nib", "DA without extraction", "dry", undefined],
		["Defect: nib", "DA", "dry", undefined],
	])("is read from “%s”, “%s” and “%s”", (line, tool, wetness, expected) => {
		expect(extractionOf(line, tool, wetness)).toBe(expected);
	});
});
