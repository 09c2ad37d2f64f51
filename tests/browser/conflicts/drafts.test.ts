import { expect } from "@esm-bundle/chai";
import { sendKeys } from "@web/test-runner-commands";
import type { Procedure } from "../../../src/model/generated/types.ts";
import { Drafts, type DraftWish } from "../../../src/workbench/conflicts/drafts.ts";
import type { Draft } from "../../../src/workbench/store/draft.ts";
import { expectAccessible, paper } from "./paper.ts";

const row = "aaaaaaaaaa";
const base: Procedure = { format: 1, id: "small", title: { en: "Small" }, steps: [{ id: row, stage: "sand" }] };
const draft: Draft = {
	schema: 1,
	tab: "one",
	time: Date.UTC(2026, 4, 12, 9, 30),
	book: "demo",
	id: "small",
	isNew: false,
	person: "Ines Marlow",
	base,
	etag: '"1"',
	procedure: { ...base, revision: 2, steps: [{ id: row, stage: "sand", abrasive: "P2000" }] },
	undo: [],
	redo: [],
	conflicts: [],
	selection: null,
	situation: {},
	openCell: { row, column: "work", text: "3 pas" },
	partTexts: {},
};
const fresh: Draft = { ...draft, tab: "two", person: "", id: "draft-1", isNew: true, procedure: base, openCell: null };

async function shown(drafts: readonly Draft[], unknown = 0): Promise<{ element: Drafts; wishes: DraftWish[] }> {
	const element = new Drafts();
	element.drafts = drafts;
	element.unknown = unknown;
	paper().append(element);
	await element.updateComplete;
	const wishes: DraftWish[] = [];
	document.body.addEventListener("gw-draft", (event) => wishes.push((event as CustomEvent<DraftWish>).detail));
	return { element, wishes };
}

const lines = (element: Drafts) =>
	[...element.renderRoot.querySelectorAll("li")].map((one) => one.textContent?.replace(/\s+/g, " ").trim() ?? "");
const focusedText = (element: Drafts) => element.shadowRoot?.activeElement?.textContent?.trim();

async function press(element: Drafts, key: string): Promise<void> {
	await sendKeys({ press: key });
	await element.updateComplete;
	await new Promise((resolve) => setTimeout(resolve));
}

describe("<gw-drafts>", () => {
	afterEach(() => document.body.replaceChildren());

	it("says who wrote, when, how much, and what stood in the open cell", async () => {
		const { element } = await shown([draft, fresh]);
		const [first, second] = lines(element);
		expect(first).to.match(/Ines Marlow, 12 May 2026/);
		expect(first).to.include("2 changes");
		expect(first).to.include("“3 pas”");
		expect(second).to.include("No name given");
		expect(second).to.include("A new procedure: Small");
		await expectAccessible(element);
	});

	it("says who wrote in Spanish", async () => {
		const { element } = await shown([draft]);
		element.language = "es";
		await element.updateComplete;
		expect(lines(element)[0]).to.include("2 cambios");
		await expectAccessible(element);
	});

	it("hears by keyboard that somebody goes on with one", async () => {
		const { element, wishes } = await shown([draft]);
		await press(element, "Tab");
		await press(element, "Enter");
		expect(wishes).to.deep.equal([{ draft, wish: "restore" }]);
	});

	it("throws away only what is said twice, and a person may think better of it", async () => {
		const { element, wishes } = await shown([draft, fresh]);
		for (let count = 0; count < 2; count++) await press(element, "Tab");
		await press(element, "Enter");
		expect(focusedText(element)).to.equal("No, keep it");
		await expectAccessible(element);
		await press(element, "Escape");
		expect(focusedText(element)).to.equal("Throw it away");
		expect(wishes).to.deep.equal([]);
		await press(element, "Enter");
		await press(element, "Tab");
		await press(element, "Enter");
		expect(wishes).to.deep.equal([{ draft, wish: "discard" }]);
	});

	it("says that drafts of another program version are left alone", async () => {
		const { element } = await shown([], 2);
		expect(element.renderRoot.textContent).to.include("2 drafts here were written by another version");
		await expectAccessible(element);
	});

	it("shows nothing where there is none", async () => {
		const { element } = await shown([]);
		expect(element.renderRoot.querySelector("section")).to.equal(null);
	});
});
