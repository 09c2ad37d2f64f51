import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { problemDetails } from "../../../src/api/problems.ts";
import { editBetween, rowsById, type Edit } from "../../../src/model/edits.ts";
import type { Procedure, Step } from "../../../src/model/generated/types.ts";
import { genericShop } from "../../../src/model/shop.ts";
import { type Draft, draftSchema } from "../../../src/workbench/store/draft.ts";
import { sayRefusal } from "../../../src/workbench/store/refusal.ts";
import { type Opening, SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import type { Selection } from "../../../src/workbench/store/state.ts";
import { madeProcedure, seeded } from "../../made-procedures.ts";
import { mostRows } from "../../../src/model/most-rows.ts";
import { MemoryDrafts, MemoryServer } from "./in-memory.ts";

const book = "demo";
const a = "aaaaaaaaaa";
const b = "bbbbbbbbbb";
const c = "cccccccccc";

const small: Procedure = {
	format: 1,
	id: "small",
	title: { en: "Small" },
	scope: { defects: [{ defect: "scuff" }], tones: ["dark"] },
	steps: [
		{ id: a, stage: "sand", abrasive: "P1500", backing: "soft-block" },
		{ id: b, stage: "refine", abrasive: "P3000" },
		{ id: c, stage: "polish", liquid: "fine", pad: "foam-soft" },
	],
};

let server: MemoryServer;
let drafts: MemoryDrafts;

beforeEach(() => {
	vi.useFakeTimers();
	server = new MemoryServer();
	drafts = new MemoryDrafts();
});
afterEach(() => vi.useRealTimers());

function services(seed = 1) {
	return { server, drafts, today: () => "2026-05-12", person: () => "Ines", random: seeded(seed) };
}

/** The store of a procedure that is on the server. */
function opened(procedure = small, more: Partial<Opening> = {}): SheetStore {
	const etag = server.put(procedure);
	return new SheetStore({ book, shop: genericShop, procedure, etag, readOnly: [], ...more }, services());
}

function fresh(procedure = small, more: Partial<Opening> = {}): SheetStore {
	const opening = { book, id: "draft-1", shop: genericShop, procedure, etag: null, readOnly: [], ...more };
	return new SheetStore(opening, services());
}

const setAbrasive = (row: string, from: string, to: string): Edit => [{ op: "set", row, field: "abrasive", from, to }];
const at = (row: string): Selection => ({ anchor: { row, column: "abrasive" }, head: { row, column: "abrasive" } });
const abrasiveOf = (store: SheetStore, row: string) => rowsById(store.state.procedure)?.get(row)?.abrasive;

/** Somebody else changes the file on disk. */
function elsewhere(change: (procedure: Procedure) => Procedure): void {
	server.put(change(server.files.get("small")?.procedure as Procedure));
}
const withStep = (procedure: Procedure, row: string, some: Partial<Step>): Procedure => ({
	...procedure,
	steps: procedure.steps?.map((step) => (step.id === row ? { ...step, ...some } : step)) ?? [],
});

describe("a change", () => {
	it("is judged within the call, and tells everybody once", () => {
		const store = opened();
		const before = store.state;
		let told = 0;
		store.subscribe(() => {
			told += 1;
		});
		expect(store.change(setAbrasive(a, "P1500", "P9999"), "type")).toBeNull();
		expect(told).toBe(1);
		expect(store.state.version).toBe(before.version + 1);
		expect(store.state.findings).not.toEqual(before.findings);
		expect(store.state).toMatchObject({ changed: true, undo: "type", saving: { state: "unsaved" } });
		expect(before.procedure).toBe(small);
	});

	it("that does not apply changes nothing and says so", () => {
		const store = opened();
		const problem = store.change(setAbrasive(a, "P2000", "P80"), "type");
		expect(problem?.code).toBe("edit-stale");
		expect(store.state).toMatchObject({ version: 0, undo: null, notice: { problem } });
	});

	it("that changes nothing is no undo", () => {
		const store = opened();
		expect(store.change(setAbrasive(a, "P1500", "P1500"), "type")).toBeNull();
		expect(store.state).toMatchObject({ version: 0, undo: null });
	});

	it("is refused where the file opens read-only, with what saving would lose", () => {
		const loss = { code: "repeated-key" as const, pointer: "/id", line: 2, column: 3, data: { found: "id" } };
		const store = opened(small, { readOnly: [loss] });
		const problem = store.change(setAbrasive(a, "P1500", "P80"), "type");
		expect(problem?.message).toContain("read-only");
		expect(store.state.procedure).toBe(small);
	});

	it("puts the first row into a procedure that has no list of rows", () => {
		const { steps: _, ...bare } = small;
		const store = opened(bare);
		expect(store.change([{ op: "insert", step: { id: a }, after: null }], "insert")).toBeNull();
		expect(store.state.procedure.steps).toEqual([{ id: a }]);
		store.undo();
		expect(store.state.procedure).toEqual(bare);
	});

	it("leaves the id of a procedure that has a file alone", () => {
		const edit: Edit = [{ op: "setPart", pointer: "/id", from: "small", to: "other" }];
		expect(opened().change(edit, "part")?.code).toBe("edit-refused");
		expect(fresh().change(edit, "part")).toBeNull();
	});
});

describe("the history", () => {
	it("restores what was selected before a gesture, and after it", () => {
		const store = opened();
		store.select(at(a));
		store.change(setAbrasive(a, "P1500", "P2000"), "type", at(b));
		expect(store.state.selection).toEqual(at(b));
		store.select(at(c));
		store.undo();
		expect(store.state).toMatchObject({ selection: at(a), undo: null, redo: "type", changed: false });
		expect(store.state.saving).toEqual({ state: "saved" });
		store.redo();
		expect(store.state).toMatchObject({ selection: at(b), undo: "type", redo: null, changed: true });
	});

	it("forgets what could be made again once something else is done", () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		store.undo();
		store.change(setAbrasive(b, "P3000", "P2500"), "fill");
		expect(store.state).toMatchObject({ undo: "fill", redo: null });
	});

	it("drops a selection whose row has gone", () => {
		const store = opened();
		store.select(at(c));
		const step = small.steps?.[2] as Step;
		store.change([{ op: "remove", step, after: b }], "delete");
		expect(store.state.selection).toBeNull();
		store.undo();
		expect(store.state.selection).toEqual(at(c));
	});

	for (const seed of [1, 2, 3, 4, 5, 6]) {
		it(`gives back the procedure as opened, and as left, after random edits (seed ${seed})`, () => {
			const random = seeded(seed);
			const procedure = madeProcedure(random, "made");
			const store = opened(procedure);
			for (let turn = 0; turn < 25; turn++) {
				const edit = randomEdit(store.state.procedure, random);
				expect(store.change(edit, "type")).toBeNull();
				if (turn % 7 === 3) store.undo();
				if (turn % 14 === 3) store.redo();
				expectAsFromScratch(store);
			}
			while (store.state.redo !== null) store.redo();
			const left = store.state.procedure;
			while (store.state.undo !== null) store.undo();
			expect(store.state.procedure).toEqual(procedure);
			expect(store.state.changed).toBe(false);
			while (store.state.redo !== null) store.redo();
			expect(store.state.procedure).toEqual(left);
			expectAsFromScratch(store);
		});
	}

	it("leaves out and names a change that no longer applies, and takes back the one before it", () => {
		const first = opened();
		first.change(setAbrasive(a, "P1500", "P2000"), "type");
		first.change(setAbrasive(b, "P3000", "P2500"), "fill");
		vi.advanceTimersByTime(300);
		const draft = [...drafts.kept.values()][0];
		if (draft === undefined) throw new Error("no draft was kept");
		const procedure = withStep(draft.procedure, b, { abrasive: "P4000" });
		const store = new SheetStore(
			{ book, shop: genericShop, procedure: small, etag: draft.etag, readOnly: [], draft: { ...draft, procedure } },
			services(),
		);
		store.undo();
		expect(store.state.notice).toEqual({ skipped: "fill" });
		expect(abrasiveOf(store, a)).toBe("P1500");
		expect(abrasiveOf(store, b)).toBe("P4000");
		expect(store.state.undo).toBeNull();
	});
});

describe("opening", () => {
	const twins = { ...small, steps: [{ id: a }, { id: a, stage: "sand" }, { stage: "polish" }] } as unknown as Procedure;

	it("gives rows without ids of their own new ones, and says how many", () => {
		const store = opened(twins);
		expect(rowsById(store.state.procedure)?.size).toBe(3);
		expect(store.state.notice).toEqual({ newIds: 2 });
		expect(store.state).toMatchObject({ changed: true, undo: null });
		expect(store.state.procedure.steps?.[1]).toMatchObject({ stage: "sand" });
	});

	it("follows references to an id of another form", () => {
		const procedure = {
			...small,
			steps: [{ id: "row-1" }, { id: b, ifNot: { back: "row-1" } }],
			exceptions: [{ rule: "grade-jump", step: "row-1", by: "Ines", on: "2026-01-01", reason: "tried" }],
		} as unknown as Procedure;
		const { steps, exceptions } = opened(procedure).state.procedure;
		expect(steps?.[0]?.id).toMatch(/^[a-z]{10}$/);
		expect(steps?.[1]?.ifNot?.back).toBe(steps?.[0]?.id);
		expect(exceptions?.[0]?.step).toBe(steps?.[0]?.id);
	});

	it("touches nothing where the file opens read-only", () => {
		const loss = { code: "unsafe-name" as const, pointer: "", line: 1, column: 1, data: { found: "__proto__" } };
		expect(opened(twins, { readOnly: [loss] }).state.procedure).toBe(twins);
	});

	it("keeps no draft of new ids alone", async () => {
		opened(twins);
		await vi.advanceTimersByTimeAsync(300);
		expect(drafts.kept.size).toBe(0);
	});
});

describe("a file that holds the id of another", () => {
	const copied = (more: Partial<Opening> = {}) => {
		server.put(small);
		const etag = server.put(small, [], "small-copy");
		const opening = { book, id: "small-copy", shop: genericShop, procedure: small, etag, readOnly: [], ...more };
		return new SheetStore(opening, services());
	};

	it("takes the id that it is called by, says so, and is saved under its own name alone", async () => {
		const store = copied();
		expect(store.state).toMatchObject({
			procedure: { id: "small-copy" },
			changed: true,
			notice: { problem: { code: "id-from-file", data: { name: "small-copy.procedure.json", found: "small" } } },
		});
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		await store.save();
		expect(store.state).toMatchObject({ saving: { state: "saved" }, changed: false });
		expect(server.files.get("small")?.procedure).toEqual(small);
		expect(server.files.get("small-copy")?.procedure).toEqual(store.state.procedure);
	});

	it("gets its own name also from a draft, and where somebody else saves the wrong one again", async () => {
		const draft = { ...draftAs("small-copy"), procedure: { ...small, revision: 2 } };
		const store = copied({ draft });
		expect(store.state.procedure).toEqual({ ...small, revision: 2, id: "small-copy" });
		server.put({ ...small, revisionDate: "2026-05-01" }, [], "small-copy");
		await store.save();
		await store.save();
		expect(store.state).toMatchObject({ saving: { state: "saved" }, conflicts: [] });
		expect(server.files.get("small-copy")?.procedure).toEqual({
			...small,
			id: "small-copy",
			revision: 2,
			revisionDate: "2026-05-01",
		});
	});

	it("keeps no draft of the id alone", async () => {
		copied();
		await vi.advanceTimersByTimeAsync(300);
		expect(drafts.kept.size).toBe(0);
	});

	it("is left alone where it opens read-only", () => {
		const loss = { code: "repeated-key" as const, pointer: "/id", line: 2, column: 3, data: { found: "id" } };
		expect(copied({ readOnly: [loss] }).state.procedure).toBe(small);
	});
});

describe("a remedy", () => {
	const machine = {
		tool: "random-orbital",
		speed: { unit: "opm", low: 4500, high: 4500 },
		work: { unit: "passes", low: 4, high: 4 },
	} as const;

	it("is one undo, and its finding is gone", () => {
		const store = opened({
			...small,
			steps: [
				{ id: a, ...machine, stage: "compound", liquid: "heavy-cut", pad: "foam-medium" },
				{ id: b, stage: "wipe", wipe: "dry-cloth" },
				{ id: c, ...machine, stage: "polish", liquid: "fine", pad: "foam-medium", padUse: "same-as-row" },
			],
		});
		const sure = store.state.findings.flatMap((finding) =>
			store.remediesFor(finding).map((remedy) => ({ finding, remedy })),
		);
		const one = sure.find(({ remedy }) => remedy.kind === "sure");
		if (one === undefined) throw new Error("no sure remedy to press");
		expect(store.press(one.remedy)).toBeNull();
		const { rule, rowId, field } = one.finding;
		expect(store.state.findings.some((f) => f.rule === rule && f.rowId === rowId && f.field === field)).toBe(false);
		expect(store.state.undo).toBe("remedy");
	});

	it("replaces what the schema does not allow", () => {
		const store = opened(withStep(small, b, { tool: 7 as never }));
		expect(store.state.readable.steps?.[1]?.tool).toBeUndefined();
		const edit: Edit = [{ op: "set", row: b, field: "tool", to: "rotary" }];
		expect(store.press({ kind: "sure", say: { en: "", es: "" }, edit })).toBeNull();
		expect(store.state.procedure.steps?.[1]?.tool).toBe("rotary");
		store.undo();
		expect(store.state.procedure.steps?.[1]?.tool).toBe(7);
	});

	it("does not replace a list of which a part could not be read", () => {
		const wear = [{ item: "gloves" }, 5];
		const store = opened({ ...small, wear } as unknown as Procedure);
		const edit: Edit = [{ op: "setPart", pointer: "/wear", from: [{ item: "gloves" }], to: [] }];
		expect(store.press({ kind: "offered", say: { en: "", es: "" }, edit })?.code).toBe("edit-stale");
		expect(store.state.procedure.wear).toEqual(wear);
	});
});

describe("the situation", () => {
	it("narrows the forecast without changing the document, and falls away with the scope", () => {
		const store = opened();
		store.ask({ tone: "dark" });
		expect(store.state).toMatchObject({ situation: { tone: "dark" }, version: 0 });
		expect(store.state.report.situation).toEqual({ tone: "dark" });
		store.change([{ op: "setPart", pointer: "/scope/tones", from: ["dark"], to: ["light"] }], "part");
		expect(store.state.situation).toEqual({});
	});
});

describe("saving", () => {
	it("writes what stands there, and undoing past it is a change again", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		await store.save();
		expect(server.files.get("small")?.procedure).toEqual(store.state.procedure);
		expect(store.state).toMatchObject({ changed: false, saving: { state: "saved" }, undo: "type" });
		store.undo();
		expect(store.state).toMatchObject({ changed: true, saving: { state: "unsaved" } });
		await store.save();
		expect(server.files.get("small")?.procedure).toEqual(small);
	});

	it("keeps edits made while it is under way, which are unsaved then", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		const gate = gateOf();
		server.gate = gate.promise;
		const saving = store.save();
		expect(store.state.saving).toEqual({ state: "saving" });
		store.change(setAbrasive(b, "P3000", "P2500"), "type");
		expect(store.state.saving).toEqual({ state: "saving" });
		gate.resolve();
		await saving;
		expect(store.state).toMatchObject({ changed: true, saving: { state: "unsaved" } });
		expect(server.written.map((one) => one.steps?.[1]?.abrasive)).toEqual(["P3000"]);
		await store.save();
		expect(server.written.at(-1)?.steps?.[1]?.abrasive).toBe("P2500");
	});

	it("asked for twice writes the later edits too", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		const first = store.save();
		store.change(setAbrasive(b, "P3000", "P2500"), "type");
		await Promise.all([first, store.save()]);
		expect(store.state.saving).toEqual({ state: "saved" });
		expect(server.files.get("small")?.procedure).toEqual(store.state.procedure);
	});

	it("asked for with nothing changed writes nothing", async () => {
		await opened().save();
		expect(server.written).toEqual([]);
	});

	it("at a server that is gone keeps everything, and can be tried again", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		server.isDead = true;
		await store.save();
		expect(store.state.saving).toMatchObject({ state: "refused", problem: { code: "no-answer" } });
		expect(drafts.kept.get("demo/small")?.procedure).toEqual(store.state.procedure);
		store.change(setAbrasive(b, "P3000", "P2500"), "type");
		expect(store.state.saving.state).toBe("refused");
		server.isDead = false;
		await store.save();
		expect(store.state.saving).toEqual({ state: "saved" });
		expect(drafts.kept.size).toBe(0);
	});

	it("whose answer was lost finds its own file on the next try", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		server.losesAnswer = true;
		await store.save();
		expect(store.state.saving.state).toBe("refused");
		await store.save();
		expect(store.state).toMatchObject({ saving: { state: "saved" }, changed: false, conflicts: [] });
		expect(server.written).toHaveLength(1);
	});

	it("passes on what the server says, in the language of the reader", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		server.save = async () => ({ refused: problemDetails("not-saved") });
		await store.save();
		const { saving } = store.state;
		if (saving.state !== "refused") throw new Error(saving.state);
		expect(sayRefusal(saving.problem, "en")).toMatch(/could not be written/);
		expect(sayRefusal(saving.problem, "es")).toMatch(/no se pudo escribir/);
	});

	it("is refused where the file opens read-only, with what saving would lose", async () => {
		const loss = { code: "repeated-key" as const, pointer: "/id", line: 2, column: 3, data: { found: "id" } };
		const store = opened(small, { readOnly: [loss] });
		await store.save();
		const { saving } = store.state;
		expect(saving.state === "refused" && sayRefusal(saving.problem, "es")).toMatch(/solo para lectura/);
		expect(server.written).toEqual([]);
	});
});

describe("a save that fails by our own mistake", () => {
	it("is told as one, and can be tried again", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		const { save } = server;
		server.save = () => Promise.reject(new RangeError("row 4 of 3"));
		await expect(store.save()).rejects.toThrow("row 4 of 3");
		expect(store.state.saving).toEqual({ state: "unsaved" });
		server.save = save;
		await store.save();
		expect(store.state.saving).toEqual({ state: "saved" });
	});
});

describe("closing during a save", () => {
	it("waits for one that is nearly done, and leaves no draft", async () => {
		const { store, gate } = closing();
		gate.resolve();
		await store.closed;
		expect(drafts.kept.size).toBe(0);
		expect(server.written).toHaveLength(1);
	});

	it("keeps the draft at once, and returns before a server that does not answer", async () => {
		const { store, gate } = closing();
		await vi.advanceTimersByTimeAsync(0);
		expect(drafts.kept.get("demo/small")?.procedure.steps?.[0]?.abrasive).toBe("P2000");
		await vi.advanceTimersByTimeAsync(1000);
		await store.closed;
		expect(drafts.kept.size).toBe(1);
		gate.resolve();
		await vi.advanceTimersByTimeAsync(0);
		expect(server.written).toHaveLength(1);
		expect(drafts.kept.size).toBe(0);
	});

	it("leaves alone what was written in the draft meanwhile", async () => {
		const { store, gate } = closing();
		await vi.advanceTimersByTimeAsync(1000);
		await store.closed;
		const draft = drafts.kept.get("demo/small");
		if (draft === undefined) throw new Error("no draft");
		await drafts.keep({ ...draft, procedure: { ...draft.procedure, revision: 7 } });
		gate.resolve();
		await vi.advanceTimersByTimeAsync(0);
		expect(drafts.kept.get("demo/small")?.procedure.revision).toBe(7);
	});

	it("joins nothing behind the back of whoever left", async () => {
		const { store, gate } = closing();
		await vi.advanceTimersByTimeAsync(1000);
		await store.closed;
		elsewhere((procedure) => withStep(procedure, b, { abrasive: "P2500" }));
		gate.resolve();
		await vi.advanceTimersByTimeAsync(0);
		expect(server.written).toEqual([]);
		expect(drafts.kept.size).toBe(1);
	});

	it("throws the draft of a new procedure away once it has its file", async () => {
		const { store, gate } = closing(fresh());
		await vi.advanceTimersByTimeAsync(1000);
		await store.closed;
		expect([...drafts.kept.keys()]).toEqual(["demo/draft-1"]);
		gate.resolve();
		await vi.advanceTimersByTimeAsync(0);
		expect(drafts.kept.size).toBe(0);
	});

	function closing(store = opened()) {
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		const gate = gateOf();
		server.gate = gate.promise;
		void store.save();
		return { store: { closed: store.close() }, gate };
	}
});

describe("saving a new procedure", () => {
	it("makes a file under its id, and throws the draft away", async () => {
		const store = fresh();
		await vi.advanceTimersByTimeAsync(300);
		expect(drafts.kept.has("demo/draft-1")).toBe(true);
		expect(store.state).toMatchObject({ isNew: true, saving: { state: "unsaved" } });
		await store.save();
		expect(store.state).toMatchObject({ isNew: false, saving: { state: "saved" } });
		expect(server.files.get("small")?.procedure).toEqual(small);
		expect(drafts.kept.size).toBe(0);
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		await vi.advanceTimersByTimeAsync(300);
		expect([...drafts.kept.keys()]).toEqual(["demo/small"]);
	});

	it("under an id that is taken proposes one that is not, and writes nothing over", async () => {
		const other = { ...small, title: { en: "Other" } };
		server.put(other);
		server.put({ ...other, id: "small-2" });
		const store = fresh();
		await store.save();
		expect(store.state.saving).toMatchObject({
			state: "refused",
			problem: { code: "id-taken", data: { id: "small", proposed: "small-3" } },
		});
		expect(server.files.get("small")?.procedure).toEqual(other);
		store.change([{ op: "setPart", pointer: "/id", from: "small", to: "small-3" }], "part");
		expect(store.state.saving).toEqual({ state: "unsaved" });
		await store.save();
		expect(store.state).toMatchObject({ isNew: false, saving: { state: "saved" } });
	});

	it("whose answer was lost finds its own file", async () => {
		const store = fresh();
		server.losesAnswer = true;
		await store.save();
		await store.save();
		expect(store.state).toMatchObject({ isNew: false, saving: { state: "saved" } });
		expect(server.written).toHaveLength(1);
	});

	it("leaves no draft of a sheet in which nothing was written", async () => {
		const store = fresh({ ...small, steps: [{ id: a }, { id: b }] });
		await vi.advanceTimersByTimeAsync(300);
		await store.close();
		expect(drafts.kept.size).toBe(0);
	});
});

describe("a released procedure", () => {
	const released = {
		...small,
		state: "released" as const,
		revision: 3,
		revisionDate: "2026-02-16",
		methodChanged: true,
	};

	it("becomes the draft of the next revision with its first change, and is released again by undoing it", () => {
		const store = opened(released);
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		expect(store.state.procedure).toMatchObject({ state: "draft", revision: 4 });
		expect(store.state.procedure).not.toHaveProperty("revisionDate");
		expect(store.state.procedure).not.toHaveProperty("methodChanged");
		store.change(setAbrasive(b, "P3000", "P2500"), "type");
		expect(store.state.procedure.revision).toBe(4);
		store.undo();
		store.undo();
		expect(store.state.procedure).toEqual(released);
	});

	it("takes a state or revision that a person sets as it is", () => {
		const store = opened(released);
		store.change([{ op: "setPart", pointer: "/state", from: "released", to: "withdrawn" }], "part");
		expect(store.state.procedure).toMatchObject({ state: "withdrawn", revision: 3 });
	});
});

describe("a procedure with all its rows", () => {
	it("takes no row more, and says so", () => {
		const rows = Array.from({ length: mostRows }, (_, at) => ({
			id: `row${String(at)
				.padStart(7, "a")
				.replace(/\d/g, (digit) => "abcdefghij"[Number(digit)] ?? "a")}`,
		}));
		const store = opened({ ...small, steps: rows });
		expect(store.change([{ op: "insert", step: { id: "zzzzzzzzzz" }, after: null }], "insert")).toMatchObject({
			code: "no-room",
		});
		expect(store.state.procedure.steps).toHaveLength(mostRows);
	});
});

describe("a file changed on disk meanwhile", () => {
	it("is joined and shown before it is written where no place was changed by both", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		elsewhere((procedure) => withStep(procedure, b, { abrasive: "P2500" }));
		await store.save();
		expect(store.state).toMatchObject({ saving: { state: "unsaved" }, undo: "merge", conflicts: [] });
		expect(store.state.notice).toMatchObject({ problem: { code: "joined" } });
		expect(store.joined).toHaveLength(1);
		expect(server.written).toEqual([]);
		await store.save();
		const saved = server.files.get("small")?.procedure;
		expect(saved?.steps?.map(({ abrasive }) => abrasive)).toEqual(["P2000", "P2500", undefined]);
		store.undo();
		expect(abrasiveOf(store, b)).toBe("P3000");
		expect(abrasiveOf(store, a)).toBe("P2000");
	});

	it("is saved over at once where it holds nothing new", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		elsewhere((procedure) => procedure);
		await store.save();
		expect(store.state.saving).toEqual({ state: "saved" });
	});

	describe("at the same place", () => {
		async function conflicting(): Promise<SheetStore> {
			const store = opened();
			store.change(setAbrasive(a, "P1500", "P2000"), "type");
			elsewhere((procedure) => withStep(withStep(procedure, a, { abrasive: "P1000" }), b, { abrasive: "P2500" }));
			await store.save();
			return store;
		}

		it("waits for a decision, and writes nothing", async () => {
			const store = await conflicting();
			expect(store.state.saving).toEqual({ state: "conflict" });
			expect(store.state.conflicts).toMatchObject([{ row: a, field: "abrasive", code: "changed-both" }]);
			expect(abrasiveOf(store, a)).toBe("P2000");
			expect(abrasiveOf(store, b)).toBe("P2500");
			expect(store.joined).toHaveLength(1);
			await store.save();
			expect(server.written).toEqual([]);
		});

		for (const [side, abrasive] of [
			["mine", "P2000"],
			["theirs", "P1000"],
		] as const) {
			it(`takes ${side}, which can be undone, and saves then`, async () => {
				const store = await conflicting();
				const [conflict] = store.state.conflicts;
				if (conflict === undefined) throw new Error("no conflict");
				store.settle(conflict, side);
				expect(abrasiveOf(store, a)).toBe(abrasive);
				expect(store.state.conflicts).toEqual([]);
				store.undo();
				expect(store.state.conflicts).toEqual([conflict]);
				expect(abrasiveOf(store, a)).toBe("P2000");
				store.redo();
				await store.save();
				expect(store.state.saving).toEqual({ state: "saved" });
				const saved = server.files.get("small")?.procedure;
				expect(saved?.steps?.map((step) => step.abrasive)).toEqual([abrasive, "P2500", undefined]);
			});
		}

		it("keeps all of mine at once", async () => {
			const store = await conflicting();
			store.settleAll("mine");
			await store.save();
			expect(server.files.get("small")?.procedure.steps?.[0]?.abrasive).toBe("P2000");
		});

		it("is met again after the join was undone: what stands on disk is not overwritten unseen", async () => {
			const store = await conflicting();
			store.undo();
			expect(store.state).toMatchObject({ conflicts: [], saving: { state: "unsaved" } });
			expect(abrasiveOf(store, b)).toBe("P3000");
			await store.save();
			expect(store.state.conflicts).toHaveLength(1);
			expect(server.written).toEqual([]);
		});

		it("survives a reload with its history", async () => {
			const first = await conflicting();
			await vi.advanceTimersByTimeAsync(300);
			const draft = await drafts.own(book, "small");
			const file = server.files.get("small");
			const store = new SheetStore(
				{
					book,
					shop: genericShop,
					procedure: file?.procedure as Procedure,
					etag: file?.etag ?? null,
					readOnly: [],
					draft,
				},
				services(),
			);
			expect(store.state.conflicts).toEqual(first.state.conflicts);
			const [conflict] = store.state.conflicts;
			if (conflict !== undefined) store.settle(conflict, "theirs");
			store.undo();
			store.undo();
			expect(abrasiveOf(store, b)).toBe("P3000");
		});
	});

	it("that took out a row which I changed can be followed, or the row stays where it stood", async () => {
		for (const side of ["mine", "theirs"] as const) {
			server = new MemoryServer();
			const store = opened();
			store.change(setAbrasive(b, "P3000", "P2500"), "type");
			elsewhere((procedure) => ({ ...procedure, steps: procedure.steps?.filter(({ id }) => id !== b) ?? [] }));
			await store.save();
			expect(store.state.conflicts).toMatchObject([{ code: "removed-and-changed", row: b, field: null }]);
			store.settleAll(side);
			expect(store.state.procedure.steps?.map(({ id }) => id)).toEqual(side === "mine" ? [a, b, c] : [a, c]);
		}
	});

	it("that changed a row which I took out brings it back where it stood", async () => {
		const store = opened();
		store.change([{ op: "remove", step: small.steps?.[1] as Step, after: a }], "delete");
		elsewhere((procedure) => withStep(procedure, b, { abrasive: "P2500" }));
		await store.save();
		store.settleAll("theirs");
		expect(store.state.procedure.steps?.map(({ id }) => id)).toEqual([a, b, c]);
		expect(abrasiveOf(store, b)).toBe("P2500");
	});

	it("in another order can be followed", async () => {
		const store = opened();
		const [first, second, third] = small.steps as [Step, Step, Step];
		store.change(editBetween(small, { ...small, steps: [second, first, third] }), "move");
		elsewhere((procedure) => ({ ...procedure, steps: [first, third, second] }));
		await store.save();
		expect(store.state.conflicts).toMatchObject([{ code: "order" }]);
		store.settleAll("theirs");
		expect(store.state.procedure.steps?.map(({ id }) => id)).toEqual([a, c, b]);
	});

	it("brings an unread text back as it was typed", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		elsewhere((procedure) => {
			const [first] = procedure.steps as [Step];
			const { abrasive: _, ...step } = first;
			return {
				...procedure,
				steps: procedure.steps?.with(0, { ...step, asTyped: { abrasive: "the green one" } }) ?? [],
			};
		});
		await store.save();
		store.settleAll("theirs");
		expect(store.state.procedure.steps?.[0]).toEqual({
			id: a,
			stage: "sand",
			backing: "soft-block",
			asTyped: { abrasive: "the green one" },
		});
		store.undo();
		expect(store.state.procedure.steps?.[0]?.asTyped).toBeUndefined();
	});

	it("and gone is said, and saving again writes a new one", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		server.files.clear();
		await store.save();
		expect(store.state).toMatchObject({ isNew: true, saving: { state: "refused", problem: { code: "file-gone" } } });
		await store.save();
		expect(store.state).toMatchObject({ isNew: false, saving: { state: "saved" } });
		expect(server.files.get("small")?.procedure.steps?.[0]?.abrasive).toBe("P2000");
	});

	it("into something that saving would not keep is left alone", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		const loss = { code: "repeated-key" as const, pointer: "/id", line: 2, column: 3, data: { found: "id" } };
		server.put(small, [loss]);
		await store.save();
		expect(store.state.saving).toMatchObject({ state: "refused", problem: { code: "file-now-read-only" } });
		expect(server.written).toEqual([]);
	});
});

describe("a draft", () => {
	async function reloaded(store: SheetStore, more: Partial<Opening> = {}): Promise<SheetStore> {
		await vi.advanceTimersByTimeAsync(300);
		const draft = await drafts.own(book, "small");
		const file = server.files.get("small");
		if (file === undefined) throw new Error("no file");
		const { procedure, etag, readOnly } = file;
		expect(store.state.readOnly).toEqual(readOnly);
		return new SheetStore({ book, shop: genericShop, procedure, etag, readOnly, draft, ...more }, services(2));
	}

	it("brings everything back: history, selection, situation, and the text of the open cell", async () => {
		const store = opened();
		store.ask({ tone: "dark" });
		store.change(setAbrasive(a, "P1500", "P2000"), "type", at(b));
		store.change(setAbrasive(b, "P3000", "P2500"), "fill", at(c));
		store.undo();
		store.typing({ row: b, column: "work", text: "3 pas" });
		store.typing({ row: b, column: "work", text: "3 pass" });
		const again = await reloaded(store);
		expect(again.openCell).toEqual({ row: b, column: "work", text: "3 pass" });
		expect(again.state).toMatchObject({
			procedure: store.state.procedure,
			selection: store.state.selection,
			situation: { tone: "dark" },
			undo: "type",
			redo: "fill",
			changed: true,
			notice: null,
			saving: { state: "unsaved" },
		});
		again.redo();
		expect(abrasiveOf(again, b)).toBe("P2500");
		again.undo();
		again.undo();
		expect(again.state.procedure).toEqual(small);
		expect(again.state.changed).toBe(false);
	});

	it("has the text of an open cell at once, where nothing else was changed yet", async () => {
		const store = opened();
		store.typing({ row: a, column: "abrasive", text: "P2" });
		expect(drafts.kept.get("demo/small")?.openCell?.text).toBe("P2");
		store.typing(null);
		await vi.advanceTimersByTimeAsync(300);
		expect(drafts.kept.size).toBe(0);
	});

	it("keeps the text of a cell that closes until what became of it is kept too", async () => {
		const store = opened();
		store.typing({ row: a, column: "abrasive", text: "P2000" });
		store.typing(null);
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		expect(drafts.kept.get("demo/small")?.openCell?.text).toBe("P2000");
		await vi.advanceTimersByTimeAsync(300);
		expect(drafts.kept.get("demo/small")).toMatchObject({ openCell: null, procedure: store.state.procedure });
	});

	it("has a change that is not kept yet as soon as the next cell is typed in", () => {
		const store = opened();
		store.typing({ row: a, column: "abrasive", text: "P" });
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		store.typing({ row: b, column: "work", text: "3" });
		expect(drafts.kept.get("demo/small")).toMatchObject({
			openCell: { text: "3" },
			procedure: store.state.procedure,
		});
	});

	it("has the texts of fields outside the rows that are not in the procedure, until they are settled", async () => {
		const store = opened();
		store.typingPart("/reviewBy", "next spr");
		expect(drafts.kept.get("demo/small")?.partTexts).toEqual({ "/reviewBy": "next spr" });
		const draft = (await drafts.own("demo", "small")) ?? undefined;
		expect(opened(small, draft === undefined ? {} : { draft }).partTexts).toEqual({ "/reviewBy": "next spr" });
		store.typingPart("/reviewBy", null);
		await vi.advanceTimersByTimeAsync(300);
		expect(drafts.kept.size).toBe(0);
	});

	it("goes when everything is undone", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		await vi.advanceTimersByTimeAsync(300);
		expect(drafts.kept.size).toBe(1);
		store.undo();
		await vi.advanceTimersByTimeAsync(300);
		store.redo();
		await vi.advanceTimersByTimeAsync(300);
		expect(drafts.kept.size).toBe(1);
		await store.save();
		await vi.advanceTimersByTimeAsync(0);
		expect(drafts.kept.size).toBe(0);
	});

	it("older than what stands on disk says so, and joins it on saving", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		await vi.advanceTimersByTimeAsync(300);
		elsewhere((procedure) => withStep(procedure, b, { abrasive: "P2500" }));
		const again = await reloaded(store);
		expect(again.state.notice).toMatchObject({ problem: { code: "draft-behind" } });
		await again.save();
		expect(again.joined).toHaveLength(1);
		await again.save();
		const saved = server.files.get("small")?.procedure;
		expect(saved?.steps?.map(({ abrasive }) => abrasive)).toEqual(["P2000", "P2500", undefined]);
	});

	it("whose file is gone is a procedure without a file, and says so", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		await store.close();
		server.files.clear();
		const draft = await drafts.own(book, "small");
		if (draft === null) throw new Error("no draft");
		const opening = { book, id: "small", shop: genericShop, procedure: draft.base, etag: null, readOnly: [], draft };
		const again = new SheetStore(opening, services(2));
		expect(again.state).toMatchObject({ isNew: true, notice: { problem: { code: "file-gone" } } });
		await again.save();
		expect(again.state.saving).toEqual({ state: "saved" });
		expect(server.files.get("small")?.procedure).toEqual(store.state.procedure);
		expect(drafts.kept.size).toBe(0);
	});

	it("keeps the last 200 changes of a longer history", async () => {
		const store = opened();
		for (let count = 1; count <= 250; count++)
			store.change(
				[{ op: "setPart", pointer: "/revision", ...(count > 1 ? { from: count - 1 } : {}), to: count }],
				"part",
			);
		for (let count = 0; count < 3; count++) store.undo();
		await vi.advanceTimersByTimeAsync(300);
		const kept = drafts.kept.get("demo/small");
		expect([kept?.undo.length, kept?.redo.length]).toEqual([200, 3]);
		const again = await reloaded(store);
		again.undo();
		expect(again.state.procedure.revision).toBe(246);
	});

	it("that cannot be kept is said once, and work goes on", async () => {
		drafts.isFull = true;
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		await vi.advanceTimersByTimeAsync(300);
		expect(store.state.notice).toMatchObject({ problem: { code: "drafts-not-kept" } });
		store.change(setAbrasive(b, "P3000", "P2500"), "type");
		await vi.advanceTimersByTimeAsync(300);
		expect(store.state.notice).toBeNull();
		await store.save();
		expect(store.state.saving).toEqual({ state: "saved" });
	});

	it("is kept on closing without waiting", async () => {
		const store = opened();
		store.change(setAbrasive(a, "P1500", "P2000"), "type");
		await store.close();
		expect(drafts.kept.get("demo/small")?.procedure).toEqual(store.state.procedure);
	});
});

/** A draft of the small procedure for the file with that id. */
function draftAs(id: string): Draft {
	return {
		schema: draftSchema,
		tab: "one",
		time: 0,
		book,
		id,
		isNew: false,
		person: "Ines",
		base: small,
		etag: server.files.get(id)?.etag ?? '"2"',
		procedure: small,
		undo: [],
		redo: [],
		conflicts: [],
		selection: null,
		situation: {},
		openCell: null,
		partTexts: {},
	};
}

function gateOf(): { promise: Promise<void>; resolve: () => void } {
	let resolve = () => {};
	const promise = new Promise<void>((done) => {
		resolve = done;
	});
	return { promise, resolve };
}

/** Incremental equals from scratch. */
function expectAsFromScratch(store: SheetStore): void {
	const { procedure, readable, problems, findings, report } = store.state;
	const scratch = new SheetStore(
		{ book, shop: genericShop, procedure: structuredClone(procedure), etag: '"x"', readOnly: [] },
		services(),
	).state;
	expect({ readable, problems, findings, report }).toEqual({
		readable: scratch.readable,
		problems: scratch.problems,
		findings: scratch.findings,
		report: scratch.report,
	});
}

/** Sets, puts in, takes out, moves; sometimes to a value the schema does not allow. */
function randomEdit(procedure: Procedure, random: () => number): Edit {
	const rows = procedure.steps ?? [];
	const index = Math.floor(random() * rows.length);
	const row = rows[index];
	const to = Math.floor(random() * (rows.length + 1));
	const kind = Math.floor(random() * 6);
	const newRow = { id: Array.from({ length: 10 }, () => "klmnopqrst"[Math.floor(random() * 10)]).join("") };
	const changed = (): Procedure => {
		if (row === undefined || kind === 0)
			return { ...procedure, steps: rows.toSpliced(to, 0, { ...newRow, stage: "sand" }) };
		if (kind === 1 && rows.length > 2) return { ...procedure, steps: rows.toSpliced(index, 1) };
		if (kind === 2) return { ...procedure, steps: rows.toSpliced(index, 1).toSpliced(to, 0, row) };
		if (kind === 3) return { ...procedure, revision: Math.floor(random() * 1e6) };
		const value = kind === 4 ? `P${Math.ceil(random() * 30) * 100}` : Math.floor(random() * 1e6);
		return { ...procedure, steps: rows.with(index, { ...row, abrasive: value as string }) };
	};
	const edit = editBetween(procedure, changed());
	return edit.length > 0 ? edit : randomEdit(procedure, random);
}
