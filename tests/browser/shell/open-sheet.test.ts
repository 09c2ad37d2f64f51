import { expect } from "@esm-bundle/chai";
import { problemDetails } from "../../../src/api/problems.ts";
import type { BookOpened, ProcedureOpened } from "../../../src/api/types.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import "../../../src/workbench/open-sheet.ts";
import type { OpenSheet } from "../../../src/workbench/open-sheet.ts";
import type { Answer } from "../../../src/workbench/server.ts";
import { type Draft, type DraftContent, type DraftKeeper, draftSchema } from "../../../src/workbench/store/draft.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { clearStage, complaints, focused, onStage, seen, themes, until } from "../shelf/stage.ts";

const procedure: Procedure = {
	format: 1,
	id: "nib",
	title: { en: "Dirt nib" },
	steps: [{ id: "aaaaaaaaaa", stage: "sand", abrasive: "P1500" }],
};
const edited: Procedure = { ...procedure, title: { en: "Dirt nib, mended" } };
const parts: BookOpened = {
	book: { format: 1, id: "quill", name: "Quillfeather" },
	stock: { format: 1 },
	limits: { format: 1 },
	problems: [],
};
type Opened = Answer<ProcedureOpened & { etag: string }>;
const good: Opened = { value: procedure, readOnly: [], etag: '"1"' };

describe("opening a Sheet", () => {
	afterEach(clearStage);

	it("reads book and procedure, and shows them in the unit of the settings", async () => {
		const { element } = await opening({ filmUnit: "mil" });
		const { state } = storeOf(element);
		expect(state.procedure).to.equal(procedure);
		expect(state.shop.book.units).to.equal("mil");
		expect(state.isNew).to.equal(false);
	});

	it("judges by another unit as soon as the settings say so", async () => {
		const { element } = await opening();
		element.filmUnit = "mil";
		await element.updateComplete;
		expect(storeOf(element).state.shop.book.units).to.equal("mil");
	});

	for (const theme of themes) {
		it(`says why a procedure did not open, and tries again, ${theme}`, async () => {
			const answers: { procedure: Opened } = { procedure: { problem: problemDetails("not-readable") } };
			const { element } = await opening({}, answers, theme);
			expect(seen(element)).to.include("nib did not open. The file or folder is there, but it cannot be read.");
			expect(await complaints(element)).to.deep.equal([]);
			answers.procedure = good;
			element.shadowRoot?.querySelector<HTMLButtonElement>(".failure button")?.click();
			await until(() => sheetOf(element), "the Sheet opens");
		});

		it(`offers what was left unsaved, and takes it up, ${theme}`, async () => {
			const { element, claimed } = await opening({ drafts: keeper({ left: [draftOf("nib", edited)] }) }, {}, theme);
			expect(seen(element)).to.include("Unsaved work on Dirt nib");
			expect(await complaints(element)).to.deep.equal([]);
			wish(element, "restore");
			await until(() => sheetOf(element), "the Sheet opens");
			expect(storeOf(element).state.procedure).to.deep.equal(edited);
			expect(storeOf(element).state.changed).to.equal(true);
			expect(claimed).to.deep.equal(["nib"]);
		});
	}

	for (const wanted of ["leave", "discard"] as const) {
		it(`opens what is on disk where somebody would ${wanted} a draft`, async () => {
			const { element, discarded } = await opening({ drafts: keeper({ left: [draftOf("nib", edited)] }) });
			if (wanted === "discard") wish(element, wanted);
			else buttonOf(element, "Open it as it is saved").click();
			await until(() => sheetOf(element), "the Sheet opens");
			expect(storeOf(element).state.procedure).to.equal(procedure);
			expect(discarded).to.deep.equal(wanted === "discard" ? ["nib"] : []);
		});
	}

	it("leads to the Shelf from the drafts, and from what did not open", async () => {
		const { element } = await opening({ drafts: keeper({ left: [draftOf("nib", edited)] }) });
		expect(wayOut(element)).to.equal("/books/quill");
		clearStage();
		const failed = await opening({}, { procedure: { problem: problemDetails("no-such-procedure") } });
		expect(wayOut(failed.element)).to.equal("/books/quill");
	});

	it("grants one wish at a time: asked twice it opens the draft", async () => {
		const drafts = keeper({ left: [draftOf("nib", edited)] });
		let claims = 0;
		drafts.claim = async (draft) => {
			claims += 1;
			const isFirst = claims === 1;
			await new Promise((resolve) => setTimeout(resolve, isFirst ? 30 : 0));
			return isFirst ? draft : null;
		};
		const { element } = await opening({ drafts });
		wish(element, "restore");
		wish(element, "restore");
		await until(() => sheetOf(element), "the Sheet opens");
		await new Promise((resolve) => setTimeout(resolve, 50));
		expect(storeOf(element).state.procedure).to.deep.equal(edited);
		expect(claims).to.equal(1);
	});

	const gone: { procedure: Opened } = { procedure: { problem: problemDetails("no-such-procedure") } };

	it("opens the draft of this tab where the file is gone, says so, and saves it as a new one", async () => {
		const { element, saves } = await opening({ drafts: keeper({ own: draftOf("nib", edited) }) }, gone);
		const { state } = storeOf(element);
		expect(state).to.deep.include({ isNew: true, procedure: edited });
		expect(state.notice).to.have.nested.property("problem.code", "file-gone");
		await storeOf(element).save();
		expect(saves).to.deep.equal([["quill", "nib", edited, "new"]]);
	});

	it("offers what was left of a procedure whose file is gone, and takes it up", async () => {
		const { element } = await opening({ drafts: keeper({ left: [draftOf("nib", edited)] }) }, gone);
		expect(seen(element)).to.include("The file of nib is no longer in the book.").and.not.include("as it is saved");
		expect(await complaints(element)).to.deep.equal([]);
		wish(element, "restore");
		await until(() => sheetOf(element), "the Sheet opens");
		expect(storeOf(element).state).to.deep.include({ isNew: true, procedure: edited });
	});

	it("says that the file is gone once nothing is left of it", async () => {
		const { element } = await opening({ drafts: keeper({ left: [draftOf("nib", edited)] }) }, gone);
		wish(element, "discard");
		await until(() => element.failed, "it is said");
		expect(seen(element)).to.include("nib did not open.");
	});

	it("saves to the file that it opened, whatever id is in it", async () => {
		const { element, saves } = await opening({ procedure: "nib-copy" });
		expect(storeOf(element).state.notice).to.have.nested.property("problem.code", "id-from-file");
		storeOf(element).change([{ op: "setPart", pointer: "/title/en", from: "Dirt nib", to: "Nib" }], "part");
		await storeOf(element).save();
		const saved = { ...procedure, id: "nib-copy", title: { en: "Nib" } };
		expect(saves).to.deep.equal([["quill", "nib-copy", saved, { etag: '"1"' }]]);
	});

	it("goes on from the draft of this tab without a question", async () => {
		const { element } = await opening({ drafts: keeper({ own: draftOf("nib", edited) }) });
		expect(storeOf(element).state.procedure).to.deep.equal(edited);
	});

	it("opens a procedure without a file from its draft, and tells its first save", async () => {
		const own = { ...draftOf("kqzvwmtjxa", edited), isNew: true, etag: null };
		const { element, told } = await opening({ procedure: null, draft: "kqzvwmtjxa", drafts: keeper({ own }) });
		expect(storeOf(element).state).to.deep.include({ isNew: true, procedure: edited });
		await storeOf(element).save();
		expect(storeOf(element).state.saving).to.deep.equal({ state: "saved" });
		expect(told["gw-saved-first"]).to.deep.equal([{ id: "nib" }]);
	});

	it("opens a procedure just started where the browser keeps no drafts", async () => {
		const { element } = await opening({ procedure: null, draft: "kqzvwmtjxa", fresh: edited });
		expect(storeOf(element).state).to.deep.include({ isNew: true, procedure: edited });
	});

	it("says of a draft that is not here that it is not, and where to look", async () => {
		const { element } = await opening({ procedure: null, draft: "kqzvwmtjxa" });
		expect(seen(element))
			.to.include("The draft at this address is not in this browser.")
			.and.include("Look on the Shelf");
	});

	it("tells of a server that is gone when a save finds none", async () => {
		const { element, told } = await opening({}, { save: { problem: problemDetails("no-answer") } });
		storeOf(element).change([{ op: "setPart", pointer: "/title/en", from: "Dirt nib", to: "Nib" }], "part");
		await storeOf(element).save();
		expect(storeOf(element).state.saving.state).to.equal("refused");
		expect(told["gw-server-gone"]).to.have.length(1);
	});

	it("keeps the draft when it is left, and names the Sheet by its title", async () => {
		const { element, kept, told } = await opening();
		storeOf(element).change([{ op: "setPart", pointer: "/title/en", from: "Dirt nib", to: "Nib" }], "part");
		await element.leave();
		expect(kept.at(-1)).to.deep.include({ book: "quill", id: "nib", etag: '"1"' });
		expect(told["gw-title"]?.at(-1)).to.deep.equal({ title: "Nib" });
	});

	it("leaves the focus alone", async () => {
		await opening();
		expect(focused()).to.equal(document.body);
	});
});

interface Watched {
	keeper: DraftKeeper;
	kept: DraftContent[];
	claimed: string[];
	discarded: string[];
}

const watched = new WeakMap<DraftKeeper, Watched>();

/** Drafts in memory, and what became of them. */
function keeper({ own = null, left = [] }: { own?: Draft | null; left?: Draft[] } = {}): DraftKeeper {
	const kept: DraftContent[] = [];
	const claimed: string[] = [];
	const discarded: string[] = [];
	const drafts: DraftKeeper = {
		keep: async (content) => {
			kept.push(content);
			return null;
		},
		keepOpenCell: async () => null,
		remove: async () => undefined,
		own: async () => own,
		ownIn: async () => [],
		unclaimed: async () => ({ drafts: left, unknown: 0 }),
		claim: async (draft) => {
			claimed.push(draft.id);
			return draft;
		},
		discard: async (draft) => void discarded.push(draft.id),
	};
	watched.set(drafts, { keeper: drafts, kept, claimed, discarded });
	return drafts;
}

function draftOf(id: string, after: Procedure): Draft {
	return {
		schema: draftSchema,
		tab: "gone",
		time: 0,
		book: "quill",
		id,
		isNew: false,
		person: "Ines Marlow",
		base: procedure,
		etag: '"1"',
		procedure: after,
		undo: [],
		redo: [],
		conflicts: [],
		selection: null,
		situation: {},
		openCell: null,
		partTexts: {},
	};
}

async function opening(
	some: Partial<OpenSheet> = {},
	answers: { procedure?: Opened; save?: Awaited<ReturnType<OpenSheet["server"]["save"]>> } = {},
	theme: "light" | "dark" = "light",
) {
	const drafts = some.drafts ?? keeper();
	const saves: unknown[] = [];
	const told: Record<string, unknown[]> = {};
	const hear = (event: Event) => (told[event.type] ??= []).push((event as CustomEvent).detail);
	for (const name of ["gw-saved-first", "gw-server-gone", "gw-title"]) document.body.addEventListener(name, hear);
	const element = await onStage<OpenSheet>(
		"gw-open-sheet",
		{
			book: "quill",
			procedure: "nib",
			server: {
				book: async () => parts,
				procedure: async () => answers.procedure ?? good,
				save: async (...asked) => {
					saves.push(asked);
					return answers.save ?? { etag: '"2"' };
				},
			},
			...some,
			drafts,
		},
		theme,
	);
	await until(() => !seen(element).startsWith("Opening"), "it settles");
	const { kept, claimed, discarded } = watched.get(drafts) as Watched;
	return { element, told, kept, claimed, discarded, saves };
}

function sheetOf(element: OpenSheet): (Element & { store: SheetStore }) | null {
	return element.shadowRoot?.querySelector("gw-sheet") ?? null;
}

function storeOf(element: OpenSheet): SheetStore {
	const sheet = sheetOf(element);
	if (sheet === null) throw new TypeError(`no Sheet is shown: ${seen(element)}`);
	return sheet.store;
}

function buttonOf(element: OpenSheet, words: string): HTMLButtonElement {
	const buttons = element.shadowRoot?.querySelectorAll("button") ?? [];
	const found = [...buttons].find((one) => one.textContent?.trim() === words);
	if (found === undefined) throw new TypeError(`no button says ${words}`);
	return found;
}

/** The address to which a link leads out. */
function wayOut(element: OpenSheet): string | undefined {
	return element.shadowRoot?.querySelector("a")?.pathname;
}

function wish(element: OpenSheet, wanted: "restore" | "discard"): void {
	const drafts = element.shadowRoot?.querySelector("gw-drafts") as (Element & { drafts: readonly Draft[] }) | null;
	const detail = { draft: drafts?.drafts[0], wish: wanted };
	drafts?.dispatchEvent(new CustomEvent("gw-draft", { detail, bubbles: true, composed: true }));
}
