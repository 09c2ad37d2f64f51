import { sendKeys } from "@web/test-runner-commands";
import { html } from "lit";
import type { Procedure, Step } from "../../../src/model/generated/types.ts";
import type { AcceptForm } from "../../../src/workbench/sheet/accept-form.ts";
import "../../../src/workbench/sheet/findings.ts";
import type { Findings } from "../../../src/workbench/sheet/findings.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import {
	all,
	button,
	clear,
	etchSection,
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
} from "./stage.ts";

/** No gear, a grade nobody makes, a row that says nothing, a foam disc that runs dry. */
const faulty: Procedure = {
	...peelPanel,
	wear: [],
	steps: (peelPanel.steps ?? []).map((step: Step) => {
		if (step.id === "toazxajwon") return { ...step, abrasive: "P1700" };
		if (step.id === "gpvraddjdu") return { id: step.id };
		if (step.id === "muqsqlnmas") return { ...step, wetness: "dry" as const };
		return step;
	}),
};

async function showing(store: SheetStore, language = "en"): Promise<Findings> {
	const findings = await show<Findings>(
		html`<gw-findings .store=${store} .language=${language} .person=${"Ines Marlow"}></gw-findings>`,
		"gw-findings",
	);
	await settled(findings);
	return findings;
}

/** After the list, and the remedies that come a little later. */
async function settled(findings: Findings): Promise<void> {
	await findings.updateComplete;
	await new Promise((resolve) => setTimeout(resolve, 400));
	await findings.updateComplete;
}

function open(store: SheetStore) {
	return store.state.findings.filter(({ accepted }) => accepted === null);
}

describe("<gw-findings>", () => {
	afterEach(clear);

	it("says that nothing was found, in how much", async () => {
		const off = { off: true, reason: "shown elsewhere", by: "Ines Marlow", on: "2026-03-02" };
		const quiet = { ...shop, limits: { ...shop.limits, rules: { "vibration-action": off } } };
		const findings = await showing(storeOf(peelPanel, { shop: quiet }));
		expect(shown(findings)).to.contain("Nothing found in 15 rows and 24 situations");
		expect(shown(findings)).not.to.match(/safe/i);
		await expectAccessible(findings);
	});

	it("says what to do where there are no rows", async () => {
		const store = storeOf({ format: 1, id: "new", title: { en: "New" }, steps: [] });
		const findings = await showing(store);
		expect(shown(findings)).not.to.contain("Nothing found");
		await expectAccessible(findings);
	});

	it("lists findings by level with mark, word, place and sentence", async () => {
		const store = storeOf(faulty);
		const findings = await showing(store);
		const headings = all(findings, "h3").map(textOf);
		expect(headings[0]).to.equal("■ Stop");
		expect(all(findings, "li").length).to.equal(store.state.findings.length);
		expect(textOf(within(findings, "li .where"))).to.match(/^■ stop Row 4, Abrasive$/);
		expect(textOf(within(findings, "li strong"))).to.match(/P1700/);
		await expectAccessible(findings);
	});

	it("speaks Spanish", async () => {
		const findings = await showing(storeOf(faulty), "es");
		expect(textOf(within(findings, "li .where"))).to.match(/Fila 4, Abrasivo/);
		await expectAccessible(findings);
	});

	it("filters by level and by text", async () => {
		const store = storeOf(faulty);
		const findings = await showing(store);
		button(findings, /stop$/).click();
		await settled(findings);
		expect(all(findings, "h3").map(textOf)).to.deep.equal(["■ Stop"]);
		const search = within<HTMLInputElement>(findings, "input[type=search]");
		search.value = "row 4";
		search.dispatchEvent(new Event("input"));
		await settled(findings);
		for (const where of all(findings, ".where")) expect(textOf(where)).to.match(/Row 4/);
		search.value = "nothing of the kind";
		search.dispatchEvent(new Event("input"));
		await settled(findings);
		expect(shown(findings)).to.contain("No finding matches");
		await expectAccessible(findings);
	});

	it("goes to the cell of a finding that is pressed, and walks on from it", async () => {
		const findings = await showing(storeOf(faulty));
		const went: unknown[] = [];
		findings.addEventListener("gw-go-to", (event) => went.push((event as CustomEvent).detail));
		within(findings, ".where").click();
		expect(went[0]).to.deep.equal({ row: "toazxajwon", field: "abrasive" });
		const count = all(findings, ".where").length;
		for (let walked = 0; walked < count; walked += 1) findings.next();
		expect(went.at(-1)).to.deep.equal(went[0]);
		findings.next(-1);
		expect(went.at(-1)).to.deep.equal(went.at(-3));
		await findings.updateComplete;
		expect(all(findings, "[aria-current=true]").length).to.equal(1);
		expect(findings.said).to.match(/^\S+: /);
	});

	it("mends one finding with the press of its sure remedy, and keeps the focus in the list", async () => {
		const store = storeOf(faulty);
		const findings = await showing(store);
		const before = open(store).length;
		const sure = all<HTMLButtonElement>(findings, ".actions .main")[0];
		expect(sure, "no sure remedy in the list").to.not.equal(undefined);
		sure?.focus();
		await sendKeys({ press: "Enter" });
		await settled(findings);
		expect(open(store).length).to.be.lessThan(before);
		expect(store.state.undo).to.equal("remedy");
		expect(findings.shadowRoot?.activeElement).to.not.equal(null);
	});

	it("mends all that is sure in one gesture", async () => {
		const store = storeOf(faulty);
		const findings = await showing(store);
		const told: string[] = [];
		findings.addEventListener("gw-tell", (event) => told.push((event as CustomEvent<string>).detail));
		const before = store.state.procedure;
		button(findings, /Mend what is sure/).click();
		await until(() => told.length > 0, "mended");
		await settled(findings);
		expect(told[0]).to.match(/mended, as one change/);
		expect(store.state.undo).to.equal("remedy");
		store.undo();
		expect(store.state.procedure).to.deep.equal(before);
		expect(store.state.undo).to.equal(null);
	});

	it("accepts a finding with reason and name, and takes it back", async () => {
		const store = storeOf(faulty);
		const findings = await showing(store);
		const finding = open(store).find(({ level }) => level === "caution");
		const item = all(findings, "li.caution")[0] as HTMLElement;
		const accept = [...item.querySelectorAll("button")].find((one) => /Accept/.test(textOf(one)));
		accept?.focus();
		await sendKeys({ press: "Enter" });
		await settled(findings);
		const form = within<AcceptForm>(findings, "gw-accept-form");
		await form.updateComplete;
		await expectAccessible(findings);
		await sendKeys({ press: "Tab" });
		button(form, /^Accept$/).click();
		await form.updateComplete;
		expect(textOf(within(form, "[role=alert]"))).to.match(/why/);
		await expectAccessible(findings);
		await sendKeys({ type: "Trial panel came out clean" });
		button(form, /^Accept$/).click();
		await settled(findings);
		const [exception] = store.state.procedure.exceptions ?? [];
		expect(exception?.rule).to.equal(finding?.rule);
		expect(exception?.reason).to.equal("Trial panel came out clean");
		expect(exception?.by).to.equal("Ines Marlow");
		expect(store.state.undo).to.equal("accept");
		expect(shown(findings)).to.contain("1 accepted on purpose");
		within<HTMLDetailsElement>(findings, "details:has(.accepted)").open = true;
		await expectAccessible(findings);
		button(findings, /Take the acceptance back/).click();
		await settled(findings);
		expect(store.state.procedure.exceptions).to.equal(undefined);
	});

	it("keeps the reason on Escape and through a reload, and drops it on Cancel", async () => {
		const store = storeOf(faulty);
		const findings = await showing(store);
		const opener = () => button(findings, /Accept/);
		opener().focus();
		await sendKeys({ press: "Enter" });
		await findings.updateComplete;
		await sendKeys({ type: "Half a rea" });
		await sendKeys({ press: "Escape" });
		await until(() => findings.shadowRoot?.activeElement === opener(), "the focus back on the opener");
		expect(all(findings, "gw-accept-form")).to.have.length(0);
		const reloaded = await showing(store);
		const form = within<AcceptForm>(reloaded, "gw-accept-form");
		expect(within<HTMLTextAreaElement>(form, "textarea").value).to.equal("Half a rea");
		await expectAccessible(reloaded);
		button(form, /Cancel/).click();
		await until(() => all(reloaded, "gw-accept-form").length === 0, "the form gone");
		expect(store.partTexts).to.deep.equal({});
	});

	it("lets nobody but those who sign accept a finding that stops", async () => {
		const findings = await showing(storeOf(faulty));
		button(findings, /^Accept$/).click();
		await settled(findings);
		const form = within<AcceptForm>(findings, "gw-accept-form");
		await form.updateComplete;
		const names = [...within<HTMLSelectElement>(form, "select").options].map(({ text }) => text);
		expect(names).to.deep.equal(["Choose who signs", "Ines Marlow", "Tobias Renke"]);
		await expectAccessible(findings);
		await sendKeys({ press: "Escape" });
		await settled(findings);
		expect(all(findings, "gw-accept-form").length).to.equal(0);
	});

	it("says so where the book lists nobody who signs", async () => {
		const nobody = { ...shop, book: { ...shop.book, people: [{ name: "Adaeze Holm" }] } };
		const findings = await showing(storeOf(faulty, { shop: nobody }));
		button(findings, /^Accept$/).click();
		await settled(findings);
		expect(shown(within(findings, "gw-accept-form"))).to.contain("lists nobody");
	});

	it("shows what was accepted, folded, with who and why", async () => {
		const findings = await showing(storeOf(etchSection));
		within<HTMLDetailsElement>(findings, "details:has(.accepted)").open = true;
		expect(shown(findings)).to.contain("Accepted by Ines Marlow");
		await expectAccessible(findings);
	});

	it("offers nothing that changes a file that is read only", async () => {
		const readOnly = [
			{ code: "repeated-key" as const, pointer: "/title", line: 3, column: 2, data: { found: "title" } },
		];
		const findings = await showing(storeOf(faulty, { readOnly }));
		expect(all(findings, ".actions button").length).to.equal(0);
		await expectAccessible(findings);
	});
});
