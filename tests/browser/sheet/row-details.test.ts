import { sendKeys } from "@web/test-runner-commands";
import { html } from "lit";
import type { Procedure } from "../../../src/model/generated/types.ts";
import "../../../src/workbench/sheet/row-details.ts";
import type { RowDetails } from "../../../src/workbench/sheet/row-details.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { all, clear, expect, expectAccessible, peelPanel, show, shown, storeOf, textOf, within } from "./stage.ts";

const compound = "nfrqojaixq";
const level = "toazxajwon";

async function showing(store: SheetStore, row: string | null, language = "en"): Promise<RowDetails> {
	if (row !== null) store.select({ anchor: { row, column: "stage" }, head: { row, column: "stage" } });
	return show<RowDetails>(
		html`<gw-row-details .store=${store} .language=${language}></gw-row-details>`,
		"gw-row-details",
	);
}

/** Opens every group of fields, as a person does. */
async function unfold(details: RowDetails): Promise<void> {
	for (const one of all<HTMLDetailsElement>(details, "details:not([open]) > summary")) one.click();
	await new Promise((resolve) => setTimeout(resolve, 50));
	await details.updateComplete;
}

function type(details: RowDetails, id: string, text: string): Promise<boolean> {
	const field = within<HTMLInputElement>(details, `#${id}`);
	field.value = text;
	for (const said of ["input", "change", "blur"]) field.dispatchEvent(new Event(said));
	return details.updateComplete;
}

function stepOf(store: SheetStore, row: string) {
	return store.state.procedure.steps?.find(({ id }) => id === row);
}

describe("<gw-row-details>", () => {
	afterEach(clear);

	it("asks for a row where none is picked", async () => {
		const details = await showing(storeOf(peelPanel), null);
		expect(shown(details)).to.contain("Pick a row");
		await expectAccessible(details);
	});

	it("says what the row is told, why it is there and what it does", async () => {
		const details = await showing(storeOf(peelPanel), compound);
		expect(shown(details)).to.contain("Row 9 · compound");
		expect(textOf(within(details, ".instruction"))).to.match(/compound/i);
		expect(shown(details)).to.match(/takes .*µm off the clear/);
		expect(shown(details)).to.match(/clears the scratches of row \d/);
		expect(shown(details)).to.contain("gauge reading on the panel decides");
		expect(all(details, "dd").length).to.equal(4);
		await unfold(details);
		await expectAccessible(details);
	});

	it("speaks Spanish", async () => {
		const details = await showing(storeOf(peelPanel), level, "es");
		expect(shown(details)).to.contain("Por qué esta fila");
		await unfold(details);
		await expectAccessible(details);
	});

	it("shows what an empty field counts as, and where that comes from", async () => {
		const details = await showing(storeOf(peelPanel), compound);
		await unfold(details);
		const force = within<HTMLInputElement>(details, "#forceN");
		expect(force.value).to.equal("");
		expect(force.placeholder).to.match(/N$/);
		expect(textOf(within(details, "#forceN-from"))).to.match(/usual for/);
	});

	it("takes what is typed through the one door, and keeps what it cannot read", async () => {
		const store = storeOf(peelPanel);
		const details = await showing(store, compound);
		await unfold(details);
		await type(details, "forceN", "45 N");
		expect(stepOf(store, compound)?.forceN).to.equal(45);
		expect(store.state.undo).to.equal("type");
		await type(details, "forceN", "as hard as you like");
		expect(stepOf(store, compound)?.asTyped?.forceN).to.equal("as hard as you like");
		const force = within<HTMLInputElement>(details, "#forceN");
		expect(force.value).to.equal("as hard as you like");
		expect(force.getAttribute("aria-invalid")).to.equal("true");
		await unfold(details);
		await expectAccessible(details);
		await type(details, "forceN", "");
		expect(stepOf(store, compound)?.forceN).to.equal(undefined);
		expect(store.state.undo).to.equal("clear");
	});

	it("keeps what is being typed through any change elsewhere, and for the draft", async () => {
		const store = storeOf(peelPanel);
		const details = await showing(store, compound);
		await unfold(details);
		const force = within<HTMLInputElement>(details, "#forceN");
		force.focus();
		await sendKeys({ type: "4" });
		store.change([{ op: "set", row: level, field: "note", to: "From elsewhere" }], "type");
		await details.updateComplete;
		expect(force.value).to.equal("4");
		expect(store.openCell).to.deep.equal({ row: compound, column: "forceN", text: "4" });
		await sendKeys({ type: "5" });
		await sendKeys({ press: "Tab" });
		await details.updateComplete;
		expect(stepOf(store, compound)?.forceN).to.equal(45);
		expect(store.openCell).to.equal(null);
		expect(force.value).to.equal("45 N");
	});

	it("offers what the stock holds", async () => {
		const details = await showing(storeOf(peelPanel), compound);
		const offers = [...within<HTMLDataListElement>(details, "#pad-offers").options].map(({ value }) => value);
		expect(offers).to.include("Twisted wool pad 180 mm");
	});

	it("keeps own words in each language, and makes the instruction where there are none", async () => {
		const store = storeOf(peelPanel);
		const details = await showing(store, compound);
		await unfold(details);
		await type(details, "own-es", "Con la boina de lana");
		expect(stepOf(store, compound)?.instruction).to.deep.equal({ es: "Con la boina de lana" });
		await type(details, "own-es", " ");
		expect(stepOf(store, compound)?.instruction).to.equal(undefined);
	});

	it("reaches every field by keyboard alone", async () => {
		const details = await showing(storeOf(peelPanel), compound);
		await unfold(details);
		for (const field of all(details, "input, textarea")) {
			field.focus();
			expect(details.shadowRoot?.activeElement).to.equal(field);
			expect(field.getBoundingClientRect().height).to.be.at.least(30);
		}
	});

	it("says unknown with what to measure", async () => {
		const unknown: Procedure = {
			...peelPanel,
			steps: (peelPanel.steps ?? []).map((step) => (step.id === level ? { ...step, abrasive: "P1700" } : step)),
		};
		const details = await showing(storeOf(unknown), level);
		expect(shown(details)).to.contain("Not known");
		expect(shown(details)).to.match(/Fill in the row/);
		await expectAccessible(details);
	});

	it("changes nothing of a file that is read only", async () => {
		const readOnly = [
			{ code: "repeated-key" as const, pointer: "/title", line: 3, column: 2, data: { found: "title" } },
		];
		const details = await showing(storeOf(peelPanel, { readOnly }), compound);
		await unfold(details);
		for (const field of all<HTMLInputElement>(details, "input, textarea")) expect(field.readOnly).to.equal(true);
	});

	it("keeps own words while they are typed, and shows them again after a reload", async () => {
		const store = storeOf(peelPanel);
		const details = await showing(store, level);
		await unfold(details);
		within(details, "#own-es").focus();
		await sendKeys({ type: "Medio tex" });
		const pointer = `/steps/${level}/instruction/es`;
		expect(store.partTexts).to.deep.equal({ [pointer]: "Medio tex" });
		const reloaded = storeOf(peelPanel);
		reloaded.typingPart(pointer, "Medio tex");
		const again = await showing(reloaded, level);
		await again.updateComplete;
		const field = within<HTMLTextAreaElement>(again, "#own-es");
		expect(field.value).to.equal("Medio tex");
		field.focus();
		field.blur();
		expect(stepOf(reloaded, level)?.instruction?.es).to.equal("Medio tex");
		expect(reloaded.partTexts).to.deep.equal({});
	});
});
