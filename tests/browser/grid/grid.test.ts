import { emulateMedia, resetMouse, sendKeys, sendMouse, setViewport } from "@web/test-runner-commands";
import { ModuleRegistry, ValidationModule } from "ag-grid-community";
import { html } from "lit";
import factory from "../../../procedures/quillfeather/peel-panel-factory.procedure.json" with { type: "json" };
import type { Procedure, Step } from "../../../src/model/generated/types.ts";
import { Grid } from "../../../src/workbench/grid/grid.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import type { SheetState } from "../../../src/workbench/store/state.ts";
import {
	all,
	button,
	clear,
	etchSection,
	expect,
	expectAccessible,
	peelPanel,
	show,
	storeOf,
	textOf,
	until,
	within,
} from "../sheet/stage.ts";

ModuleRegistry.registerModules([ValidationModule]);

const blank = { format: 1, id: "blank", title: { en: "Blank" }, steps: [] } as unknown as Procedure;

function procedureOf(...steps: Partial<Step>[]): Procedure {
	return {
		...blank,
		scope: { defects: [{ defect: "orange-peel" }], clearCoats: ["factory"], tones: ["dark"] },
		steps: steps.map((step, at) => ({ id: "abcdefghij".replace("a", String.fromCharCode(97 + at)), ...step })),
	} as unknown as Procedure;
}

const [rowA, rowB, rowC] = ["abcdefghij", "bbcdefghij", "cbcdefghij"];
const three = procedureOf(
	{ stage: "sand", abrasive: "P1500", tool: "block", work: { unit: "passes", low: 3, high: 3 } },
	{ stage: "refine", abrasive: "P3000", tool: "block" },
	{ stage: "inspect", ifNot: { back: rowA, atMost: 2 } } as Partial<Step>,
);

async function open(
	procedure: Procedure,
	theme = "light",
	some: { readOnly?: SheetState["readOnly"] } = {},
): Promise<{ grid: Grid; store: SheetStore }> {
	localStorage.clear();
	const store = storeOf(procedure, some);
	const grid = await show<Grid>(html`<gw-grid .store=${store}></gw-grid>`, "gw-grid");
	expect(grid).to.be.instanceOf(Grid);
	grid.closest("test-stage")?.setAttribute("theme", theme);
	await grid.updateComplete;
	await until(() => cell(grid, 0, "stage") !== null, "the rows");
	return { grid, store };
}

function cell(grid: Grid, at: number, column: string): HTMLElement | null {
	return grid.shadowRoot?.querySelector(`.ag-row[row-index="${at}"] .ag-cell[col-id="${column}"]`) ?? null;
}

function text(grid: Grid, at: number, column: string): string {
	const found = cell(grid, at, column);
	if (found === null) return "(no such cell)";
	return [...found.querySelectorAll(".text")].map(textOf).join("");
}

function steps(store: SheetStore): readonly Step[] {
	return store.state.procedure.steps ?? [];
}

async function keys(...pressed: string[]): Promise<void> {
	for (const press of pressed) await sendKeys({ press });
}

async function type(words: string): Promise<void> {
	await sendKeys({ type: words });
}

async function click(element: Element): Promise<void> {
	const { left, top, width, height } = element.getBoundingClientRect();
	const position: [number, number] = [Math.round(left + width / 2), Math.round(top + height / 2)];
	await sendMouse({ type: "click", position });
}

function focusedCell(grid: Grid): string {
	const focused = grid.shadowRoot?.activeElement;
	const row = focused?.closest(".ag-row")?.getAttribute("row-index");
	return `${row ?? "?"}/${focused?.closest(".ag-cell")?.getAttribute("col-id") ?? "?"}`;
}

function input(grid: Grid): HTMLInputElement {
	return within<HTMLInputElement>(grid, ".editor input");
}

function columnBox(grid: Grid, name: string): HTMLInputElement {
	const box = all(grid, ".columns label")
		.find((one) => textOf(one).startsWith(name))
		?.querySelector("input");
	if (!box) throw new Error(`no column is called ${name}`);
	return box;
}

function send(grid: Grid, kind: "copy" | "cut" | "paste", data = new DataTransfer()): DataTransfer {
	const focused = grid.shadowRoot?.activeElement ?? grid;
	focused.dispatchEvent(
		new ClipboardEvent(kind, { clipboardData: data, bubbles: true, composed: true, cancelable: true }),
	);
	return data;
}

function touch(element: Element, kind: "pointerdown" | "pointerup" | "pointercancel" | "click"): boolean {
	const { left, top, width, height } = element.getBoundingClientRect();
	return element.dispatchEvent(
		new PointerEvent(kind, {
			pointerType: "touch",
			clientX: left + width / 2,
			clientY: top + height / 2,
			bubbles: true,
			composed: true,
			cancelable: true,
		}),
	);
}

function tap(element: Element): void {
	for (const kind of ["pointerdown", "pointerup", "click"] as const) touch(element, kind);
}

function swipe(element: Element): void {
	for (const kind of ["pointerdown", "pointercancel"] as const) touch(element, kind);
}

const peelFactory = factory as unknown as Procedure;

/** Drags the row at one place by its handle to another place. */
async function drag(grid: Grid, from: number, to: number): Promise<void> {
	const start = within(grid, `.ag-row[row-index="${from}"] .handle`).getBoundingClientRect();
	const end = (cell(grid, to, "number") as HTMLElement).getBoundingClientRect();
	const x = Math.round(start.left + 8);
	const down = to > from;
	await sendMouse({ type: "move", position: [x, Math.round(start.top + 20)] });
	await sendMouse({ type: "down" });
	for (const y of [start.top + (down ? 40 : 5), end.top + 20, end.top + (down ? 34 : 14), end.top + (down ? 36 : 12)])
		await sendMouse({ type: "move", position: [x, Math.round(y)] });
	await sendMouse({ type: "up" });
	await settled();
}

/** The library tells of the focus a moment late. */
async function settled(): Promise<void> {
	await new Promise((resolve) => setTimeout(resolve, 150));
}

/** The rows that look selected, by their ids, as the screen has them. */
function picked(grid: Grid): string[] {
	return [...new Set(all(grid, ".ag-cell.picked").map((one) => one.closest(".ag-row")?.getAttribute("row-id") ?? ""))];
}

function ids(store: SheetStore): string[] {
	return steps(store).map(({ id }) => id);
}

/** Presses an entry of the menu of the row that is selected. */
async function chooseInMenu(grid: Grid, words: RegExp): Promise<void> {
	await keys("Shift+F10");
	button(grid, words).click();
}

function said(grid: Grid): string {
	return textOf(within(grid, "[role=status]"));
}

/** In place of the browser's clipboard; undefined as on an insecure address. */
function withClipboard(clipboard: Partial<Clipboard> | undefined): () => void {
	Object.defineProperty(navigator, "clipboard", { value: clipboard, configurable: true });
	return () => Reflect.deleteProperty(navigator, "clipboard");
}

/** A file that holds what cannot be kept. */
const readOnly: SheetState["readOnly"] = [
	{ code: "number-not-kept", pointer: "/steps/0", line: 3, column: 2, data: { text: "1e400", kept: "0" } },
];

function clipboard(words: string): DataTransfer {
	const data = new DataTransfer();
	data.setData("text/plain", words);
	return data;
}

describe("gw-grid", () => {
	before(() => setViewport({ width: 1280, height: 800 }));
	afterEach(async () => {
		clear();
		await resetMouse();
	});

	describe("shows", () => {
		it("every row with what it says, and an empty one below", async () => {
			const { grid } = await open(three);
			expect(text(grid, 0, "stage")).to.equal("sand");
			expect(text(grid, 0, "abrasive")).to.equal("P1500");
			expect(text(grid, 0, "work")).to.equal("3 passes");
			expect(text(grid, 2, "ifNot")).to.equal("back to row 1, at most 2 times");
			expect(text(grid, 3, "number")).to.equal("+");
			await expectAccessible(grid);
		});

		it("what a whole demo procedure does to the panel, unknown as a word", async () => {
			const { grid, store } = await open(peelPanel);
			const at = store.state.report.rows.findIndex(({ filmLeftUm }) => filmLeftUm !== null);
			expect(text(grid, at, "filmLeftUm")).to.match(/µm$/);
			const { grid: other } = await open(procedureOf({ stage: "sand" }));
			expect(text(other, 0, "filmLeftUm")).to.equal("unknown");
			await expectAccessible(other);
		});

		it("an empty procedure with what to do next", async () => {
			const { grid } = await open(blank);
			expect(textOf(within(grid, ".foot"))).to.contain("paste a sheet");
			expect(textOf(cell(grid, 0, "stage") as HTMLElement)).to.contain("type here");
			await expectAccessible(grid);
		});

		const work = { unit: "passes", low: 3, high: 3 } as const;
		const rpm = { unit: "rpm", low: 1200, high: 1200 } as const;
		it("marks of every level with their word and their first clause", async () => {
			const { grid, store } = await open(
				procedureOf(
					{ stage: "sand", abrasive: "P3000", tool: "bare-hand", work, asTyped: { speed: "quite fast" } },
					{ stage: "refine", abrasive: "P5000", tool: "block", backing: "soft-block", work },
					{ stage: "compound", liquid: "compound-strong", pad: "foam-soft", tool: "rotary", speed: rpm, work },
				),
			);
			const { findings } = store.state;
			const marked = findings.filter(({ rowId }) => rowId !== null);
			expect(new Set(marked.map(({ level }) => level)).size).to.equal(3);
			for (const level of ["stop", "caution", "advice"])
				expect(all(grid, `.ag-cell.${level}`).length).to.be.above(0, level);
			const speed = cell(grid, 0, "speed") as HTMLElement;
			expect(speed.classList.contains("unread")).to.equal(true);
			expect(speed.title).to.contain("kept as typed");
			expect(text(grid, 0, "speed")).to.equal("quite fast");
			await expectAccessible(grid);
		});

		it("accepted findings quietly", async () => {
			const { grid, store } = await open(etchSection);
			expect(store.state.findings.some(({ accepted, rowId }) => accepted !== null && rowId !== null)).to.equal(true);
			expect(all(grid, ".mark.accepted").length).to.be.above(0);
			await expectAccessible(grid);
		});

		it("itself in the dark", async () => {
			const { grid } = await open(peelPanel, "dark");
			await expectAccessible(grid);
		});
	});

	describe("is written in", () => {
		it("by typing over a cell; Enter keeps it and goes down", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "abrasive");
			await type("p2000");
			expect(store.openCell?.text).to.equal("p2000");
			await expectAccessible(grid);
			await keys("Enter");
			expect(steps(store)[0]?.abrasive).to.equal("P2000");
			expect(store.openCell).to.equal(null);
			expect(text(grid, 0, "abrasive")).to.equal("P2000");
			expect(focusedCell(grid)).to.equal("1/abrasive");
			await keys("Control+z");
			expect(steps(store)[0]?.abrasive).to.equal("P1500");
			expect(focusedCell(grid)).to.equal("0/abrasive");
			await keys("Control+y");
			expect(steps(store)[0]?.abrasive).to.equal("P2000");
		});

		it("with F2 on the text that is there; Escape gives the change up", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "work");
			await keys("F2");
			expect(input(grid).value).to.equal("3 passes");
			await type(" crosswise");
			await keys("Escape");
			expect(steps(store)[0]).to.deep.equal(three.steps?.[0]);
			expect(focusedCell(grid)).to.equal("0/work");
			expect(store.openCell).to.equal(null);
		});

		it("by double click, and a click elsewhere keeps the text", async () => {
			const { grid, store } = await open(three);
			const box = (cell(grid, 1, "abrasive") as HTMLElement).getBoundingClientRect();
			const place = { clientX: box.left + 20, clientY: box.top + 20 };
			await click(cell(grid, 1, "abrasive") as HTMLElement);
			cell(grid, 1, "abrasive")?.dispatchEvent(new MouseEvent("dblclick", { bubbles: true, composed: true, ...place }));
			await keys("Control+a");
			await type("P2500");
			await click(cell(grid, 2, "tool") as HTMLElement);
			expect(steps(store)[1]?.abrasive).to.equal("P2500");
			expect(focusedCell(grid)).to.equal("2/tool");
		});

		it("with what cannot be read kept as typed and marked", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowB, "work");
			await type("a good while");
			await keys("Tab");
			expect(steps(store)[1]?.asTyped).to.deep.equal({ work: "a good while" });
			expect(text(grid, 1, "work")).to.equal("a good while");
			expect(cell(grid, 1, "work")?.classList.contains("unread")).to.equal(true);
			await expectAccessible(grid);
		});

		it("with a choice out of the stock, and says what else its sheet filled", async () => {
			const { grid, store } = await open(three);
			const item = store.state.shop.stock.liquids?.find((one) => one.mlPerSection !== undefined && !one.withdrawn);
			if (item === undefined) throw new Error("the demo stock has no liquid with an amount");
			grid.goTo(rowC, "liquid");
			await type(item.name.slice(0, 5));
			const list = within(grid, ".offers");
			expect(list.matches(":popover-open")).to.equal(true);
			const at = [...list.children].findIndex((option) => textOf(option).startsWith(item.name));
			for (let down = 0; down <= at; down++) await keys("ArrowDown");
			expect(input(grid).getAttribute("aria-activedescendant")).to.equal(`offers-${at}`);
			await expectAccessible(grid);
			await keys("Enter");
			expect(steps(store)[2]?.liquid).to.equal(item.id);
			expect(store.state.undo).to.equal("choose");
			await grid.updateComplete;
			expect(textOf(within(grid, "[role=status]"))).to.contain(`from the sheet of ${item.name}`);
		});

		it("in the empty last line, which becomes a row in one gesture", async () => {
			const { grid, store } = await open(blank);
			grid.focus();
			await type("sand");
			await keys("Tab");
			expect(steps(store).map(({ stage }) => stage)).to.deep.equal(["sand"]);
			expect(focusedCell(grid)).to.equal("0/abrasive");
			expect(text(grid, 1, "number")).to.equal("+");
			await keys("Control+z");
			expect(steps(store)).to.deep.equal([]);
		});

		it("on from the text that was open when the page closed", async () => {
			localStorage.clear();
			const store = storeOf(three);
			store.typing({ row: rowB, column: "tool", text: "gear orb" });
			const grid = await show<Grid>(html`<gw-grid .store=${store}></gw-grid>`, "gw-grid");
			await until(() => all(grid, ".editor input").length === 1, "the editor");
			expect(input(grid).value).to.equal("gear orb");
		});

		it("up to the moment the page goes away", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "abrasive");
			await type("P1000");
			globalThis.dispatchEvent(new Event("pagehide"));
			expect(steps(store)[0]?.abrasive).to.equal("P1000");
		});
	});

	describe("selects", () => {
		it("with the arrows and Shift, everything with Ctrl+A", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "stage");
			await keys("Shift+ArrowDown", "Shift+ArrowRight");
			expect(store.state.selection).to.deep.equal({
				anchor: { row: rowA, column: "stage" },
				head: { row: rowB, column: "abrasive" },
			});
			expect(all(grid, ".ag-cell.picked").length).to.equal(4);
			await keys("Delete");
			expect(steps(store)[0]).to.not.have.property("stage");
			expect(steps(store)[1]).to.not.have.property("abrasive");
			await keys("Control+z");
			expect(steps(store)).to.deep.equal(three.steps);
			await keys("Control+a");
			expect(store.state.selection?.anchor.row).to.equal(rowA);
			expect(store.state.selection?.head.row).to.equal(rowC);
		});

		it("with the mouse held down", async () => {
			const { grid, store } = await open(three);
			const middle = (element: Element): [number, number] => {
				const { left, top, width, height } = element.getBoundingClientRect();
				return [Math.round(left + width / 2), Math.round(top + height / 2)];
			};
			await sendMouse({ type: "move", position: middle(cell(grid, 0, "abrasive") as HTMLElement) });
			await sendMouse({ type: "down" });
			await sendMouse({ type: "move", position: middle(cell(grid, 2, "tool") as HTMLElement) });
			await sendMouse({ type: "up" });
			expect(store.state.selection).to.deep.equal({
				anchor: { row: rowA, column: "abrasive" },
				head: { row: rowC, column: "tool" },
			});
			await sendMouse({ type: "move", position: [2, 2] });
			expect(store.state.selection?.head.row).to.equal(rowC);
		});

		it("with Home, End and Ctrl, and leaves by Escape and Tab", async () => {
			const { grid } = await open(three);
			grid.goTo(rowB, "tool");
			await keys("Home");
			expect(focusedCell(grid)).to.equal("1/number");
			await keys("End");
			expect(focusedCell(grid)).to.equal("1/filmLeftUm");
			await keys("Control+End");
			expect(focusedCell(grid)).to.equal("3/filmLeftUm");
			await keys("Control+Home");
			expect(focusedCell(grid)).to.equal("0/number");
			await keys("Escape", "Shift+Tab");
			expect(grid.shadowRoot?.activeElement?.closest(".ag-cell") ?? null).to.equal(null);
		});
	});

	describe("changes rows", () => {
		for (const [what, pressed, expected] of [
			["inserts below", ["Control+Enter"], [rowA, rowB, "new", rowC]],
			["inserts below with Insert", ["Insert"], [rowA, rowB, "new", rowC]],
			["inserts above", ["Control+Shift+Enter"], [rowA, "new", rowB, rowC]],
			["duplicates", ["Control+Shift+D"], [rowA, rowB, "new", rowC]],
			["deletes", ["Control+Delete"], [rowA, rowC]],
			["moves up", ["Alt+ArrowUp"], [rowB, rowA, rowC]],
			["moves down", ["Alt+ArrowDown"], [rowA, rowC, rowB]],
			["deletes two", ["Shift+ArrowDown", "Control+Backspace"], [rowA]],
			["moves two up", ["Shift+ArrowDown", "Alt+ArrowUp"], [rowB, rowC, rowA]],
		] as const) {
			it(`${what} by keys, as one gesture`, async () => {
				const { grid, store } = await open(three);
				grid.goTo(rowB, "abrasive");
				await keys(...pressed);
				const ids = steps(store).map(({ id }) => (three.steps?.some((step) => step.id === id) ? id : "new"));
				expect(ids).to.deep.equal([...expected]);
				expect(all(grid, ".ag-row[row-id]").length).to.be.above(0);
				await until(
					() => cell(grid, expected.length, "number") !== null && text(grid, expected.length, "number") === "+",
					"the rows in their new order",
				);
				expect(expected.map((_, at) => text(grid, at, "number"))).to.deep.equal(
					expected.map((_, at) => String(at + 1)),
				);
				await keys("Control+z");
				expect(steps(store)).to.deep.equal(three.steps);
			});
		}

		it("fills down", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "abrasive");
			await keys("Shift+ArrowDown", "Shift+ArrowDown", "Control+d");
			expect(steps(store).map(({ abrasive }) => abrasive)).to.deep.equal(["P1500", "P1500", "P1500"]);
			expect(store.state.undo).to.equal("fill");
		});

		it("by buttons above the rows", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowC, "stage");
			button(grid, /Duplicate/).click();
			expect(steps(store)).to.have.length(4);
			expect(steps(store)[3]?.ifNot?.back).to.equal(rowA);
			button(grid, /Up/).click();
			expect(steps(store)[2]?.id).to.not.equal(rowC);
			button(grid, /Delete/).click();
			expect(steps(store).map(({ id }) => id)).to.deep.equal([rowA, rowB, rowC]);
		});

		it("by the menu of a row", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowB, "stage");
			await keys("Shift+F10");
			const menu = within(grid, ".menu");
			expect(menu.matches(":popover-open")).to.equal(true);
			await expectAccessible(grid);
			await keys("ArrowDown", "ArrowDown", "Enter");
			expect(steps(store)).to.have.length(4);
			await keys("Shift+F10", "Escape");
			expect(menu.matches(":popover-open")).to.equal(false);
			expect(focusedCell(grid)).to.equal("2/stage");
			await click(within(grid, '.ag-row[row-index="0"] .row-menu'));
			expect(menu.matches(":popover-open")).to.equal(true);
		});

		it("by dragging one with the mouse", async () => {
			const { grid, store } = await open(three);
			const from = within(grid, '.ag-row[row-index="0"] .handle').getBoundingClientRect();
			const to = (cell(grid, 2, "number") as HTMLElement).getBoundingClientRect();
			const x = Math.round(from.left + 8);
			await sendMouse({ type: "move", position: [x, Math.round(from.top + 20)] });
			await sendMouse({ type: "down" });
			for (const y of [from.top + 40, to.top, to.top + 30, to.top + 34])
				await sendMouse({ type: "move", position: [x, Math.round(y)] });
			await sendMouse({ type: "up" });
			await until(() => store.state.undo === "move", "the move");
			expect(steps(store).map(({ id }) => id)).to.deep.equal([rowB, rowC, rowA]);
			expect([0, 1, 2].map((at) => text(grid, at, "number"))).to.deep.equal(["1", "2", "3"]);
			await keys("Control+z");
			expect(steps(store).map(({ id }) => id)).to.deep.equal([rowA, rowB, rowC]);
			await until(() => text(grid, 0, "abrasive") === "P1500", "the old order");
		});
	});

	describe("drags", () => {
		const before = (peelFactory.steps ?? []).map(({ id }) => id);
		const at = (...places: number[]) => places.map((place) => before[place - 1] as string);

		it("a row, which is then selected where it stands, and where it stood after undo", async () => {
			const { grid, store } = await open(peelFactory);
			await drag(grid, 3, 6);
			expect(ids(store).slice(0, 7)).to.deep.equal(at(1, 2, 3, 5, 6, 7, 4));
			expect(picked(grid)).to.deep.equal(at(4));
			expect(focusedCell(grid)).to.equal("6/number");
			expect(said(grid)).to.equal("Row moved to 7.");
			await keys("Control+z");
			await settled();
			expect(ids(store)).to.deep.equal(before);
			expect(picked(grid)).to.deep.equal(at(4));
			expect(focusedCell(grid)).to.equal("3/number");
			await keys("Control+y");
			await settled();
			expect(picked(grid)).to.deep.equal(at(4));
			await keys("Control+Delete");
			expect(ids(store)).to.deep.equal(before.filter((id) => id !== before[3]));
		});

		it("up as well as down", async () => {
			const { grid, store } = await open(peelFactory);
			await drag(grid, 6, 3);
			expect(ids(store).slice(0, 7)).to.deep.equal(at(1, 2, 3, 7, 4, 5, 6));
			expect(picked(grid)).to.deep.equal(at(7));
			await keys("Control+Delete");
			expect(ids(store)).to.deep.equal(before.filter((id) => id !== before[6]));
		});

		it("all selected rows by any of them, in one gesture and in their order", async () => {
			const { grid, store } = await open(peelFactory);
			grid.goTo(before[3] as string, null);
			await keys("Shift+ArrowDown", "Shift+ArrowDown");
			expect(picked(grid).toSorted()).to.deep.equal(at(4, 5, 6).toSorted());
			await drag(grid, 4, 7);
			expect(ids(store).slice(0, 8)).to.deep.equal(at(1, 2, 3, 7, 8, 4, 5, 6));
			expect(picked(grid).toSorted()).to.deep.equal(at(4, 5, 6).toSorted());
			expect(said(grid)).to.equal("3 rows moved to 6–8.");
			await keys("Control+z");
			await settled();
			expect(ids(store)).to.deep.equal(before);
			expect(store.state.undo).to.equal(null);
			expect(picked(grid).toSorted()).to.deep.equal(at(4, 5, 6).toSorted());
		});

		it("none by a press alone: then one of several is selected, when the button is up", async () => {
			const { grid, store } = await open(peelFactory);
			grid.goTo(before[3] as string, null);
			await keys("Shift+ArrowDown", "Shift+ArrowDown");
			await click(within(grid, '.ag-row[row-index="4"] .ag-cell[col-id="number"] .content'));
			await settled();
			expect(picked(grid)).to.deep.equal(at(5));
			expect(focusedCell(grid)).to.equal("4/number");
			expect(ids(store)).to.deep.equal(before);
			await keys("ArrowDown");
			expect(picked(grid)).to.deep.equal(at(6));
		});

		it("nothing where it is dropped in its own place, and the rows stay selected", async () => {
			const { grid, store } = await open(peelFactory);
			grid.goTo(before[3] as string, null);
			await keys("Shift+ArrowDown", "Shift+ArrowDown");
			await drag(grid, 4, 4);
			expect(ids(store)).to.deep.equal(before);
			expect(picked(grid).toSorted()).to.deep.equal(at(4, 5, 6).toSorted());
		});
	});

	describe("tells", () => {
		for (const [language, pressed, expected] of [
			["en", ["Control+d"], "1 row filled down."],
			["en", ["Shift+ArrowDown", "Control+d", "Control+d"], "Nothing to fill: the cells say this already."],
			["en", ["Shift+ArrowDown", "Shift+ArrowUp", "Alt+ArrowDown"], "Row moved to 3."],
			["en", ["Shift+ArrowDown", "Alt+ArrowUp"], "2 rows moved to 1–2."],
			["es", ["Shift+ArrowDown", "Alt+ArrowUp"], "2 filas movidas a 1–2."],
			["en", ["Control+Delete"], "1 row deleted. Undo brings it back."],
			["es", ["Shift+ArrowDown", "Control+Delete"], "2 filas eliminadas. Deshacer las recupera."],
			["en", ["Home", "Delete"], "Cells emptied; the rows stay. Ctrl+Delete deletes rows."],
			["es", ["Home", "Delete"], "Celdas vaciadas; las filas quedan. Ctrl+Supr elimina filas."],
		] as const) {
			it(`${language}: ${expected}`, async () => {
				const { grid } = await open(three);
				grid.language = language;
				await grid.updateComplete;
				grid.goTo(rowB, "abrasive");
				await keys(...pressed);
				await grid.updateComplete;
				expect(said(grid)).to.equal(expected);
			});
		}

		it("how much was copied, in the singular too", async () => {
			const { grid } = await open(three);
			grid.goTo(rowA, "abrasive");
			const data = send(grid, "copy");
			await grid.updateComplete;
			expect(said(grid)).to.equal("Copied: 1 row, 1 column.");
			grid.goTo(rowB, "abrasive");
			send(grid, "paste", data);
			await grid.updateComplete;
			expect(said(grid)).to.equal("Pasted into 1 cell.");
		});
	});

	describe("of a file with something else among its rows", () => {
		const odd = { ...three, steps: [null, ...(three.steps ?? []), "sand", 3] } as unknown as Procedure;
		const raw = (store: SheetStore) => store.state.procedure.steps as unknown[];

		it("shows the rows, and marks what is none", async () => {
			const { grid, store } = await open(odd);
			expect([0, 4, 5].map((at) => text(grid, at, "stage"))).to.deep.equal(["null", '"sand"', "3"]);
			for (const at of [0, 4, 5]) expect(cell(grid, at, "stage")?.classList.contains("unread")).to.equal(true);
			expect(cell(grid, 0, "stage")?.title).to.contain("no row");
			expect([1, 2, 3].map((at) => text(grid, at, "number"))).to.deep.equal(["1", "2", "3"]);
			expect(text(grid, 6, "number")).to.equal("+");
			expect(raw(store)).to.deep.equal(odd.steps);
			await expectAccessible(grid);
		});

		it("writes in the rows around it, and loses nothing", async () => {
			const { grid, store } = await open(odd);
			grid.goTo(rowA, "abrasive");
			await type("P2000");
			await keys("Enter");
			const changed = { ...three.steps?.[0], abrasive: "P2000" };
			expect(raw(store)).to.deep.equal([null, changed, ...(three.steps ?? []).slice(1), "sand", 3]);
			await keys("Control+z", "Alt+ArrowDown", "Alt+ArrowUp", "Alt+ArrowUp");
			expect(raw(store)).to.deep.equal([three.steps?.[0], null, ...(three.steps ?? []).slice(1), "sand", 3]);
			await keys("Control+Delete");
			expect(raw(store)).to.deep.equal([null, ...(three.steps ?? []).slice(1), "sand", 3]);
			for (let undone = 0; undone < 4; undone++) await keys("Control+z");
			expect(raw(store)).to.deep.equal(odd.steps);
			grid.goTo(rowC, null);
			send(grid, "paste", send(grid, "copy"));
			expect(raw(store)).to.have.length(7);
			await keys("Control+Shift+D", "Insert");
			expect(raw(store)).to.have.length(9);
			expect(raw(store).filter((one) => typeof one !== "object" || one === null)).to.deep.equal([null, "sand", 3]);
		});

		it("opens no editor on it and says why; deleting it takes it out, undo brings it back", async () => {
			const { grid, store } = await open(odd);
			await click(cell(grid, 0, "stage") as Element);
			await keys("F2");
			await grid.updateComplete;
			expect(all(grid, ".editor input")).to.have.length(0);
			expect(said(grid)).to.contain("no row");
			await keys("Delete", "Alt+ArrowDown", "Control+d");
			expect(raw(store)).to.deep.equal(odd.steps);
			await keys("Control+Delete");
			expect(raw(store)).to.deep.equal(odd.steps?.slice(1));
			await keys("Control+z");
			expect(raw(store)).to.deep.equal(odd.steps);
		});

		it("takes a new row after all of it", async () => {
			const { grid, store } = await open({ ...odd, steps: [null] } as unknown as Procedure);
			await click(cell(grid, 1, "stage") as Element);
			await type("sand");
			await keys("Enter");
			expect(steps(store).filter((one) => one?.stage === "sand")).to.have.length(1);
		});
	});

	it("shows the columns first seen beside the film left, without scrolling sideways, where findings stand beside the rows", async () => {
		const { grid } = await open(peelFactory);
		grid.style.width = "950px";
		grid.style.setProperty("--rows-most", "400px");
		await until(() => all(grid, ".ag-cell-first-right-pinned").length > 0, "the film left");
		await settled();
		const work = (cell(grid, 3, "work") as Element).getBoundingClientRect();
		const film = (cell(grid, 3, "filmLeftUm") as Element).getBoundingClientRect();
		expect(work.right).to.be.below(film.left + 1.5);
		expect(film.right).to.be.below(grid.getBoundingClientRect().right);
	});

	it("has room for three digits with a mark beside the handle", async () => {
		const many = procedureOf();
		const letters = (at: number) =>
			[...String(at).padStart(10, "0")].map((digit) => String.fromCharCode(97 + Number(digit))).join("");
		many.steps = Array.from({ length: 400 }, (_, at) => ({ id: letters(at), stage: "sand", abrasive: "P1500" }));
		const { grid, store } = await open(many);
		const step = { ...many.steps[399], stage: "refine" } as Step;
		expect(step.id).to.equal(letters(399));
		grid.goTo(letters(399), null);
		await until(() => cell(grid, 399, "number") !== null, "the last row");
		const finding = store.state.findings.find(({ rowId }) => rowId !== null);
		if (finding === undefined) throw new Error("nothing is found in it");
		const marked = { ...store.state, findings: [{ ...finding, level: "stop", rowId: letters(399), field: null }] };
		Object.defineProperty(store, "state", { get: () => marked, configurable: true });
		grid.language = "es";
		await until(() => within(grid, '.ag-row[row-index="399"]').querySelector(".mark.stop") !== null, "the mark");
		const content = within(grid, '.ag-row[row-index="399"] .ag-cell[col-id="number"] .content');
		const [sign, number] = [".mark", ".text"].map((part) => content.querySelector(part)?.getBoundingClientRect());
		expect(Math.abs((sign?.bottom ?? 0) - (number?.bottom ?? 99))).to.be.below(6);
		expect(number?.right).to.be.below(content.getBoundingClientRect().right + 1);
	});

	describe("copies and pastes", () => {
		it("a block as text and as a table, and the same back into its columns", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "stage");
			await keys("Shift+ArrowRight");
			const data = send(grid, "copy");
			expect(data.getData("text/plain")).to.equal("sand\tP1500\n");
			expect(data.getData("text/html")).to.contain("<td>P1500</td>");
			grid.goTo(rowC, "tool");
			send(grid, "paste", data);
			expect(steps(store)[2]?.stage).to.equal("sand");
			expect(steps(store)[2]?.abrasive).to.equal("P1500");
			expect(store.state.undo).to.equal("paste");
		});

		it("whole rows with their headers, and adds rows where they are pasted below the last", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, null);
			await keys("Shift+ArrowDown");
			const data = send(grid, "copy");
			expect(data.getData("text/plain").split("\n")[0]).to.contain("Stage\tAbrasive");
			await keys("Control+End");
			send(grid, "paste", data);
			expect(steps(store)).to.have.length(5);
			expect(steps(store)[3]?.abrasive).to.equal("P1500");
			await keys("Control+z");
			expect(steps(store)).to.have.length(3);
		});

		it("one text into every selected cell", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "work");
			await keys("Shift+ArrowDown");
			send(grid, "paste", clipboard("4x"));
			expect(steps(store).map(({ work }) => work?.low)).to.deep.equal([4, 4, undefined]);
			expect(store.state.undo).to.equal("paste");
		});

		it("a block from elsewhere by way of the preview", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "abrasive");
			let detail: unknown = null;
			grid.addEventListener("gw-paste", (event) => {
				detail = (event as CustomEvent).detail;
			});
			send(grid, "paste", clipboard("P800\tblock\nP1000\tblock\n"));
			expect(detail).to.deep.equal({ text: "P800\tblock\nP1000\tblock\n", at: { row: rowA, column: "abrasive" } });
			expect(store.state.undo).to.equal(null);
		});

		it("cuts", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "abrasive");
			expect(send(grid, "cut").getData("text/plain")).to.equal("P1500\n");
			expect(steps(store)[0]).to.not.have.property("abrasive");
		});
	});

	describe("works on whole rows", () => {
		it("cuts them out as one gesture, and pastes them after the selected row as the same rows", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, null);
			const data = send(grid, "cut");
			await grid.updateComplete;
			expect(ids(store)).to.deep.equal([rowB, rowC]);
			expect(store.state.undo).to.equal("delete");
			expect(said(grid)).to.equal("1 row cut. Undo brings it back.");
			expect(data.getData("text/plain")).to.contain("P1500");
			grid.goTo(rowB, null);
			send(grid, "paste", data);
			await grid.updateComplete;
			expect(ids(store)).to.deep.equal([rowB, rowA, rowC]);
			expect(steps(store)[1]).to.deep.equal(three.steps?.[0]);
			expect(said(grid)).to.equal("1 row pasted as a new row.");
			expect(picked(grid)).to.deep.equal([rowA]);
			await keys("Control+z", "Control+z");
			expect(steps(store)).to.deep.equal(three.steps);
		});

		it("copies them as new rows after the selected ones, over none", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, null);
			await keys("Shift+ArrowDown");
			const data = send(grid, "copy");
			send(grid, "paste", data);
			const after = ids(store);
			expect([after[0], after[1], after[4]]).to.deep.equal([rowA, rowB, rowC]);
			expect(steps(store)[2]).to.deep.equal({ ...three.steps?.[0], id: after[2] });
			expect(picked(grid).toSorted()).to.deep.equal(after.slice(2, 4).toSorted());
			expect(focusedCell(grid)).to.equal("2/number");
		});

		it("writes them over cells where a cell is selected", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, null);
			const data = send(grid, "copy");
			grid.goTo(rowB, "abrasive");
			send(grid, "paste", data);
			expect(ids(store)).to.deep.equal([rowA, rowB, rowC]);
			expect(steps(store)[1]?.abrasive).to.equal("P1500");
		});

		it("brings rows of another procedure as what their cells say", async () => {
			const { grid } = await open(three);
			grid.goTo(rowA, null);
			const data = send(grid, "copy");
			const store = storeOf({ ...three, id: "another" });
			grid.store = store;
			await grid.updateComplete;
			grid.goTo(rowC, null);
			send(grid, "paste", data);
			expect(steps(store)[3]?.abrasive).to.equal("P1500");
			expect(steps(store)[3]?.id).to.not.equal(rowA);
		});

		it("keeps the view where many pasted rows begin", async () => {
			const { grid, store } = await open(peelFactory);
			grid.style.setProperty("--rows-most", "300px");
			const before = ids(store);
			grid.goTo(before[0] as string, "stage");
			await keys("Control+a");
			const data = send(grid, "copy");
			grid.goTo(before[1] as string, null);
			send(grid, "paste", data);
			await settled();
			expect(focusedCell(grid)).to.equal("2/number");
			expect(picked(grid)).to.include(ids(store)[2]);
		});

		it("keeps the view where rows begin that came by way of the preview", async () => {
			const { grid, store } = await open(peelFactory);
			grid.style.setProperty("--rows-most", "300px");
			const [first = "", last = ""] = [ids(store)[0], ids(store).at(-1)];
			const selection = { anchor: { row: first, column: "stage" }, head: { row: last, column: "tool" } } as const;
			store.change([{ op: "set", row: first, field: "note", to: "pasted" }], "paste", selection);
			grid.focus();
			await settled();
			expect(focusedCell(grid)).to.equal("0/stage");
			expect(all(grid, ".ag-cell.picked").length).to.be.above(0);
		});

		it("selects every copy it made", async () => {
			const { grid, store } = await open(peelFactory);
			const before = ids(store);
			grid.goTo(before[1] as string, null);
			await keys("Shift+ArrowDown", "Shift+ArrowDown", "Control+Shift+D");
			const copies = ids(store).slice(4, 7);
			expect(copies.some((id) => before.includes(id))).to.equal(false);
			expect(picked(grid).toSorted()).to.deep.equal(copies.toSorted());
			await keys("Control+Delete");
			expect(ids(store)).to.deep.equal(before);
		});
	});

	describe("has columns", () => {
		it("beyond the first, on demand and remembered", async () => {
			const { grid } = await open(three);
			expect(cell(grid, 0, "forceN")).to.equal(null);
			button(grid, /Columns/).click();
			await expectAccessible(grid);
			columnBox(grid, "Force").click();
			await until(() => cell(grid, 0, "forceN") !== null, "the column");
			expect(JSON.parse(localStorage.getItem("gritwright.columns") ?? "{}")).to.deep.equal({ forceN: true });
		});

		it("that go hidden only with a word that they hold text", async () => {
			const { grid } = await open(three);
			button(grid, /Columns/).click();
			columnBox(grid, "If not met").click();
			await until(() => cell(grid, 0, "ifNot") === null, "the column gone");
			expect(textOf(within(grid, ".hidden-columns"))).to.contain("If not met");
			grid.goTo(rowC, "ifNot");
			await until(() => cell(grid, 2, "ifNot") !== null, "the column back");
			expect(focusedCell(grid)).to.equal("2/ifNot");
		});
	});

	describe("under a finger", () => {
		it("takes a choice by a tap, and none by a swipe over the list", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "abrasive");
			await keys("F2");
			const option = (): Element => within(grid, ".offers").children[2] as Element;
			swipe(option());
			expect(all(grid, ".editor input")).to.have.length(1);
			expect(steps(store)).to.deep.equal(three.steps);
			const words = option().firstChild?.textContent;
			tap(option());
			expect(text(grid, 0, "abrasive")).to.equal(words);
			expect(store.state.undo).to.equal("choose");
		});

		it("takes a choice by the mouse, the field keeping the focus meanwhile", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, "abrasive");
			await keys("F2");
			await click(within(grid, ".offers").children[1] as Element);
			expect(store.state.undo).to.equal("choose");
			expect(focusedCell(grid)).to.equal("0/abrasive");
		});

		it("opens an editor by the second tap; a swipe is no tap", async () => {
			const { grid, store } = await open(three);
			const at = (): Element => cell(grid, 1, "tool") as Element;
			swipe(at());
			expect(store.state.selection).to.equal(null);
			tap(at());
			expect(all(grid, ".editor input")).to.have.length(0);
			expect(store.state.selection?.head).to.deep.equal({ row: rowB, column: "tool" });
			swipe(at());
			expect(all(grid, ".editor input")).to.have.length(0);
			tap(at());
			expect(all(grid, ".editor input")).to.have.length(1);
		});

		it("selects several rows from one on, and the menu of any of them keeps them", async () => {
			const { grid, store } = await open(three);
			grid.goTo(rowA, null);
			await chooseInMenu(grid, /Select from here/);
			await grid.updateComplete;
			expect(said(grid)).to.contain("last row");
			tap(cell(grid, 1, "number") as Element);
			expect(store.state.selection?.anchor.row).to.equal(rowA);
			expect(store.state.selection?.head.row).to.equal(rowB);
			await click(within(grid, '.ag-row[row-index="1"] .row-menu'));
			expect(store.state.selection?.anchor.row).to.equal(rowA);
			await expectAccessible(grid);
			expect(store.state.selection?.anchor.row).to.equal(rowA);
			button(grid, /^Duplicate$/).click();
			expect(steps(store)).to.have.length(5);
		});

		for (const secure of [true, false]) {
			it(`copies rows by the menu ${secure ? "with" : "without"} a clipboard given to the page`, async () => {
				let copied = "";
				const giveBack = withClipboard(
					secure
						? {
								writeText: (words: string) => {
									copied = words;
									return Promise.resolve();
								},
							}
						: undefined,
				);
				const take = (event: ClipboardEvent) => {
					copied = event.clipboardData?.getData("text/plain") ?? "";
				};
				globalThis.addEventListener("copy", take);
				const { grid } = await open(three);
				grid.goTo(rowA, "tool");
				await keys("Shift+F10", "ArrowDown", "ArrowDown", "ArrowDown", "ArrowDown", "ArrowDown", "Enter");
				await until(() => said(grid).startsWith("Copied"), "the word of it");
				if (secure) expect(copied).to.match(/^Stage\tAbrasive[^\n]*\nsand\tP1500/);
				expect(focusedCell(grid)).to.equal("0/tool");
				globalThis.removeEventListener("copy", take);
				giveBack();
			});
		}

		it("pastes by the menu", async () => {
			const { grid, store } = await open(three);
			const giveBack = withClipboard({ readText: () => Promise.resolve("P2000") });
			grid.goTo(rowA, "abrasive");
			await chooseInMenu(grid, /^Paste$/);
			await until(() => store.state.undo === "paste", "the paste");
			expect(steps(store)[0]?.abrasive).to.equal("P2000");
			giveBack();
		});

		for (const [what, clipboardGiven] of [
			["is given no clipboard", undefined],
			["is refused it", { readText: () => Promise.reject(new Error("no")) }],
		] as const) {
			it(`opens a field to paste into where the page ${what}`, async () => {
				const { grid } = await open(three);
				const giveBack = withClipboard(clipboardGiven);
				grid.goTo(rowA, null);
				await chooseInMenu(grid, /^Paste$/);
				await until(() => all(grid, ".editor input").length === 1, "the field");
				await grid.updateComplete;
				expect(said(grid)).to.contain("Paste into the open field");
				giveBack();
			});
		}

		it("takes a block out of an open editor to the preview", async () => {
			const { grid, store } = await open(three);
			let detail: unknown = null;
			grid.addEventListener("gw-paste", (event) => {
				detail = (event as CustomEvent).detail;
			});
			grid.goTo(rowB, "abrasive");
			await keys("F2");
			send(grid, "paste", clipboard("P800\tblock\nP1000\tblock"));
			expect(all(grid, ".editor input")).to.have.length(0);
			expect(detail).to.deep.equal({ text: "P800\tblock\nP1000\tblock", at: { row: rowB, column: "abrasive" } });
			expect(steps(store)).to.deep.equal(three.steps);
		});
	});

	describe("of a file that must not be written", () => {
		it("opens no editor and says why", async () => {
			const { grid, store } = await open(three, "light", { readOnly });
			grid.goTo(rowA, "abrasive");
			for (const press of ["F2", "x"]) {
				await keys(press);
				await grid.updateComplete;
				expect(all(grid, ".editor input")).to.have.length(0);
				expect(said(grid)).to.not.equal("");
			}
			expect(store.openCell).to.equal(null);
			await expectAccessible(grid);
		});

		it("copies in place of a cut, and says why nothing was emptied", async () => {
			const { grid, store } = await open(three, "light", { readOnly });
			grid.goTo(rowA, "abrasive");
			expect(send(grid, "cut").getData("text/plain")).to.equal("P1500\n");
			await grid.updateComplete;
			expect(said(grid)).to.not.match(/Copied|Cut/);
			expect(said(grid)).to.not.equal("");
			expect(steps(store)).to.deep.equal(three.steps);
		});
	});

	describe("keeps in its place", () => {
		afterEach(() => setViewport({ width: 1280, height: 800 }));

		it("the suggestions beside their cell when the page scrolls, and above it at the foot of the page", async () => {
			const { grid } = await open(three);
			grid.style.display = "block";
			grid.style.margin = "500px 0 1500px";
			scrollTo(0, 300);
			grid.goTo(rowA, "abrasive");
			await keys("F2");
			const list = within(grid, ".offers");
			const gap = () => {
				const editor = within(grid, ".editor").getBoundingClientRect();
				const offers = list.getBoundingClientRect();
				return Math.min(Math.abs(offers.top - editor.bottom), Math.abs(editor.top - offers.bottom));
			};
			expect(gap()).to.be.below(2);
			scrollTo(0, 400);
			await new Promise((resolve) => setTimeout(resolve, 100));
			expect(list.matches(":popover-open")).to.equal(true);
			expect(gap()).to.be.below(2);
			scrollTo(0, 0);
			await new Promise((resolve) => setTimeout(resolve, 100));
			expect(gap()).to.be.below(2);
			expect(list.getBoundingClientRect().bottom).to.be.below(innerHeight + 1);
			scrollTo(0, 1400);
			await new Promise((resolve) => setTimeout(resolve, 100));
			expect(list.matches(":popover-open")).to.equal(false);
			scrollTo(0, 0);
		});

		it("the choice of columns, on a low screen too; Escape leads back to its button", async () => {
			const { grid } = await open(three);
			await setViewport({ width: 700, height: 320 });
			grid.style.display = "block";
			for (const marginTop of [0, 150]) {
				grid.style.marginTop = `${marginTop}px`;
				button(grid, /Columns/).click();
				const { top, bottom, left, right } = within(grid, ".columns").getBoundingClientRect();
				expect(top, `top at ${marginTop}`).to.be.above(-1);
				expect(bottom, `bottom at ${marginTop}`).to.be.below(321);
				expect(left).to.be.above(-1);
				expect(right).to.be.below(701);
				await keys("Escape");
				await until(() => grid.shadowRoot?.activeElement?.id === "choose-columns", "the focus on the button");
			}
		});

		it("the figures: more of them stand pinned on a screen that has become wider", async () => {
			const { grid } = await open(three);
			const pinned = () => all(grid, ".ag-cell-first-right-pinned").length;
			await until(() => pinned() > 0, "a pinned figure");
			await setViewport({ width: 600, height: 900 });
			await until(() => pinned() === 0, "none pinned");
			await setViewport({ width: 1280, height: 800 });
			await until(() => pinned() > 0, "a pinned figure again");
		});
	});

	describe("shows which cell has the focus", () => {
		const marked = procedureOf({
			stage: "sand",
			abrasive: "P3000",
			tool: "bare-hand",
			work: { unit: "passes", low: 3, high: 3 },
		});
		for (const forcedColors of ["none", "active"] as const) {
			it(`by a frame of its own, marked or not, with forced colours ${forcedColors}`, async () => {
				await emulateMedia({ forcedColors });
				const { grid } = await open(marked);
				const columns = ["stage", "abrasive", "backing", "tool", "speed", "work"];
				const looks = (element: Element) => {
					const { outlineStyle, outlineWidth, outlineColor } = getComputedStyle(element);
					return `${outlineStyle} ${outlineWidth} ${outlineColor}`;
				};
				expect(columns.some((column) => cell(grid, 0, column)?.matches(".stop, .caution, .advice"))).to.equal(true);
				for (const column of columns) {
					grid.goTo("abcdefghij", column);
					const element = cell(grid, 0, column) as Element;
					expect(looks(element)).to.match(/^solid 3px /);
					await keys("Shift+ArrowRight");
					expect(looks(element)).to.not.match(/^solid/);
				}
				await emulateMedia({ forcedColors: "none" });
			});
		}
	});

	it("reads no row again for a selection alone", async () => {
		const { grid, store } = await open(three);
		grid.goTo(rowA, "stage");
		const before = cell(grid, 0, "abrasive")?.querySelector(".text");
		let renders = 0;
		const { requestUpdate } = grid;
		grid.requestUpdate = (...given: Parameters<typeof requestUpdate>) => {
			renders++;
			requestUpdate.apply(grid, given);
		};
		store.select({ anchor: { row: rowB, column: "stage" }, head: { row: rowB, column: "stage" } });
		expect(cell(grid, 0, "abrasive")?.querySelector(".text")).to.equal(before);
		expect(all(grid, ".ag-cell.picked").map((one) => one.getAttribute("col-id"))).to.deep.equal(["stage"]);
		expect(renders).to.be.below(2);
	});

	it("draws only the rows in sight of many, and types into a far one", async () => {
		const many = procedureOf();
		const letters = (at: number) =>
			[...String(at).padStart(10, "0")].map((digit) => String.fromCharCode(97 + Number(digit))).join("");
		many.steps = Array.from({ length: 500 }, (_, at) => ({
			id: letters(at),
			stage: "sand",
			abrasive: "P1500",
			tool: "block",
		}));
		const { grid, store } = await open(many);
		grid.goTo(letters(400), "abrasive");
		await until(() => cell(grid, 400, "abrasive") !== null, "the far row");
		await type("P3000");
		await keys("Enter");
		expect(steps(store)[400]?.abrasive).to.equal("P3000");
		expect(text(grid, 400, "abrasive")).to.equal("P3000");
		expect(focusedCell(grid)).to.equal("401/abrasive");
		expect(all(grid, ".ag-center-cols-container .ag-row").length).to.be.below(80);
	});
});
