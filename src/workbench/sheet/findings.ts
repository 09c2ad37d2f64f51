import { css, html, nothing, type PropertyValues, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { repeat } from "lit/directives/repeat.js";
import { countFindings } from "../../check/check.ts";
import { boxesInWords } from "../../check/situation-words.ts";
import { headerOf } from "../../model/fields/columns.ts";
import { type Finding, type Level, levels } from "../../model/finding.ts";
import { limitTable } from "../../model/limits.ts";
import { capitalised } from "../../model/sentence.ts";
import { pointerTo } from "../../model/pointer.ts";
import { situationsOf } from "../../model/situations.ts";
import { filmUnitOf } from "../../model/shop.ts";
import { foldText, label, type Language } from "../../model/words.ts";
import { rules } from "../../rules/generated/rules.ts";
import type { Remedy } from "../../rules/rule.ts";
import { type SaidFinding, sayer } from "../../rules/sayer.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { levelMarks } from "../style/marks.ts";
import { controls, levelColours, panel } from "../style/tokens.ts";
import { saying } from "../words.ts";
import { type AcceptEvent } from "./accept-form.ts";
import "./accept-form.ts";
import { acceptEdit, canBeAccepted, takeBackEdit } from "./acceptance.ts";
import { AfterPaint, nextFrame } from "./after-paint.ts";
import { sureRemedies } from "./sure-remedies.ts";
import { todayHere } from "./today.ts";
import words from "./words.json" with { type: "json" };

/** How many findings of a level are shown before the person asks for more. */
const shownFirst = 40;
/** Milliseconds of work in one piece, so that typing stays smooth. */
const sliceMs = 8;

/** What was found, with its remedies, and what was accepted on purpose. */
@customElement("gw-findings")
export class Findings extends AfterPaint {
	static override styles = [
		controls,
		panel,
		levelColours,
		css`
			.counts,
			.actions {
				display: flex;
				flex-wrap: wrap;
				gap: 0.4rem;
				align-items: center;
			}
			.filter {
				display: grid;
				gap: 0.15rem;
				margin: 0.5rem 0;
				font-size: 0.875rem;
			}
			li {
				padding: 0.6rem 0 0.6rem 0.6rem;
				border-left: 4px solid var(--edge);
				border-bottom: 1px solid var(--line);
			}
			li.here {
				background: var(--picked);
			}
			@media (forced-colors: active) {
				li.here {
					outline: 2px dashed Highlight;
				}
			}
			.accepted {
				--edge: var(--line);
			}
			.level {
				color: var(--edge);
				font-weight: 700;
			}
			.counts .level {
				padding-inline: 0.5rem;
				font-size: 0.9375rem;
			}
			.counts + *,
			.counts ~ .actions {
				margin-block-start: 0.4rem;
			}
			button.level[aria-pressed="true"] {
				background: var(--ground);
				border-color: var(--edge);
				border-width: 2px;
			}
			.where {
				border: 0;
				background: none;
				padding: 0 0.25rem 0 0;
				min-height: 2rem;
				text-align: left;
			}
			.where span:last-child {
				text-decoration: underline;
				text-underline-offset: 2px;
			}
			p {
				margin: 0.2rem 0 0.4rem;
			}
			.actions .plain {
				border-color: transparent;
				background: none;
				padding-inline: 0;
				text-decoration: underline;
				text-underline-offset: 2px;
			}
			.actions {
				column-gap: 0.75rem;
			}
			summary {
				cursor: pointer;
				min-height: 2.25rem;
				padding: 0.4rem 0;
			}
			.actions > details[open] {
				flex: 1 1 100%;
			}
			details .actions {
				padding: 0.2rem 0 0.4rem 1rem;
			}
		`,
	];

	@property({ attribute: false }) store!: SheetStore;
	@property() language: Language = "en";
	/** Who writes in this book; empty where nobody said. */
	@property() person = "";
	@state() private only: ReadonlySet<Level> = new Set();
	@state() private text = "";
	/** Key of the finding that is being accepted. */
	@state() private accepting: string | null = null;
	@state() private more: ReadonlySet<Level> = new Set();
	@state() private remedies = new Map<Finding, Remedy[]>();
	/** How many sure remedies have been carried out while all of them are pressed; null while none is. */
	@state() private pressing: number | null = null;
	/** The finding walked to last, by its place in the procedure. */
	@state() private here: string | null = null;
	#work = 0;
	#listed: { of: readonly unknown[]; open: Finding[] } | null = null;

	constructor() {
		super();
		new StoreController(this, () => this.store);
	}

	override disconnectedCallback(): void {
		super.disconnectedCallback();
		this.#work += 1;
	}

	/** Walks to the next finding of the list, from the last back to the first; -1 to the one before. False where there is none. */
	next(by: 1 | -1 = 1): boolean {
		const open = this.#open();
		if (open.length === 0) return false;
		const at = open.findIndex((finding) => keyOf(finding) === this.here);
		const finding = open[
			at === -1 ? (by === 1 ? 0 : open.length - 1) : (at + by + open.length) % open.length
		] as Finding;
		this.#goTo(finding);
		return true;
	}

	/** Gives the focus to the list. */
	override focus(): void {
		this.renderRoot.querySelector("h2")?.focus();
	}

	/** The finding walked to last, in words; empty where there is none. */
	get said(): string {
		const finding = this.#open().find((one) => keyOf(one) === this.here);
		if (finding === undefined) return "";
		return `${label("level", finding.level, this.language)}: ${this.#sayer()(finding).message}`;
	}

	override render() {
		const say = saying(words, this.language);
		const { findings, readable, readOnly } = this.store.state;
		const open = findings.filter(({ accepted }) => accepted === null);
		const accepted = findings.filter((finding) => finding.accepted !== null);
		const shown = this.#open();
		const inWords = this.#sayer();
		const canPress = readOnly.length === 0 && open.length > 0;
		return html`
			<h2 tabindex="-1">${say("findingsTitle")}</h2>
			${open.length === 0 ? this.#nothing(readable.steps?.length ?? 0, situationsOf(readable.scope).length) : this.#filters(open)}
			${
				canPress
					? html`<div class="actions">
							<button type="button" ?disabled=${this.pressing !== null} @click=${this.#pressSure}>${say("pressSure")}</button>
							${
								this.pressing === null
									? nothing
									: html`<span>${say("pressing", { count: this.pressing })}</span>
											<button type="button" @click=${this.#stopPressing}>${say("cancel")}</button>`
							}
						</div>`
					: nothing
			}
			${open.length > 0 && shown.length === 0 ? html`<p>${say("noneMatches")}</p>` : nothing}
			${levels.map((level) =>
				this.#level(
					level,
					shown.filter((one) => one.level === level),
					inWords,
				),
			)}
			${
				accepted.length === 0
					? nothing
					: html`<details>
							<summary>${say(accepted.length === 1 ? "acceptedOne" : "acceptedSome", { count: accepted.length })}</summary>
							<ul>
								${accepted.map((finding) => this.#acceptedItem(finding, inWords(finding)))}
							</ul>
						</details>`
			}
		`;
	}

	/** A reason that a closed page left behind must not stay out of sight, and none stays for what is found no longer. */
	protected override willUpdate(changed: PropertyValues): void {
		const keys = new Map(this.store.state.findings.map((finding) => [reasonAt(keyOf(finding)), keyOf(finding)]));
		const left = Object.keys(this.store.partTexts).filter((pointer) => pointer.startsWith(reasons));
		for (const pointer of left) if (!keys.has(pointer)) this.store.typingPart(pointer, null);
		if (changed.has("store")) this.accepting = left.flatMap((pointer) => keys.get(pointer) ?? [])[0] ?? null;
	}

	override updated(changed: PropertyValues): void {
		super.updated(changed);
		void this.#findRemedies();
	}

	#nothing(rows: number, situations: number): TemplateResult {
		const say = saying(words, this.language);
		if (rows === 0) return html`<p>${say("noRowsYet")}</p>`;
		return html`<p>${say("nothingFound", { rows: say(rows === 1 ? "rowsOne" : "rowsSome", { count: rows }), situations: say(situations === 1 ? "situationsOne" : "situationsSome", { count: situations }) })}</p>`;
	}

	#filters(open: readonly Finding[]): TemplateResult {
		const say = saying(words, this.language);
		const counts = countFindings([{ findings: open }]);
		return html`<div class="counts" role="group" aria-label=${say("filterByLevel")}>
				${levels.map(
					(level) => html`<button
						type="button"
						class="level ${level}"
						aria-pressed=${this.only.has(level)}
						?disabled=${counts[level] === 0 && !this.only.has(level)}
						@click=${() => this.#toggle(level)}
					>
						<span aria-hidden="true">${levelMarks[level]}</span> ${counts[level]} ${label("level", level, this.language)}
					</button>`,
				)}
			</div>
			${
				open.length > 3
					? html`<label class="filter"
							>${say("filterByText")}
							<input type="search" .value=${this.text} @input=${(event: Event) => {
								this.text = (event.target as HTMLInputElement).value;
							}} />
						</label>`
					: nothing
			}`;
	}

	#level(level: Level, findings: readonly Finding[], inWords: (finding: Finding) => SaidFinding) {
		if (findings.length === 0) return nothing;
		const say = saying(words, this.language);
		const some = this.more.has(level) ? findings : findings.slice(0, shownFirst);
		const name = label("level", level, this.language);
		return html`<h3 class="level ${level}"><span aria-hidden="true">${levelMarks[level]}</span> ${capitalised(name)}</h3>
			<ul aria-label=${name}>
				${repeat(some, keyOf, (finding) => this.#item(finding, inWords(finding)))}
			</ul>
			${
				some.length === findings.length
					? nothing
					: html`<button type="button" @click=${() => {
							this.more = new Set([...this.more, level]);
						}}>${say("showMore", { count: findings.length - some.length })}</button>`
			}`;
	}

	#item(finding: Finding, said: SaidFinding) {
		const say = saying(words, this.language);
		const key = keyOf(finding);
		const isEditable = this.store.state.readOnly.length === 0;
		const remedies = isEditable ? (this.remedies.get(finding) ?? []) : [];
		const sure = remedies.filter(({ kind }) => kind === "sure");
		const offered = remedies.filter(({ kind }) => kind === "offered");
		return html`<li class="${finding.level} ${key === this.here ? "here" : ""}" aria-current=${key === this.here ? "true" : nothing}>
			${this.#where(finding)} ${this.#sentences(finding, said)}
			<div class="actions">
				${sure.map((remedy) => html`<button type="button" class="main" @click=${() => this.#press(finding, remedy)}>${remedy.say[this.language]}</button>`)}
				${
					isEditable && canBeAccepted(finding) && this.accepting !== key
						? html`<button type="button" class="plain" data-accept=${key} aria-label=${`${say("acceptWithReason")}: ${this.#placeOf(finding)}`} @click=${() => {
								this.accepting = key;
							}}>${say("acceptShort")}</button>`
						: nothing
				}
			${
				offered.length === 0
					? nothing
					: html`<details>
							<summary>${say(offered.length === 1 ? "choicesOne" : "choicesSome", { count: offered.length })}</summary>
							<div class="actions">
								${offered.map((remedy) => html`<button type="button" @click=${() => this.#press(finding, remedy)}>${remedy.say[this.language]}</button>`)}
							</div>
						</details>`
			}
				${this.#why(finding)}
			</div>
			${this.accepting === key ? this.#form(finding) : nothing}
		</li>`;
	}

	#acceptedItem(finding: Finding, said: SaidFinding) {
		const say = saying(words, this.language);
		const { accepted } = finding;
		if (accepted === null) return nothing;
		const { by, on, until, reason } = accepted;
		return html`<li class="accepted">
			${this.#where(finding)} ${this.#sentences(finding, said)}
			<p>
				${until === null ? say("acceptedBy", { by, on }) : say("acceptedByUntil", { by, on, until })} <q>${reason}</q>
			</p>
			${
				this.store.state.readOnly.length > 0
					? nothing
					: html`<div class="actions">
							<button type="button" @click=${() => this.#takeBack(finding)}>${say("takeBack")}</button>
						</div>`
			}
			${this.#why(finding)}
		</li>`;
	}

	#where(finding: Finding) {
		return html`<button type="button" class="where" @click=${() => this.#goTo(finding)}>
			<span class="level ${finding.level}"><span aria-hidden="true">${levelMarks[finding.level]}</span> ${label("level", finding.level, this.language)}</span>
			<span>${this.#placeOf(finding)}</span>
		</button>`;
	}

	#sentences(finding: Finding, { message, found }: SaidFinding) {
		const say = saying(words, this.language);
		const all = message.slice(message.indexOf(": ") + 2);
		const length = found.trim().length + (/[.?!]$/.test(found.trim()) ? 0 : 1);
		const where = boxesInWords(finding.situations, this.language);
		return html`<p><strong>${all.slice(0, length)}</strong>${all.slice(length)}</p>
			<p class="quiet">${this.#basis(finding)}${where === "" ? nothing : html` · ${say("onlyIn", { situations: where })}`}</p>`;
	}

	#basis({ basis }: Finding): string {
		const say = saying(words, this.language);
		if (basis.kind === "house") {
			const key = basis.name.replace(/^film\./, "");
			const entry =
				limitTable.find((one) => one.key === key) ?? limitTable.find((one) => one.key.startsWith(`${key}.`));
			const name = entry?.title[this.language] ?? headerOf(basis.name, this.language);
			return say(basis.name.startsWith("film.") ? "basisProcedure" : "basisHouse", { name });
		}
		return say(`basis-${basis.kind}`, { name: basis.name });
	}

	#why({ rule }: Finding) {
		const say = saying(words, this.language);
		const why = rules.find(({ id }) => id === rule)?.why;
		return html`<details>
			<summary>${say("why")}</summary>
			<p>${why?.[this.language] ?? why?.en ?? ""}</p>
		</details>`;
	}

	#form(finding: Finding) {
		const { shop } = this.store.state;
		return html`<gw-accept-form
			.finding=${finding}
			.shop=${shop}
			.language=${this.language}
			.person=${this.person}
			.typed=${this.store.partTexts[reasonAt(keyOf(finding))] ?? ""}
			@gw-reason=${({ detail }: CustomEvent<string>) => this.store.typingPart(reasonAt(keyOf(finding)), detail || null)}
			@accept=${(event: AcceptEvent) => this.#accept(finding, event)}
			@cancel=${() => void this.#closeForm()}
		></gw-accept-form>`;
	}

	#placeOf({ row, field }: Finding): string {
		const say = saying(words, this.language);
		const at = row === null ? say("wholeProcedure") : say("row", { row: row + 1 });
		return field === null ? at : `${at}, ${headerOf(field, this.language)}`;
	}

	#sayer(): (finding: Finding) => SaidFinding {
		return sayer(this.language, filmUnitOf(this.store.state.shop));
	}

	/** The open findings that the filter lets through, in the order of the list. */
	#open(): Finding[] {
		const { findings, shop } = this.store.state;
		const of = [findings, shop, this.only, this.text, this.language];
		if (this.#listed !== null && of.every((one, at) => one === this.#listed?.of[at])) return this.#listed.open;
		const wanted = foldText(this.text);
		const inWords = this.#sayer();
		const found = findings.filter(
			(finding) =>
				finding.accepted === null &&
				(this.only.size === 0 || this.only.has(finding.level)) &&
				(wanted === "" ||
					foldText(`${this.#placeOf(finding)} ${inWords(finding).message}`.slice(0, 200)).includes(wanted)),
		);
		const open = levels.flatMap((level) => found.filter((finding) => finding.level === level));
		this.#listed = { of, open };
		return open;
	}

	#toggle(level: Level): void {
		const only = new Set(this.only);
		if (!only.delete(level)) only.add(level);
		this.only = only;
	}

	#goTo(finding: Finding): void {
		this.here = keyOf(finding);
		const { rowId: row, field } = finding;
		this.dispatchEvent(new CustomEvent("gw-go-to", { detail: { row, field }, bubbles: true, composed: true }));
	}

	#press(finding: Finding, remedy: Remedy): void {
		const next = this.#after(finding);
		this.store.press(remedy);
		void this.#focus(next);
	}

	#accept(finding: Finding, { detail }: AcceptEvent): void {
		const next = this.#after(finding);
		if (this.store.change(acceptEdit(finding, detail, this.store.state.procedure), "accept") !== null) return;
		this.store.typingPart(reasonAt(keyOf(finding)), null);
		this.accepting = null;
		void this.#focus(next);
	}

	/** Back to the button that opened the form; after Escape its reason is kept for the next time. */
	async #closeForm(): Promise<void> {
		const key = this.accepting;
		this.accepting = null;
		await this.updateComplete;
		const opener = [...this.renderRoot.querySelectorAll<HTMLElement>("[data-accept]")].find(
			(one) => one.dataset.accept === key,
		);
		opener?.focus();
	}

	#takeBack(finding: Finding): void {
		const { procedure, readable, shop } = this.store.state;
		const edit = takeBackEdit(finding, procedure, { procedure: readable, shop, today: todayHere() });
		if (edit !== null) this.store.change(edit, "accept");
		void this.#focus(keyOf(finding));
	}

	/** What stands behind a finding in the list, else before it: where the focus goes when it is gone. */
	#after(finding: Finding): string | null {
		const open = this.#open();
		const at = open.indexOf(finding);
		const next = open[at + 1] ?? open[at - 1];
		return next === undefined ? null : keyOf(next);
	}

	/** Puts the focus on a finding by its key, or on the heading where it is not there. */
	async #focus(key: string | null): Promise<void> {
		await this.updateComplete;
		const at = this.#open().findIndex((one) => keyOf(one) === key);
		const wheres = this.renderRoot.querySelectorAll<HTMLElement>("li:not(.accepted) > .where");
		(wheres[at] ?? this.renderRoot.querySelector("h2"))?.focus();
	}

	/** Remedies of what is shown, computed a little at a time, since each takes a look at the whole procedure. */
	async #findRemedies(): Promise<void> {
		const { readOnly } = this.store.state;
		const wanted = levels
			.flatMap((level) => {
				const some = this.#open().filter((one) => one.level === level);
				return this.more.has(level) ? some : some.slice(0, shownFirst);
			})
			.filter((finding) => !this.remedies.has(finding));
		if (readOnly.length > 0 || wanted.length === 0) return;
		this.#work += 1;
		const work = this.#work;
		const { version } = this.store.state;
		await nextFrame();
		const found = new Map<Finding, Remedy[]>();
		let since = performance.now();
		for (const finding of wanted) {
			if (performance.now() - since > sliceMs) {
				await nextFrame();
				since = performance.now();
			}
			if (work !== this.#work || this.store.state.version !== version) return;
			found.set(finding, this.store.remediesFor(finding));
		}
		const current = new Set(this.store.state.findings);
		this.remedies = new Map([...this.remedies, ...found].filter(([finding]) => current.has(finding)));
	}

	async #pressSure(): Promise<void> {
		const { procedure, shop, version } = this.store.state;
		const remedies = sureRemedies(procedure, { shop, today: todayHere() });
		this.pressing = 0;
		let since = performance.now();
		for (;;) {
			const { value, done } = remedies.next();
			if (done) {
				this.pressing = null;
				if (value.count > 0) this.store.change(value.edit, "remedy");
				this.#tell(value.count);
				break;
			}
			if (performance.now() - since > sliceMs) {
				this.pressing = value.count;
				await nextFrame();
				since = performance.now();
			}
			// Cancelled, or the procedure is another one meanwhile: nothing is changed.
			if (this.pressing === null || this.store.state.version !== version) break;
		}
		this.pressing = null;
		void this.#focus(null);
	}

	#stopPressing(): void {
		this.pressing = null;
	}

	#tell(count: number): void {
		const say = saying(words, this.language);
		const text = count === 0 ? say("pressedNone") : say(count === 1 ? "pressedOne" : "pressedSome", { count });
		this.dispatchEvent(new CustomEvent("gw-tell", { detail: text, bubbles: true, composed: true }));
	}
}

/** A finding by its place: what it is still known by after the next check. */
function keyOf({ rule, rowId, field, pointer }: Finding): string {
	return `${rule} ${rowId ?? ""} ${field ?? ""} ${rowId === null ? pointer : pointer.replace(/^\/steps\/\d+/, "")}`;
}

/** Where the store keeps reasons that are being typed; no part of a procedure begins so. */
const reasons = "/acceptances/";

function reasonAt(key: string): string {
	return `${pointerTo(reasons.slice(0, -1), key)}/reason`;
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-findings": Findings;
	}
}
