import { sendKeys } from "@web/test-runner-commands";
import { html } from "lit";
import type { PrintDialog } from "../../../src/workbench/card/print.ts";
import "../../../src/workbench/card/print.ts";
import {
	all,
	button,
	clear,
	etchSection,
	expect,
	expectAccessible,
	peelPanel,
	show,
	shown,
	storeOf,
	textOf,
	until,
	within,
} from "../sheet/stage.ts";

async function showing(store = storeOf(peelPanel), page = "about:blank"): Promise<PrintDialog> {
	const element = await show<PrintDialog>(
		html`<gw-print .store=${store} .language=${"en"} .page=${page}></gw-print>`,
		"gw-print",
	);
	if (page === "about:blank") await until(() => paper(element).querySelector("article") !== null, "the card");
	return element;
}

function paper(element: PrintDialog): Document {
	const { contentDocument } = within<HTMLIFrameElement>(element, "iframe");
	if (contentDocument === null) throw new Error("the frame shows no document");
	return contentDocument;
}

function choice(element: PrintDialog, words: RegExp): HTMLInputElement {
	const label = all(element, "label").find((one) => words.test(textOf(one)));
	const input = label?.querySelector("input");
	if (!input) throw new Error(`no choice ${words}`);
	return input;
}

describe("<gw-print>", () => {
	beforeEach(() => localStorage.removeItem("gritwright.paper"));
	afterEach(clear);

	it("shows the card as it is printed, one page a side on either paper", async () => {
		const element = await showing();
		for (const [name, heightMm] of [
			["A4", 281],
			["Letter", 263.4],
		] as const) {
			choice(element, new RegExp(`^${name}`)).click();
			await until(() => paper(element).documentElement.innerHTML.includes(`size: ${name};`), name);
			const sides = [...paper(element).querySelectorAll("article")];
			expect(sides.length).to.equal(2);
			for (const side of sides) expect(side.getBoundingClientRect().height, name).to.be.below((heightMm / 25.4) * 96);
		}
		await expectAccessible(element);
	});

	it("prints in the language of the book, or in the one chosen, which it remembers", async () => {
		const element = await showing();
		const heading = () => paper(element).querySelector("h1")?.textContent;
		expect(heading()).to.equal(peelPanel.title.en);
		choice(element, /^Spanish/).click();
		await until(() => heading() === peelPanel.title.es, "the card in Spanish");
		expect(paper(element).documentElement.lang).to.equal("es");
		clear();
		const later = await showing();
		expect(paper(later).querySelector("h1")?.textContent).to.equal(peelPanel.title.es);
		await expectAccessible(later);
	});

	it("prints the frame, and nothing else", async () => {
		const element = await showing();
		let printed = 0;
		const frame = within<HTMLIFrameElement>(element, "iframe").contentWindow as Window;
		frame.print = () => {
			printed += 1;
		};
		button(element, /^Print$/).click();
		expect(printed).to.equal(1);
	});

	it("says on screen and on the card that something is not saved, and follows what is typed", async () => {
		const store = storeOf(peelPanel);
		const element = await showing(store);
		expect(paper(element).body.textContent).not.to.contain("NOT SAVED");
		store.change([{ op: "setPart", pointer: "/title", from: peelPanel.title, to: { en: "Another title" } }], "part");
		await until(() => paper(element).querySelector("h1")?.textContent === "Another title", "the other title");
		expect(paper(element).body.textContent).to.contain("NOT SAVED");
		expect(shown(element)).to.contain("not saved yet");
		await expectAccessible(element);
	});

	it("says that a card with a stop is not for use", async () => {
		const element = await showing(storeOf({ ...etchSection, exceptions: [] }));
		expect(shown(element)).to.contain("not for use");
		expect(paper(element).body.textContent).to.contain("NOT FOR USE");
		await expectAccessible(element);
	});

	it("adds the film drawing on a page of its own, and remembers both choices", async () => {
		let element = await showing();
		choice(element, /Film drawing/).click();
		choice(element, /^A4/).click();
		await until(() => paper(element).querySelector(".drawing svg") !== null, "the drawing");
		clear();
		element = await showing();
		expect(choice(element, /Film drawing/).checked).to.equal(true);
		expect(choice(element, /^A4/).checked).to.equal(true);
	});

	it("says what to do when the page to print on does not load, and loads it on demand", async () => {
		// A frame of another origin shows no document, as the browser's page about a dead server does not.
		const element = await showing(storeOf(peelPanel), "data:text/html,gone");
		await until(() => /does not answer/.test(shown(element)), "the reason");
		await expectAccessible(element);
		element.page = "about:blank";
		await element.updateComplete;
		button(element, /Try again/).click();
		const frame = within<HTMLIFrameElement>(element, "iframe");
		await until(() => frame.contentDocument?.querySelectorAll("article").length === 2, "the card");
		await element.updateComplete;
		expect(shown(element)).not.to.contain("does not answer");
	});

	it("closes by key, and says so", async () => {
		const element = await showing();
		let closed = 0;
		element.addEventListener("gw-closed", () => {
			closed += 1;
		});
		await sendKeys({ press: "Escape" });
		await until(() => closed === 1, "gw-closed");
	});
});
