import { expect } from "@esm-bundle/chai";
import { sendKeys } from "@web/test-runner-commands";
import { problemDetails } from "../../../src/api/problems.ts";
import type { BookListed, BookOpened, ProceduresListed } from "../../../src/api/types.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import type { OpenSheet } from "../../../src/workbench/open-sheet.ts";
import type { Answer } from "../../../src/workbench/server.ts";
import { SettingsKeeper } from "../../../src/workbench/settings.ts";
import "../../../src/workbench/shelf/new-dialog.ts";
import "../../../src/workbench/shelf/shelf.ts";
import type { DraftContent } from "../../../src/workbench/store/draft.ts";
import { type Surroundings, Workbench } from "../../../src/workbench/workbench.ts";
import { listed } from "../../workbench/shelf/listed.ts";
import { clearStage, complaints, focused, seen, themes, until } from "../shelf/stage.ts";
import { noDrafts } from "../stage.ts";

const ownAddress = location.href;

/** Everything the server may answer; a test replaces what it is about. */
interface Answers {
	books: Answer<BookListed[]>;
	book: Answer<BookOpened>;
	procedures: Answer<ProceduresListed>;
}

const quill: BookListed = { id: "quill", name: "Quillfeather", procedures: 2 };
const bracken: BookListed = { id: "bracken", name: "Brackenfold", procedures: 2 };
const good: Answers = {
	books: [quill, bracken],
	book: {
		book: {
			format: 1,
			id: "quill",
			name: "Quillfeather",
			people: [{ name: "Ines Marlow", signs: true }, { name: "Piotr Vance" }],
		},
		stock: { format: 1 },
		limits: { format: 1 },
		problems: [],
	},
	procedures: {
		procedures: [
			listed("nib", { title: { en: "Dirt nib", es: "Mota" } }),
			listed("swirl", { title: { en: "Swirl marks" } }),
		],
		problems: [],
	},
};
const gone = { problem: problemDetails("no-answer") };
const allGone: Answers = { books: gone, book: gone, procedures: gone };

describe("the workbench", () => {
	afterEach(() => {
		clearStage();
		history.replaceState(null, "", ownAddress);
	});

	const addresses: [string, string, Partial<Answers>][] = [
		["the Shelf", "/books/quill", {}],
		["no book", "/", { books: [] }],
		["an address of nothing", "/releases", {}],
		["a book that is not there", "/books/elsewhere", { book: { problem: problemDetails("no-such-book") } }],
		["a server that is gone", "/books/quill", allGone],
	];
	for (const [name, address, answers] of addresses) {
		for (const theme of themes) {
			it(`is accessible with ${name}, ${theme}`, async () => {
				const { workbench } = await at(address, { ...good, ...answers }, { theme });
				document.title = "Gritwright";
				expect(await complaints(document)).to.deep.equal([]);
				expect(workbench.theme).to.equal(theme);
			});
		}
	}

	it("goes from / to the first book, in place of it", async () => {
		const before = history.length;
		const { workbench } = await at("/");
		expect(location.pathname).to.equal("/books/quill");
		expect(history.length).to.equal(before);
		expect(seen(workbench)).to.include("Procedures of Quillfeather");
	});

	it("goes from / to the book last used", async () => {
		const { workbench } = await at("/", good, { lastBook: "bracken" });
		expect(location.pathname).to.equal("/books/bracken");
		expect((inside(workbench, "header select") as HTMLSelectElement).value).to.equal("bracken");
	});

	it("names the book in the title, and gives a choice where there are several", async () => {
		const { workbench } = await at("/books/quill");
		expect(document.title).to.equal("Quillfeather · Gritwright");
		const select = inside(workbench, "header select") as HTMLSelectElement;
		select.value = "bracken";
		select.dispatchEvent(new Event("change"));
		await until(() => location.pathname === "/books/bracken", "the other book is shown");
	});

	it("says without any book how to get one", async () => {
		const { workbench } = await at("/", { ...good, books: [] });
		expect(seen(workbench)).to.include("No book here yet").and.include("--books");
	});

	it("leads from an address of nothing to the books", async () => {
		const { workbench } = await at("/coverage");
		expect(seen(workbench)).to.include("The address /coverage belongs to no view");
		(inside(workbench, 'main a[href="/books/bracken"]') as HTMLAnchorElement).click();
		await until(() => shelfCards(workbench).length === 2, "the book is shown");
		expect(location.pathname).to.equal("/books/bracken");
		expect(seen(workbench)).not.to.include("/coverage");
	});

	it("says of a book that is not there that it is not", async () => {
		const { workbench } = await at("/books/elsewhere", { ...good, book: { problem: problemDetails("no-such-book") } });
		expect(seen(workbench)).to.include("No book called elsewhere").and.include("Brackenfold");
	});

	it("follows a link within the page, and focuses the heading of what it shows", async () => {
		const { workbench } = await at("/");
		(inside(workbench, ".product") as HTMLAnchorElement).focus();
		await sendKeys({ press: "Enter" });
		await until(() => focused()?.localName === "h1", "the heading has the focus");
		expect(seen(focused() as Element)).to.equal("Procedures of Quillfeather");
	});

	it("skips to the content by keyboard", async () => {
		const { workbench } = await at("/books/quill");
		await sendKeys({ press: "Tab" });
		expect(focused()?.textContent).to.equal("Skip to the content");
		await sendKeys({ press: "Enter" });
		expect(focused()).to.equal(inside(workbench, "main"));
	});

	it("keeps the filter in the address, and restores it on the way back", async () => {
		const { workbench } = await at("/books/quill?findings=none");
		expect(seen(workbench)).to.include("2 procedures");
		const input = inShelf(workbench, "input[name=text]") as HTMLInputElement;
		input.value = "swirl";
		input.dispatchEvent(new Event("input"));
		expect(location.search).to.equal("?text=swirl&findings=none");
		await until(() => shelfCards(workbench).length === 1, "the filter is used");
		(inShelf(workbench, "article a") as HTMLAnchorElement).click();
		await until(() => location.pathname === "/books/quill/procedures/swirl", "the Sheet is asked for");
		history.back();
		await until(
			() => location.search === "?text=swirl&findings=none" && shelfCards(workbench).length === 1,
			"the filter is back",
		);
		expect((inShelf(workbench, "input[name=text]") as HTMLInputElement).value).to.equal("swirl");
	});

	it("shows the Shelf as it was left to a link that says no filter", async () => {
		const { workbench } = await at("/books/quill?text=swirl");
		await workbench.goTo("/books/quill/procedures/nib");
		const link = Object.assign(document.createElement("a"), { href: "/books/quill" });
		inside(workbench, "main").append(link);
		link.click();
		await until(() => location.search === "?text=swirl", "the filter is back");
	});

	it("says what happened where the server is gone, asks again, and goes on when it is back", async () => {
		const answers: Answers = { ...allGone };
		const { workbench } = await at("/books/quill", answers);
		expect(seen(workbench)).to.include("The program that keeps the books does not answer.");
		expect(seen(workbench)).to.include("The book quill did not open. The server does not answer.");
		Object.assign(answers, good);
		await until(() => shelfCards(workbench).length === 2, "the Shelf is loaded");
		expect(seen(workbench)).to.include("The program answers again.").and.not.include("does not answer");
	});

	it("tries again where the person asks", async () => {
		const answers: Answers = { ...good, procedures: { problem: problemDetails("fault") } };
		const { workbench } = await at("/books/quill", answers);
		expect(seen(workbench)).to.include("A fault of the server itself.");
		Object.assign(answers, good);
		(inShelf(workbench, ".failure button") as HTMLButtonElement).click();
		await until(() => shelfCards(workbench).length === 2, "the Shelf is loaded");
	});

	it("says that the Sheet did not load, and tries again", async () => {
		let broken = true;
		const loadSheet = () => (broken ? Promise.reject(new TypeError("Failed to fetch")) : Promise.resolve());
		const { workbench } = await at("/books/quill/procedures/nib", good, {}, { loadSheet });
		await until(() => seen(workbench).includes("did not load"), "the failure is said");
		expect(await complaints(workbench)).to.deep.equal([]);
		broken = false;
		(inside(workbench, ".failure button") as HTMLButtonElement).click();
		await until(() => workbench.renderRoot.querySelector("gw-open-sheet"), "the Sheet opens");
	});

	it("sets language and colours by keyboard, keeps them, and gives the focus back", async () => {
		const { workbench, settings } = await at("/books/quill");
		const button = buttonOf(workbench, "Settings");
		button.focus();
		await sendKeys({ press: "Enter" });
		const dialog = inside(workbench, "gw-settings") as HTMLElement;
		await until(() => focused()?.getAttribute("name") === "language", "the first choice has the focus");
		expect(await complaints(dialog)).to.deep.equal([]);
		await sendKeys({ type: "Spa" });
		await until(() => settings.settings.language === "es", "the language is set");
		await sendKeys({ press: "Tab" });
		await sendKeys({ press: "Tab" });
		await sendKeys({ type: "osc" });
		await until(() => workbench.theme === "dark", "the colours are dark");
		await sendKeys({ press: "Escape" });
		expect(document.documentElement.lang).to.equal("es");
		expect(seen(workbench)).to.include("Procedimientos de Quillfeather").and.include("Mota");
		expect(focused()).to.equal(button);
	});

	for (const [tags, book, language] of [
		[["de-DE", "es-MX", "en"], "en", "es"],
		[["en-GB"], "es", "en"],
		[["de-DE"], "es", "es"],
		[["de-DE"], undefined, "en"],
	] as const)
		it(`speaks ${language} in a browser of ${tags.join(", ")} and a book of ${book ?? "no language"}`, async () => {
			Object.defineProperty(navigator, "languages", {
				value: tags,
				configurable: true,
			});
			try {
				const opened = good.book as BookOpened;
				const inIt = {
					...opened,
					book: {
						...opened.book,
						...(book === undefined ? {} : { language: book }),
					},
				};
				const { workbench } = await at("/books/quill", { ...good, book: inIt });
				await until(() => workbench.language === language, language);
			} finally {
				Reflect.deleteProperty(navigator, "languages");
			}
		});

	it("asks who writes, and keeps the name for the book", async () => {
		const { workbench, settings } = await at("/books/quill");
		buttonOf(workbench, "Who writes?").click();
		const dialog = inside(workbench, "gw-person") as HTMLElement;
		const root = dialog.shadowRoot as ShadowRoot;
		expect(await complaints(dialog)).to.deep.equal([]);
		root.querySelector<HTMLButtonElement>("button.main")?.click();
		await until(() => seen(dialog).includes("Choose a name of the list, or type one."), "the mistake is said");
		expect(await complaints(dialog)).to.deep.equal([]);
		root.querySelectorAll<HTMLInputElement>("input[type=radio]")[1]?.click();
		root.querySelector<HTMLButtonElement>("button.main")?.click();
		await until(() => seen(workbench).includes("Writing: Piotr Vance"), "the name is shown");
		expect(settings.settings.people).to.deep.equal({ quill: "Piotr Vance" });
	});

	it("makes a started procedure a draft and opens its Sheet", async () => {
		const kept: DraftContent[] = [];
		const drafts = { ...noDrafts, keep: async (content: DraftContent) => (kept.push(content), null) };
		const { workbench } = await at("/books/quill", good, {}, { drafts: async () => drafts });
		(inShelf(workbench, ".head button") as HTMLButtonElement).click();
		await until(() => workbench.renderRoot.querySelector("gw-new-procedure"), "the dialog opens");
		const dialog = inside(workbench, "gw-new-procedure") as HTMLElement;
		const procedure: Procedure = { format: 1, id: "new-one", title: { en: "New one" } };
		const detail = { procedure, notes: ["One column is left."] };
		dialog.dispatchEvent(new CustomEvent("gw-start", { detail, bubbles: true, composed: true }));
		await until(() => seen(workbench).includes("One column is left."), "the notes are told");
		expect(kept[0]).to.deep.include({ book: "quill", isNew: true, etag: null, procedure });
		expect(kept[0]?.base).to.deep.equal({ format: 1, id: "new-one", title: {} });
		expect(location.pathname).to.equal(`/books/quill/new/${kept[0]?.id}`);
		expect(workbench.renderRoot.querySelector("gw-new-procedure")).to.equal(null);
		expect(workbench.renderRoot.querySelector("gw-open-sheet")).to.deep.include({
			draft: kept[0]?.id,
			fresh: procedure,
		});
	});

	it("makes one draft of a procedure that is started twice", async () => {
		const kept: DraftContent[] = [];
		const drafts = { ...noDrafts, keep: async (content: DraftContent) => (kept.push(content), null) };
		const { workbench } = await at("/books/quill", good, {}, { drafts: async () => drafts });
		(inShelf(workbench, ".head button") as HTMLButtonElement).click();
		await until(() => workbench.renderRoot.querySelector("gw-new-procedure"), "the dialog opens");
		start(workbench);
		start(workbench);
		await until(() => workbench.renderRoot.querySelector("gw-open-sheet"), "the Sheet opens");
		expect(kept).to.have.length(1);
	});

	it("starts a procedure also where nothing that keeps drafts loads", async () => {
		const drafts = () => Promise.reject(new TypeError("Failed to fetch"));
		const { workbench } = await at("/books/quill", good, {}, { drafts });
		(inShelf(workbench, ".head button") as HTMLButtonElement).click();
		await until(() => workbench.renderRoot.querySelector("gw-new-procedure"), "the dialog opens");
		start(workbench);
		await until(() => workbench.renderRoot.querySelector("gw-open-sheet"), "the Sheet opens");
		const sheet = inside(workbench, "gw-open-sheet") as OpenSheet;
		expect(sheet.fresh).to.deep.equal(newOne);
		expect((await sheet.drafts.keep({} as DraftContent))?.code).to.equal("drafts-not-kept");
	});

	it("builds no second Sheet for the place that is being left", async () => {
		const { workbench, settings } = await at("/books/quill/procedures/nib");
		await until(() => workbench.renderRoot.querySelector("gw-open-sheet"), "the Sheet opens");
		const sheet = inside(workbench, "gw-open-sheet");
		let left = () => {};
		Object.assign(sheet, { leave: () => new Promise<void>((resolve) => (left = resolve)) });
		const going = workbench.goTo("/books/quill");
		settings.change({ theme: "dark" });
		await workbench.updateComplete;
		expect(inside(workbench, "gw-open-sheet")).to.equal(sheet);
		left();
		await going;
		expect(workbench.renderRoot.querySelector("gw-open-sheet")).to.equal(null);
	});

	it("keeps a Sheet, and its title, where what the shell asks for besides fails", async () => {
		const { server, answer } = slowBook();
		const { workbench } = await at("/books/quill/procedures/nib", good, {}, { server });
		await until(() => workbench.renderRoot.querySelector("gw-open-sheet"), "the Sheet opens");
		const sheet = inside(workbench, "gw-open-sheet");
		sheet.dispatchEvent(new CustomEvent("gw-title", { detail: { title: "Dirt nib" }, bubbles: true, composed: true }));
		answer({ problem: problemDetails("fault") });
		await until(() => seen(workbench).includes("A fault of the server itself."), "it is told");
		expect(inside(workbench, "gw-open-sheet")).to.equal(sheet);
		expect(document.title).to.equal("Dirt nib · Gritwright");
	});

	it("keeps the title of a Sheet when the book is there", async () => {
		const { server, answer } = slowBook();
		const { workbench } = await at("/books/quill/procedures/nib", good, {}, { server });
		await until(() => workbench.renderRoot.querySelector("gw-open-sheet"), "the Sheet opens");
		const title = new CustomEvent("gw-title", { detail: { title: "Dirt nib" }, bubbles: true, composed: true });
		inside(workbench, "gw-open-sheet").dispatchEvent(title);
		answer(good.book);
		await until(() => seen(inside(workbench, "header")).includes("Quillfeather"), "the book is there");
		await new Promise((resolve) => setTimeout(resolve, 20));
		expect(document.title).to.equal("Dirt nib · Gritwright");
	});

	it("asks a server that is gone no more once it is taken away", async () => {
		let asked = 0;
		const server = { ...serverOf(allGone), books: async () => (asked++, gone) };
		const { workbench } = await at("/books/quill", allGone, {}, { server });
		await until(() => asked > 1, "it is asked again");
		workbench.remove();
		const before = asked;
		await new Promise((resolve) => setTimeout(resolve, 120));
		expect(asked).to.equal(before);
	});

	it("closes the settings on the way back", async () => {
		const { workbench } = await at("/books/quill");
		await workbench.goTo("/books/bracken");
		buttonOf(workbench, "Settings").click();
		const dialog = inside(workbench, "gw-settings").shadowRoot?.querySelector("dialog");
		expect(dialog?.open).to.equal(true);
		history.back();
		await until(() => location.pathname === "/books/quill" && dialog?.open === false, "it is closed");
	});

	it("knows nobody in a book called as something that every record has", async () => {
		const { workbench } = await at("/books/constructor");
		expect(buttonOf(workbench, "Who writes?")).not.to.equal(undefined);
	});

	it("breaks a long name of a book, so that nothing stands beside the page", async () => {
		const long = "Karosseriefachbetrieb".repeat(15);
		for (const books of [[{ ...quill, name: long }], [{ ...quill, name: long }, bracken]]) {
			const { workbench } = await at("/books/quill", { ...good, books });
			const header = inside(workbench, "header");
			expect(header.scrollWidth).to.be.at.most(header.clientWidth);
			workbench.remove();
		}
	});

	it("gives a procedure the address of its file with the first save", async () => {
		const { workbench } = await at("/books/quill/new/kqzvwmtjxa");
		const sheet = inside(workbench, "gw-open-sheet");
		sheet.dispatchEvent(
			new CustomEvent("gw-saved-first", { detail: { id: "new-one" }, bubbles: true, composed: true }),
		);
		expect(location.pathname).to.equal("/books/quill/procedures/new-one");
		expect(inside(workbench, "gw-open-sheet")).to.equal(sheet);
	});

	it("keeps the draft of a Sheet before the Shelf lists the drafts", async () => {
		const order: string[] = [];
		const own = async () => {
			order.push("listed");
			return [];
		};
		const { workbench } = await at(
			"/books/quill/procedures/nib",
			good,
			{},
			{ drafts: async () => ({ ...noDrafts, ownIn: own }) },
		);
		await until(() => workbench.renderRoot.querySelector("gw-open-sheet"), "the Sheet opens");
		Object.assign(inside(workbench, "gw-open-sheet"), {
			leave: async () => {
				await new Promise((resolve) => setTimeout(resolve, 20));
				order.push("left");
			},
		});
		await workbench.goTo("/books/quill");
		await until(() => order.length === 2, "both happened");
		expect(order).to.deep.equal(["left", "listed"]);
	});

	it("leaves a link to another window to the browser", async () => {
		const { workbench } = await at("/books/quill");
		const link = inShelf(workbench, "article a") as HTMLAnchorElement;
		let prevented: boolean | null = null;
		const look = (event: Event) => {
			prevented = event.defaultPrevented;
			event.preventDefault();
		};
		globalThis.addEventListener("click", look, { once: true });
		link.dispatchEvent(new MouseEvent("click", { ctrlKey: true, bubbles: true, composed: true, cancelable: true }));
		expect(prevented).to.equal(false);
		expect(location.pathname).to.equal("/books/quill");
	});
});

const newOne: Procedure = { format: 1, id: "new-one", title: { en: "New one" } };

/** The dialog has a procedure ready. */
function start(workbench: Workbench): void {
	const detail = { procedure: newOne, notes: [] };
	inside(workbench, "gw-new-procedure").dispatchEvent(
		new CustomEvent("gw-start", { detail, bubbles: true, composed: true }),
	);
}

/** A server whose parts of the book come when they are told to. */
function slowBook(): { server: Surroundings["server"]; answer: (parts: Answer<BookOpened>) => void } {
	const waiting: ((parts: Answer<BookOpened>) => void)[] = [];
	const book = () => new Promise<Answer<BookOpened>>((resolve) => waiting.push(resolve));
	return {
		server: { ...serverOf(good), book },
		answer: (parts) => {
			for (const resolve of waiting) resolve(parts);
		},
	};
}

function serverOf(answers: Answers): Surroundings["server"] {
	const never = async () => gone;
	return {
		books: async () => answers.books,
		book: async () => answers.book,
		procedures: async () => answers.procedures,
		procedure: never,
		save: never,
	};
}

/** The workbench at an address, once it has settled there. */
async function at(
	address: string,
	answers: Answers = good,
	kept: object = {},
	some: Partial<Surroundings> = {},
): Promise<{ workbench: Workbench; settings: SettingsKeeper }> {
	history.replaceState(null, "", address);
	const storage = new Map([["gritwright.settings", JSON.stringify({ theme: "light", ...kept })]]);
	const settings = new SettingsKeeper({
		getItem: (key) => storage.get(key) ?? null,
		setItem: (key, value) => void storage.set(key, value),
	});
	const workbench = new Workbench();
	workbench.surroundings = {
		server: serverOf(answers),
		settings,
		drafts: async () => noDrafts,
		loadSheet: async () => undefined,
		loadShelf: async () => undefined,
		loadNew: async () => undefined,
		askAgainMs: 30,
		...some,
	};
	document.body.append(workbench);
	await workbench.updateComplete;
	await until(
		() => !/Looking for the books|Reading and checking|Opening the Sheet/.test(seen(workbench)),
		"it settles",
	);
	return { workbench, settings };
}

function inside(workbench: Workbench, selector: string): Element {
	const found = workbench.renderRoot.querySelector(selector);
	if (found === null) throw new TypeError(`nothing matches ${selector}`);
	return found;
}

function inShelf(workbench: Workbench, selector: string): Element {
	const found = inside(workbench, "gw-shelf").shadowRoot?.querySelector(selector);
	if (!found) throw new TypeError(`nothing on the Shelf matches ${selector}`);
	return found;
}

function shelfCards(workbench: Workbench): Element[] {
	return [...(workbench.renderRoot.querySelector("gw-shelf")?.shadowRoot?.querySelectorAll("article") ?? [])];
}

function buttonOf(workbench: Workbench, words: string): HTMLButtonElement {
	const found = [...workbench.renderRoot.querySelectorAll("button")].find((one) => one.textContent?.trim() === words);
	if (found === undefined) throw new TypeError(`no button says ${words}`);
	return found;
}
