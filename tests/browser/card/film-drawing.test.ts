import { sendKeys } from "@web/test-runner-commands";
import { html } from "lit";
import type { FilmDrawing } from "../../../src/workbench/card/film-drawing.ts";
import "../../../src/workbench/card/film-drawing.ts";
import {
	all,
	clear,
	expect,
	expectAccessible,
	peelPanel,
	show,
	shown,
	storeOf,
	until,
	within,
} from "../sheet/stage.ts";

const ids = (peelPanel.steps ?? []).map(({ id }) => id);

async function showing(store = storeOf(peelPanel), language = "en"): Promise<FilmDrawing> {
	return show<FilmDrawing>(
		html`<gw-film-drawing .store=${store} .language=${language}></gw-film-drawing>`,
		"gw-film-drawing",
	);
}

/** Rows that the element asked to go to. */
function goings(element: HTMLElement): string[] {
	const asked: string[] = [];
	element.addEventListener("gw-go-to", (event) => asked.push((event as CustomEvent<{ row: string }>).detail.row));
	return asked;
}

describe("<gw-film-drawing>", () => {
	afterEach(clear);

	it("draws every row, and names itself and what it shows", async () => {
		const element = await showing();
		const svg = within<SVGElement>(element, "svg");
		expect([...svg.querySelectorAll("[data-row]")].map((row) => row.getAttribute("data-row"))).to.deep.equal(ids);
		expect(svg.getAttribute("role")).to.equal("img");
		expect(svg.querySelector("title")?.textContent).to.equal("Clear coat and scratches after each row");
		expect(svg.querySelector("desc")?.textContent).to.contain("a gauge reading on the panel decides");
		await expectAccessible(element);
	});

	it("follows the store: the row selected, a row changed", async () => {
		const store = storeOf(peelPanel);
		const element = await showing(store);
		const place = { row: ids[3] ?? "", column: "work" as const };
		store.select({ anchor: place, head: place });
		await until(() => all(element, ".here").length === 1, "the highlight");
		const drawing = within(element, "svg");
		const next = { row: ids[4] ?? "", column: "work" as const };
		store.select({ anchor: next, head: next });
		await until(() => within(element, ".here").getAttribute("data-row") === ids[4], "the next highlight");
		expect(within(element, "svg")).to.equal(drawing);
		const before = within(element, "desc").textContent;
		const step = peelPanel.steps?.[3];
		store.change([{ op: "set", row: ids[3] ?? "", field: "work", from: step?.work }], "clear");
		await until(() => within(element, "desc").textContent !== before, "another drawing");
		expect(shown(element)).to.contain("not known");
		await expectAccessible(element);
	});

	it("goes to the row whose part is pressed", async () => {
		const element = await showing();
		const asked = goings(element);
		within<SVGElement>(element, `[data-row="${ids[4]}"] rect`).dispatchEvent(
			new MouseEvent("click", { bubbles: true, composed: true }),
		);
		expect(asked).to.deep.equal([ids[4]]);
	});

	it("opens its figures as a table and goes to a row, all by keyboard", async () => {
		const element = await showing(storeOf(peelPanel), "es");
		const asked = goings(element);
		expect(all(element, "table")).to.have.length(0);
		within(element, "summary").focus();
		await sendKeys({ press: "Enter" });
		await until(() => all(element, "tbody tr").length === ids.length, "the table");
		expect(shown(element)).to.contain("de la fila 4");
		await expectAccessible(element);
		await sendKeys({ press: "Tab" });
		await sendKeys({ press: "Enter" });
		expect(asked).to.deep.equal([ids[0]]);
	});

	it("stands on a procedure without rows", async () => {
		const element = await showing(storeOf({ ...peelPanel, steps: [] }));
		expect(shown(element)).to.contain("No row yet");
		await expectAccessible(element);
	});
});
