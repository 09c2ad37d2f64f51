import { html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { live } from "lit/directives/live.js";
import { views } from "../../api/routes.ts";
import { countFindings } from "../../check/check.ts";
import { levels } from "../../model/finding.ts";
import { sayProblem } from "../../model/problem.ts";
import { pointerParts } from "../../model/pointer.ts";
import { label, type Language } from "../../model/words.ts";
import "../card/film-drawing.ts";
import type { Conflicts } from "../conflicts/conflicts.ts";
import "../facts/facts.ts";
import type { Facts } from "../facts/facts.ts";
import "../grid/grid.ts";
import type { Grid } from "../grid/grid.ts";
import type { Settings } from "../settings.ts";
import { sayRefusal } from "../store/refusal.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import type { CellPlace, SheetState } from "../store/state.ts";
import { StoreController } from "../store/store-controller.ts";
import { levelMarks } from "../style/marks.ts";
import { controls, levelColours } from "../style/tokens.ts";
import { inLanguage, sayDate, saying } from "../words.ts";
import { nextFrame } from "./after-paint.ts";
import "./findings.ts";
import type { Findings } from "./findings.ts";
import "./keys-dialog.ts";
import type { KeysDialog } from "./keys-dialog.ts";
import "./row-details.ts";
import { keptByText, type SheetCommand, sheetCommandOf } from "./sheet-keys.ts";
import "./situation.ts";
import "./start-readings.ts";
import { sheetStyle } from "./sheet-style.ts";
import words from "./words.json" with { type: "json" };

/** Where an element sends the person: a cell, or with row null a part of the procedure. */
interface GoTo {
	row: string | null;
	field: string | null;
}

/** A block from elsewhere that was pasted into the rows. */
interface Pasted {
	text: string;
	at: CellPlace | null;
}

/** Commands that the rows must not hear of. */
const beforeCells: ReadonlySet<SheetCommand> = new Set(["keys", "next", "previous"]);

/** How long counts of findings have to rest before they are told, ms. */
const tellAfterMs = 700;

/** The Sheet of a procedure: puts its parts together, and holds what belongs to none of them: the bar, the keys, the dialogs, what is told. */
@customElement("gw-sheet")
export class Sheet extends LitElement {
	static override styles = [controls, levelColours, sheetStyle];

	@property({ attribute: false }) store!: SheetStore;
	@property() language: Language = "en";
	@property({ attribute: false }) settings: Settings | null = null;
	/** What the last gesture did, to be seen and heard; empty for nothing. */
	@state() private told = "";
	/** What opened, then after a pause how many findings there are, to be heard. */
	@state() private counted = "";
	@state() private pasting: Pasted | null = null;
	@state() private printing = false;
	@query("gw-grid") private grid!: Grid;
	@query("gw-facts") private facts!: Facts;
	@query("gw-findings") private findings!: Findings;
	@query("gw-keys") private keys!: KeysDialog;
	#shown: SheetState | null = null;
	#tellTimer: ReturnType<typeof setTimeout> | null = null;
	#undrafted = false;
	#barSize: ResizeObserver | null = null;
	readonly #onKey = (event: KeyboardEvent) => this.#key(event);
	/** A cell that is not open would take the sign for the first one of its text, and the rows would turn a page. */
	readonly #onKeyFirst = (event: KeyboardEvent) => {
		const command = sheetCommandOf(event);
		if (command === null || !beforeCells.has(command)) return;
		this.#key(event);
		if (event.defaultPrevented) event.stopPropagation();
	};
	readonly #onHide = () => {
		focused()?.blur();
		this.facts.commit();
	};
	readonly #onLeave = (event: BeforeUnloadEvent) => {
		this.#commit();
		// What is not saved is in the draft; only where the browser keeps none would leaving lose it.
		if (this.#undrafted && this.store.state.changed) event.preventDefault();
	};

	constructor() {
		super();
		new StoreController(this, () => this.store);
		this.addEventListener("gw-go-to", (event) => this.#goTo(event as CustomEvent<GoTo>));
		this.addEventListener("gw-paste", (event) => this.#paste(event as CustomEvent<Pasted>));
		this.addEventListener("gw-tell", (event) => {
			this.told = (event as CustomEvent<string>).detail;
		});
	}

	/** Gives the focus to the cell to begin with: the one left open, else the one selected, else the first. Says what opened. */
	async start(): Promise<void> {
		await this.grid.updateComplete;
		// A cell that was left open takes the focus by itself.
		await nextFrame();
		if (!this.isConnected) return;
		if (!this.grid.matches(":focus-within")) this.grid.focus();
		this.counted = inLanguage(this.store.state.readable.title, this.language);
	}

	override connectedCallback(): void {
		super.connectedCallback();
		globalThis.addEventListener("keydown", this.#onKeyFirst, true);
		globalThis.addEventListener("keydown", this.#onKey);
		globalThis.addEventListener("beforeunload", this.#onLeave);
		// Before the store hears of it and keeps the draft.
		globalThis.addEventListener("pagehide", this.#onHide, true);
	}

	override firstUpdated(): void {
		const bar = this.renderRoot.querySelector<HTMLElement>(".bar");
		if (bar === null) return;
		// What gets the focus must not lie under the bar.
		this.#barSize = new ResizeObserver(() => {
			const height = getComputedStyle(bar).position === "sticky" ? bar.offsetHeight : 0;
			document.documentElement.style.setProperty("scroll-padding-top", `${height}px`);
		});
		this.#barSize.observe(bar);
	}

	override disconnectedCallback(): void {
		super.disconnectedCallback();
		this.#barSize?.disconnect();
		document.documentElement.style.removeProperty("scroll-padding-top");
		globalThis.removeEventListener("keydown", this.#onKeyFirst, true);
		globalThis.removeEventListener("keydown", this.#onKey);
		globalThis.removeEventListener("beforeunload", this.#onLeave);
		globalThis.removeEventListener("pagehide", this.#onHide, true);
		if (this.#tellTimer !== null) clearTimeout(this.#tellTimer);
	}

	override willUpdate(): void {
		const { state } = this.store;
		const before = this.#shown;
		this.#shown = state;
		if (state.notice !== null && state.notice !== before?.notice) this.told = this.#notice(state.notice);
		if (before === null) return;
		if (state.saving.state === "saved" && before.saving.state === "saving") this.told = this.#say("nowSaved");
		if (state.version !== before.version) this.#countSoon();
	}

	override updated(changed: PropertyValues): void {
		super.updated(changed);
		if (this.#isJoined) this.#load(import("../conflicts/conflicts.ts"));
	}

	override render() {
		const { state } = this.store;
		return html`
			${this.#bar(state)} ${this.#banners(state)}
			<gw-facts .store=${this.store} .language=${this.language}></gw-facts>
			<div class="work">
				<section class="rows" aria-label=${this.#say("rowsTitle")}>
					<gw-grid .store=${this.store} .language=${this.language}>
						<gw-situation .store=${this.store} .language=${this.language}></gw-situation>
					</gw-grid>
				</section>
				<div class="beside">
					<section class="found">
						<gw-findings .store=${this.store} .language=${this.language} .person=${this.settings?.people[state.book] ?? ""}></gw-findings>
					</section>
					<section><gw-start-readings .store=${this.store} .language=${this.language}></gw-start-readings></section>
					<section>
						<h2>${this.#say("filmTitle")}</h2>
						<gw-film-drawing .store=${this.store} .language=${this.language}></gw-film-drawing>
					</section>
				</div>
				<section class="details">
					<gw-row-details .store=${this.store} .language=${this.language}></gw-row-details>
				</section>
			</div>
			${this.#dialogs()}
			<p class="hidden-text" role="status">${this.counted}</p>
		`;
	}

	/** Whether what stood on disk was joined with what is here, and is not saved yet. */
	get #isJoined(): boolean {
		return this.store.state.conflicts.length > 0 || this.store.joined !== null;
	}

	#bar(state: SheetState) {
		const { procedure, readable, book } = state;
		const title = inLanguage(readable.title, this.language);
		const typed = this.store.partTexts[`/title/${this.language}`];
		const spoken = readable.title?.[this.language] === undefined && title !== "" ? other(this.language) : this.language;
		const isEditable = state.readOnly.length === 0;
		const gesture = (key: "undoIt" | "redoIt", of: SheetState["undo"], none: "undo" | "redo") =>
			of === null ? this.#say(none) : this.#say(key, { gesture: this.#say(`gesture-${of}`) });
		const { revision, revisionDate } = readable;
		return html`<div class="bar">
			<a class="button" href=${views.shelf(book)} title=${this.#say("toShelf")} aria-label=${this.#say("toShelf")}>← ${this.#say("shelf")}</a>
			<h1 tabindex="-1">
				<textarea
					rows="1"
					lang=${spoken}
					aria-label=${this.#say("title")}
					?readonly=${!isEditable}
					.value=${live(typed ?? title)}
					@keydown=${onEnterBlur}
					@input=${(event: Event) => this.store.typingPart(`/title/${this.language}`, (event.target as HTMLTextAreaElement).value)}
					@blur=${() => this.#retitle()}
				></textarea>
			</h1>
			<div class="tools">
				<button type="button" class="main" ?disabled=${!isEditable} @click=${() => void this.#save()}>${this.#say("saveKeys")}</button>
				<button type="button" ?disabled=${state.undo === null} @click=${() => this.#travel("undo")}>${gesture("undoIt", state.undo, "undo")}</button>
				<button type="button" ?disabled=${state.redo === null} @click=${() => this.#travel("redo")}>${gesture("redoIt", state.redo, "redo")}</button>
				<button type="button" @click=${() => this.#print()}>${this.#say("printCard")}</button>
				<button type="button" @click=${() => this.keys.show()}>${this.#say("keysOf")}</button>
			</div>
			<p class="about">
				<span class="id">${procedure.id}</span>
				<span>${label("state", readable.state ?? "draft", this.language)}</span>
				<span>${
					revision === undefined
						? this.#say("noRevision")
						: revisionDate === undefined
							? this.#say("revision", { number: revision })
							: this.#say("revisionOn", { number: revision, date: sayDate(revisionDate, this.language) })
				}</span>
				${this.#counts(state)} ${isEditable ? this.#saving(state) : nothing}
			</p>
			<p class="told ${this.told === "" ? "" : "said"}" role="status">
				<span>${this.told}</span>
				${
					this.told === ""
						? nothing
						: html`<button type="button" @click=${() => {
								this.told = "";
							}}>${this.#say("close")}</button>`
				}
			</p>
		</div>`;
	}

	/** What is found, in short, and the way to the list: on a tablet it lies below the rows. */
	#counts({ findings }: SheetState) {
		const counts = countFindings([{ findings }]);
		const shown = levels.filter((level) => counts[level] > 0);
		return html`<button type="button" class="counts" @click=${() => this.findings.focus()}>
			${
				shown.length === 0
					? this.#say("findingsNone")
					: shown.map(
							(level) => html`<span class=${level}>
								<span aria-hidden="true">${levelMarks[level]}</span> ${counts[level]} ${label("level", level, this.language)}
							</span>`,
						)
			}
		</button>`;
	}

	#saving({ saving, conflicts }: SheetState) {
		const undrafted = saving.state === "unsaved" && this.#undrafted;
		const words =
			saving.state === "refused"
				? this.#say("saving-refused", {
						why: sayRefusal(saving.problem, this.language),
					})
				: undrafted
					? this.#say("saving-unsaved-undrafted")
					: this.#say(`saving-${saving.state}`, { count: conflicts.length });
		const aside = Object.keys(this.store.partTexts);
		const [first] = aside;
		// Saved is what the procedure holds; a text that was not taken is not in it.
		if (saving.state === "saved" && first !== undefined)
			return html`<button type="button" class="saving conflict" @click=${() => this.#toText(first)}>
				${this.#say(aside.length === 1 ? "saved-but-one" : "saved-but-some", { count: aside.length })}
			</button>`;
		return saving.state === "conflict"
			? html`<button type="button" class="saving conflict" @click=${() => void this.#toConflicts()}>${words}</button>`
			: html`<span class="saving ${saving.state} ${undrafted ? "undrafted" : ""}">${words}</span>`;
	}

	#banners({ readOnly }: SheetState) {
		return html`${
			readOnly.length === 0
				? nothing
				: html`<section class="banner" aria-label=${this.#say("readOnlyTitle")}>
						<p><strong>${this.#say("readOnlyTitle")}.</strong> ${this.#say("readOnly")}</p>
						<ul>
							${readOnly.map((loss) => html`<li>${sayProblem(loss, this.language)}</li>`)}
						</ul>
					</section>`
		}
		${!this.#isJoined ? nothing : html`<gw-conflicts .store=${this.store} .language=${this.language}></gw-conflicts>`}`;
	}

	#dialogs() {
		return html`
			<gw-keys .language=${this.language}></gw-keys>
			${
				this.pasting === null
					? nothing
					: html`<gw-mapping-preview
							.store=${this.store}
							.language=${this.language}
							.text=${this.pasting.text}
							.at=${this.pasting.at}
							@gw-closed=${() => {
								this.pasting = null;
								this.grid.focus();
							}}
						></gw-mapping-preview>`
			}
			${
				this.printing
					? html`<gw-print .store=${this.store} .language=${this.language} @gw-closed=${() => {
							this.printing = false;
						}}></gw-print>`
					: nothing
			}
		`;
	}

	#say(key: keyof typeof words, values?: Record<string, string | number>): string {
		return saying(words, this.language)(key, values);
	}

	#notice(notice: NonNullable<SheetState["notice"]>): string {
		if ("skipped" in notice) return this.#say("skipped", { gesture: this.#say(`gesture-${notice.skipped}`) });
		if ("newIds" in notice) return this.#say(notice.newIds === 1 ? "newIdsOne" : "newIds", { count: notice.newIds });
		if (notice.problem.code === "drafts-not-kept") this.#undrafted = true;
		return sayProblem(notice.problem, this.language);
	}

	/** Tells how many findings there are once the person pauses, and only where that changed. */
	#countSoon(): void {
		if (this.#tellTimer !== null) clearTimeout(this.#tellTimer);
		this.#tellTimer = setTimeout(() => {
			const counts = countFindings([this.store.state]);
			const none = counts.stop + counts.caution + counts.advice === 0;
			this.counted = none ? this.#say("findingsNone") : this.#say("findingsNow", counts);
		}, tellAfterMs);
	}

	/** Puts the title into the procedure as it stands in the bar, where it was typed in or left behind by a closed page. */
	#retitle(): void {
		const pointer = `/title/${this.language}`;
		const typed = this.store.partTexts[pointer];
		if (typed === undefined) return;
		const text = typed.replace(/\s+/g, " ").trim();
		const { procedure, readable } = this.store.state;
		const from = procedure.title?.[this.language];
		if (text === "") this.told = this.#say("titleKept");
		else if (text !== inLanguage(readable.title, this.language)) {
			const set = { op: "setPart" as const, pointer, ...(from === undefined ? {} : { from }), to: text };
			if (this.store.change([set], "part") !== null) return;
		}
		this.store.typingPart(pointer, null);
		this.requestUpdate();
	}

	/** Commits what is being typed, wherever the focus is, and leaves the focus there. */
	#commit(): void {
		this.#retitle();
		const field = focused();
		if (field === null || !isTextField(field)) return;
		field.blur();
		// The editor of a cell is gone with its text in the cell; then the cell has the focus.
		if (field.isConnected) field.focus();
		else this.grid.focus();
	}

	async #save(): Promise<void> {
		this.#commit();
		await this.store.save();
		if (this.store.state.saving.state === "conflict") await this.#toConflicts();
	}

	/** To the places left to decide, above the rows and perhaps out of sight. */
	async #toConflicts(): Promise<void> {
		await import("../conflicts/conflicts.ts").catch(() => undefined);
		await this.updateComplete;
		const conflicts = this.renderRoot.querySelector<Conflicts>("gw-conflicts");
		await conflicts?.updateComplete;
		const heading = conflicts?.renderRoot.querySelector("h2");
		heading?.scrollIntoView({ block: "start" });
		heading?.focus({ preventScroll: true });
	}

	/** To the field whose text is not in the procedure. */
	#toText(pointer: string): void {
		const [part = "", row, field] = pointerParts(pointer);
		if (part === "steps" && row !== undefined) this.grid.goTo(row, field ?? null);
		else void this.facts.goTo(part);
	}

	#travel(direction: "undo" | "redo"): void {
		const { [direction]: gesture, version } = this.store.state;
		this.store[direction]();
		const { state } = this.store;
		if (gesture === null || state.version === version || state.notice !== null) return;
		this.told = this.#say(direction === "undo" ? "undone" : "redone", { gesture: this.#say(`gesture-${gesture}`) });
		void this.#rescueFocus();
	}

	/** A button that has just taken back the last change can be pressed no longer, and would leave the focus nowhere. */
	async #rescueFocus(): Promise<void> {
		await this.updateComplete;
		const at = focused();
		if (at === null || at === document.body || at.matches(":disabled")) this.grid.focus();
	}

	#print(): void {
		this.#commit();
		this.printing = true;
		this.#load(import("../card/print.ts"));
	}

	#paste(event: CustomEvent<Pasted>): void {
		this.pasting = event.detail;
		this.#load(import("../paste/mapping-preview.ts"));
	}

	/** A part that comes late, and may not come where the server is gone. */
	#load(part: Promise<unknown>): void {
		part.catch(() => {
			this.pasting = null;
			this.printing = false;
			this.told = this.#say("notLoaded");
		});
	}

	#goTo(event: CustomEvent<GoTo>): void {
		const { row, field } = event.detail;
		if (row !== null) this.grid.goTo(row, field);
		else if (field === "title") this.renderRoot.querySelector<HTMLElement>("h1 textarea")?.focus();
		else if (field === "steps") this.grid.focus();
		else void this.facts.goTo(field ?? "scope");
	}

	#key(event: KeyboardEvent): void {
		const command = sheetCommandOf(event);
		if (command === null || event.defaultPrevented) return;
		// A dialog is a place of its own.
		if (event.composedPath().some((one) => one instanceof HTMLDialogElement)) return;
		const field = focused();
		if (field !== null && isTextField(field) && keptByText.has(command)) return;
		event.preventDefault();
		this.#run(command);
	}

	#run(command: SheetCommand): void {
		switch (command) {
			case "save":
				void this.#save();
				break;
			case "undo":
			case "redo":
				this.#travel(command);
				break;
			case "next":
			case "previous":
				this.#commit();
				if (this.findings.next(command === "next" ? 1 : -1)) this.told = this.findings.said;
				else this.told = this.#say("findingsNone");
				break;
			case "print":
				this.#print();
				break;
			case "keys":
				this.keys.show();
		}
	}
}

/** The field that has the focus, through every shadow root. */
function focused(): HTMLElement | null {
	let element = document.activeElement;
	while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
	return element instanceof HTMLElement ? element : null;
}

function isTextField(element: HTMLElement): boolean {
	if (element instanceof HTMLTextAreaElement) return true;
	return element instanceof HTMLInputElement && !["checkbox", "radio", "button"].includes(element.type);
}

function onEnterBlur(event: KeyboardEvent): void {
	if (event.key !== "Enter" || event.isComposing) return;
	event.preventDefault();
	(event.target as HTMLElement).blur();
}

function other(language: Language): Language {
	return language === "en" ? "es" : "en";
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-sheet": Sheet;
	}
}
