import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { type ReadBook, readBook } from "../../src/book/book.ts";
import { judge } from "../../src/rules/judge.ts";
import { forecastReport } from "../../src/check/forecast-report.ts";
import { canonicalText, type FileKind } from "../../src/model/canonical.ts";
import { unknownFields } from "../../src/model/document.ts";
import type { Procedure } from "../../src/model/generated/types.ts";

const home = fileURLToPath(new URL("../../procedures/", import.meta.url));
const shops = readdirSync(home).toSorted();
const today = "2026-11-25";

function bookOf(shop: string): ReadBook {
	const book = readBook(join(home, shop));
	if ("problem" in book) throw new Error(book.problem.message);
	return book;
}

describe.each(shops)("the demo book %s", (shop) => {
	const book = bookOf(shop);

	it("opens whole, without a problem", () => {
		expect(book.problems).toEqual([]);
		for (const { name, file } of [...book.parts, ...book.procedures])
			expect({ name, problems: file.problems, readOnly: file.readOnly }).toEqual({ name, problems: [], readOnly: [] });
	});

	it("is canonical byte for byte, and has no field that the schemas do not know", () => {
		for (const { name, file } of [...book.parts, ...book.procedures]) {
			expect(canonicalText(file.kind as FileKind, file.value), name).toBe(readFileSync(join(home, shop, name), "utf8"));
			expect(unknownFields(file.kind, file.value), name).toEqual([]);
		}
	});

	it("has no finding of level stop or caution that nobody accepted", () => {
		for (const { name, file } of book.procedures) {
			const found = judge({ procedure: file.readable, problems: file.problems, shop: book.shop, today });
			const open = found.filter(({ level, accepted }) => level !== "advice" && accepted === null);
			expect({ name, open: open.map(({ rule, row }) => [rule, row]) }).toEqual({ name, open: [] });
		}
	});

	it("is forecast with figures in every situation: no quantity is unknown for want of something in the book", () => {
		for (const { name, file } of book.procedures) {
			const { unknown } = forecastReport(file.readable, book.shop);
			const notWaiting = unknown.filter(({ why }) => why !== "wait-without-minutes" && why !== "until-flush");
			expect({ name, unknown: notWaiting }).toEqual({ name, unknown: [] });
		}
	});
});

describe("the first demo book", () => {
	const procedures = bookOf("quillfeather").procedures.map(({ file }) => file.readable);
	const some = (claim: (procedure: Procedure) => boolean) => procedures.some(claim);
	const steps = procedures.flatMap((procedure) => procedure.steps ?? []);

	it("has at least eight procedures, each with who wrote it and until when it holds", () => {
		expect(procedures.length).toBeGreaterThanOrEqual(8);
		for (const { id, writtenBy, reviewBy, sources } of procedures) {
			expect({ id, writtenBy: typeof writtenBy }).toEqual({ id, writtenBy: "string" });
			expect(reviewBy !== undefined && reviewBy > today, id).toBe(true);
			expect(sources?.length ?? 0, id).toBeGreaterThan(0);
		}
	});

	it.each([
		["steel", some(({ scope }) => scope?.substrates?.includes("steel") ?? false)],
		["aluminium", some(({ scope }) => scope?.substrates?.includes("aluminium") ?? false)],
		["plastic", some(({ scope }) => scope?.substrates?.includes("plastic") ?? false)],
		["dark colours", some(({ scope }) => scope?.tones?.includes("dark") ?? false)],
		["light colours", some(({ scope }) => scope?.tones?.includes("light") ?? false)],
		["factory clear", some(({ scope }) => scope?.clearCoats?.includes("factory") ?? false)],
		["refinish clear", some(({ scope }) => scope?.clearCoats?.includes("refinish") ?? false)],
		["a whole panel", steps.some(({ place }) => place === "panel")],
		["a spot", steps.some(({ place }) => place === "spot")],
		["hand work", steps.some(({ tool }) => tool === "hand-block")],
		["machine work", steps.some(({ tool }) => tool === "sander-fine-150")],
		["a nib blade", steps.some(({ tool }) => tool === "nib-plane")],
		["rows for some situations only", steps.some(({ when }) => when !== undefined)],
		["a second person who inspects", steps.some(({ by }) => by === "second-person")],
		["an exception with its reason", some(({ exceptions }) => (exceptions?.length ?? 0) > 0)],
		[
			"a variant that says when it is chosen",
			some(({ variantOf, chooseWhen }) => variantOf !== undefined && chooseWhen !== undefined),
		],
	])("covers %s", (_, isCovered) => {
		expect(isCovered).toBe(true);
	});
});
