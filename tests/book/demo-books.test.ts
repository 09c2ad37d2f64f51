import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { findBooks, type ReadBook, readBook } from "../../src/book/book.ts";
import { checkFile, countFindings } from "../../src/check/check.ts";
import { forecastReport } from "../../src/check/forecast-report.ts";
import { canonicalText } from "../../src/model/canonical.ts";
import { unknownFields } from "../../src/model/unknown-fields.ts";
import type { Procedure, Step } from "../../src/model/generated/types.ts";
import { resolveRows } from "../../src/model/resolve.ts";
import { situationsOf } from "../../src/model/situations.ts";

/** The day on which the demo books are judged here, whatever day it is. */
const today = "2026-11-25";

const home = fileURLToPath(new URL("../../procedures", import.meta.url));
const books = foldersOf(home).map(opened);
const quillfeather = named("quillfeather");
const brackenfold = named("brackenfold");

describe("the demo books", () => {
	it("are two", () => {
		expect(books.map(({ shop }) => shop.book.id)).toEqual(["brackenfold", "quillfeather"]);
	});

	const files = books.flatMap((book) => [...book.parts, ...book.procedures].map((one) => ({ book, ...one })));

	it.each(files)("$book.shop.book.id: $name is canonical, valid and free of unknown fields", ({ book, name, file }) => {
		expect(canonicalText(file.kind, file.value)).toBe(readFileSync(join(book.folder, name), "utf8"));
		expect(file.problems).toEqual([]);
		expect(file.readOnly).toEqual([]);
		expect(unknownFields(file.kind, file.value)).toEqual([]);
	});

	it.each(books)("$shop.book.id: opens without a problem", ({ problems }) => {
		expect(problems).toEqual([]);
	});

	const procedures = books.flatMap((book) =>
		proceduresOf(book).map((procedure) => ({ id: procedure.id, book, procedure })),
	);

	it.each(procedures)("$id: no row is incomplete or names what is not stocked", ({ book, procedure }) => {
		const rows = resolveRows(procedure, book.shop);
		expect(rows.filter(({ kind, unknownRefs }) => kind === "incomplete" || unknownRefs.length > 0)).toEqual([]);
	});

	it.each(procedures)(
		"$id: the forecast says what may be started on, and scratches are known",
		({ book, procedure }) => {
			const { start, totals, unknown } = forecastReport(procedure, book.shop);
			// How long a blade takes until flush only a clock can tell.
			expect(unknown.filter(({ why }) => why !== "until-flush")).toEqual([]);
			expect(start.map(({ clearCoat }) => clearCoat)).toEqual(procedure.scope?.clearCoats);
			for (const { clearCoat, clearAtLeastUm } of start) {
				const assumed = procedure.film?.assumed?.[clearCoat ?? "factory"] ?? limitOf(book, "assumedClearUm", clearCoat);
				expect(clearAtLeastUm, `${clearCoat} can be started on a usual car`).toBeLessThan(assumed.high);
				expect(clearAtLeastUm).toBeGreaterThan(book.shop.limits.leastLeftUm[clearCoat ?? "factory"] ?? 0);
			}
			expect(totals.filmLeftUm?.mid).toBeGreaterThan(30);
			expect(totals.scratchUm?.mid).toBeLessThan(0.5);
		},
	);

	it.each(procedures)("$id: nothing stops or cautions that nobody has accepted", ({ book, procedure }) => {
		const { findings } = check(book, procedure);
		const { stop, caution } = countFindings([{ findings }]);
		expect({ stop, caution }, findings.map(({ rule, message }) => `${rule}: ${message}`).join("\n")).toEqual({
			stop: 0,
			caution: 0,
		});
	});
});

describe("Quillfeather", () => {
	const checks = proceduresOf(quillfeather).map((procedure) => check(quillfeather, procedure));

	it("holds at least eight procedures", () => {
		expect(checks.length).toBeGreaterThanOrEqual(8);
	});

	it("has findings that were accepted, one of them a stop", () => {
		const accepted = checks.flatMap(({ findings }) => findings.filter((one) => one.accepted !== null));
		expect(accepted.map(({ rule, level }) => ({ rule, level }))).toEqual([
			{ rule: "taken-off-too-much", level: "caution" },
			{ rule: "scratch-left-behind", level: "stop" },
		]);
	});

	const exceptions = proceduresOf(quillfeather).flatMap(({ id, exceptions: list = [] }) =>
		list.map((exception) => ({ id, ...exception })),
	);

	it.each(exceptions)("$id: the exception to $rule has not expired and says what it rests on", (exception) => {
		expect(exception.until).toBeDefined();
		expect((exception.until ?? "") >= today).toBe(true);
		expect(exception.reason.length).toBeGreaterThan(40);
		expect(Object.keys(exception.restedOn ?? {})).not.toEqual([]);
		expect(exception.situations).not.toEqual([]);
		expect(quillfeather.shop.book.people).toContainEqual({ name: exception.by, signs: true });
	});

	it.each(proceduresOf(quillfeather))("$id: is filled in as a shop would", (procedure) => {
		const { title, purpose, startWhen, giveUpWhen, wear, setUp, sources, writtenBy, reviewBy, revisionDate } =
			procedure;
		for (const text of [title, purpose]) expect(Object.keys(text ?? {})).toEqual(["en", "es"]);
		expect(startWhen).not.toHaveLength(0);
		expect(giveUpWhen).not.toHaveLength(0);
		expect(wear?.find(({ item }) => item === "respirator")?.filter).toBeDefined();
		expect(setUp?.panelC).toBeDefined();
		expect(sources).not.toHaveLength(0);
		expect(quillfeather.shop.book.people?.map(({ name }) => name)).toContain(writtenBy);
		expect((reviewBy ?? "") > today && (revisionDate ?? "9") < today).toBe(true);
	});

	it("names each sheet in the revision that is in stock", () => {
		const sheets = Object.values(quillfeather.shop.stock)
			.filter(Array.isArray)
			.flatMap((items: { sheet?: object }[]) => items.flatMap(({ sheet }) => sheet ?? []));
		for (const { sources = [] } of proceduresOf(quillfeather))
			for (const { item: _, ...source } of sources) expect(sheets).toContainEqual(source);
	});

	const situations = proceduresOf(quillfeather).flatMap(({ scope }) => situationsOf(scope));

	it.each([
		"dirt-nib",
		"fibre",
		"run",
		"orange-peel",
		"dry-spray",
		"fallout",
		"sand-scratch",
		"pigtail",
		"scuff",
		"water-spot",
		"etch",
		"swirl",
		"buffer-trail",
		"haze",
		"dull",
		"tape-line",
	])("takes out the defect %s", (defect) => {
		expect(situations.some((one) => one.defect === defect)).toBe(true);
	});

	it.each([
		["substrate", "steel"],
		["substrate", "aluminium"],
		["substrate", "plastic"],
		["tone", "light"],
		["tone", "mid"],
		["tone", "dark"],
		["clearCoat", "factory"],
		["clearCoat", "refinish"],
	] as const)("serves the %s %s", (axis, value) => {
		expect(situations.some((one) => one[axis] === value)).toBe(true);
	});

	const isCut = ({ stage }: Step) => ["level", "sand", "refine", "compound", "polish", "finish"].includes(stage ?? "");
	const claims: [string, (procedure: Procedure) => boolean | undefined][] = [
		["works the whole panel", ({ steps }) => steps?.filter(isCut).every(({ place }) => place === "panel")],
		["works a section", ({ steps }) => steps?.filter(isCut).every(({ place }) => place === "section")],
		["works a spot", ({ steps }) => steps?.some((step) => isCut(step) && step.place === "spot")],
		["cuts by hand alone", ({ steps }) => rowsOf(steps).every(({ driven }) => !driven)],
		["cuts by machine alone", ({ steps }) => rowsOf(steps).every(({ driven }) => driven)],
		[
			"sands dry with film discs",
			({ steps }) => steps?.some((one) => one.abrasive?.startsWith("film-") && one.wetness === "dry"),
		],
		[
			"sands wet by hand on a block",
			({ steps }) => steps?.some((one) => one.tool === "hand-block" && one.wetness === "wet"),
		],
		[
			"takes a blade, then sands",
			({ steps = [] }) => steps.some((one, at) => one.tool === "nib-plane" && steps[at + 1]?.stage === "sand"),
		],
		["polishes in one step", ({ steps }) => steps?.filter(isCut).length === 1],
		[
			"polishes in three steps on dark",
			({ steps, scope }) => steps?.filter(isCut).length === 3 && scope?.tones?.every((tone) => tone.startsWith("dark")),
		],
		[
			"has rows for dark colours only",
			({ steps }) => steps?.some(({ when }) => when?.some(({ tone }) => tone?.join() === "dark")),
		],
		["begins with clay", ({ steps }) => steps?.some(({ tool }) => tool === "clay-bar")],
		[
			"varies another and says when to choose it",
			({ variantOf, chooseWhen }) => variantOf !== undefined && chooseWhen !== undefined,
		],
		[
			"reads the clear on plastic by ultrasound",
			({ steps, scope }) => scope?.substrates?.includes("plastic") && steps?.some(({ tool }) => tool === "gauge-sound"),
		],
		[
			"reads the total on steel and knows what lies under",
			({ film }) => film?.known === "total-reading" && film.underUm !== undefined,
		],
		["asks for a cure", ({ cure }) => cure?.hours !== undefined],
		[
			"has a second person inspect",
			({ steps }) => steps?.some(({ by, light }) => by === "second-person" && light !== undefined),
		],
		["goes back a row when a check fails", ({ steps }) => steps?.some(({ ifNot }) => ifNot?.back !== undefined)],
	];

	it.each(claims)("has a procedure that %s", (_, holds) => {
		expect(proceduresOf(quillfeather).some(holds)).toBe(true);
	});

	function rowsOf(steps: Step[] | undefined) {
		return resolveRows({ steps: steps ?? [] }, quillfeather.shop).flatMap((row) =>
			row.kind === "abrasive" || row.kind === "liquid" ? [row.tool] : [],
		);
	}
});

describe("Brackenfold", () => {
	it("is a small book in Spanish and mils", () => {
		expect(brackenfold.shop.book).toMatchObject({ language: "es", units: "mil" });
		expect(brackenfold.procedures.length).toBeGreaterThanOrEqual(3);
	});
});

function foldersOf(folder: string): string[] {
	const found = findBooks(folder);
	if ("problem" in found) throw new Error(`${folder} could not be listed: ${found.problem.code}`);
	return found.books;
}

function opened(folder: string): ReadBook {
	const read = readBook(folder);
	if ("problem" in read) throw new Error(`${folder} did not open: ${read.problem.code}`);
	return read;
}

function named(id: string): ReadBook {
	const found = books.find(({ shop }) => shop.book.id === id);
	if (found === undefined) throw new Error(`no demo book is called ${id}`);
	return found;
}

function proceduresOf({ procedures }: ReadBook): Procedure[] {
	return procedures.map(({ file }) => file.readable);
}

function check({ shop }: ReadBook, procedure: Procedure) {
	const file = { procedure, problems: [], shop, today };
	return checkFile(`${procedure.id}.procedure.json`, file, "en", () => null);
}

function limitOf({ shop }: ReadBook, key: "assumedClearUm", clearCoat: string | null): { high: number } {
	const found = shop.limits[key][(clearCoat ?? "factory") as "factory"];
	if (found === undefined || found === null) throw new Error(`the house assumes no clear on ${clearCoat}`);
	return found;
}
