import { expect } from "@esm-bundle/chai";
import { deleteDB, openDB } from "idb";
import type { Procedure } from "../../../src/model/generated/types.ts";
import { genericShop } from "../../../src/model/shop.ts";
import type { Draft, DraftContent } from "../../../src/workbench/store/draft.ts";
import { BrowserDrafts } from "../../../src/workbench/store/drafts.ts";
import { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { Tab } from "../../../src/workbench/store/tab.ts";
import { MemoryServer } from "../../workbench/store/in-memory.ts";

const name = "drafts-under-test";
const row = "aaaaaaaaaa";
const procedure: Procedure = {
	format: 1,
	id: "small",
	title: { en: "Small" },
	steps: [{ id: row, stage: "sand", abrasive: "P1500" }],
};

const content: DraftContent = {
	book: "demo",
	id: "small",
	isNew: false,
	person: "Ines",
	base: procedure,
	etag: '"1"',
	procedure: { ...procedure, revision: 2 },
	undo: [],
	redo: [],
	conflicts: [],
	selection: null,
	situation: {},
	openCell: null,
	partTexts: {},
};

/** The storage of one tab. */
class TabStorage {
	readonly values = new Map<string, string>();
	getItem = (key: string) => this.values.get(key) ?? null;
	setItem = (key: string, value: string) => void this.values.set(key, value);
	copy(): TabStorage {
		const copy = new TabStorage();
		for (const [key, value] of this.values) copy.values.set(key, value);
		return copy;
	}
}

let open: { tab: Tab; keeper: BrowserDrafts }[] = [];

async function tab(storage = new TabStorage()) {
	const opened = await Tab.open(storage, new BroadcastChannel("tabs-under-test"), 250);
	const keeper = new BrowserDrafts(opened, name);
	const one = { tab: opened, keeper, storage };
	open.push(one);
	return one;
}

/** The tab is gone: it answers nobody, and closed nothing. */
function crash({ tab: crashed }: { tab: Tab }): void {
	crashed.close();
}

beforeEach(() => {
	open = [];
});
afterEach(async () => {
	await Promise.all(open.map(({ keeper }) => keeper.close()));
	await deleteDB(name);
});

describe("drafts in the browser", () => {
	it("come back to the same tab after a reload, text of the open cell included", async () => {
		const first = await tab();
		await first.keeper.keep(content);
		await first.keeper.keepOpenCell("demo", "small", { row, column: "abrasive", text: "P20" });
		crash(first);
		const again = await tab(first.storage);
		expect(again.tab.id).to.equal(first.tab.id);
		const draft = (await again.keeper.own("demo", "small")) as Draft;
		expect(draft.procedure).to.deep.equal(content.procedure);
		expect(draft.openCell).to.deep.equal({ row, column: "abrasive", text: "P20" });
		expect(draft.person).to.equal("Ines");
	});

	it("are never shared by two tabs, and those of an open tab are not offered", async () => {
		const [one, two] = [await tab(), await tab()];
		await one.keeper.keep(content);
		await two.keeper.keep({ ...content, person: "Tom" });
		expect((await one.keeper.own("demo", "small"))?.person).to.equal("Ines");
		expect((await two.keeper.own("demo", "small"))?.person).to.equal("Tom");
		expect((await two.keeper.unclaimed("demo", "small")).drafts).to.deep.equal([]);
	});

	it("of a duplicated tab are its own: it takes a new id", async () => {
		const one = await tab();
		await one.keeper.keep(content);
		const twin = await tab(one.storage.copy());
		expect(twin.tab.id).not.to.equal(one.tab.id);
		expect(await twin.keeper.own("demo", "small")).to.equal(null);
	});

	it("of twins that start in the same moment are apart", async () => {
		const one = await tab();
		crash(one);
		const [first, second] = await Promise.all([tab(one.storage.copy()), tab(one.storage.copy())]);
		// On a busy machine they may hear of each other only after they have started.
		while (first.tab.id === second.tab.id) await new Promise((resolve) => setTimeout(resolve, 10));
		expect([first.tab.id, second.tab.id]).to.include(one.tab.id);
	});

	it("of a tab that is gone are offered, and go to the one who takes them", async () => {
		const gone = await tab();
		await gone.keeper.keep({ ...content, openCell: { row, column: "work", text: "3" } });
		crash(gone);
		const [one, two] = [await tab(), await tab()];
		const { drafts } = await one.keeper.unclaimed("demo", "small");
		expect(drafts.map(({ person }) => person)).to.deep.equal(["Ines"]);
		const [draft] = drafts as [Draft];
		const claims = await Promise.all([one.keeper.claim(draft), two.keeper.claim(draft)]);
		expect(claims.filter((claim) => claim !== null)).to.have.length(1);
		const owner = claims[0] === null ? two : one;
		expect((await owner.keeper.own("demo", "small"))?.openCell?.text).to.equal("3");
		expect((await one.keeper.unclaimed("demo", "small")).drafts).to.deep.equal([]);
	});

	it("taken over set aside what the tab had itself", async () => {
		const gone = await tab();
		await gone.keeper.keep(content);
		crash(gone);
		const one = await tab();
		await one.keeper.keep({ ...content, person: "Tom" });
		const [draft] = (await one.keeper.unclaimed("demo", "small")).drafts as [Draft];
		await one.keeper.claim(draft);
		expect((await one.keeper.own("demo", "small"))?.person).to.equal("Ines");
		const { drafts } = await one.keeper.unclaimed("demo", "small");
		expect(drafts.map(({ person }) => person)).to.deep.equal(["Tom"]);
	});

	it("are found for a whole book, and only for that", async () => {
		const gone = await tab();
		await gone.keeper.keep({ ...content, id: "draft-1", isNew: true });
		await gone.keeper.keep({ ...content, book: "demo2" });
		crash(gone);
		const one = await tab();
		await one.keeper.keep(content);
		const { drafts } = await one.keeper.unclaimed("demo", null);
		expect(drafts.map(({ id }) => id)).to.deep.equal(["draft-1"]);
		expect((await one.keeper.ownIn("demo")).map(({ id }) => id)).to.deep.equal(["small"]);
	});

	it("thrown away are gone, text of the open cell included", async () => {
		const gone = await tab();
		await gone.keeper.keep({ ...content, openCell: { row, column: "work", text: "3" } });
		crash(gone);
		const one = await tab();
		const [draft] = (await one.keeper.unclaimed("demo", "small")).drafts as [Draft];
		await one.keeper.discard(draft);
		expect((await one.keeper.unclaimed("demo", "small")).drafts).to.deep.equal([]);
		const database = await openDB(name);
		expect(await database.count("cells")).to.equal(0);
		database.close();
	});

	it("of another program version are counted, and left alone", async () => {
		const one = await tab();
		await one.keeper.keep(content);
		crash(one);
		const database = await openDB(name);
		const key = ["demo", "small", one.tab.id];
		const strange = { ...(await database.get("drafts", key)), schema: 99 };
		await database.put("drafts", strange, key);
		const again = await tab(one.storage);
		expect(await again.keeper.own("demo", "small")).to.equal(null);
		await again.keeper.keep(content);
		expect(await again.keeper.unclaimed("demo", "small")).to.deep.equal({ drafts: [], unknown: 1 });
		expect(await database.get("drafts", key)).to.deep.equal(strange);
		database.close();
	});

	it("are thrown away after a save only where nothing else is in them", async () => {
		const one = await tab();
		const saved = { over: content.etag, procedure: content.procedure };
		for (const left of [
			{ openCell: { row, column: "work", text: "3" } as const },
			{ partTexts: { "/reviewBy": "soon" } },
			{ procedure },
			{ etag: '"0"' },
		]) {
			await one.keeper.keep({ ...content, ...left });
			await one.keeper.remove("demo", "small", saved);
			expect(await one.keeper.own("demo", "small"), JSON.stringify(left)).not.to.equal(null);
		}
		await one.keeper.keep(content);
		await one.keeper.remove("demo", "small", saved);
		expect(await one.keeper.own("demo", "small")).to.equal(null);
	});

	for (const [how, indexedDb] of [
		["is missing", undefined],
		[
			"throws",
			{
				open() {
					throw new DOMException("denied", "SecurityError");
				},
			},
		],
		["never answers", { open: silentRequest }],
	] as const) {
		it(`are said not to be kept where the database ${how}`, async () => {
			const own = Object.getOwnPropertyDescriptor(globalThis, "indexedDB") as PropertyDescriptor;
			Object.defineProperty(globalThis, "indexedDB", { value: indexedDb, configurable: true });
			try {
				const opened = await Tab.open(null, null);
				const keeper = new BrowserDrafts(opened, name, 50);
				expect(await keeper.own("demo", "small")).to.equal(null);
				expect((await keeper.keep(content))?.code).to.equal("drafts-not-kept");
				expect(await keeper.ownIn("demo")).to.deep.equal([]);
				expect(await keeper.unclaimed("demo", null)).to.deep.equal({ drafts: [], unknown: 0 });
				expect(await keeper.claim({ ...content, schema: 1, tab: "gone", time: 0 })).to.equal(null);
				await keeper.remove("demo", "small");
			} finally {
				Object.defineProperty(globalThis, "indexedDB", own);
			}
		});
	}

	it("that could not be read in time are not written over", async () => {
		const first = await tab();
		await first.keeper.keep(content);
		crash(first);
		const again = await tab(first.storage);
		const hasty = new BrowserDrafts(again.tab, name, 0);
		expect(await hasty.own("demo", "small")).to.equal(null);
		await again.keeper.keep({ ...content, person: "Tom" });
		const { drafts } = await again.keeper.unclaimed("demo", "small");
		expect(drafts.map(({ person }) => person)).to.deep.equal(["Ines"]);
		await hasty.close();
	});

	it("make way for a newer program, and say then that nothing is kept", async () => {
		const { keeper } = await tab();
		await keeper.keep(content);
		const newer = await openDB(name, 2);
		expect((await keeper.keep(content))?.code).to.equal("drafts-not-kept");
		newer.close();
	});

	it("that cannot be kept are said to be so, and nothing is found", async () => {
		const newer = await openDB(name, 7);
		newer.close();
		const { keeper } = await tab();
		expect((await keeper.keep(content))?.code).to.equal("drafts-not-kept");
		expect((await keeper.keepOpenCell("demo", "small", null))?.code).to.equal("drafts-not-kept");
		expect(await keeper.own("demo", "small")).to.equal(null);
		expect(await keeper.unclaimed("demo", "small")).to.deep.equal({ drafts: [], unknown: 0 });
	});
});

/** A request of which nothing is ever heard. */
function silentRequest(): IDBOpenDBRequest {
	const silent = { value: () => undefined };
	return Object.create(IDBOpenDBRequest.prototype, { addEventListener: silent, removeEventListener: silent });
}

describe("a store over them", () => {
	function storeIn({ keeper }: { keeper: BrowserDrafts }, server: MemoryServer, draft: Draft | null) {
		const file = server.files.get("small");
		const opening = { book: "demo", shop: genericShop, procedure, readOnly: [], etag: file?.etag ?? null, draft };
		return new SheetStore(opening, {
			server,
			drafts: keeper,
			today: () => "2026-05-12",
			person: () => "Ines",
			random: Math.random,
		});
	}

	it("that dies in the middle of a cell brings back history and text in the same tab", async () => {
		const server = new MemoryServer();
		server.put(procedure);
		const first = await tab();
		const store = storeIn(first, server, null);
		store.change([{ op: "set", row, field: "abrasive", from: "P1500", to: "P2000" }], "type");
		store.typing({ row, column: "work", text: "4 pas" });
		// What a page that is about to go still gets to do.
		globalThis.dispatchEvent(new Event("pagehide"));
		crash(first);
		const again = await tab(first.storage);
		const draft = await again.keeper.own("demo", "small");
		const restored = storeIn(again, server, draft);
		expect(restored.openCell).to.deep.equal({ row, column: "work", text: "4 pas" });
		expect(restored.state.procedure).to.deep.equal(store.state.procedure);
		restored.undo();
		expect(restored.state.procedure).to.deep.equal(procedure);
		await Promise.all([store.close(), restored.close()]);
	});

	it("leaves no draft behind once saved", async () => {
		const server = new MemoryServer();
		server.put(procedure);
		const one = await tab();
		const store = storeIn(one, server, null);
		store.change([{ op: "set", row, field: "abrasive", from: "P1500", to: "P2000" }], "type");
		globalThis.dispatchEvent(new Event("pagehide"));
		await store.save();
		await store.close();
		expect(await one.keeper.own("demo", "small")).to.equal(null);
		expect(server.written).to.have.length(1);
	});
});
