import { describe, expect, it } from "vitest";
import { forecastReport } from "../../src/check/forecast-report.ts";
import type { Procedure, Step } from "../../src/model/generated/types.ts";
import { genericShop, type Shop } from "../../src/model/shop.ts";
import { type FilmDrawingInput, filmDrawing } from "../../src/print/film-drawing.ts";
import { liquid, rotary, sand, wash } from "../../src/rules/example-rows.ts";

const nib: Procedure["scope"] = { defects: [{ defect: "dirt-nib" }], clearCoats: ["factory"], tones: ["dark"] };
const scratch: Procedure["scope"] = { ...nib, defects: [{ defect: "sand-scratch" }], clearCoats: ["refinish"] };
const rows = [wash, sand("P1500"), sand("P3000"), rotary("heavy-cut", "wool-twisted"), liquid("fine", "foam-soft")];
const unfinished = [sand("P1500"), { ...sand("P2000"), work: undefined }, liquid("fine", "foam-soft")];

describe("the film drawing, made to be looked at", () => {
	it.each<[string, Partial<Procedure>, Partial<FilmDrawingInput>]>([
		["nib-on-factory", { scope: nib, steps: steps(rows) }, {}],
		["scratch-in-mil-spanish", { scope: scratch, steps: steps(rows) }, { language: "es", shop: inMilShop() }],
		["unknown-from-row-2", { scope: nib, steps: steps(unfinished) }, {}],
		["no-assumed-clear", { scope: { ...nib, clearCoats: ["matt"] }, steps: steps(rows) }, {}],
	])("%s", async (name, change, more) => {
		await expect(drawn(change, more)).toMatchFileSnapshot(`drawings/${name}.svg`);
	});
});

describe("the film drawing", () => {
	it("steps down, never up, in the situation that leaves least", () => {
		const clearCoats: ("factory" | "refinish" | "refinish-fast")[] = ["factory", "refinish", "refinish-fast"];
		const svg = drawn({ scope: { ...nib, clearCoats }, steps: steps(rows) });
		const heights = [
			...(/<path d="(M34 [^"]*)" fill="none" stroke="currentColor" stroke-width="2.5"/.exec(svg)?.[1] ?? "").matchAll(
				/(?:M34 |V)([\d.]+)/g,
			),
		].map(([, y]) => Number(y));
		expect(heights.length).toBeGreaterThan(3);
		expect(heights).toEqual(heights.toSorted((one, other) => one - other));
		expect(words(svg)).toContain("Clear left, µm · factory");
	});

	it("labels both limits and the scale of the scratches", () => {
		const said = words(drawn({ scope: nib, steps: steps(rows) }));
		expect(said).toContain("least left 30 µm");
		expect(said).toContain("most taken 8 µm");
		expect(said).toContain("dirt nib: 20 µm–60 µm high");
		expect(said).toMatch(/Deepest scratch, µm, drawn × \d+/);
	});

	it("never draws as fine what is not known", () => {
		const svg = drawn({ scope: nib, steps: steps(unfinished) });
		const hatched = svg.match(/<g class="unknown">.*?<\/g>/gs) ?? [];
		expect(hatched).toHaveLength(2);
		for (const one of hatched) expect(words(one)).toContain("not known");
		expect(words(svg)).toContain("How much clear is left after the last row is not known.");
		expect(svg).not.toContain("NaN");
	});

	it("draws no scale where nothing is known, and says what would tell", () => {
		const svg = drawn({
			steps: steps([{ stage: "sand" }, { stage: "polish" }]),
		});
		expect(svg).not.toMatch(/text-anchor="end"/);
		expect(words(svg).toLowerCase()).toContain("name the clear coat");
		expect(words(svg).toLowerCase()).toContain("fill in the row");
		expect(svg).not.toMatch(/<rect [^>]*fill="currentColor"/);
	});

	it("keeps to its width however many rows there are, and numbers those that have room", () => {
		const many = steps(Array.from({ length: 26 }, () => sand("P2000")));
		const svg = drawn({ scope: nib, steps: many }, { width: 280 });
		expect(svg).toContain('viewBox="0 0 280 ');
		expect(svg.match(/data-row=/g)).toHaveLength(26);
		const numbers = [...svg.matchAll(/visibility="visible">(\d+)</g)].map(([, number]) => Number(number));
		expect(numbers).toEqual([5, 10, 15, 20, 25]);
	});

	it("says in its description what it shows, where the worst lies, and that it is an estimate", () => {
		const description = /<desc[^>]*>(.*?)<\/desc>/s.exec(drawn({ scope: nib, steps: steps(rows) }))?.[1] ?? "";
		expect(description).toMatch(/^The clear goes from \d+ µm \(.* to .*\) at the start to /);
		expect(description).toContain("Worst case over the situations.");
		expect(description).toContain("An estimate: a gauge reading on the panel decides.");
	});

	it("gives every row its id and number", () => {
		const svg = drawn({ scope: nib, steps: steps(rows) });
		expect([...svg.matchAll(/data-row="(\w+)"/g)].map(([, id]) => id)).toEqual(rows.map((_, at) => idOf(at)));
		expect([...svg.matchAll(/visibility="visible">(\d+)</g)].map(([, row]) => Number(row))).toEqual(
			rows.map((_, at) => at + 1),
		);
	});

	it("gives nothing an id that a procedure's id could break", () => {
		const svg = drawn({ id: "a b", scope: nib, steps: steps(rows) });
		const ids = [...svg.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
		expect(ids).not.toHaveLength(0);
		for (const id of ids) expect(id).toMatch(/^\S+$/);
	});

	it("draws the same film whether the report holds it or it is forecast again", () => {
		const clearCoats: ("factory" | "refinish")[] = ["factory", "refinish"];
		const procedure = {
			format: 1,
			id: "drawn",
			title: {},
			scope: { ...nib, clearCoats },
			steps: steps(rows),
		} as Procedure;
		const all = forecastReport(procedure, genericShop);
		const again = all.rows.map((row) => ({
			...row,
			filmLeftUm: row.filmLeftUm && { ...row.filmLeftUm, situation: {} },
		}));
		const of = (report: typeof all) =>
			/<g class="film">(.*?)<g class="scratches">/s.exec(
				filmDrawing({ report, procedure, shop: genericShop, language: "en" }),
			)?.[1];
		expect(all.totals.filmLeftUm?.situation).not.toEqual({});
		expect(of(all)).toContain("<path");
		expect(of({ ...all, rows: again })).toBe(of(all));
	});

	it("takes a shop's own words for text, not for markup", () => {
		const shop: Shop = {
			...genericShop,
			book: {
				...genericShop.book,
				defects: [
					{
						id: "own",
						name: { en: "<script>x</script>" },
						position: "recessed",
						polishable: true,
						um: { mid: 2, low: 1, high: 4 },
					},
				] as never,
			},
		};
		const svg = drawn({ scope: { ...nib, defects: [{ defect: "own" }] }, steps: steps(rows) }, { shop });
		expect(svg).not.toContain("<script");
		expect(words(svg)).toContain("<script>x</script>: 1 µm–4 µm deep");
	});

	it("stands without rows, scope or any figure", () => {
		for (const change of [{}, { steps: [] }, { scope: nib, steps: [] }, { steps: steps([{}, {}]) }])
			expect(drawn(change)).not.toMatch(/NaN|Infinity|undefined/);
	});

	it("draws a part of the rows from the film that the row before left", () => {
		const part = drawn({ scope: nib, steps: steps(rows) }, { part: { from: 2, end: 5 } });
		expect([...part.matchAll(/data-row="(\w+)"/g)].map(([, id]) => id)).toEqual([idOf(2), idOf(3), idOf(4)]);
		expect(part).not.toContain('class="defect"');
	});
});

function drawn(change: Partial<Procedure>, more: Partial<FilmDrawingInput> = {}): string {
	const procedure: Procedure = { format: 1, id: "drawn", title: { en: "Drawn" }, ...change };
	const { shop = genericShop } = more;
	return filmDrawing({ report: forecastReport(procedure, shop), procedure, shop, language: "en", ...more });
}

function inMilShop(): Shop {
	return { ...genericShop, book: { ...genericShop.book, units: "mil" } };
}

function steps(some: readonly Partial<Step>[]): Step[] {
	return some.map((step, at) => ({ ...step, id: idOf(at) }));
}

function idOf(at: number): string {
	return String.fromCharCode(97 + at).repeat(10);
}

/** What a reader reads, entities read. */
function words(svg: string): string {
	return svg
		.replace(/<[^>]*>/g, " ")
		.replace(/&#(\d+);/g, (_, code: string) => String.fromCharCode(Number(code)))
		.replace(/\s+/g, " ");
}
