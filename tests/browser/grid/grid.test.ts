import { sendKeys, sendMouse, resetMouse, setViewport } from "@web/test-runner-commands";
import { ModuleRegistry, ValidationModule } from "ag-grid-community";
import { html } from "lit";
import type { Procedure, Step } from "../../../src/model/generated/types.ts";
import { GwGrid } from "../../../src/workbench/grid/grid.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
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
} from "../sheet/bench.ts";

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

async function open(procedure: Procedure, theme = "light"): Promise<{ grid: GwGrid; store: SheetStore }> {
	localStorage.clear();
	const store = storeOf(procedure);
	const grid = await show<GwGrid>(html`<gw-grid .store=${store}></gw-grid>`, "gw-grid");
	expect(grid).to.be.instanceOf(GwGrid);
	(grid.getRootNode() as ShadowRoot).host.setAttribute("theme", theme);
	await grid.updateComplete;
	await until(() => cell(grid, 0, "stage") !== null, "the rows");
	return { grid, store };
}

function cell(grid: GwGrid, at: number, column: string): HTMLElement | null {
	return grid.shadowRoot?.querySelector(`.ag-row[row-index="${at}"] .ag-cell[col-id="${column}"]`) ?? null;
}

function text(grid: GwGrid, at: number, column: string): string {
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

function focusedCell(grid: GwGrid): string {
	const focused = grid.shadowRoot?.activeElement;
	const row = focused?.closest(".ag-row")?.getAttribute("row-index");
	return `${row ?? "?"}/${focused?.closest(".ag-cell")?.getAttribute("col-id") ?? "?"}`;
}

function input(grid: GwGrid): HTMLInputElement {
	return within<HTMLInputElement>(grid, ".editor input");
}

function columnBox(grid: GwGrid, name: string): HTMLInputElement {
	const box = all(grid, ".columns label")
		.find((one) => textOf(one).startsWith(name))
		?.querySelector("input");
	if (!box) throw new Error(`no column is called ${name}`);
	return box;
}

function send(grid: GwGrid, kind: "copy" | "cut" | "paste", data = new DataTransfer()): DataTransfer {
	const focused = grid.shadowRoot?.activeElement ?? grid;
	focused.dispatchEvent(
		new ClipboardEvent(kind, { clipboardData: data, bubbles: true, composed: true, cancelable: true }),
	);
	return data;
}

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
			const grid = await show<GwGrid>(html`<gw-grid .store=${store}></gw-grid>`, "gw-grid");
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
			button(grid, /Move up/).click();
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

	describe("has columns", () => {
		it("beyond the first, on demand and remembered", async () => {
			const { grid } = await open(three);
			expect(cell(grid, 0, "forceN")).to.equal(null);
			button(grid, /More columns/).click();
			await expectAccessible(grid);
			columnBox(grid, "Force").click();
			await until(() => cell(grid, 0, "forceN") !== null, "the column");
			expect(JSON.parse(localStorage.getItem("gritwright.columns") ?? "{}")).to.deep.equal({ forceN: true });
		});

		it("that go hidden only with a word that they hold text", async () => {
			const { grid } = await open(three);
			button(grid, /More columns/).click();
			columnBox(grid, "If not met").click();
			await until(() => cell(grid, 0, "ifNot") === null, "the column gone");
			expect(textOf(within(grid, ".hidden-columns"))).to.contain("If not met");
			grid.goTo(rowC, "ifNot");
			await until(() => cell(grid, 2, "ifNot") !== null, "the column back");
			expect(focusedCell(grid)).to.equal("2/ifNot");
		});
	});

	it("stays quick and right with many rows", async () => {
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
