import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeText } from "../../src/exchange/decode.ts";
import { type ImportedSheet, importSheet } from "../../src/exchange/sheet-in.ts";
import { mostRows } from "../../src/model/most-rows.ts";
import { stepFields } from "../../src/model/fields/columns.ts";
import type { FieldValue } from "../../src/model/fields/reading.ts";
import { write } from "../../src/model/fields/write.ts";
import type { Step } from "../../src/model/generated/types.ts";
import * as validators from "../../src/model/generated/validators.js";
import { genericShop, shopOf } from "../../src/model/shop.ts";
import procedureSchema from "../../schemas/procedure.schema.json" with { type: "json" };
import expected from "./expected-sheets.json" with { type: "json" };

const folder = fileURLToPath(new URL("sheets/", import.meta.url));
const names = readdirSync(folder).toSorted();
const textOf = (name: string) => readFileSync(`${folder}${name}`, "utf8");

function imported(text: string, name = "sheet.csv"): ImportedSheet {
	const sheet = importSheet({ text, name, shop: genericShop });
	if ("problem" in sheet) throw new Error(sheet.problem.message);
	return sheet;
}

/** "sand · random-orbital · P1500 · speed 8000 opm": every field of a step in one line, in the order of the schema. */
function short(step: Step): string {
	const words = stepFields.flatMap((field) => {
		const value = step[field];
		if (value === undefined) return [];
		if (field === "stage" && typeof value === "string") return [value];
		const plain = typeof value === "string" ? value : write(value as FieldValue, { field, language: "en", rows: [] });
		return [`${field} ${plain.replaceAll("\n", " | ")}`];
	});
	return [...words, ...Object.entries(step.asTyped ?? {}).map(([field, text]) => `?${field} ${text}`)].join(" · ");
}

/** A sheet as the table of expectations has it; figures of film by their middle. */
function shortSheet({ columns, context, procedure, unread }: ImportedSheet) {
	return {
		columns: columns.map(({ header, field }) => `${header} → ${field}`).join(" | "),
		context,
		steps: (procedure.steps ?? []).map(short),
		unread: unread.map(({ row, column, text }) => `${row ?? "—"} · ${column ?? "—"} · ${text}`),
		notes: procedure.notes ?? {},
	};
}

it("reads as many rows as the schema of a procedure allows", () => {
	expect(mostRows).toBe(procedureSchema.properties.steps.maxItems);
});

describe("sheets as shops keep them", () => {
	it("has an expectation for every sheet, and at least 25 of them", () => {
		expect(Object.keys(expected)).toEqual(names);
		expect(names.length).toBeGreaterThanOrEqual(25);
	});

	it.each(names)("reads %s", (name) => {
		expect(shortSheet(imported(textOf(name), name))).toEqual(expected[name as keyof typeof expected]);
	});

	it.each(names)("makes of %s a procedure that its schema allows, the same each time", (name) => {
		const { procedure } = imported(textOf(name), name);
		expect(validators.procedure(procedure), JSON.stringify(validators.procedure.errors)).toBe(true);
		expect(imported(textOf(name), name).procedure).toEqual(procedure);
		expect(new Set(procedure.steps?.map(({ id }) => id)).size).toBe(procedure.steps?.length);
	});
});

describe("the bytes of a sheet", () => {
	const name = "semicolon-latin.csv";
	const text = textOf(name);
	const bytes = (values: Iterable<number>) => Uint8Array.from(values);
	const forms: [string, Uint8Array, string][] = [
		["UTF-8", new TextEncoder().encode(text), "utf-8"],
		["UTF-8 with a mark", bytes([0xef, 0xbb, 0xbf, ...new TextEncoder().encode(text)]), "utf-8"],
		["Latin-1", bytes(Buffer.from(text, "latin1")), "windows-1252"],
		["UTF-16, little end first", bytes([0xff, 0xfe, ...Buffer.from(text, "utf16le")]), "utf-16"],
		["UTF-16, big end first", bytes([0xfe, 0xff, ...Buffer.from(text, "utf16le").swap16()]), "utf-16"],
	];
	it.each(forms)("reads %s", (_, form, encoding) => {
		expect(decodeText(form)).toEqual({ text, encoding });
	});

	it.each([
		["carriage returns", "\r"],
		["both line ends", "\r\n"],
	])("reads %s as line ends", (_, end) => {
		const other = imported(textOf("bumper-nib.csv").replaceAll("\n", end));
		expect(other.procedure.steps).toEqual(imported(textOf("bumper-nib.csv")).procedure.steps);
	});
});

describe("places in the file as read", () => {
	const sheet = imported(
		'Title,Swirls\n\nStage,Notes,Pad,Speed\nPolish,"one\ntwo",soft foam,fast\nFinish,,soft foam,\n',
	);
	it.each([
		["the first cell of a row", 0, "stage", { line: 4, column: 1 }],
		["a cell after a line break in a quoted cell", 0, "pad", { line: 5, column: 6 }],
		["a cell kept as typed", 0, "speed", { line: 5, column: 16 }],
		["an empty cell", 1, "speed", { line: 6, column: 19 }],
		["a field that no column holds", 1, "tool", { line: 6, column: 1 }],
		["the whole row", 1, null, { line: 6, column: 1 }],
		["a part above the table", null, "title", { line: 1, column: 1 }],
	] as const)("gives %s", (_, row, field, place) => {
		expect(sheet.placeOf(row, field)).toEqual(place);
	});
	it("knows no place for a part the sheet does not have", () => {
		expect(sheet.placeOf(null, "film")).toBe(null);
	});
});

const header = "Stage,Abrasive,Backing,Pad,Liquid,Tool,Speed,Passes";

describe("cells of several things", () => {
	it.each([
		[
			"Sand,P3000 foam disc,soft plate,,damp,DA,8000 opm,3",
			"sand · tool random-orbital · abrasive P3000 · carrier foam · backing soft-plate · wetness damp · speed 8000 opm · work 3 passes",
		],
		[
			"Sand,P1500 film dry,firm plate,,,DA,8000 opm,3",
			"sand · tool random-orbital · abrasive P1500 · carrier film · backing firm-plate · wetness dry · speed 8000 opm · work 3 passes",
		],
		[
			'Sand,P2000,"soft pad, 5 mm interface",,damp,DA,8000 opm,3',
			"sand · tool random-orbital · abrasive P2000 · backing soft-plate · interfaceMm 5 mm · wetness damp · speed 8000 opm · work 3 passes",
		],
		[
			"Cut,,,twisted wool + heavy cut,,Rotary 1500 rpm,,3",
			"compound · tool rotary · pad wool-twisted · liquid heavy-cut · speed 1500 rpm · work 3 passes",
		],
		[
			"Cut,P1500,firm plate,,damp,DA,8000 opm,3",
			"sand · tool random-orbital · abrasive P1500 · backing firm-plate · wetness damp · speed 8000 opm · work 3 passes",
		],
		["IPA wipe,,,,,,,", "wipe · wipe alcohol-wipe"],
		[
			"Wet sand,P2000,hard block,,,block,,10 strokes",
			"sand · tool block · abrasive P2000 · backing rigid-block · wetness wet · work 10 strokes",
		],
		["Denib with nib file,,,,,,,until flush", "level · tool nib-file · work until flush"],
		[
			"1) Finish (dark only),,,soft foam,finest,DA,4000 opm,3",
			"finish · tool random-orbital · pad foam-soft · liquid finest · speed 4000 opm · work 3 passes · when tone: dark",
		],
		[
			"Sand,P15O0 film,firm plate,,damp,DA,8000 opm,3",
			"sand · tool random-orbital · carrier film · backing firm-plate · wetness damp · speed 8000 opm · work 3 passes · ?abrasive P15O0 film",
		],
		[
			"Sand,P1500 not P2000,firm plate,,damp,DA,8000 opm,3",
			"sand · tool random-orbital · backing firm-plate · wetness damp · speed 8000 opm · work 3 passes · ?abrasive P1500 not P2000",
		],
		[
			"Sand,P1500,hard,,damp,DA,8000 opm,3",
			"sand · tool random-orbital · abrasive P1500 · backing firm-plate · wetness damp · speed 8000 opm · work 3 passes",
		],
		[
			"Sand,P1500,hard,,damp,by hand,,10 strokes",
			"sand · tool block · abrasive P1500 · backing rigid-block · wetness damp · work 10 strokes",
		],
		[
			'Sand,P2500,"by hand, finger",,wet,,,20 strokes',
			"sand · tool bare-hand · abrasive P2500 · wetness wet · work 20 strokes",
		],
		["Wash,,,,soapy water,hand,,", "clean · wipe wash · note Tool: hand"],
	])("reads %s", (row, step) => {
		const [first] = imported(`${header}\n${row}\n`).procedure.steps ?? [];
		expect(first && short(first)).toBe(step);
	});

	it.each([
		[
			"a speed that could be rpm or opm",
			"Compound,,,microfibre,fine,polisher,1500,3",
			"Speed could be 1500 rpm, 1500 opm",
		],
		[
			"a pad that could be several",
			"Compound,,,wool,heavy cut,rotary,1500 rpm,3",
			"Pad could be twisted wool, lambswool, knitted wool",
		],
		[
			"two grades in one cell",
			"Sand,P1500 / P2000,firm plate,,damp,DA,8000 opm,3",
			"several values for Abrasive (P1500, P2000)",
		],
		["a word nobody knows", "Frobnicate,,,,,,,", "no such word"],
		["a cell that another contradicts", "Polish,,,soft foam heavy cut,fine,DA,4000 opm,3", "Another cell"],
	])("says why it did not read %s", (_, row, why) => {
		expect(
			imported(`${header}\n${row}\n`)
				.unread.map((one) => one.why)
				.join("\n"),
		).toContain(why);
	});

	it.each([
		["Refine,P3000,foam pad,,damp,DA,8000 opm,3", "“foam pad” was taken as soft plate"],
		["Sand,P2000,foam interface,,damp,DA,8000 opm,3", "an interface is named without its thickness"],
	])("tells how it took %s", (row, note) => {
		expect(imported(`${header}\n${row}\n`).notes.join("\n")).toContain(note);
	});

	it("says which of two columns it believed", () => {
		const [one] = imported("Stage,Grade,Speed,RPM,Tool\nSand,P2000,fast,8000,DA\n").unread;
		expect(one?.why).toContain("Another cell of the row gives Speed as 8000 rpm");
	});

	it("finds the items of the stock by name", () => {
		const shop = shopOf(
			genericShop.book,
			{ format: 1, pads: [{ id: "blue-waffle", name: "Bluewaffle no. 2", kind: "foam-medium" }] },
			undefined,
		);
		const sheet = importSheet({ text: `${header}\nPolish,,,bluewaffle no 2,fine,DA,4000 opm,3\n`, name: "x", shop });
		expect("procedure" in sheet && sheet.procedure.steps?.[0]?.pad).toBe("blue-waffle");
	});
});

describe("film above the table", () => {
	const filmOf = (...lines: string[]) => {
		const { procedure, unread } = imported(
			`${lines.map((line) => `"${line}"`).join("\n")}\n${header}\nSand,P2000,,,,,,\n`,
		);
		return { film: procedure.film, unread: unread.map(({ text }) => text) };
	};
	it("takes one figure for every kind but matt, with the widest spread of the house", () => {
		const { film } = filmOf("Film: 45 µm");
		expect(film?.assumed?.factory).toEqual({ mid: 45, low: 31.5, high: 58.5 });
		expect(Object.keys(film?.assumed ?? {})).toHaveLength(7);
		expect(film?.assumed?.matt).toBe(undefined);
	});
	it("takes the figures of the clear coats named", () => {
		expect(filmOf("Film: factory 45-50 µm, refinish 60-70 µm").film?.assumed).toEqual({
			factory: { mid: 47.5, low: 45, high: 50 },
			refinish: { mid: 65, low: 60, high: 70 },
		});
	});
	it("assumes nothing from a reading of the whole paint", () => {
		expect(filmOf("Film: 110 µm total, min 80")).toEqual({
			film: { known: "total-reading" },
			unread: ["110 µm total, min 80"],
		});
	});
	it("takes the clear from a total where what lies under it is said, in either order", () => {
		const { film } = filmOf("Total film: 120 µm", "Under the clear: 70 µm", "Minimum: 110");
		expect(film?.assumed?.refinish?.mid).toBe(50);
		expect(film?.leastLeftUm).toBe(40);
	});
	it("keeps the highest of several limits, and tells them", () => {
		const { procedure, notes } = imported(
			`Film: 45 µm; min 38 µm; limit 40 µm; not below 35 µm\n${header}\nSand,P2000,,,,,,\n`,
		);
		expect(procedure.film?.leastLeftUm).toBe(40);
		expect(notes.join()).toContain("38, 40, 35");
	});
	it("reads mils", () => {
		expect(filmOf("Least clear left: 1.6 mil").film?.leastLeftUm).toBe(40.64);
	});
	it("does not guess between µm and mil", () => {
		expect(filmOf("Film: 2.2")).toEqual({ film: undefined, unread: ["2.2"] });
	});
});

describe("cure above the table", () => {
	it.each([
		["24 h", { hours: 24 }],
		["3 days", { hours: 72 }],
		["60 °C 30 min, then 1 h", { bake: { celsius: 60, minutes: 30, waitHours: 1 } }],
		["24 h or bake 30 min at 60 °C + 12 h", { hours: 24, bake: { celsius: 60, minutes: 30, waitHours: 12 } }],
		["24 h at 20 °C or 30 min at 60 °C", { hours: 24, bake: { celsius: 60, minutes: 30 } }],
		["30 min a 60 °C y 4 h, o 48 h", { hours: 48, bake: { celsius: 60, minutes: 30, waitHours: 4 } }],
		["140 F 30 min", { bake: { celsius: 60, minutes: 30 } }],
	])("reads %s", (text, cure) => {
		expect(imported(`"Cure: ${text}"\n${header}\nSand,P2000,,,,,,\n`).procedure.cure).toEqual(cure);
	});
});

describe("sheets that cannot be read", () => {
	it.each([
		["an empty file", " \n\n", "empty-sheet"],
		["the bytes of an archive", "PK\u0003\u0004rest", "not-a-table"],
		["a letter", "Dear colleague,\nwe met on Monday.\n", "not-a-table"],
		["a table of something else", "Name,Age\nAnn,31\nBob,32\n", "no-header-found"],
		["a header alone", `${header}\n`, "no-rows-found"],
	])("says what is wrong with %s", (_, text, code) => {
		const sheet = importSheet({ text, name: "x.csv", shop: genericShop });
		expect("problem" in sheet && sheet.problem.code).toBe(code);
	});

	it("keeps as many rows as a procedure holds and tells the others", () => {
		const sheet = imported(`${header}\n${"Sand,P2000,firm plate,,damp,DA,8000 opm,3\n".repeat(mostRows + 2)}`);
		expect(sheet.rows).toBe(mostRows);
		expect(sheet.unread).toHaveLength(2);
		expect(sheet.notes.join()).toContain(String(mostRows + 2));
	});
});

describe("mutated sheets", () => {
	const nonsense = "zqxwv";
	const texts = names.map(textOf);
	const mutation = fc.record({
		kind: fc.nat(7),
		at: fc.nat(),
		other: fc.nat(),
		char: fc.constantFrom(",", ";", "\t", '"', "\n", "|", "µ", "0", "/", "(", "-", "P", "'", "=", ":"),
	});
	const mutated = (text: string, edits: { kind: number; at: number; other: number; char: string }[]) => {
		let now = text;
		for (const { kind, at, other, char } of edits) {
			const place = at % (now.length + 1);
			const lines = now.split("\n");
			const line = at % lines.length;
			if (kind === 0) now = now.slice(0, place) + now.slice(place + 1 + (other % 4));
			else if (kind === 1) now = now.slice(0, place) + char + now.slice(place);
			else if (kind === 2) now = lines.toSpliced(line, 1).join("\n");
			else if (kind === 3) now = lines.toSpliced(line, 0, lines[other % lines.length] ?? "").join("\n");
			else if (kind === 4) now = now.replaceAll(",", char);
			else if (kind === 5) now = now.slice(0, Math.max(place, 20));
			else if (kind === 6) now = lines.with(line, (lines[line] ?? "").split(",").toReversed().join(",")).join("\n");
			else now = now.slice(0, place) + now.slice(other % (now.length + 1)).slice(0, 40) + now.slice(place);
		}
		return now;
	};

	it("never make it throw, and always give a procedure that its schema allows", () => {
		fc.assert(
			fc.property(fc.constantFrom(...texts), fc.array(mutation, { minLength: 1, maxLength: 6 }), (text, edits) => {
				const sheet = importSheet({ text: mutated(text, edits), name: "x.csv", shop: genericShop });
				if (!("problem" in sheet))
					expect(validators.procedure(sheet.procedure), JSON.stringify(validators.procedure.errors)).toBe(true);
			}),
			{ seed: 4, numRuns: 500 },
		);
	}, 60_000);

	it("lose no text that means nothing, wherever it stands", () => {
		fc.assert(
			fc.property(
				fc.constantFrom(...texts),
				fc.nat(),
				fc.nat(),
				fc.boolean(),
				fc.array(mutation, { maxLength: 2 }),
				(text, at, cell, instead, edits) => {
					const lines = mutated(text, edits)
						.split("\n")
						.filter((line) => !line.includes('"'));
					if (lines.length === 0) return;
					const line = at % lines.length;
					const cells = (lines[line] ?? "").split(/([,;\t|])/);
					const place = 2 * (cell % Math.ceil(cells.length / 2));
					const put = cells.with(place, instead ? nonsense : `${cells[place]} ${nonsense}`).join("");
					const sheet = importSheet({ text: lines.with(line, put).join("\n"), name: "x.csv", shop: genericShop });
					if ("problem" in sheet) return;
					const { columns, procedure, unread } = sheet;
					expect(JSON.stringify({ columns, procedure, unread })).toContain(nonsense);
				},
			),
			{ seed: 5, numRuns: 500 },
		);
	}, 60_000);
});
