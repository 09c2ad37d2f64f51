import { html, nothing, type ReactiveController, type ReactiveControllerHost, type TemplateResult } from "lit";
import { ifDefined } from "lit/directives/if-defined.js";
import { live } from "lit/directives/live.js";
import type { Edit } from "../../model/edits.ts";
import type { Finding } from "../../model/finding.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { isRecord, pointerParts, pointerTo, valueAt } from "../../model/pointer.ts";
import type { Problem } from "../../model/problem.ts";
import { keysOf } from "../../model/same.ts";
import { filmUnitOf, type Shop } from "../../model/shop.ts";
import type { FilmUnit } from "../../model/units.ts";
import { label, type Language, languages } from "../../model/words.ts";
import { type SaidFinding, sayer } from "../../rules/sayer.ts";
import type { SheetState } from "../store/state.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { levelMarks } from "../style/marks.ts";
import { type Say, saying } from "../words.ts";
import { chosen, listAt, moved, partEdit, without } from "./parts.ts";
import { findingsAt } from "./summary.ts";
import { type Typed, writeRaw } from "./typed.ts";
import sentences from "./words.json" with { type: "json" };

/** The element whose fields these are. */
export interface FieldsHost extends ReactiveControllerHost {
	readonly renderRoot: HTMLElement | DocumentFragment;
	store: SheetStore;
	language: Language;
}

/** A field that takes text as people type it. */
export interface TextField {
	pointer: string;
	label: string;
	/** Text to value; text itself where left out. */
	read?: (text: string) => Typed;
	/** Value to text, in the reader's form; the value as it stands where left out. */
	write?: (value: unknown) => string;
	/** A sentence under the field. */
	hint?: string;
	/** What holds while nothing is typed, shown greyed. */
	usual?: string;
	/** `one` line; a sentence that is `wrapped`; or `many` lines, where Enter begins a new one. */
	lines?: "one" | "wrapped" | "many";
	/** The schema asks for it: emptied, it stays as it was. */
	isNeeded?: boolean;
	/** Values to pick from while typing; any other text is taken too. */
	suggestions?: readonly string[];
	lang?: Language;
}

/**
 * The fields of one procedure outside its rows: they show the store, write each change as one edit, and keep the text
 * that could not be read until the person rewrites or empties it, whatever happens around it.
 */
export class PartFields implements ReactiveController {
	readonly #host: FieldsHost;
	/** What is to be announced politely. */
	told = "";
	/** By pointer of a list: how long it was when an element was asked for. */
	readonly #adding = new Map<string, number>();
	/** The field being typed in; its text stands in the store. */
	#open: TextField | null = null;
	#sayer: { key: string; say: (finding: Finding) => SaidFinding } | null = null;

	constructor(host: FieldsHost) {
		this.#host = host;
		host.addController(this);
	}

	hostDisconnected(): void {
		this.commitOpen();
	}

	get state(): SheetState {
		return this.#host.store.state;
	}

	get procedure(): Procedure {
		return this.state.procedure;
	}

	get shop(): Shop {
		return this.state.shop;
	}

	get language(): Language {
		return this.#host.language;
	}

	get film(): FilmUnit {
		return filmUnitOf(this.shop);
	}

	get say(): Say<typeof sentences> {
		return saying(sentences, this.language);
	}

	/** What stands at a pointer. */
	value(pointer: string): unknown {
		return valueAt(this.procedure, pointerParts(pointer));
	}

	/** The list at a pointer; empty where there is none. */
	list(pointer: string): readonly unknown[] {
		return listAt(this.procedure, pointer);
	}

	/** Sets one part, or takes it out, as one gesture. */
	change(pointer: string, to: unknown): Problem | null {
		const edit: Edit = partEdit(this.procedure, pointer, to);
		const problem = edit.length === 0 ? null : this.#host.store.change(edit, "part");
		this.#host.requestUpdate();
		return problem;
	}

	/** Whether an element shall be put behind the last one of a list: asked for, or begun. */
	isAdding(pointer: string): boolean {
		const next = this.list(pointer).length;
		return this.#adding.get(pointer) === next || this.keptAt(`${pointer}/${next}`) > 0;
	}

	/** Shows an empty element behind the last one of a list; it is in the procedure once something is typed there. */
	async add(pointer: string): Promise<void> {
		const next = this.list(pointer).length;
		this.#adding.set(pointer, next);
		this.#host.requestUpdate();
		await this.#host.updateComplete;
		this.#host.renderRoot.querySelector<HTMLElement>(`[data-pointer^="${pointer}/${next}"]`)?.focus();
	}

	/** The button that adds an element to a list. */
	addButton(pointer: string, words: string): TemplateResult {
		return html`<button type="button" class="add" data-add=${pointer} @click=${() => void this.add(pointer)}>
			${words}
		</button>`;
	}

	/** Takes an element out of a list; text kept at the others moves with them. */
	remove(pointer: string, index: number): void {
		this.commitOpen();
		if (this.change(pointer, without(this.list(pointer), index)) !== null) return;
		this.#renumber(pointer, (at) => (at === index ? null : at > index ? at - 1 : at));
	}

	/** Moves an element of a list by one place; text kept at it moves too. */
	move(pointer: string, index: number, by: -1 | 1): void {
		this.commitOpen();
		const list = this.list(pointer);
		if (index + by < 0 || index + by >= list.length || this.change(pointer, moved(list, index, by)) !== null) return;
		this.#renumber(pointer, (at) => (at === index ? index + by : at === index + by ? index : at));
	}

	/** Puts in what is typed in the open field, as leaving it would. */
	commitOpen(): void {
		const text = this.#open === null ? undefined : this.#texts[this.#open.pointer];
		if (this.#open !== null && text !== undefined) this.#commit(this.#open, text);
	}

	/** How many texts at a part are not in the procedure: unread, or left behind by a page that was closed. */
	keptAt(pointer: string): number {
		return keysOf(this.#texts).filter((one) => `${one}/`.startsWith(`${pointer}/`)).length;
	}

	/** Sentences of the findings at a part; fields refer to them by id. */
	findings(part: string): TemplateResult | typeof nothing {
		const findings = findingsAt(this.state.findings, part);
		if (findings.length === 0) return nothing;
		return html`<ul class="findings">
			${findings.map(
				(finding) => html`<li class=${finding.level} id=${this.#findingId(finding)}>
					${markOf(finding.level, this.language)} ${this.said(finding).message}
				</li>`,
			)}
		</ul>`;
	}

	/** A finding in words, in the reader's language and unit. */
	said(finding: Finding): SaidFinding {
		const key = `${this.language} ${this.film}`;
		if (this.#sayer?.key !== key) this.#sayer = { key, say: sayer(this.language, this.film) };
		return this.#sayer.say(finding);
	}

	/** Ids of the sentences that speak of what stands at a pointer; undefined where none does. */
	describedBy(pointer: string, ...more: (string | false | undefined)[]): string | undefined {
		const [part = ""] = pointerParts(pointer);
		const about = findingsAt(this.state.findings, part).filter(
			(finding) => `${pointer}/`.startsWith(`${finding.pointer}/`) || `${finding.pointer}/`.startsWith(`${pointer}/`),
		);
		const ids = [...more.filter((id) => typeof id === "string"), ...about.map((one) => this.#findingId(one))];
		return ids.length === 0 ? undefined : ids.join(" ");
	}

	/** A labelled text field. */
	text(field: TextField): TemplateResult {
		const { pointer, hint, usual, suggestions = [], lines = "one" } = field;
		const text = this.#texts[pointer];
		const shown = text ?? this.#stored(field);
		// A text that is being typed is not judged yet.
		const why = text === undefined || this.#open?.pointer === pointer ? null : this.#whyKept(field, text);
		const describedBy = this.describedBy(
			pointer,
			why !== null && `why${pointer}`,
			hint !== undefined && `hint${pointer}`,
		);
		const onInput = (event: Event) => this.#typing(field, (event.target as HTMLInputElement).value);
		const onChange = (event: Event) => this.#commit(field, (event.target as HTMLInputElement).value);
		const onKey = (event: KeyboardEvent) => {
			const input = event.target as HTMLInputElement;
			const isSave = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s";
			const isEntered = event.key === "Enter" && lines !== "many" && !event.isComposing;
			// The page hears of saving next; it must find the text in the procedure.
			if (isSave || isEntered) this.#commit(field, input.value);
			if (isEntered && lines === "wrapped") event.preventDefault();
		};
		const input =
			lines !== "one"
				? html`<textarea
					id=${`field${pointer}`}
					data-pointer=${pointer}
					rows=${lines === "many" ? 3 : 1}
					lang=${ifDefined(field.lang)}
					.value=${live(shown)}
					aria-invalid=${why === null ? nothing : "true"}
					aria-describedby=${ifDefined(describedBy)}
					@input=${onInput}
					@change=${onChange}
					@keydown=${onKey}
				></textarea>`
				: html`<input
					id=${`field${pointer}`}
					data-pointer=${pointer}
					type="text"
					autocomplete="off"
					lang=${ifDefined(field.lang)}
					placeholder=${ifDefined(usual)}
					list=${suggestions.length === 0 ? nothing : `list${pointer}`}
					.value=${live(shown)}
					aria-invalid=${why === null ? nothing : "true"}
					aria-describedby=${ifDefined(describedBy)}
					@input=${onInput}
					@change=${onChange}
					@keydown=${onKey}
				/>`;
		return html`<div class="field">
			<label for=${`field${pointer}`}>${field.label}</label>
			${input}
			${
				suggestions.length === 0
					? nothing
					: html`<datalist id=${`list${pointer}`}>${suggestions.map((one) => html`<option value=${one}></option>`)}</datalist>`
			}
			${hint === undefined ? nothing : html`<p class="hint" id=${`hint${pointer}`}>${hint}</p>`}
			${why === null ? nothing : html`<p class="why" id=${`why${pointer}`}>${why}</p>`}
		</div>`;
	}

	/** A text in the reader's language, the other languages behind a disclosure. */
	words(field: TextField): TemplateResult {
		const others = languages.filter((one) => one !== this.language);
		const own = writeRaw(this.value(pointerTo(field.pointer, this.language)));
		const named = (one: Language) => label("language", one, this.language);
		return html`${this.text({ ...field, pointer: pointerTo(field.pointer, this.language), lang: this.language })}
		${others.map((one) => {
			const pointer = pointerTo(field.pointer, one);
			const written = writeRaw(this.value(pointer));
			return html`<details class="other" ?open=${own === "" && written !== ""}>
				<summary>${this.say(written === "" ? "other-missing" : "other-written", { language: named(one) })}</summary>
				${this.text({ ...field, pointer, label: this.say("in-language", { label: field.label, language: named(one) }), lang: one })}
			</details>`;
		})}`;
	}

	/** One value out of a few, or none. */
	choice(
		pointer: string,
		fieldLabel: string,
		options: readonly { value: string; label: string }[],
		to: (value: string) => unknown = (value) => value,
	): TemplateResult {
		const value = this.value(pointer);
		const now = writeRaw(value);
		const isKnown = now === "" || options.some((one) => one.value === now);
		return html`<div class="field">
			<label for=${`field${pointer}`}>${fieldLabel}</label>
			<select
				id=${`field${pointer}`}
				data-pointer=${pointer}
				.value=${live(now)}
				aria-describedby=${ifDefined(this.describedBy(pointer))}
				@change=${(event: Event) => {
					const picked = (event.target as HTMLSelectElement).value;
					this.change(pointer, picked === "" ? undefined : to(picked));
				}}
			>
				<option value="" ?selected=${now === ""}>${this.say("not-said")}</option>
				${isKnown ? nothing : html`<option value=${now} selected>${now}</option>`}
				${options.map((one) => html`<option value=${one.value} ?selected=${one.value === now}>${one.label}</option>`)}
			</select>
		</div>`;
	}

	/** Several values of a vocabulary, each a box to tick; values the vocabulary lacks stand last. */
	chips(
		pointer: string,
		legend: string,
		vocabulary: readonly string[],
		labelOf: (value: string) => string,
	): TemplateResult {
		const list = this.list(pointer);
		return chipSet({
			legend,
			values: [...vocabulary, ...list.map(writeRaw).filter((one) => !vocabulary.includes(one))],
			labelOf,
			isTicked: (value) => list.some((one) => writeRaw(one) === value),
			onTick: (value, isTicked) => {
				const found = list.find((one) => writeRaw(one) === value) ?? value;
				this.change(
					pointer,
					typeof found === "string" ? chosen(list, found, isTicked, vocabulary) : without(list, list.indexOf(found)),
				);
			},
			pointer,
			describedBy: this.describedBy(pointer),
		});
	}

	/** Buttons that take an element of a list out, or move it where order counts; the focus goes along, or to the part. */
	elementButtons(
		pointer: string,
		index: number,
		name: string,
		order: "ordered" | "unordered" = "unordered",
	): TemplateResult {
		const last = this.list(pointer).length - 1;
		const button = (action: "up" | "down" | "out", sign: string, isDisabled: boolean, act: () => void) => html`<button
			type="button"
			class="small"
			data-act=${`${action}${pointer}/${index}`}
			aria-label=${this.say(`element-${action}`, { name })}
			?disabled=${isDisabled}
			@click=${act}
		>
			${sign}
		</button>`;
		return html`<span class="buttons">
			${
				order === "unordered"
					? nothing
					: [
							button("up", "↑", index === 0, () => void this.#moveAndFollow(pointer, index, -1)),
							button("down", "↓", index >= last, () => void this.#moveAndFollow(pointer, index, 1)),
						]
			}
			${button("out", "✕", false, () => void this.takeOut(pointer, index))}
		</span>`;
	}

	/** Takes an element out and leaves the focus at its part. */
	async takeOut(pointer: string, index: number): Promise<void> {
		this.remove(pointer, index);
		await this.#host.updateComplete;
		const [part = ""] = pointerParts(pointer);
		const find = (selector: string) => this.#host.renderRoot.querySelector<HTMLElement>(selector);
		const add = find(`[data-add="${pointer}"]:not(:disabled)`);
		(add?.checkVisibility() ? add : find(`[data-summary~="${part}"]`))?.focus();
	}

	async #moveAndFollow(pointer: string, index: number, by: -1 | 1): Promise<void> {
		this.move(pointer, index, by);
		this.told = this.say("moved", { place: index + by + 1, count: this.list(pointer).length });
		await this.#host.updateComplete;
		const at = `${pointer}/${index + by}`;
		const there = (by === 1 ? ["down", "up"] : ["up", "down"]).map((action) =>
			this.#host.renderRoot.querySelector<HTMLButtonElement>(`[data-act="${action}${at}"]`),
		);
		there.find((one) => one !== null && !one.disabled)?.focus();
	}

	/** Texts that are in fields and not in the procedure, by pointer. */
	get #texts(): Readonly<Record<string, string>> {
		return this.#host.store.partTexts;
	}

	#stored({ pointer, write = writeRaw }: TextField): string {
		const value = this.value(pointer);
		return value === undefined ? "" : write(value);
	}

	#typing(field: TextField, text: string): void {
		this.#open = field;
		this.#host.store.typingPart(field.pointer, text);
	}

	#commit(field: TextField, text: string): void {
		const { pointer } = field;
		this.#open = null;
		// What is shown may be rounded: text that was not touched must not set it.
		const isUntouched = text.trim() === this.#stored(field).trim();
		const reading = isUntouched ? null : readText(field, text);
		const isTaken =
			reading === null || (reading !== "needed" && "value" in reading && this.change(pointer, reading.value) === null);
		this.told = isTaken ? "" : this.#whyKept(field, text);
		this.#host.store.typingPart(pointer, isTaken ? null : text);
		this.#host.requestUpdate();
	}

	/** Why a text is not in the procedure, and what stands there instead; a text that can be read was left behind. */
	#whyKept(field: TextField, text: string): string {
		const reading = readText(field, text);
		const stored = this.#stored(field);
		if (reading === "needed") return this.say("needed", { stored });
		if ("value" in reading) return this.say("left-behind");
		const why = this.say(reading.why);
		return this.say(stored === "" ? "kept-beside-nothing" : "kept-beside", {
			text: text.trim(),
			why,
			stored,
		});
	}

	/** Gives the texts kept at elements of a list the places these have now; null: the element is gone. */
	#renumber(pointer: string, placeOf: (at: number) => number | null): void {
		const depth = pointerParts(pointer).length;
		const { store } = this.#host;
		const at = Object.entries(this.#texts).filter(([one]) => one.startsWith(`${pointer}/`));
		for (const [one] of at) store.typingPart(one, null);
		for (const [one, text] of at) {
			const parts = pointerParts(one);
			const place = placeOf(Number(parts[depth]));
			if (place === null) continue;
			store.typingPart(
				parts.with(depth, String(place)).reduce((joined, part) => pointerTo(joined, part), ""),
				text,
			);
		}
		this.#host.requestUpdate();
	}

	#findingId(finding: Finding): string {
		return `finding-${this.state.findings.indexOf(finding)}`;
	}
}

/** What a text says in its field; `needed` where it was emptied and must not be. */
function readText({ read, isNeeded = false }: TextField, text: string): Typed | "needed" {
	const typed = text.trim();
	if (typed === "") return isNeeded ? "needed" : { value: undefined };
	return read?.(typed) ?? { value: typed };
}

/** A set of boxes to tick, large enough for a wet finger. */
export function chipSet(set: {
	legend: string;
	values: readonly string[];
	labelOf: (value: string) => string;
	isTicked: (value: string) => boolean;
	onTick: (value: string, isTicked: boolean) => void;
	pointer?: string | undefined;
	describedBy?: string | undefined;
}): TemplateResult {
	return html`<fieldset data-pointer=${ifDefined(set.pointer)} aria-describedby=${ifDefined(set.describedBy)}>
		<legend>${set.legend}</legend>
		<div class="chips">
			${set.values.map(
				(value) => html`<label class="chip">
					<input
						type="checkbox"
						value=${value}
						.checked=${live(set.isTicked(value))}
						@change=${(event: Event) => set.onTick(value, (event.target as HTMLInputElement).checked)}
					/>${set.labelOf(value)}
				</label>`,
			)}
		</div>
	</fieldset>`;
}

/** The mark of a level: a shape for the eye, a word for readers. */
export function markOf(level: Finding["level"], language: Language): TemplateResult {
	return html`<span class="mark ${level}"
		><span aria-hidden="true">${levelMarks[level]}</span><span class="hidden-text">${label("level", level, language)}</span></span
	>`;
}

/** A list element as a record; an empty one where it is none. */
export function recordOf(value: unknown): Record<string, unknown> {
	return isRecord(value) ? value : {};
}
