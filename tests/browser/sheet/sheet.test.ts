import { sendKeys, setViewport } from "@web/test-runner-commands";
import { html } from "lit";
import type { Procedure } from "../../../src/model/generated/types.ts";
import "../../../src/workbench/sheet/sheet.ts";
import type { Sheet } from "../../../src/workbench/sheet/sheet.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { firstColumns } from "../../../src/workbench/store/columns.ts";
import {
	all,
	brokenDrafts,
	button,
	clear,
	expect,
	expectAccessible,
	peelPanel,
	saves,
	show,
	shown,
	storeOf,
	textOf,
	until,
	within,
} from "./stage.ts";

const faulty: Procedure = {
	...peelPanel,
	steps: (peelPanel.steps ?? []).map((step) => (step.id === "toazxajwon" ? { ...step, abrasive: "P1700" } : step)),
};

async function showing(store: SheetStore, language = "en"): Promise<Sheet> {
	const sheet = await show<Sheet>(
		html`<gw-sheet .store=${store} .language=${language} .settings=${null}></gw-sheet>`,
		"gw-sheet",
	);
	await until(() => all(within(sheet, "gw-grid"), ".ag-row").length > 0, "rows of the grid");
	await new Promise((resolve) => setTimeout(resolve, 300));
	return sheet;
}

/** The field with the focus, through every shadow root. */
function focused(): Element | null {
	let element = document.activeElement;
	while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
	return element;
}

function titleOf(sheet: Sheet): HTMLTextAreaElement {
	return within<HTMLTextAreaElement>(sheet, "h1 textarea");
}

describe("<gw-sheet>", () => {
	afterEach(async () => {
		clear();
		await setViewport({ width: 1280, height: 800 });
	});

	it("puts everything about a procedure on one page", async () => {
		const sheet = await showing(storeOf(peelPanel));
		expect(titleOf(sheet).value).to.equal("Orange peel or dry spray: dry film discs");
		expect(shown(sheet)).to.contain("peel-panel-discs");
		expect(shown(sheet)).to.contain("Revision 7, 16 February 2026");
		expect(shown(sheet)).to.contain("released");
		expect(textOf(within(sheet, ".saving"))).to.equal("Saved");
		for (const part of [
			"gw-facts",
			"gw-situation",
			"gw-grid",
			"gw-start-readings",
			"gw-findings",
			"gw-film-drawing",
			"gw-row-details",
		])
			expect(within(sheet, part).getBoundingClientRect().height, part).to.be.greaterThan(20);
		await expectAccessible(sheet);
	});

	for (const { width, height, named } of [
		{ width: 1280, height: 800, named: "a desktop" },
		{ width: 1180, height: 820, named: "a tablet on its side" },
		{ width: 820, height: 1180, named: "a tablet upright" },
		{ width: 640, height: 400, named: "a desktop at 200 %" },
	])
		it(`fits ${named} without scrolling sideways`, async () => {
			await setViewport({ width, height });
			const sheet = await showing(storeOf(faulty));
			expect(document.documentElement.scrollWidth).to.be.at.most(width);
			for (const one of all(sheet, ".beside > section")) {
				const { left, right } = one.getBoundingClientRect();
				expect(left).to.be.at.least(0);
				expect(right).to.be.at.most(width);
			}
			for (const one of all<HTMLButtonElement>(sheet, ".tools button"))
				expect(one.getBoundingClientRect().height).to.be.at.least(36);
		});

	it("shows at 1280 px every column first seen beside the film left, and at least eight rows", async () => {
		await setViewport({ width: 1280, height: 800 });
		const sheet = await showing(storeOf(peelPanel));
		const grid = within(sheet, "gw-grid");
		const cell = (row: number, column: string) => {
			const found = grid.shadowRoot?.querySelector(`[row-index="${row}"] [col-id="${column}"]`);
			return (found as Element).getBoundingClientRect();
		};
		await until(() => grid.shadowRoot?.querySelector('[row-index="7"] [col-id="work"]') !== null, "the rows");
		const film = cell(0, "filmLeftUm");
		for (const column of firstColumns) expect(cell(0, column).right, column).to.be.at.most(film.left + 1);
		expect(film.right).to.be.at.most(1280);
		expect(cell(7, "stage").bottom).to.be.at.most(800);
	});

	it("begins in the first cell of the rows, and says what opened", async () => {
		const sheet = await showing(storeOf(peelPanel));
		await sheet.start();
		await until(
			() => (focused()?.closest('[row-index="0"] [col-id="stage"]') ?? null) !== null,
			"the focus in the first cell",
		);
		expect(all(sheet, "[role=status]").map((one) => one.textContent?.trim())).to.contain(peelPanel.title.en);
	});

	it("changes the title in place, as one gesture, and names it on Undo", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		const title = titleOf(sheet);
		title.focus();
		title.select();
		await sendKeys({ type: "Peel, dry" });
		await sendKeys({ press: "Enter" });
		await sheet.updateComplete;
		expect(store.state.procedure.title.en).to.equal("Peel, dry");
		expect(textOf(within(sheet, ".saving"))).to.match(/Not saved yet; kept as a draft/);
		button(sheet, /Undo change of a part/).click();
		await sheet.updateComplete;
		expect(store.state.procedure.title).to.deep.equal(peelPanel.title);
		expect(textOf(within(sheet, ".told"))).to.contain("Undone: change of a part.");
		expect(textOf(button(sheet, /Redo/))).to.equal("Redo change of a part");
		await expectAccessible(sheet);
	});

	it("keeps the title before an empty one, and says so", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		const title = titleOf(sheet);
		title.focus();
		title.select();
		await sendKeys({ press: "Delete" });
		await sendKeys({ press: "Enter" });
		await sheet.updateComplete;
		expect(store.state.procedure.title).to.deep.equal(peelPanel.title);
		expect(title.value).to.equal(peelPanel.title.en);
		expect(textOf(within(sheet, ".told"))).to.match(/needs a title/);
	});

	it("saves with Control+S, the text that is still being typed included", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		const title = titleOf(sheet);
		title.focus();
		title.select();
		await sendKeys({ type: "Typed and saved" });
		await sendKeys({ press: "Control+s" });
		await until(() => store.state.saving.state === "saved", "saved");
		await sheet.updateComplete;
		expect(saves.at(-1)?.title.en).to.equal("Typed and saved");
		expect(textOf(within(sheet, ".told"))).to.match(/Saved\./);
		expect(focused()).to.equal(title);
	});

	it("saves what stands in an open cell, and leaves the focus in the grid", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		const grid = within<HTMLElementTagNameMap["gw-grid"]>(sheet, "gw-grid");
		grid.goTo("toazxajwon", "abrasive");
		await until(() => focused()?.closest(".ag-cell") !== null, "the focus in the cell");
		await sendKeys({ type: "P1200" });
		await sendKeys({ press: "Control+s" });
		await until(() => store.state.saving.state === "saved" && !store.state.changed, "saved");
		expect(saves.at(-1)?.steps?.find(({ id }) => id === "toazxajwon")?.abrasive).to.equal("P1200");
		await until(() => (focused()?.closest(".ag-cell") ?? null) !== null, "the focus back in the cell");
	});

	it("says why it could not save, and that everything is kept", async () => {
		const store = storeOf(peelPanel, {}, { answers: false });
		const sheet = await showing(store);
		store.change([{ op: "setPart", pointer: "/title/en", from: peelPanel.title.en, to: "Other" }], "part");
		await sheet.updateComplete;
		button(sheet, /Save/).click();
		await until(() => store.state.saving.state === "refused", "refused");
		await sheet.updateComplete;
		expect(textOf(within(sheet, ".saving"))).to.match(/server does not answer/);
		await expectAccessible(sheet);
	});

	it("warns on leaving only where the browser keeps no draft", async () => {
		const store = storeOf(peelPanel);
		await showing(store);
		const asks = () => {
			const event = new Event("beforeunload", { cancelable: true });
			globalThis.dispatchEvent(event);
			return event.defaultPrevented;
		};
		const edit = [{ op: "setPart" as const, pointer: "/title/en", from: peelPanel.title.en, to: "Other" }];
		store.change(edit, "part");
		expect(asks()).to.equal(false);
		const undrafted = storeOf(peelPanel, {}, { drafts: brokenDrafts });
		const sheet = await showing(undrafted);
		expect(asks()).to.equal(false);
		undrafted.change(edit, "part");
		await until(() => undrafted.state.notice !== null, "the notice that drafts are not kept");
		await sheet.updateComplete;
		expect(asks()).to.equal(true);
		expect(textOf(within(sheet, ".saving"))).to.match(/save before you leave/);
	});

	it("walks through the findings with Alt+Page Down, to the cell, and says each", async () => {
		const sheet = await showing(storeOf({ ...faulty, wear: [] }));
		await sendKeys({ press: "Alt+PageDown" });
		await until(() => (focused()?.closest(".ag-cell") ?? null) !== null, "the focus in the cell");
		await sheet.updateComplete;
		expect(textOf(within(sheet, ".told"))).to.match(/stop: Row 4, Abrasive: .*P1700/);
		const said = textOf(within(sheet, ".told"));
		await sendKeys({ press: "Alt+PageUp" });
		await sheet.updateComplete;
		expect(textOf(within(sheet, ".told"))).to.not.equal(said);
	});

	it("keeps a title that is being typed, and shows it again after a reload", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		titleOf(sheet).focus();
		titleOf(sheet).select();
		await sendKeys({ type: "Half a ti" });
		expect(store.partTexts).to.deep.equal({ "/title/en": "Half a ti" });
		store.typingPart("/title/en", "Half a ti");
		const reloaded = storeOf(peelPanel);
		reloaded.typingPart("/title/en", "Half a ti");
		const again = await showing(reloaded);
		expect(titleOf(again).value).to.equal("Half a ti");
		button(again, /Save/).click();
		await until(() => reloaded.state.saving.state === "saved", "saved");
		expect(saves.at(-1)?.title.en).to.equal("Half a ti");
		expect(reloaded.partTexts).to.deep.equal({});
	});

	it("gives the focus back to the rows when the last change is undone", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		store.change([{ op: "setPart", pointer: "/title/en", from: peelPanel.title.en, to: "Other" }], "part");
		await sheet.updateComplete;
		button(sheet, /Undo/).focus();
		await sendKeys({ press: "Enter" });
		await until(() => (focused()?.closest(".ag-cell") ?? null) !== null, "the focus in the rows");
	});

	it("tells what was done without moving the page", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		const top = () => within(sheet, "gw-grid").getBoundingClientRect().top;
		const before = top();
		sheet.dispatchEvent(new CustomEvent("gw-tell", { detail: "Something was done." }));
		await sheet.updateComplete;
		expect(within(sheet, ".told").getBoundingClientRect().height).to.be.greaterThan(20);
		expect(top()).to.equal(before);
		await expectAccessible(sheet);
	});

	it("leads from the counts in the bar to the list", async () => {
		const sheet = await showing(storeOf(faulty));
		button(sheet, /1 stop/).click();
		expect(focused()).to.equal(within(within(sheet, "gw-findings"), "h2"));
	});

	it("goes to a part of the procedure that a finding is about", async () => {
		const sheet = await showing(storeOf({ ...peelPanel, wear: [] }));
		await sendKeys({ press: "Alt+PageDown" });
		await until(() => within(sheet, "gw-facts").shadowRoot?.activeElement !== null, "the focus in the facts");
	});

	it("shows its keys on ?, from a cell of the grid too, and closes with Escape", async () => {
		const sheet = await showing(storeOf(peelPanel));
		within<HTMLElementTagNameMap["gw-grid"]>(sheet, "gw-grid").goTo("toazxajwon", "stage");
		await until(() => (focused()?.closest(".ag-cell") ?? null) !== null, "the focus in the cell");
		await sendKeys({ press: "?" });
		const keys = within(sheet, "gw-keys");
		const dialog = within<HTMLDialogElement>(keys, "dialog");
		expect(dialog.open).to.equal(true);
		expect(textOf(dialog)).to.match(/Ctrl\+S/);
		expect(dialog.scrollTop).to.equal(0);
		expect(focused()?.localName).to.equal("h2");
		expect(textOf(dialog)).to.match(/Fill the first row/);
		await expectAccessible(sheet);
		await sendKeys({ press: "Escape" });
		expect(dialog.open).to.equal(false);
		expect(focused()?.closest(".ag-cell") ?? null).to.not.equal(null);
	});

	it("shows what a pasted block becomes, and gives the focus back to the rows", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		const detail = { text: "sand\tP2000\tfirm plate", at: { row: "gpvraddjdu", column: "stage" } };
		within(sheet, "gw-grid").dispatchEvent(new CustomEvent("gw-paste", { detail, bubbles: true, composed: true }));
		await until(() => all(sheet, "gw-mapping-preview").length > 0, "the preview");
		const preview = within(sheet, "gw-mapping-preview");
		await until(() => (preview.shadowRoot?.querySelector("dialog:modal") ?? null) !== null, "the dialog");
		await expectAccessible(sheet);
		await sendKeys({ press: "Escape" });
		await until(() => all(sheet, "gw-mapping-preview").length === 0, "the preview gone");
		expect(focused()?.closest(".ag-cell") ?? null).to.not.equal(null);
		expect(store.state.changed).to.equal(false);
	});

	it("opens the card to print with Control+P, and leaves it with Escape", async () => {
		const sheet = await showing(storeOf(peelPanel));
		await sendKeys({ press: "Control+p" });
		await until(() => all(sheet, "gw-print").length > 0, "the card");
		const print = within(sheet, "gw-print");
		await until(() => (print.shadowRoot?.querySelector("dialog:modal") ?? null) !== null, "the dialog");
		expect((focused() as HTMLInputElement).checked).to.equal(true);
		await sendKeys({ press: "Escape" });
		await until(() => all(sheet, "gw-print").length === 0, "the card gone");
	});

	it("shows what both sides changed, and saves once each is decided", async () => {
		const theirs: Procedure = { ...peelPanel, title: { en: "Theirs" } };
		const store = storeOf(peelPanel, {}, { onDisk: theirs });
		const sheet = await showing(store);
		store.change([{ op: "setPart", pointer: "/title/en", from: peelPanel.title.en, to: "Mine" }], "part");
		await sheet.updateComplete;
		button(sheet, /Save/).click();
		await until(() => store.state.saving.state === "conflict", "the conflict");
		await sheet.updateComplete;
		expect(textOf(within(sheet, ".saving"))).to.match(/somebody else saved meanwhile. 1 to decide/);
		await until(() => shown(within(sheet, "gw-conflicts")) !== "", "the conflicts");
		expect(shown(within(sheet, "gw-conflicts"))).to.contain("Theirs");
		const heading = within(within(sheet, "gw-conflicts"), "h2");
		await until(() => focused() === heading, "the focus on the conflicts");
		within(sheet, "gw-grid").focus();
		button(sheet, /1 to decide/).click();
		await until(() => focused() === heading, "the focus on the conflicts again");
		await expectAccessible(sheet);
		const [conflict] = store.state.conflicts;
		if (conflict !== undefined) store.settle(conflict, "theirs");
		await sheet.updateComplete;
		expect(titleOf(sheet).value).to.equal("Theirs");
	});

	it("leaves ? to a text field", async () => {
		const sheet = await showing(storeOf(peelPanel));
		titleOf(sheet).focus();
		await sendKeys({ press: "?" });
		expect(within<HTMLDialogElement>(within(sheet, "gw-keys"), "dialog").open).to.equal(false);
	});

	it("tells, after a pause, how many findings there are now", async () => {
		const store = storeOf(peelPanel);
		const sheet = await showing(store);
		const grade = peelPanel.steps?.find(({ id }) => id === "toazxajwon")?.abrasive;
		store.change([{ op: "set", row: "toazxajwon", field: "abrasive", from: grade, to: "P1700" }], "type");
		const counted = within(sheet, ":host > p.hidden-text, p.hidden-text[role=status]");
		expect(textOf(counted)).to.equal("");
		await until(() => /1 stop|[1-9] stop/.test(textOf(counted)), "the count");
	});

	it("opens a file that is read only to be read, and says why", async () => {
		const readOnly = [
			{ code: "repeated-key" as const, pointer: "/title", line: 3, column: 2, data: { found: "title" } },
		];
		const sheet = await showing(storeOf(faulty, { readOnly }));
		expect(textOf(within(sheet, ".banner"))).to.match(/Read only/);
		expect(titleOf(sheet).readOnly).to.equal(true);
		expect(button(sheet, /Save/).disabled).to.equal(true);
		await expectAccessible(sheet);
	});

	it("speaks Spanish", async () => {
		const sheet = await showing(storeOf(faulty), "es");
		expect(shown(sheet)).to.contain("Estante");
		await expectAccessible(sheet);
	});

	it("has a way back that is a plain link", async () => {
		const sheet = await showing(storeOf(peelPanel));
		expect(within<HTMLAnchorElement>(sheet, "a.button").pathname).to.equal("/books/quillfeather");
	});
});
