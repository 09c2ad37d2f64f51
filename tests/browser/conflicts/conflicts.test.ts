import { expect } from "@esm-bundle/chai";
import { sendKeys } from "@web/test-runner-commands";
import type { Procedure, Step } from "../../../src/model/generated/types.ts";
import { genericShop } from "../../../src/model/shop.ts";
import type { Language } from "../../../src/model/words.ts";
import { Conflicts } from "../../../src/workbench/conflicts/conflicts.ts";
import { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { MemoryDrafts, MemoryServer } from "../../workbench/store/in-memory.ts";
import { expectAccessible, paper } from "./paper.ts";

const a = "aaaaaaaaaa";
const b = "bbbbbbbbbb";
const c = "cccccccccc";
const procedure: Procedure = {
	format: 1,
	id: "small",
	title: { en: "Small" },
	scope: { tones: ["dark"] },
	steps: [
		{ id: a, stage: "sand", abrasive: "P1500" },
		{ id: b, stage: "refine", abrasive: "P3000" },
		{ id: c, stage: "polish", liquid: "fine" },
	],
};

const withStep = (one: Procedure, id: string, some: Partial<Step>): Procedure => ({
	...one,
	steps: one.steps?.map((step) => (step.id === id ? { ...step, ...some } : step)) ?? [],
});

/** A store whose save met another. */
async function conflicting(mine: (one: Procedure) => Procedure, theirs: (one: Procedure) => Procedure) {
	const server = new MemoryServer();
	const store = new SheetStore(
		{ book: "demo", shop: genericShop, procedure, etag: server.put(procedure), readOnly: [] },
		{ server, drafts: new MemoryDrafts(), today: () => "2026-05-12", person: () => "Ines", random: Math.random },
	);
	const changed = mine(procedure);
	for (const [index, step] of (changed.steps ?? []).entries()) {
		const before = procedure.steps?.[index];
		if (before === undefined || before === step) continue;
		store.change(
			[
				{
					op: "set",
					row: step.id,
					field: "abrasive",
					...given("from", before.abrasive),
					...given("to", step.abrasive),
				},
			],
			"type",
		);
	}
	if (changed.title !== procedure.title)
		store.change([{ op: "setPart", pointer: "/title/en", from: procedure.title.en, to: changed.title.en }], "part");
	server.put(theirs(procedure));
	await store.save();
	return { store, server };
}

const given = (key: string, value: unknown) => (value === undefined ? {} : { [key]: value });

const both = () =>
	conflicting(
		(one) => ({
			...withStep(withStep(one, a, { abrasive: "P2000" }), b, { abrasive: "P2500" }),
			title: { en: "Mine" },
		}),
		(one) => ({
			...withStep(withStep(withStep(one, a, { abrasive: "P1000" }), b, { abrasive: "P4000" }), c, { liquid: "finest" }),
			title: { en: "Theirs" },
		}),
	);

async function shown(store: SheetStore, language: Language = "en"): Promise<Conflicts> {
	const element = new Conflicts();
	element.store = store;
	element.language = language;
	paper().append(element);
	await element.updateComplete;
	return element;
}

const text = (element: Conflicts, selector: string) =>
	[...element.renderRoot.querySelectorAll(selector)].map((one) => one.textContent?.replace(/\s+/g, " ").trim());
const button = (element: Conflicts, name: string) =>
	[...element.renderRoot.querySelectorAll("button")].find(
		(one) => (one.getAttribute("aria-label") ?? one.textContent?.trim()) === name,
	) as HTMLButtonElement;

describe("<gw-conflicts>", () => {
	afterEach(() => document.body.replaceChildren());

	it("says each place in words, with what stands there on every side", async () => {
		const { store } = await both();
		const element = await shown(store);
		expect(text(element, "h3")).to.have.members(["Row 1, Abrasive", "Row 2, Abrasive", "Title, English"]);
		const first = text(element, "dl").find((line) => line?.includes("P1000"));
		expect(first).to.equal("Before P1500 Yours P2000 On disk P1000");
		expect(text(element, "[role=status]")).to.deep.equal(["3 places left to decide."]);
		expect(text(element, "details li")).to.have.length(1);
		expect(text(element, "details li")[0]).to.match(/^Row 3, Liquid: /);
		await expectAccessible(element);
	});

	it("speaks Spanish", async () => {
		const { store } = await both();
		const element = await shown(store, "es");
		expect(text(element, "h3")[0]).to.match(/^(Fila|T)/);
		await expectAccessible(element);
	});

	it("is decided by keyboard alone, the focus going on to the next place and at last to the cell", async () => {
		const { store } = await both();
		const element = await shown(store);
		const gone: unknown[] = [];
		element.addEventListener("gw-go-to", (event) => gone.push((event as CustomEvent).detail));
		(element.renderRoot.querySelector("button.keep") as HTMLElement).focus();
		for (let left = 3; left > 0; left--) {
			expect(element.shadowRoot?.activeElement?.classList.contains("keep")).to.equal(true);
			await sendKeys({ press: "Enter" });
			await element.updateComplete;
			await Promise.resolve();
			expect(store.state.conflicts).to.have.length(left - 1);
		}
		expect(gone).to.have.length(1);
		expect(text(element, "[role=status]")[0]).to.match(/^Every place is decided/);
		await expectAccessible(element);
		button(element, "Save now").click();
		await new Promise((resolve) => setTimeout(resolve));
		await element.updateComplete;
		expect(store.state.saving.state).to.equal("saved");
		expect(element.renderRoot.querySelector("section")).to.equal(null);
	});

	it("takes theirs at one place", async () => {
		const { store } = await both();
		const element = await shown(store);
		button(element, "Take theirs: Row 1, Abrasive").click();
		await element.updateComplete;
		expect(store.state.procedure.steps?.[0]?.abrasive).to.equal("P1000");
		expect(text(element, "h3")).to.have.members(["Row 2, Abrasive", "Title, English"]);
	});

	it("decides every place at once", async () => {
		const { store, server } = await both();
		const element = await shown(store);
		button(element, "Take theirs everywhere").click();
		await store.save();
		const saved = server.files.get("small")?.procedure;
		expect(saved?.steps?.map(({ abrasive }) => abrasive)).to.deep.equal(["P1000", "P4000", undefined]);
		expect(saved?.title.en).to.equal("Theirs");
	});

	it("leads to the cell, or to the part", async () => {
		const { store } = await both();
		const element = await shown(store);
		const gone: unknown[] = [];
		document.body.addEventListener("gw-go-to", (event) => gone.push((event as CustomEvent).detail));
		button(element, "Go to the place: Row 2, Abrasive").click();
		button(element, "Go to the place: Title, English").click();
		expect(gone).to.deep.equal([
			{ row: b, field: "abrasive" },
			{ row: null, field: "title" },
		]);
	});

	it("shows nothing where nothing was joined", async () => {
		const { store } = await conflicting(
			(one) => one,
			(one) => one,
		);
		const element = await shown(store);
		expect(element.renderRoot.querySelector("section")).to.equal(null);
	});
});
