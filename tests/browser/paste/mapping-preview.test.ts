import { sendKeys } from "@web/test-runner-commands";
import { html } from "lit";
import type { Procedure } from "../../../src/model/generated/types.ts";
import "../../../src/workbench/paste/mapping-preview.ts";
import type { MappingPreview } from "../../../src/workbench/paste/mapping-preview.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import {
	all,
	button,
	clear,
	expect,
	expectAccessible,
	peelPanel,
	shop,
	show,
	shown,
	storeOf,
	textOf,
	until,
	within,
} from "../sheet/stage.ts";

const [firstRow, secondRow] = (peelPanel.steps ?? []).map(({ id }) => id) as [string, string];
const opened = { book: shop.book, stock: shop.stock, limits: { format: 1 } };
const headed = "Stage\tGrade\tWhirl\tPasses\nSand\tP1500\t8000 opm\t3x\nSand\tP15O0\tfast\t4\n";

async function pasting(
	store: SheetStore,
	text: string,
	at: MappingPreview["at"],
	language = "en",
): Promise<MappingPreview> {
	return show<MappingPreview>(
		html`<gw-mapping-preview .store=${store} .text=${text} .at=${at} .language=${language}></gw-mapping-preview>`,
		"gw-mapping-preview",
	);
}

async function mapping(text: string, name = "peel.csv", language = "en"): Promise<MappingPreview> {
	return show<MappingPreview>(
		html`<gw-mapping-preview mode="new" .opened=${opened} .text=${text} .name=${name} .language=${language}></gw-mapping-preview>`,
		"gw-mapping-preview",
	);
}

/** What a column is said to hold. */
async function place(preview: MappingPreview, column: number, value: string): Promise<void> {
	const select = within<HTMLSelectElement>(preview, `select[data-column="${column}"]`);
	select.value = value;
	select.dispatchEvent(new Event("change"));
	await preview.updateComplete;
}

const cells = (preview: MappingPreview) => all(preview, "table:last-of-type").at(-1)?.querySelectorAll("tbody tr");
const rowTexts = (preview: MappingPreview) =>
	[...(cells(preview) ?? [])].map((row) => [...row.querySelectorAll("td")].map(textOf));
const chosen = (preview: MappingPreview) =>
	all<HTMLSelectElement>(preview, "select").map((select) => textOf(select.selectedOptions[0] as Element));
const rowsOf = (store: SheetStore) => store.state.procedure.steps ?? [];

describe("a block pasted into the Sheet", () => {
	afterEach(clear);

	for (const [state, text, at, language] of [
		["a header", headed, { row: firstRow, column: "stage" }, "en"],
		["no header", "P1500\tfirm plate\nP2000\tfirm plate\n", { row: firstRow, column: "abrasive" }, "en"],
		["lines around the table", `Film: 45 µm\nCure: 24 h\n${headed}`, null, "es"],
		["nothing in it", "  ", { row: firstRow, column: "stage" }, "en"],
	] as const)
		it(`is accessible with ${state}`, async () => {
			const preview = await pasting(storeOf(peelPanel), text, at, language);
			expect(within<HTMLDialogElement>(preview, "dialog").open).to.equal(true);
			await expectAccessible(preview);
		});

	it("shows what each column became, the rows as read, and what could not be read", async () => {
		const preview = await pasting(storeOf(peelPanel), headed, { row: firstRow, column: "stage" });
		expect(chosen(preview)).to.deep.equal([
			"Stage (as found)",
			"Abrasive (as found)",
			"nothing; its texts go to the notes of the rows (as found)",
			"Work (as found)",
		]);
		expect(rowTexts(preview)).to.deep.equal([
			["sand", "P1500", "3 passes", "Whirl: 8000 opm"],
			["sand", "P15O0 as typed", "4 passes", "Whirl: fast"],
		]);
		expect(shown(preview)).to.contain("Row 2, Grade: “P15O0”");
		expect(textOf(within(preview, "#summary"))).to.equal(
			"2 rows were read. 1 text could not be read in full; nothing of it is lost.",
		);
	});

	it("reads a column again as the person places it, or leaves it out", async () => {
		const preview = await pasting(storeOf(peelPanel), headed, { row: firstRow, column: "stage" });
		await place(preview, 2, "speed");
		expect(rowTexts(preview)[0]).to.deep.equal(["sand", "P1500", "8000 opm", "3 passes"]);
		await place(preview, 3, "out");
		expect(rowTexts(preview)[0]).to.deep.equal(["sand", "P1500", "8000 opm"]);
		await place(preview, 3, "");
		expect(rowTexts(preview)[0]).to.deep.equal(["sand", "P1500", "8000 opm", "3 passes"]);
	});

	it("overwrites from the cell with the focus on, as one change", async () => {
		const store = storeOf(peelPanel);
		const before = rowsOf(store);
		const preview = await pasting(store, "P800\nP1000\n", { row: firstRow, column: "abrasive" });
		let closed = 0;
		preview.addEventListener("gw-closed", () => (closed += 1));
		button(preview, /Paste 2 rows/).click();
		await until(() => closed === 1, "gw-closed");
		expect(rowsOf(store).length).to.equal(before.length);
		expect(
			rowsOf(store)
				.slice(0, 2)
				.map(({ id, abrasive }) => [id, abrasive]),
		).to.deep.equal([
			[firstRow, "P800"],
			[secondRow, "P1000"],
		]);
		expect(store.state.undo).to.equal("paste");
		expect(store.state.selection).to.deep.equal({
			anchor: { row: firstRow, column: "abrasive" },
			head: { row: secondRow, column: "abrasive" },
		});
		store.undo();
		expect(rowsOf(store)).to.deep.equal(before);
	});

	it("inserts as new rows where the person says so, by keyboard", async () => {
		const store = storeOf(peelPanel);
		const count = rowsOf(store).length;
		const preview = await pasting(store, "P800\nP1000\n", { row: firstRow, column: "abrasive" });
		expect(preview.shadowRoot?.activeElement).to.equal(within(preview, "button.main"));
		within<HTMLInputElement>(preview, 'input[value="over"]').focus();
		await sendKeys({ press: "ArrowDown" });
		await preview.updateComplete;
		within(preview, "button.main").focus();
		await sendKeys({ press: "Enter" });
		await until(() => rowsOf(store).length === count + 2, "two more rows");
		expect(
			rowsOf(store)
				.slice(0, 4)
				.map(({ abrasive }) => abrasive),
		).to.deep.equal([peelPanel.steps?.[0]?.abrasive, "P800", "P1000", peelPanel.steps?.[1]?.abrasive]);
	});

	it("goes to the end where no row had the focus, and takes the parts the procedure has nothing of", async () => {
		const { film: _, ...bare } = peelPanel as Procedure;
		const store = storeOf(bare as Procedure);
		const preview = await pasting(store, `Film: 45 µm\nCure: 24 h\n${headed}`, null);
		expect(shown(preview))
			.to.contain("They become new rows at the end.")
			.and.to.contain("This procedure keeps its own: Cure.");
		expect(textOf(within(preview, "dl"))).to.contain("Clear assumed (µm)45");
		button(preview, /Paste 2 rows/).click();
		expect(store.state.procedure.film?.assumed?.factory?.mid).to.equal(45);
		expect(store.state.procedure.cure).to.deep.equal(peelPanel.cure);
	});

	it("leaves everything as it was when it is left by Escape", async () => {
		const store = storeOf(peelPanel);
		const preview = await pasting(store, headed, { row: firstRow, column: "stage" });
		let closed = 0;
		preview.addEventListener("gw-closed", () => (closed += 1));
		await sendKeys({ press: "Escape" });
		await until(() => closed === 1, "gw-closed");
		expect(store.state.procedure).to.equal(peelPanel);
	});

	it("gives the focus back", async () => {
		const before = document.createElement("button");
		document.body.append(before);
		before.focus();
		const preview = await pasting(storeOf(peelPanel), headed, { row: firstRow, column: "stage" });
		button(preview, /Cancel/).click();
		await until(() => document.activeElement === before, "the focus");
		before.remove();
	});

	it("reads the first line as the person says", async () => {
		const preview = await pasting(storeOf(peelPanel), "Stage\tGrade\nSand\tP1500\n", {
			row: firstRow,
			column: "stage",
		});
		expect(textOf(within(preview, "#summary"))).to.contain("1 row was read");
		within<HTMLInputElement>(preview, "#has-header").click();
		await preview.updateComplete;
		expect(textOf(within(preview, "#summary"))).to.contain("2 rows were read");
	});

	it("says what to do where the text is no table", async () => {
		const preview = await pasting(storeOf(peelPanel), "PK\u0003\u0004zip", { row: firstRow, column: "stage" });
		expect(shown(preview)).to.contain("copy, and paste here again");
		expect(all(preview, "button").map(textOf)).to.deep.equal(["Cancel"]);
	});

	it("keeps quick and says what has no room with more rows than a procedure holds", async () => {
		const store = storeOf(peelPanel);
		const text = "Sand\tP1500 film\tfirm plate\tdamp\tDA\t8000\t3x\n".repeat(502);
		const preview = await pasting(store, text, null);
		expect(shown(preview)).to.contain("The rows as read: the first 8 of 500");
		expect(shown(preview)).to.match(/502/);
		expect(textOf(within(preview, ".wrong"))).to.contain(`the last ${(peelPanel.steps ?? []).length} of these`);
		button(preview, /Paste/).click();
		expect(rowsOf(store).length).to.equal(500);
	});
});

describe("a sheet for a new procedure", () => {
	afterEach(clear);

	it("is accessible, in its own words, and stands inside what it is put in", async () => {
		for (const language of ["en", "es"]) {
			const preview = await mapping(headed, "peel.csv", language);
			expect(preview.shadowRoot?.querySelector("dialog")).to.equal(null);
			await expectAccessible(preview);
		}
	});

	it("hands over the procedure and how some of it was taken", async () => {
		const preview = await mapping("Title: Peel\nFilm: 45 µm\nStage\tGrade\tTool\nCut\tP1500\tDA\n");
		let detail: { procedure: Procedure; notes: readonly string[] } | null = null;
		preview.addEventListener("gw-mapped", (event) => (detail = (event as CustomEvent).detail));
		await place(preview, 2, "out");
		button(preview, /Start with this row/).click();
		const { procedure, notes } = detail as unknown as { procedure: Procedure; notes: readonly string[] };
		expect(procedure.title).to.deep.equal({ en: "Peel" });
		expect(procedure.steps?.map(({ stage, abrasive, tool }) => [stage, abrasive, tool])).to.deep.equal([
			["sand", "P1500", undefined],
		]);
		expect(notes.join()).to.contain("Cut");
	});

	it("says what to do where the text is no sheet", async () => {
		const preview = await mapping("Dear colleague,\nwe met on Monday.\n");
		expect(shown(preview)).to.contain("Nothing was written");
		await expectAccessible(preview);
	});

	it("keeps the buttons of the dialog around it in one row with its own, in sight", async () => {
		const preview = await mapping(headed);
		const cancel = document.createElement("button");
		cancel.slot = "buttons";
		cancel.textContent = "Cancel";
		preview.append(cancel);
		const { top, bottom } = within(preview, "button.main").getBoundingClientRect();
		expect(cancel.getBoundingClientRect().top).to.be.closeTo(top, 3);
		expect(cancel.getBoundingClientRect().bottom).to.be.closeTo(bottom, 3);
		expect(getComputedStyle(within(preview, ".buttons")).position).to.equal("sticky");
		await expectAccessible(preview);
	});
});
