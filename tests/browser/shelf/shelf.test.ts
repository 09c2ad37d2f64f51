import { expect } from "@esm-bundle/chai";
import { sendKeys } from "@web/test-runner-commands";
import type { BookOpened } from "../../../src/api/types.ts";
import { problemOf } from "../../../src/model/problem.ts";
import "../../../src/workbench/shelf/shelf.ts";
import type { Shelf } from "../../../src/workbench/shelf/shelf.ts";
import { type Draft, draftSchema } from "../../../src/workbench/store/draft.ts";
import { listed } from "../../workbench/shelf/listed.ts";
import { clearStage, complaints, focused, onStage, seen, themes, until } from "./stage.ts";

const opened: BookOpened = {
	book: { format: 1, id: "quill", name: "Quillfeather" },
	stock: { format: 1 },
	limits: { format: 1 },
	problems: [],
};

const procedures = [
	listed("nib-blade", {
		title: { en: "Dirt nib: blade", es: "Mota: cuchilla" },
		counts: { stop: 1, caution: 2, advice: 0 },
		accepted: 1,
		scope: { defects: [{ defect: "dirt-nib" }, { defect: "fibre" }], substrates: ["steel"], tones: ["dark-effect"] },
	}),
	listed("nib-hand", {
		title: { en: "Dirt nib by hand" },
		variantOf: "nib-blade",
		chooseWhen: { en: "no blade is at hand" },
		code: "TGQ148RKPD",
	}),
	listed("swirl", {
		title: { en: "Swirl marks" },
		scope: { defects: [{ defect: "swirl" }] },
		state: "withdrawn",
		code: "VBQGSS0QNP",
		takenUm: null,
		leftUm: null,
		minutes: null,
	}),
	listed("started", {
		title: { en: "Just started" },
		scope: {},
		state: "draft",
		revision: null,
		revisionDate: null,
		code: "1111111111",
	}),
];

const full: Partial<Shelf> = { book: "quill", opened, listed: { procedures, problems: [] } };

const states: Record<string, Partial<Shelf>> = {
	"while it loads": { book: "quill" },
	"with every sort of procedure": full,
	"with drafts": {
		...full,
		drafts: [draftOf("nib-blade", false, "Dirt nib: blade"), draftOf("kqzvwmtjxa", true, "Brand new")],
	},
	"with nothing that matches": { ...full, query: "?text=zebra" },
	"with an empty book": { ...full, listed: { procedures: [], problems: [] } },
	"with a file that did not open": {
		...full,
		listed: {
			procedures,
			problems: [{ name: "broken.procedure.json", problem: problemOf("not-json", { line: 3, column: 7 }) }],
		},
	},
	"where it did not load": { book: "quill", failure: { what: "The book did not open.", why: "The folder is gone." } },
};

describe("the Shelf", () => {
	afterEach(clearStage);

	for (const [name, state] of Object.entries(states)) {
		for (const theme of themes) {
			it(`is accessible ${name}, ${theme}`, async () => {
				const shelf = await onStage<Shelf>("gw-shelf", state, theme);
				expect(await complaints(shelf)).to.deep.equal([]);
			});
		}
	}

	it("says on a card what it is for, how it stands and what it costs", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", full);
		const card = seen(cards(shelf)[0] as Element);
		for (const words of [
			"Dirt nib: blade",
			"dirt nib, fibre · steel · dark metallic or pearl",
			"■ 1 stop",
			"▲ 2 caution",
			"1 accepted on purpose",
			"released",
			"Revision 3, 12 May 2026",
			"Card code Z20HRBYY3M",
			"Film taken 12 µm 8 to 17 µm",
			"Film left 33 µm 24 to 42 µm",
			"Time 41 min 35 to 52 min",
		])
			expect(card).to.include(words);
		expect(card).not.to.include("advice");
	});

	it("says of an unknown figure that it is unknown", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", full);
		expect(seen(cards(shelf)[2] as Element)).to.include("Film taken unknown Film left unknown Time unknown");
	});

	it("speaks the reader's language and unit", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", { ...full, language: "es", filmUnit: "mil" });
		const card = seen(cards(shelf)[0] as Element);
		expect(card).to.include("Mota: cuchilla").and.include("Película retirada 0,47 mil de 0,31 a 0,67 mil");
		expect(card).to.include("Revisión 3, 12 de mayo de 2026");
	});

	it("stands variants under what they vary, and groups by the first defect", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", full);
		const headings = [...root(shelf).querySelectorAll("h2")].map((one) => one.textContent?.trim());
		expect(headings).to.deep.equal(["Dirt nib", "Swirl", "No defect named"]);
		const under = cards(shelf)[0]?.parentElement?.querySelector("ul.cards");
		expect(under && seen(under))
			.to.include("Dirt nib by hand")
			.and.include("Take this one when: no blade is at hand");
	});

	it("names what a variant varies where that is not shown", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", { ...full, query: "?text=hand" });
		expect(titles(shelf)).to.deep.equal(["Dirt nib by hand"]);
		expect(seen(cards(shelf)[0] as Element)).to.include("Variant of Dirt nib: blade");
	});

	it("leads every card to its Sheet", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", full);
		const link = root(shelf).querySelector<HTMLAnchorElement>("article a");
		expect(link?.getAttribute("href")).to.equal("/books/quill/procedures/nib-blade");
	});

	it("filters as one types, counts, and tells the query", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", full);
		const queries: string[] = [];
		shelf.addEventListener("gw-filter", (event) => queries.push((event as CustomEvent).detail.query));
		root(shelf).querySelector<HTMLInputElement>("input[name=text]")?.focus();
		await sendKeys({ type: "sw" });
		await shelf.updateComplete;
		expect(titles(shelf)).to.deep.equal(["Swirl marks"]);
		expect(count(shelf)).to.equal("1 of 4 procedures");
		expect(queries).to.deep.equal(["?text=s", "?text=sw"]);
	});

	it("goes by keyboard from the words through the choices to the first card", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", { ...full, query: "?state=released" });
		root(shelf).querySelector<HTMLInputElement>("input[name=text]")?.focus();
		const passed: string[] = [];
		for (let step = 0; step < 5; step += 1) {
			await sendKeys({ press: "Tab" });
			const at = focused();
			passed.push(at?.getAttribute("name") ?? at?.textContent?.trim() ?? "");
		}
		expect(passed).to.deep.equal(["findings", "state", "defect", "Show all", "Dirt nib: blade"]);
	});

	it("chooses by keyboard, and shows all again", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", full);
		root(shelf).querySelector<HTMLSelectElement>("select[name=state]")?.focus();
		await sendKeys({ type: "with" });
		await shelf.updateComplete;
		expect(titles(shelf)).to.deep.equal(["Swirl marks"]);
		const all = [...root(shelf).querySelectorAll("button")].find((one) => one.textContent?.trim() === "Show all");
		all?.focus();
		await sendKeys({ press: "Enter" });
		await shelf.updateComplete;
		expect(count(shelf)).to.equal("4 procedures");
		expect(root(shelf).querySelector<HTMLSelectElement>("select[name=state]")?.value).to.equal("");
	});

	it("takes the filter from the address", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", { ...full, query: "?findings=caution&defect=fibre" });
		expect(titles(shelf)).to.deep.equal(["Dirt nib: blade"]);
		expect(root(shelf).querySelector<HTMLSelectElement>("select[name=findings]")?.value).to.equal("caution");
		expect(root(shelf).querySelector<HTMLSelectElement>("select[name=defect]")?.value).to.equal("fibre");
	});

	for (const [code, words] of [
		["z20h rbyy3m", "Card Z20HRBYY3M: current."],
		["VBQGSSOQNP", "Card VBQGSS0QNP: withdrawn. Do not work from it."],
		["1111111111", "its state is draft; it is not released"],
		["9999999999", "No procedure of this book prints a card with the code 9999999999 today."],
	] as const) {
		it(`says of the card code ${code} how it stands`, async () => {
			const shelf = await onStage<Shelf>("gw-shelf", { ...full, query: `?text=${encodeURIComponent(code)}` });
			expect(count(shelf)).to.include(words);
		});
	}

	it("marks what this browser has not saved", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", states["with drafts"] ?? {});
		expect(seen(cards(shelf)[0] as Element)).to.include("Unsaved changes in this browser");
		expect(seen(cards(shelf)[2] as Element)).not.to.include("Unsaved");
		const fresh = root(shelf).querySelector<HTMLAnchorElement>('a[href="/books/quill/new/kqzvwmtjxa"]');
		expect(fresh?.textContent?.trim()).to.equal("Brand new");
	});

	it("throws a draft without a file away only when told twice, by keyboard", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", states["with drafts"] ?? {});
		const thrown: string[] = [];
		shelf.addEventListener("gw-discard", (event) => thrown.push((event as CustomEvent).detail.draft.id));
		root(shelf).querySelector<HTMLElement>(".discard")?.focus();
		await sendKeys({ press: "Enter" });
		await until(() => focused()?.textContent?.trim() === "Keep it", "keeping has the focus");
		expect(await complaints(shelf)).to.deep.equal([]);
		await sendKeys({ press: "Enter" });
		await until(() => focused()?.className === "discard", "the focus is back");
		await sendKeys({ press: "Enter" });
		await until(() => focused()?.textContent?.trim() === "Keep it", "keeping has the focus");
		expect(thrown).to.deep.equal([]);
		await sendKeys({ press: "Tab" });
		await sendKeys({ press: "Enter" });
		expect(thrown).to.deep.equal(["kqzvwmtjxa"]);
	});

	it("says which file did not open and why, and shows the rest", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", states["with a file that did not open"] ?? {});
		expect(seen(shelf)).to.include("broken.procedure.json: This is not JSON");
		expect(cards(shelf)).to.have.length(4);
	});

	it("says in an empty book what to do next, and offers it once", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", states["with an empty book"] ?? {});
		expect(seen(shelf)).to.include("This book has no procedures yet. Start one from nothing");
		let asked = 0;
		shelf.addEventListener("gw-new", () => (asked += 1));
		for (const button of root(shelf).querySelectorAll("button")) button.click();
		expect(asked).to.equal(1);
	});

	it("leads to the draft of a procedure that the book no longer lists", async () => {
		const drafts = [draftOf("gone", false, "Taken away"), draftOf("swirl", false, "Swirl marks")];
		const shelf = await onStage<Shelf>("gw-shelf", { ...full, drafts });
		const links = [...root(shelf).querySelectorAll<HTMLAnchorElement>(".kept a")];
		expect(links.map(({ pathname, textContent }) => [pathname, textContent])).to.deep.equal([
			["/books/quill/procedures/gone", "Taken away"],
		]);
		expect(await complaints(shelf)).to.deep.equal([]);
	});

	it("breaks a long title without a space inside its card", async () => {
		const long = listed("long", { title: { en: "Kratzerausschleif".repeat(12) } });
		const shelf = await onStage<Shelf>("gw-shelf", { ...full, listed: { procedures: [long], problems: [] } });
		const what = cards(shelf)[0]?.querySelector(".what") as HTMLElement;
		expect(what.scrollWidth).to.be.at.most(what.clientWidth);
	});

	it("offers to try again where it did not load", async () => {
		const shelf = await onStage<Shelf>("gw-shelf", states["where it did not load"] ?? {});
		let asked = 0;
		shelf.addEventListener("gw-again", () => (asked += 1));
		root(shelf).querySelector<HTMLButtonElement>(".failure button")?.focus();
		await sendKeys({ press: "Enter" });
		expect(asked).to.equal(1);
	});
});

function draftOf(id: string, isNew: boolean, title: string): Draft {
	const procedure = { format: 1, id, title: { en: title } };
	return {
		schema: draftSchema,
		tab: "a",
		time: 0,
		book: "quill",
		id,
		isNew,
		person: "",
		base: procedure,
		etag: null,
		procedure,
		undo: [],
		redo: [],
		conflicts: [],
		selection: null,
		situation: {},
		openCell: null,
		partTexts: {},
	};
}

function root(shelf: Shelf): ShadowRoot {
	return shelf.shadowRoot as ShadowRoot;
}

function cards(shelf: Shelf): Element[] {
	return [...root(shelf).querySelectorAll("article")];
}

function titles(shelf: Shelf): (string | undefined)[] {
	return cards(shelf).map((card) => card.querySelector("h3")?.textContent?.trim());
}

function count(shelf: Shelf): string {
	return root(shelf).querySelector(".count")?.textContent?.trim() ?? "";
}
