import { describe, expect, it } from "vitest";
import type { Procedure } from "../../src/model/generated/types.ts";
import { genericShop } from "../../src/model/shop.ts";
import type { Language } from "../../src/model/units.ts";
import { card } from "../../src/print/card.ts";
import { exampleProcedure } from "../../src/rules/example.ts";
import { alcoholWipe, liquid, reading, sand, wash } from "../../src/rules/example-rows.ts";

const procedure = exampleProcedure({
	title: "Peel on a door",
	steps: [wash, reading, sand("P1500"), sand("P2000"), liquid("medium-cut", "foam-medium"), alcoholWipe],
});

function printed(one: Procedure = procedure, language: Language = "en", stop = 0): string {
	return card({
		procedure: one,
		shop: genericShop,
		language,
		today: "2026-03-02",
		counts: { stop, caution: 0, advice: 0 },
	});
}

/** What a reader sees, without markup. */
function words(html: string): string {
	return html
		.replace(/<style>[\s\S]*?<\/style>/, "")
		.replace(/<[^>]+>/g, " ")
		.replace(/&#(\d+);/g, (_, code: string) => String.fromCharCode(Number(code)))
		.replace(/\s+/g, " ");
}

describe("the bench card", () => {
	it("says title, rows, grades, cautions and that a reading decides", () => {
		const text = words(printed());
		for (const said of ["Peel on a door", "P1500", "P2000", "3 passes", "medium foam", "alcohol wipe"])
			expect(text).toContain(said);
		expect(text).toMatch(/respirator/i);
		expect(text).toMatch(/safety data sheet/i);
		expect(text).toMatch(/estimates: a gauge reading on the panel decides/i);
	});

	it("boxes the least reading to start with and the reading to stop at, with blanks for the car's own", () => {
		const text = words(printed());
		expect(text).toMatch(/\d+ µm/);
		expect(text).toMatch(/row 2/i);
		expect(text).toMatch(/this car before/i);
	});

	it("says that the least reading is not known where it is not", () => {
		const unsaid: Procedure = { ...procedure, scope: { ...procedure.scope, clearCoats: [] } };
		expect(words(printed(unsaid))).toMatch(/not known/i);
	});

	it("is not for use while a finding that stops is open", () => {
		expect(words(printed(procedure, "en", 2))).toMatch(/NOT FOR USE/);
		expect(words(printed())).not.toMatch(/NOT FOR USE/);
	});

	it("speaks Spanish", () => {
		const text = words(printed(procedure, "es"));
		expect(text).toMatch(/ficha de datos de seguridad/);
		expect(text).not.toMatch(/Check:|Start only|undefined/);
	});

	it("prints what was typed as text, never as markup", () => {
		const html = printed({ ...procedure, title: { en: `<script>alert("x")</script> & 'more'` } });
		expect(html).not.toContain("<script>");
		expect(words(html)).toContain(`<script>alert("x")</script> & 'more'`);
	});

	it("has a side for each set of rows where rows hold in some situations only", () => {
		const split = exampleProcedure({
			title: "Finest on dark",
			steps: [liquid("fine", "foam-medium"), liquid("finest", "foam-soft", { when: [{ tone: ["dark"] }] })],
			procedure: { scope: { ...procedure.scope, tones: ["dark", "light"] } },
		});
		const html = printed(split);
		const sides = html.split("<article").slice(1);
		expect(sides).toHaveLength(2);
		expect(sides.filter((side) => words(side).includes("finest"))).toHaveLength(1);
		expect(words(html)).toMatch(/DARK/);
		expect(words(html)).toMatch(/LIGHT/);
	});

	it("shows a row that could not be read as it was typed", () => {
		const unread: Procedure = {
			...procedure,
			steps: [{ id: "aaaaaaaaaa", stage: "sand", asTyped: { abrasive: "the red one" } }],
		};
		expect(words(printed(unread))).toContain("the red one");
	});
});
