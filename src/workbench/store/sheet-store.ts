import type { ProblemDetails } from "../../api/types.ts";
import { assess } from "../../check/assess.ts";
import { applyEdit, type Edit, editBetween, invertEdit, isEmpty } from "../../model/edits.ts";
import type { Finding } from "../../model/finding.ts";
import type { Procedure } from "../../model/generated/types.ts";
import validator from "../../model/generated/validators/procedure.js";
import { idsLike } from "../../model/ids.ts";
import { type Conflict, merge } from "../../model/merge.ts";
import { mostRows } from "../../model/most-rows.ts";
import { type Loss, type Problem, problemOf } from "../../model/problem.ts";
import { procedureFile } from "../../model/procedure-file.ts";
import { keysOf, same } from "../../model/same.ts";
import type { Shop } from "../../model/shop.ts";
import { axes, claimedValues, type Situation } from "../../model/situations.ts";
import { type Validated, validated } from "../../model/validated.ts";
import { remediesFor } from "../../rules/judge.ts";
import type { Remedy } from "../../rules/rule.ts";
import type { Draft, DraftContent, DraftKeeper } from "./draft.ts";
import { inFile } from "./in-file.ts";
import { withOwnIds } from "./own-ids.ts";
import { withSide } from "./settled-side.ts";
import type { Change, Gesture, Joining, OpenCell, Saving, Selection, SheetState } from "./state.ts";

/** A procedure as the Sheet opens it. */
export interface Opening {
	/** Id of the book. */
	book: string;
	/** Of the procedure's file; where there is none yet, of its draft. Left out: the id of the procedure. */
	id?: string;
	shop: Shop;
	procedure: Procedure;
	/** Of the file as it was read; null where there is no file yet. */
	etag: string | null;
	/** Why the file must not be written; empty for nearly every file. */
	readOnly: readonly Loss[];
	/** What was written here before and not saved. */
	draft?: Draft | null;
}

/** What the server, or the way to it, says in place of a result. */
export interface Refused {
	refused: ProblemDetails;
}

/** Reads and writes the file of a procedure. It rejects by a mistake of this program only: no answer is a refusal. */
export interface ProcedureServer {
	procedure(
		book: string,
		id: string,
	): Promise<{ procedure: Procedure; readOnly: readonly Loss[]; etag: string } | Refused>;
	/** @param etag of the file this replaces; null for a new one */
	save(book: string, id: string, procedure: Procedure, etag: string | null): Promise<{ etag: string } | Refused>;
}

export interface Services {
	server: ProcedureServer;
	drafts: Pick<DraftKeeper, "keep" | "keepOpenCell" | "remove">;
	/** Date of the check, year-month-day. */
	today: () => string;
	/** Who writes; empty where nobody said. */
	person: () => string;
	/** A source of numbers from 0 up to, but not including, 1: for new row ids. */
	random: () => number;
}

/**
 * The open procedure: its text, its history, what is found in it, and how saving stands. It changes by edits only, one
 * for each gesture, and is judged anew within the call.
 */
export class SheetStore {
	#state: SheetState;
	#checked: Validated<"procedure">;
	#undo: readonly Change[] = [];
	#redo: readonly Change[] = [];
	#joining: Joining;
	#openCell: OpenCell | null = null;
	#partTexts: Readonly<Record<string, string>> = {};
	#saving: Promise<void> | null = null;
	/** Id of the file, or of the draft where there is no file yet. */
	#id: string;
	#remedies = new WeakMap<Finding, Remedy[]>();
	#draftTimer: ReturnType<typeof setTimeout> | null = null;
	/** Whether the keeper holds a draft of the present procedure, so that the text of a cell can be kept beside it. */
	#draftKept = false;
	#draftsFailed = false;
	#closed = false;
	readonly #services: Services;
	readonly #listeners = new Set<() => void>();
	readonly #keepNow = () => void this.#keepDraft();

	constructor(opening: Opening, services: Services) {
		this.#services = services;
		const { book, shop, procedure, etag, readOnly } = opening;
		this.#id = opening.id ?? procedure.id;
		this.#joining = { base: procedure, etag, conflicts: [] };
		this.#checked = validated("procedure", procedure as unknown as Record<string, unknown>, validator);
		const { readable, problems } = this.#checked;
		this.#state = {
			version: 0,
			book,
			shop,
			procedure,
			readable,
			problems,
			...assess({ procedure: readable, problems, shop, today: services.today() }),
			situation: {},
			selection: null,
			undo: null,
			redo: null,
			changed: false,
			saving: { state: etag === null ? "unsaved" : "saved" },
			conflicts: [],
			readOnly,
			isNew: etag === null,
			notice: null,
		};
		if (opening.draft) this.#takeUp(opening.draft);
		else this.#putRight();
		for (const event of leaving) globalThis.addEventListener?.(event, this.#keepNow);
		if (this.#state.isNew) this.#keepSoon();
	}

	get state(): SheetState {
		return this.#state;
	}

	/** The editor that was open when the page closed, with its text: the grid opens it again. */
	get openCell(): OpenCell | null {
		return this.#openCell;
	}

	/** What stands in fields outside the rows that is not in the procedure: half typed or unread, by pointer. */
	get partTexts(): Readonly<Record<string, string>> {
		return this.#partTexts;
	}

	/** What was last joined from disk and is not saved yet; null where nothing was. */
	get joined(): Edit | null {
		const isJoin = ({ joining }: Change) => joining !== undefined && joining.before.base !== joining.after.base;
		return this.#undo.findLast(isJoin)?.edit ?? null;
	}

	/** @returns the function that ends it */
	subscribe(listener: () => void): () => void {
		this.#listeners.add(listener);
		return () => this.#listeners.delete(listener);
	}

	/**
	 * One gesture: one edit, one undo. Null when it went well; else nothing has changed, and the state says the problem
	 * as its notice.
	 *
	 * @param after what is selected then; left out: what is selected now
	 */
	change(edit: Edit, gesture: Gesture, after?: Selection | null): Problem | null {
		const problem = this.#refusal(edit);
		if (problem !== null) return this.#tell(problem);
		if (isEmpty(edit)) return null;
		const whole = asNextDraft(this.#state.procedure, withRows(this.#state.procedure, edit));
		const applied = applyEdit(this.#state.procedure, whole);
		if ("problem" in applied) return this.#tell(applied.problem);
		const found = rowCount(applied.procedure);
		if (found > mostRows && found > rowCount(this.#state.procedure))
			return this.#tell(problemOf("no-room", null, { found, most: mostRows }));
		if (same(applied.procedure, this.#state.procedure)) return null;
		const { selection: before } = this.#state;
		const change = { edit: whole, gesture, before, after: after === undefined ? before : after };
		this.#push(change, applied.procedure);
		return null;
	}

	select(selection: Selection | null): void {
		if (same(selection, this.#state.selection)) return;
		this.#show({ selection });
		if (this.#draftKept) this.#keepSoon();
	}

	/** The open editor's text, on every input, and null when it closes: kept at once. */
	typing(cell: OpenCell | null): void {
		this.#openCell = cell;
		// What became of a cell that closes is kept with it, or a crash in between would lose the text.
		if (cell === null || this.#closed) this.#keepSoon();
		else if (this.#draftKept && this.#draftTimer === null)
			void this.#heard(this.#services.drafts.keepOpenCell(this.#state.book, this.#id, cell));
		else void this.#keepDraft();
	}

	/** The text of a field outside the rows, on every input; null when it is settled. */
	typingPart(pointer: string, text: string | null): void {
		if ((this.#partTexts[pointer] ?? null) === text) return;
		const { [pointer]: _, ...others } = this.#partTexts;
		const isNews = pointer in this.#partTexts !== (text !== null);
		this.#partTexts = text === null ? others : { ...others, [pointer]: text };
		if (isNews && !this.#closed) this.#show({});
		if (text === null || this.#closed) this.#keepSoon();
		else void this.#keepDraft();
	}

	/** The situation in which the forecast is shown; an empty one for the worst of all. */
	ask(situation: Situation): void {
		this.#judge({ situation });
		if (this.#draftKept) this.#keepSoon();
	}

	/** Judges by another shop: the reader prefers another unit, or the stock was read again. */
	useShop(shop: Shop): void {
		this.#judge({ shop });
	}

	undo(): void {
		this.#travel("undo");
	}

	redo(): void {
		this.#travel("redo");
	}

	/** Repairs for a finding of the present state, sure ones first. */
	remediesFor(finding: Finding): Remedy[] {
		const known = this.#remedies.get(finding);
		if (known !== undefined) return known;
		const { readable: procedure, problems, shop } = this.#state;
		const remedies = remediesFor(finding, { procedure, problems, shop, today: this.#services.today() });
		this.#remedies.set(finding, remedies);
		return remedies;
	}

	/** Carries a remedy out, as one gesture. */
	press(remedy: Remedy): Problem | null {
		return this.change(inFile(remedy.edit, this.#state.procedure, this.#checked), "remedy");
	}

	/**
	 * Writes the procedure to its file. What stands on disk by now is never overwritten: it is joined first, and where
	 * both sides changed one place the state is `conflict` and nothing is written until each is decided.
	 */
	save(): Promise<void> {
		if (this.#saving !== null)
			return this.#saving.then(() => (this.#state.saving.state === "unsaved" ? this.save() : undefined));
		if (this.#state.conflicts.length > 0) return Promise.resolve();
		const [loss] = this.#state.readOnly;
		if (loss !== undefined) {
			this.#show({ saving: { state: "refused", problem: problemOfLoss(loss) } });
			return Promise.resolve();
		}
		if (!this.#state.changed && !this.#state.isNew) return Promise.resolve();
		this.#show({ saving: { state: "saving" }, notice: null });
		const ended = (outcome: Saving | null) => {
			this.#saving = null;
			this.#show({ saving: outcome ?? this.#restingState() });
			void this.#keepDraft();
		};
		this.#saving = this.#write().then(ended, (mistake: unknown) => {
			ended(null);
			throw mistake;
		});
		return this.#saving;
	}

	/** Decides one conflict: an undoable change, also where mine stays. */
	settle(conflict: Conflict, side: "mine" | "theirs"): void {
		this.#settle([conflict], side);
	}

	/** Decides every conflict that is left. */
	settleAll(side: "mine" | "theirs"): void {
		this.#settle(this.#state.conflicts, side);
	}

	/**
	 * Ends: the draft is kept as it stands, or thrown away where nothing was written. A save that is under way gets a
	 * moment; one that takes longer goes on behind, and throws the draft away when it went well.
	 */
	async close(): Promise<void> {
		for (const event of leaving) globalThis.removeEventListener?.(event, this.#keepNow);
		if (this.#saving !== null) {
			await this.#keepDraft();
			await Promise.race([this.#saving.catch(() => undefined), pause(closingMs)]);
		}
		const { book, isNew, changed, procedure } = this.#state;
		const isBlank = isNew && !changed && !this.#isTyping && hasEmptyRows(procedure);
		if (isBlank && this.#saving === null) {
			if (this.#draftTimer !== null) clearTimeout(this.#draftTimer);
			await this.#services.drafts.remove(book, this.#id);
		} else await this.#keepDraft();
		this.#closed = true;
		this.#listeners.clear();
	}

	get #isTyping(): boolean {
		return this.#openCell !== null || keysOf(this.#partTexts).length > 0;
	}

	#refusal(edit: Edit): Problem | null {
		const [loss] = this.#state.readOnly;
		if (loss !== undefined) return problemOfLoss(loss);
		const renames = edit.some((operation) => operation.op === "setPart" && operation.pointer === "/id");
		// A file is found by the id of its procedure.
		return renames && !this.#state.isNew ? problemOf("edit-refused", { pointer: "/id" }, { name: "/id" }) : null;
	}

	#push(change: Change, procedure: Procedure): void {
		this.#undo = [...this.#undo, change].slice(-mostChanges);
		this.#redo = [];
		this.#moveTo(procedure, change.after);
	}

	/** The document has changed: judged anew, told, and kept as a draft soon. */
	#moveTo(procedure: Procedure, selection: Selection | null, notice: SheetState["notice"] = null): void {
		const changed = this.#isChanged(procedure);
		this.#judge({
			procedure,
			version: this.#state.version + 1,
			selection: standing(selection, procedure),
			undo: this.#undo.at(-1)?.gesture ?? null,
			redo: this.#redo.at(-1)?.gesture ?? null,
			changed,
			conflicts: this.#joining.conflicts,
			saving: this.#savingAfter(procedure, changed),
			notice,
		});
		this.#keepSoon();
	}

	/** A refusal stands until the next try, unless it was the id and there is another one now. */
	#savingAfter({ id }: Procedure, changed: boolean): Saving {
		const { saving, procedure, isNew } = this.#state;
		if (this.#saving !== null) return saving;
		if (saving.state === "refused" && (changed || isNew) && id === procedure.id) return saving;
		return this.#restingState(changed);
	}

	/** How saving stands while nothing is under way. */
	#restingState(changed = this.#state.changed): Saving {
		if (this.#joining.conflicts.length > 0) return { state: "conflict" };
		return { state: changed || this.#state.isNew ? "unsaved" : "saved" };
	}

	#isChanged(procedure: Procedure): boolean {
		return !same(procedure, this.#joining.base);
	}

	#judge(some: Partial<SheetState>): void {
		const { procedure, shop, situation } = { ...this.#state, ...some };
		if (procedure !== this.#state.procedure)
			this.#checked = validated("procedure", procedure as unknown as Record<string, unknown>, validator);
		const { readable, problems } = this.#checked;
		const asked = withinScope(situation, readable);
		const judged = assess({ procedure: readable, problems, shop, today: this.#services.today() }, asked);
		this.#show({ ...some, readable, problems, situation: asked, ...judged });
	}

	#show(some: Partial<SheetState>): void {
		this.#state = { ...this.#state, ...some };
		for (const listener of this.#listeners) listener();
	}

	#tell(problem: Problem): Problem {
		this.#show({ notice: { problem } });
		return problem;
	}

	/** Takes the nearest change back, or makes it again. One that no longer applies is left out, named, and the next is tried. */
	#travel(direction: "undo" | "redo"): void {
		let skipped: Gesture | null = null;
		for (;;) {
			const stack = direction === "undo" ? this.#undo : this.#redo;
			const change = stack.at(-1);
			if (change === undefined) break;
			if (this.#state.readOnly.length > 0) return;
			const edit = direction === "undo" ? invertEdit(change.edit) : change.edit;
			const applied = applyEdit(this.#state.procedure, edit);
			if (direction === "undo") this.#undo = stack.slice(0, -1);
			else this.#redo = stack.slice(0, -1);
			if ("problem" in applied) {
				skipped = change.gesture;
				continue;
			}
			if (direction === "undo") this.#redo = [...this.#redo, change];
			else this.#undo = [...this.#undo, change];
			const joining = direction === "undo" ? change.joining?.before : change.joining?.after;
			if (joining !== undefined) this.#joining = joining;
			const selection = direction === "undo" ? change.before : change.after;
			this.#moveTo(applied.procedure, selection, skipped === null ? null : { skipped });
			return;
		}
		if (skipped !== null) this.#moveTo(this.#state.procedure, this.#state.selection, { skipped });
	}

	/** @returns how saving stands; null where it is as the procedure is */
	/** @param isRetry the file had changed, but held nothing new: that may happen once */
	async #write(isRetry = false): Promise<Saving | null> {
		const { server } = this.#services;
		const { book, procedure, isNew } = this.#state;
		const id = isNew ? procedure.id : this.#id;
		const answer = await server.save(book, id, procedure, isNew ? null : this.#joining.etag);
		if (!("refused" in answer)) {
			await this.#saved(procedure, id, answer.etag);
			return null;
		}
		// Whoever left sees nothing of a join: the draft meets the file when it is opened again.
		if (this.#closed) return null;
		const { status, code } = answer.refused;
		if (isNew && status === 412) return this.#taken(procedure, id);
		if (code === "no-such-procedure") return this.#gone();
		if (status !== 412) return refusal(answer);
		const theirs = await server.procedure(book, id);
		if ("refused" in theirs) return theirs.refused.code === "no-such-procedure" ? this.#gone() : refusal(theirs);
		if (theirs.readOnly.length > 0) return { state: "refused", problem: problemOf("file-now-read-only", null) };
		const broughtNothing = this.#join(withId(theirs.procedure, id), theirs.etag);
		// What came in is looked at before it is written: it may not go together with what was typed here.
		const canGoOn = broughtNothing && this.#joining.conflicts.length === 0 && this.#state.changed && !isRetry;
		return canGoOn ? this.#write(true) : null;
	}

	async #saved(procedure: Procedure, id: string, etag: string): Promise<void> {
		const over = this.#state.isNew ? null : this.#joining.etag;
		this.#joining = { base: procedure, etag, conflicts: [] };
		this.#undo = this.#undo.map(withoutJoining);
		this.#redo = this.#redo.map(withoutJoining);
		this.#show({ isNew: false, changed: this.#isChanged(this.#state.procedure), conflicts: [] });
		const draft = this.#id;
		this.#id = id;
		const { drafts } = this.#services;
		if (this.#closed) await drafts.remove(this.#state.book, draft, { over, procedure });
		else if (draft !== id) {
			this.#draftKept = false;
			await drafts.remove(this.#state.book, draft);
		}
	}

	/**
	 * Brings in what stands on disk: one change, that one undo takes back together with what it rests on.
	 *
	 * @returns whether nothing of it was new here
	 */
	#join(theirs: Procedure, etag: string): boolean {
		const { procedure, selection } = this.#state;
		const { merged, conflicts } = merge(this.#joining.base, procedure, theirs);
		const edit = editBetween(procedure, merged);
		const before = this.#joining;
		this.#joining = { base: theirs, etag, conflicts };
		this.#push(
			{ edit, gesture: "merge", before: selection, after: selection, joining: { before, after: this.#joining } },
			isEmpty(edit) ? procedure : merged,
		);
		const count = conflicts.length;
		const problem = count === 0 ? problemOf("joined", null) : problemOf("joined-with-conflicts", null, { count });
		this.#show({ notice: { problem } });
		return isEmpty(edit);
	}

	/** The file is there already: this very procedure, where only the answer to an earlier try was lost, or another one. */
	async #taken(procedure: Procedure, id: string): Promise<Saving | null> {
		const there = await this.#services.server.procedure(this.#state.book, id);
		if (!("refused" in there) && same(there.procedure, procedure)) {
			await this.#saved(procedure, id, there.etag);
			return null;
		}
		const proposed = await this.#freeId(id);
		return { state: "refused", problem: problemOf("id-taken", { pointer: "/id" }, { id, proposed }) };
	}

	async #freeId(id: string): Promise<string> {
		for (const proposed of idsLike(id)) {
			if (proposed === id) continue;
			const answer = await this.#services.server.procedure(this.#state.book, proposed);
			if ("refused" in answer) return proposed;
		}
		throw new RangeError(`no id like ${id} is free`);
	}

	#gone(): Saving {
		this.#joining = { ...this.#joining, etag: null };
		this.#show({ isNew: true });
		return { state: "refused", problem: problemOf("file-gone", null) };
	}

	#settle(some: readonly Conflict[], side: "mine" | "theirs"): void {
		const { base, conflicts } = this.#joining;
		const listed = some.filter((conflict) => conflicts.includes(conflict));
		if (listed.length === 0) return;
		let procedure = this.#state.procedure;
		for (const conflict of listed) {
			const settled = side === "mine" ? { procedure } : withSide(procedure, conflict, base);
			if ("problem" in settled) {
				this.#tell(settled.problem);
				return;
			}
			procedure = settled.procedure;
		}
		const edit = editBetween(this.#state.procedure, procedure);
		const { selection } = this.#state;
		const before = this.#joining;
		this.#joining = { ...before, conflicts: conflicts.filter((conflict) => !listed.includes(conflict)) };
		const joining = { before, after: this.#joining };
		this.#push({ edit, gesture: "merge", before: selection, after: selection, joining }, procedure);
	}

	/** A file is found by its name, and rows by their ids: what is wrong there is put right before the first change. */
	#putRight(): void {
		const { procedure, readOnly, isNew } = this.#state;
		if (readOnly.length > 0) return;
		const { procedure: withIds, count } = withOwnIds(procedure, this.#services.random);
		const whole = isNew ? withIds : withId(withIds, this.#id);
		const notice = whole === withIds ? { newIds: count } : this.#idFromFile(procedure);
		if (whole !== procedure) this.#moveTo(whole, null, notice);
	}

	#idFromFile({ id: found }: Procedure): { problem: Problem } {
		return { problem: problemOf("id-from-file", null, { name: procedureFile(this.#id), found: found ?? "" }) };
	}

	#takeUp(draft: Draft): void {
		const onDisk = this.#joining.etag;
		const isGone = !draft.isNew && onDisk === null;
		const { base, conflicts, selection, situation } = draft;
		const isNew = draft.isNew || isGone;
		this.#joining = { base, etag: isGone ? null : draft.etag, conflicts };
		this.#undo = draft.undo;
		this.#redo = draft.redo;
		this.#openCell = draft.openCell;
		this.#partTexts = draft.partTexts;
		this.#state = { ...this.#state, situation, isNew };
		this.#draftKept = true;
		const procedure = isNew ? draft.procedure : withId(draft.procedure, this.#id);
		const isBehind = !isNew && draft.etag !== onDisk;
		const problem = isGone ? problemOf("file-gone", null) : isBehind ? problemOf("draft-behind", null) : null;
		this.#moveTo(procedure, selection, problem === null ? null : { problem });
	}

	#keepSoon(): void {
		if (this.#closed) return;
		this.#draftTimer ??= setTimeout(() => void this.#keepDraft(), draftDelayMs);
	}

	async #keepDraft(): Promise<void> {
		if (this.#draftTimer !== null) clearTimeout(this.#draftTimer);
		this.#draftTimer = null;
		if (this.#closed) return;
		const { drafts } = this.#services;
		if (this.#isWorthKeeping()) {
			this.#draftKept = true;
			await this.#heard(drafts.keep(this.#draft()));
		} else if (this.#draftKept) {
			this.#draftKept = false;
			await drafts.remove(this.#state.book, this.#id);
		}
	}

	/** New row ids alone are made again on the next opening. */
	#isWorthKeeping(): boolean {
		const { isNew, changed, conflicts } = this.#state;
		if (this.#isTyping || isNew || conflicts.length > 0) return true;
		return changed && (this.#undo.length > 0 || this.#redo.length > 0);
	}

	#draft(): DraftContent {
		const { book, isNew, procedure, conflicts, selection, situation } = this.#state;
		return {
			book,
			id: this.#id,
			isNew,
			person: this.#services.person(),
			base: this.#joining.base,
			etag: this.#joining.etag,
			procedure,
			// Each write copies it whole.
			undo: this.#undo.slice(-mostKeptChanges),
			redo: this.#redo.slice(-mostKeptChanges),
			conflicts,
			selection,
			situation,
			openCell: this.#openCell,
			partTexts: this.#partTexts,
		};
	}

	/** Says once that drafts are not kept. */
	async #heard(kept: Promise<Problem | null>): Promise<void> {
		const problem = await kept;
		if (problem === null || this.#draftsFailed) return;
		this.#draftsFailed = true;
		this.#tell(problem);
	}
}

/** How many changes can be taken back. */
const mostChanges = 1000;
/** How many of them a draft keeps, and as many that can be made again. */
const mostKeptChanges = 200;
const draftDelayMs = 250;
/** How long closing waits for a save that is under way. */
const closingMs = 1000;
const leaving = ["visibilitychange", "pagehide"] as const;

function problemOfLoss({ code, pointer, line, column, data }: Loss): Problem {
	return problemOf(code, { pointer, line, column }, data);
}

function refusal({ refused }: Refused): Saving {
	return { state: "refused", problem: { ...refused, message: refused.detail } };
}

/** The procedure under the id that its file is called by. */
function withId(procedure: Procedure, id: string): Procedure {
	return procedure.id === id ? procedure : { ...procedure, id };
}

function pause(ms: number): Promise<void> {
	return new Promise((resolve) => setTimeout(resolve, ms));
}

/** The first change of a released procedure makes it the draft of the next revision: no card may claim a release it is not. */
function asNextDraft({ state, revision, ...procedure }: Procedure, edit: Edit): Edit {
	const isDecided = edit.some(
		(operation) => operation.op === "setPart" && /^\/(?:state|revision)$/.test(operation.pointer),
	);
	if (state !== "released" || isDecided) return edit;
	const ended = ["revisionDate", "methodChanged"] as const;
	return [
		...edit,
		{ op: "setPart", pointer: "/state", from: state, to: "draft" },
		...(revision === undefined
			? []
			: [{ op: "setPart" as const, pointer: "/revision", from: revision, to: revision + 1 }]),
		...ended.flatMap((part) => {
			const isTouched = edit.some((operation) => operation.op === "setPart" && operation.pointer === `/${part}`);
			return procedure[part] === undefined || isTouched
				? []
				: [{ op: "setPart" as const, pointer: `/${part}`, from: procedure[part] }];
		}),
	];
}

function rowCount({ steps }: Procedure): number {
	return Array.isArray(steps) ? steps.length : 0;
}

/** A procedure without a list of rows gets one with its first row. */
function withRows(procedure: Procedure, edit: Edit): Edit {
	if (procedure.steps !== undefined || !edit.some(({ op }) => op === "insert")) return edit;
	return [{ op: "setPart", pointer: "/steps", to: [] }, ...edit];
}

/** A selection whose rows have gone is none. */
function standing(selection: Selection | null, { steps }: Procedure): Selection | null {
	if (selection === null || !Array.isArray(steps)) return null;
	const has = (row: string) => steps.some((step) => step?.id === row);
	return has(selection.anchor.row) && has(selection.head.row) ? selection : null;
}

/** What of a situation the scope still has. */
function withinScope(situation: Situation, { scope }: Procedure): Situation {
	const claimed = claimedValues(scope);
	const kept = axes.filter((axis) => claimed[axis].includes(situation[axis] ?? ""));
	return Object.fromEntries(kept.map((axis) => [axis, situation[axis]]));
}

function hasEmptyRows({ steps }: Procedure): boolean {
	return (steps ?? []).every((step) => keysOf(step as unknown as Record<string, unknown>).every((key) => key === "id"));
}

function withoutJoining({ joining: _, ...change }: Change): Change {
	return change;
}
