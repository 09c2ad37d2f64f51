import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { canonicalText } from "../../../src/model/canonical.ts";
import { openFile } from "../../../src/model/document.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import { seeded } from "../../made-procedures.ts";
import { blankProcedure, type Naming, namedProcedure, variantOf } from "../../../src/workbench/shelf/new-procedure.ts";

const naming: Naming = {
	id: "nib-quick",
	title: "Dirt nib, quick",
	language: "en",
	writtenBy: "Ines Marlow",
	random: seeded(7),
};
const original = JSON.parse(readFileSync("procedures/quillfeather/nib-spot-blade.procedure.json", "utf8")) as Procedure;

describe("blankProcedure", () => {
	it("is a draft with its defects and empty rows that the schema allows", () => {
		const blank = blankProcedure(naming, ["dirt-nib", "fibre"]);
		expect(blank).toMatchObject({
			id: "nib-quick",
			title: { en: "Dirt nib, quick" },
			state: "draft",
			scope: { defects: [{ defect: "dirt-nib" }, { defect: "fibre" }] },
			writtenBy: "Ines Marlow",
		});
		expect(problemsOf(blank)).toEqual([]);
		expect(new Set(blank.steps?.map(({ id }) => id)).size).toBe(3);
	});

	it("claims nothing that nobody said", () => {
		const blank = blankProcedure({ ...naming, writtenBy: null }, []);
		expect(Object.keys(blank)).toEqual(["format", "id", "title", "state", "steps"]);
	});
});

describe("variantOf", () => {
	const [first, second] = original.steps ?? [];
	const withMore: Procedure = {
		...original,
		exceptions: [{ rule: "grade-jump", step: first?.id ?? "", reason: "tried", by: "Ines Marlow", on: "2026-02-01" }],
		steps: original.steps?.map((step) =>
			step === second ? { ...step, ifNot: { back: first?.id ?? "", atMost: 2 } } : step,
		),
	};
	const variant = variantOf(withMore, naming);

	it("keeps every row under a new id that references follow", () => {
		const plain = ({ steps = [] }: Procedure) => steps.map(({ id, ifNot, ...rest }) => rest);
		expect(plain(variant)).toEqual(plain(withMore));
		const ids = variant.steps?.map(({ id }) => id) ?? [];
		expect(withMore.steps?.some(({ id }) => ids.includes(id))).toBe(false);
		expect(variant.steps?.[1]?.ifNot).toEqual({ back: ids[0], atMost: 2 });
	});

	it("is a draft without revision, review date or accepted findings", () => {
		expect(variant).toMatchObject({ state: "draft", variantOf: "nib-spot-blade", writtenBy: "Ines Marlow" });
		for (const part of ["revision", "revisionDate", "methodChanged", "reviewBy", "chooseWhen", "exceptions"])
			expect(variant).not.toHaveProperty(part);
	});

	it("leaves the original as it was, and is one that the schema allows", () => {
		expect(withMore.steps?.[0]?.id).toBe(first?.id);
		expect(problemsOf(variant)).toEqual([]);
	});

	it("copies what is readable of a file whose rows are no list", () => {
		expect(variantOf({ ...original, steps: "none" } as never, naming).steps).toEqual([]);
	});

	it("keeps what this program does not know", () => {
		expect(variantOf({ ...original, shelfMark: 7 } as Procedure, naming)).toHaveProperty("shelfMark", 7);
	});
});

describe("namedProcedure", () => {
	it("takes the person's name and keeps the sheet's title in the other language", () => {
		const read: Procedure = { format: 1, id: "sheet", title: { es: "Mota" }, state: "released", writtenBy: "Somebody" };
		expect(namedProcedure(read, naming)).toEqual({
			format: 1,
			id: "nib-quick",
			title: { es: "Mota", en: "Dirt nib, quick" },
			state: "draft",
			writtenBy: "Ines Marlow",
		});
	});
});

/** A source of numbers that gives ever other row ids. */
function problemsOf(procedure: Procedure): unknown[] {
	const opened = openFile("procedure", canonicalText("procedure", procedure));
	if ("problem" in opened) return [opened.problem];
	return [...opened.problems, ...opened.readOnly];
}
