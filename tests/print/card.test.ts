import { describe, expect, it } from "vitest";
import type { Procedure, Step } from "../../src/model/generated/types.ts";
import { genericShop } from "../../src/model/shop.ts";
import { card, type CardInput } from "../../src/print/card.ts";
import { cardColumns } from "../../src/print/card-row.ts";
import words from "../../src/print/data/card.json" with { type: "json" };

const sand: Step = {
	id: "aaaaaaaaaa",
	stage: "sand",
	abrasive: "P2000",
	carrier: "film",
	backing: "firm-plate",
	tool: "random-orbital",
	wetness: "dry",
	speed: { unit: "opm", low: 8000, high: 8000 },
	work: { unit: "passes", low: 3, high: 3 },
};
const compound: Step = {
	id: "bbbbbbbbbb",
	stage: "compound",
	liquid: "heavy-cut",
	pad: "wool-twisted",
	tool: "rotary",
	speed: { unit: "rpm", low: 1500, high: 1500 },
	work: { unit: "passes", low: 4, high: 4 },
};
const finish: Step = {
	...compound,
	id: "cccccccccc",
	stage: "finish",
	liquid: "finest",
	pad: "foam-soft",
	tool: "random-orbital",
	when: [{ tone: ["dark"] }],
};
const read = (id: string): Step => ({ id, stage: "measure", tool: "gauge" });
const wipe: Step = { id: "dddddddddd", stage: "wipe", wipe: "dry-cloth" };

const procedure: Procedure = {
	format: 1,
	id: "a",
	title: { en: "Nib on a door", es: "Mota en una puerta" },
	revision: 3,
	revisionDate: "2026-05-12",
	state: "released",
	scope: {
		defects: [{ defect: "sand-scratch", goal: "gone" }],
		substrates: ["steel"],
		clearCoats: ["refinish"],
		tones: ["dark", "light"],
	},
	film: { known: "clear-reading" },
	steps: [read("eeeeeeeeee"), sand, read("ffffffffff"), compound],
};

describe("card", () => {
	it("says of each row its stage, grade, what is held, how it is set and how much is done", () => {
		const bodies = rowsTable(printed({ steps: [sand, compound, wipe] }))
			.split("<tbody>")
			.slice(1);
		expect(bodies.map((body) => texts(body, /<td class="(?!done)[^"]*">(.*?)<\/td>/g))).toEqual([
			["sand P2000 film", "firm plate · random orbital", "dry · 8000 opm", "3 passes"],
			["compound heavy cut", "twisted wool · rotary", "1500 rpm", "4 passes"],
			["wipe dry cloth", "", "", ""],
		]);
	});

	it("escapes what people have written, markup and quotes alike", () => {
		const html = printed({
			title: { en: "<script>alert('x')</script> & \"more\"" },
			steps: [{ ...sand, check: { en: "</td><img src=x>" }, asTyped: { speed: "<b>fast</b>" } }],
		});
		expect(html).not.toMatch(/<script|<img|<b>fast/);
		expect(plain(html)).toContain("<script>alert('x')</script> & \"more\"");
		expect(plain(html)).toContain("</td><img src=x>");
		expect(plain(html)).toContain(`${words.en.unread} <b>fast</b>`);
	});

	it.each<[string, Step[], (typeof cardColumns)[number][]]>([
		["all of them where a row fills them", [{ ...sand, place: "panel" }], ["hold", "set", "work", "where"]],
		["none where rows only wipe", [wipe], []],
		["what is held alone for readings", [read("eeeeeeeeee")], ["hold"]],
		["the others where no row names a place", [sand, wipe], ["hold", "set", "work"]],
	])("shows of its columns %s", (_, steps, shown) => {
		const heads = texts(rowsTable(printed({ steps })), /<th scope="col"[^>]*>(.*?)<\/th>/g);
		expect(heads).toEqual([words.en.number, "Stage", ...shown.map((column) => words.en[column])]);
	});

	it.each([
		["en", "Nib on a door", "Revision 3, 12 May 2026 · released", "Printed 1 June 2026"],
		["es", "Mota en una puerta", "Revisión 3, 12 de mayo de 2026 · publicado", "Impreso 1 de junio de 2026"],
	] as const)("speaks the reader's language: %s", (language, title, revision, day) => {
		const html = printed({}, { language });
		expect(html).toContain(`<html lang="${language}">`);
		for (const text of [title, revision, day, words[language].technician, words[language].start])
			expect(plain(html)).toContain(text);
	});

	it("has every word in both languages", () => {
		expect(Object.keys(words.es)).toEqual(Object.keys(words.en));
	});

	it("boxes the reading to start from and that of each reading row, for every clear coat, with blanks", () => {
		const html = printed({ scope: { ...procedure.scope, clearCoats: ["factory", "refinish"] } });
		const [box = ""] = /<section class="readings">.*?<\/section>/s.exec(html) ?? [];
		expect(texts(box, /<th scope="col">(.*?)<\/th>/g)).toEqual([
			"Film",
			"Start only at or above",
			"Row 1: stop below",
			"Row 3: stop below",
		]);
		expect(texts(box, /<th scope="row">(.*?)<\/th>/g)).toEqual(["factory", "refinish"]);
		const figures = texts(box, /<td>(.*?)<\/td>/g);
		expect(figures).toHaveLength(6);
		for (const figure of figures) expect(figure).toMatch(/^\d+ µm clear$/);
		const [factory, , , refinish] = figures.map((figure) => Number.parseInt(figure, 10));
		expect(refinish).toBe((factory ?? 0) + 10);
		expect(box.match(/<i><\/i>/g)?.length).toBeGreaterThan(4);
	});

	it("gives the total first where the gauge reads the total", () => {
		const html = printed({ film: { known: "total-reading", underUm: { mid: 100, low: 90, high: 110 } } });
		const figures = texts(html, /<td>(.*?clear\))<\/td>/g);
		expect(figures).toHaveLength(3);
		for (const figure of figures) {
			const [, total = 0, clear = 0] = (/^(\d+) µm total \((\d+) µm clear\)$/.exec(figure) ?? []).map(Number);
			expect(total - clear).toBe(110);
		}
	});

	it("shows a start that is not known as not known, never as none", () => {
		const html = printed({ steps: [read("eeeeeeeeee"), { ...sand, work: undefined as never }] });
		expect(plain(html)).toContain(words.en.startUnknown);
		expect(texts(html, /<td>(.*?)<\/td>/g)).toContain(words.en.notKnown);
	});

	it("is held where findings that stop are open, and only there", () => {
		expect(printed({}, { counts: { stop: 2, caution: 0, advice: 0 } })).toContain(
			'<p class="held">NOT FOR USE: 2 findings that stop are open on this procedure.</p>',
		);
		expect(printed({}, { counts: { stop: 1, caution: 0, advice: 0 } })).toContain(
			'<p class="held">NOT FOR USE: a finding that stops is open on this procedure.</p>',
		);
		expect(printed({}, { counts: { stop: 0, caution: 5, advice: 5 } })).not.toContain('class="held"');
	});

	it("has one side where no row has a condition", () => {
		const html = printed({});
		expect(sides(html)).toHaveLength(1);
		expect(html).not.toContain('class="for"');
	});

	it("has a side for each set of situations in which the same rows apply, rows numbered as in the procedure", () => {
		const html = printed({ steps: [sand, compound, finish, wipe] });
		expect(
			sides(html).map((side) => ({
				for: texts(side, /<p class="for">(.*?)<\/p>/g),
				rows: texts(rowsTable(side), /<th scope="row">(.*?)<\/th>/g),
			})),
		).toEqual([
			{ for: ["DARK"], rows: ["1", "2", "3", "4"] },
			{ for: ["LIGHT"], rows: ["1", "2", "4"] },
		]);
	});

	it("names both axes of a side that two conditions make", () => {
		const steps = [sand, { ...compound, when: [{ substrate: ["steel" as const] }] }, finish];
		const html = printed({ scope: { ...procedure.scope, substrates: ["steel", "plastic"] }, steps });
		expect(sides(html).flatMap((side) => texts(side, /<p class="for">(.*?)<\/p>/g))).toContain("STEEL · DARK");
	});

	it("prints the rows of a procedure whose scope is still empty", () => {
		const html = printed({ scope: {}, steps: [sand, finish] });
		expect(texts(rowsTable(html), /<th scope="row">(.*?)<\/th>/g)).toEqual(["1", "2"]);
	});

	it.each<[string, Partial<Procedure>, boolean]>([
		["the same where state and revision change", { state: "draft", revision: 9 }, true],
		["another where a row changes", { steps: [sand] }, false],
	])("carries a code that is %s", (_, change, same) => {
		const codeOf = (html: string) => texts(html, /<p class="code">(.*?)<\/p>/g);
		expect(codeOf(printed({}))).toHaveLength(1);
		expect(codeOf(printed(change))[0] === codeOf(printed({}))[0]).toBe(same);
	});

	it("shrinks the type of a long card, to no less than 9 pt, and not that of a short one", () => {
		const many = (count: number) =>
			Array.from({ length: count }, (_, at) => ({ ...sand, id: "g".repeat(9) + String.fromCharCode(97 + at) }));
		const typeOf = (html: string) => Number(/--type: ([\d.]+)/.exec(html)?.[1]);
		const [few, long, longest] = [4, 16, 26].map((count) => typeOf(printed({ steps: many(count) })));
		expect(few).toBe(1);
		expect(long).toBeLessThan(1);
		expect(longest).toBeLessThanOrEqual(long ?? 0);
		expect((longest ?? 0) * 14).toBeGreaterThanOrEqual(9);
	});

	it("says what the technician is to do where a check fails, in what light, and what must not vary", () => {
		const html = printed({
			steps: [
				sand,
				{
					id: "gggggggggg",
					stage: "inspect",
					check: { en: "No haze" },
					ifNot: { back: sand.id, atMost: 1 },
					light: { en: "Lamp at 50 cm" },
					by: "second-person",
					mustNotVary: ["light"],
				},
			],
		});
		expect(plain(html)).toContain(
			"Check: No haze · If not: back to row 1, at most 1 time · Light: Lamp at 50 cm · Do not change: light",
		);
		expect(plain(html)).toContain("second person");
	});

	it("says that it is not saved, beside the state, where it is not", () => {
		expect(plain(printed({}, { isUnsaved: true }))).toContain("NOT SAVED");
		expect(plain(printed({}))).not.toContain("NOT SAVED");
	});

	it("has the film drawing on a page of its own where wanted, in strips of 22 rows", () => {
		const steps = Array.from(
			{ length: 50 },
			(_, at) => ({ id: `aaaaaaaa${at}`, stage: "wipe", wipe: "wash" }) as const,
		);
		const html = printed({ steps }, { withDrawing: true });
		expect(sides(html)).toHaveLength(2);
		expect(sides(html)[1]?.match(/<svg/g)).toHaveLength(3);
		expect(new Set(html.match(/ id="[^"]+"/g)).size).toBe(html.match(/ id="[^"]+"/g)?.length);
		expect(printed({ steps })).not.toContain("<svg");
	});

	it("carries the cure, the set-up and the usual cautions", () => {
		const html = plain(
			printed({
				cure: { hours: 24, bake: { celsius: 60, minutes: 35, waitHours: 2 } },
				setUp: { extraction: true, panelC: 28 },
				wear: [
					{ item: "respirator", filter: "A2P3" },
					{ item: "hearing", stages: ["compound"] },
				],
			}),
		);
		for (const text of [
			"cured 24 h or baked 35 min at 60 °C, then 2 h · panel at most 28 °C · extraction running",
			"respirator A2P3 · hearing protection (compound)",
			"No loose gloves, cuffs or cords near a rotary",
			"Follow safety data sheets",
			"a gauge reading on the panel decides",
		])
			expect(html).toContain(text);
	});
});

function printed(change: Partial<Procedure>, more: Partial<CardInput> = {}): string {
	return card({
		procedure: { ...procedure, ...change },
		shop: genericShop,
		language: "en",
		today: "2026-06-01",
		counts: { stop: 0, caution: 0, advice: 0 },
		...more,
	});
}

function sides(html: string): string[] {
	return html.match(/<article.*?<\/article>/gs) ?? [];
}

function rowsTable(html: string): string {
	return /<table class="rows">.*?<\/table>/s.exec(html)?.[0] ?? "";
}

function texts(html: string, pattern: RegExp): string[] {
	return [...html.matchAll(pattern)].map(([, inner = ""]) => plain(inner));
}

/** What a reader sees: tags gone, entities read. */
function plain(html: string): string {
	return html
		.replace(/<[^>]*>/g, "")
		.replace(/&#(\d+);/g, (_, code) => String.fromCharCode(Number(code)))
		.replaceAll("\u00a0", " ");
}
