import { html, nothing, type PropertyValues, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { defectName } from "../../model/defects.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { label, type Language } from "../../model/words.ts";
import { AfterPaint } from "../sheet/after-paint.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { controls, levelColours } from "../style/tokens.ts";
import { factsStyle } from "./facts-style.ts";
import { markOf, PartFields } from "./fields.ts";
import { filmPart } from "./film-part.ts";
import { conditionsPart, curePart, setUpPart, wearPart } from "./ready-parts.ts";
import { aboutPart, exceptionsPart, recordPart, sourcesPart } from "./record-parts.ts";
import { type ChosenValues, scopePart } from "./scope-part.ts";
import { writeAmount } from "./typed.ts";
import { cureInWords, filmKnownInWords, findingsAt, phrasesOf, worstOf } from "./summary.ts";

/**
 * Everything of a procedure outside its rows: a strip that reads like the head of a bench card, each phrase a button
 * that opens its part, and the parts themselves below it, folded until wanted.
 */
@customElement("gw-facts")
export class Facts extends AfterPaint {
	static override styles = [controls, levelColours, factsStyle];

	@property({ attribute: false }) store!: SheetStore;
	@property({ attribute: false }) language!: Language;

	/** Whether the parts are shown under the strip. */
	@state() private isUnfolded = false;
	@state() private opened: ReadonlySet<string> = new Set();
	@state() private chosen: ChosenValues = {};

	protected readonly follower = new StoreController(
		this,
		() => this.store,
		({ procedure, readable, findings, shop, isNew, readOnly }) => [
			procedure,
			readable,
			findings,
			shop,
			isNew,
			readOnly,
		],
	);
	readonly #fields = new PartFields(this);

	/** Opens a part, named by its schema key, and moves the focus to its first field; unknown keys open the first part. */
	async goTo(part: string): Promise<void> {
		await this.#open(part, "");
	}

	/** Puts text into the procedure that stands in a field which has not been left yet. */
	commit(): void {
		this.#fields.commitOpen();
	}

	protected override shouldUpdate(changed: PropertyValues): boolean {
		return this.store !== undefined && super.shouldUpdate(changed);
	}

	/** A text that a closed page left in a field must not stay out of sight. The title has its field in the bar too. */
	protected override willUpdate(changed: PropertyValues): void {
		if (!changed.has("store")) return;
		const left = groups.filter(({ parts }) =>
			parts.some((part) => part !== "title" && this.#fields.keptAt(`/${part}`) > 0),
		);
		if (left.length === 0) return;
		this.isUnfolded = true;
		this.opened = new Set([...this.opened, ...left.map(({ id }) => id)]);
	}

	protected override render(): TemplateResult {
		const { say } = this.#fields;
		return html`<section aria-label=${say("facts")}>
			<div class="head"><ul class="strip">
				${phrasesOf(this.store.state.readable, this.store.state.shop, this.language).map((phrase) => {
					const { part, member, text, isEmpty } = phrase;
					const worst = worstOf(findingsAt(this.store.state.findings, part, member));
					return html`<li>
						<button
							type="button"
							class="phrase ${isEmpty ? "empty" : ""}"
							@click=${() => void this.#open(part, member === undefined ? "" : `/${part}/${member}`)}
						>
							${text} ${worst === null ? nothing : markOf(worst, this.language)}
						</button>
					</li>`;
				})}
			</ul>
			<button
						type="button"
						class="all"
						aria-expanded=${this.isUnfolded ? "true" : "false"}
						aria-controls="parts"
						@click=${() => {
							this.isUnfolded = !this.isUnfolded;
						}}
					>
						${say(this.isUnfolded ? "fold" : "unfold")} ${this.isUnfolded ? nothing : this.#marksBeyondStrip()}
					</button>
			</div>
			<div id="parts" class="parts" ?hidden=${!this.isUnfolded}>
				${
					this.isUnfolded
						? columns.map((ids) => html`<div class="column">${ids.map((id) => this.#group(groupOf(id)))}</div>`)
						: nothing
				}
			</div>
			<p class="hidden-text" role="status">${this.#fields.told}</p>
		</section>`;
	}

	/** The worst of what is found at parts that have no phrase in the strip. */
	#marksBeyondStrip(): TemplateResult | typeof nothing {
		const inStrip = new Set<string>(
			phrasesOf(this.store.state.readable, this.store.state.shop, this.language).map(({ part }) => part),
		);
		const beyond = groups.flatMap(({ parts }) => parts).filter((part) => !inStrip.has(part));
		const worst = worstOf(beyond.flatMap((part) => findingsAt(this.store.state.findings, part)));
		return worst === null ? nothing : markOf(worst, this.language);
	}

	#group(group: Group): TemplateResult {
		const fields = this.#fields;
		const { say } = fields;
		const isOpen = this.opened.has(group.id);
		const worst = worstOf(group.parts.flatMap((part) => findingsAt(this.store.state.findings, part)));
		const kept = group.parts.reduce((sum, part) => sum + fields.keptAt(`/${part}`), 0);
		const content = group.summary(fields);
		return html`<details
			class="part"
			data-group=${group.id}
			?open=${isOpen}
			@toggle=${(event: Event) => this.#toggled(event, group.id)}
		>
			<summary data-summary=${group.parts.join(" ")}>
				<span class="heading">${group.heading(this.language, fields)}</span>
				${worst === null ? nothing : markOf(worst, this.language)}
				<span class="said ${content === "" ? "empty" : ""}">${content || say(`empty-${group.id}` as "empty-scope")}</span>
				${kept === 0 ? nothing : html`<span class="warn">${say(kept === 1 ? "kept-one" : "kept", { count: kept })}</span>`}
			</summary>
			${
				isOpen
					? html`<div class="content">${group.parts.map((part) => fields.findings(part))} ${group.render(fields, this.#choosing)}</div>`
					: nothing
			}
		</details>`;
	}

	get #choosing(): Choosing {
		return {
			chosen: this.chosen,
			onChoose: (chosen) => {
				this.chosen = chosen;
			},
		};
	}

	/** Folds inside a part toggle too; only the part itself counts. */
	#toggled(event: Event, id: string): void {
		const details = event.currentTarget as HTMLDetailsElement;
		if (event.target !== details || details.open === this.opened.has(id)) return;
		const opened = new Set(this.opened);
		if (details.open) opened.add(id);
		else opened.delete(id);
		this.opened = opened;
	}

	async #open(part: string, at: string): Promise<void> {
		const group = groups.find(({ parts }) => parts.some((one) => one === part)) ?? (groups[0] as Group);
		this.isUnfolded = true;
		this.opened = new Set([...this.opened, group.id]);
		await this.updateComplete;
		const details = this.renderRoot.querySelector<HTMLDetailsElement>(`[data-group="${group.id}"]`);
		const pointer = at || `/${part}`;
		const place =
			details?.querySelector(`[data-pointer="${pointer}"]`) ?? details?.querySelector(`[data-pointer^="${pointer}/"]`);
		const field = [place, details?.querySelector(".content")]
			.map((one) => (one ? firstShown(one) : undefined))
			.find((one) => one !== undefined);
		const target = (field ?? details?.querySelector("summary")) as HTMLElement | null | undefined;
		target?.scrollIntoView({ block: "nearest" });
		target?.focus();
	}
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-facts": Facts;
	}
}

/** Values of situations to be left out of the scope, which are in no procedure yet. */
interface Choosing {
	chosen: ChosenValues;
	onChoose: (chosen: ChosenValues) => void;
}

/** Parts that are folded together. */
interface Group {
	id: string;
	parts: readonly (keyof Procedure)[];
	heading(language: Language, fields: PartFields): string;
	/** What it says, in a few words; empty where nothing is said yet. */
	summary(fields: PartFields): string;
	render(fields: PartFields, choosing: Choosing): TemplateResult;
}

/** What can have the focus and takes nothing out. */
const focusable = "input, select, textarea, button.add:not(:disabled)";

/** The place itself or the first field in it; the fold where it is behind one. */
function firstShown(place: Element): Element | undefined {
	const fields = place.matches(focusable) ? [place] : [...place.querySelectorAll(`${focusable}, summary`)];
	const first = fields.find((one) => one.closest("details:not(.part)[open] > summary") === null);
	return first?.closest("details:not(.part):not([open])")?.querySelector("summary") ?? first;
}

/** A group of one part, named as the part is. */
function alone(part: keyof Procedure, summary: Group["summary"], render: Group["render"]): Group {
	return { id: part, parts: [part], heading: (language) => label("part", part, language), summary, render };
}

/** Words of one list, in order. */
function counted(fields: PartFields, pointer: string): string {
	const { length } = fields.list(pointer);
	return length === 0 ? "" : fields.say(length === 1 ? "count-one" : "count", { count: length });
}

const groups: readonly Group[] = [
	alone(
		"scope",
		({ state: { readable, shop }, language }) =>
			(readable.scope?.defects ?? []).map(({ defect }) => defectName(defect, language, shop.book)).join(", "),
		(fields, { chosen, onChoose }) => scopePart(fields, chosen, onChoose),
	),
	alone("film", ({ state, shop, language }) => filmKnownInWords(state.readable, shop, language), filmPart),
	alone("cure", ({ state, language }) => cureInWords(state.readable.cure, language), curePart),
	alone(
		"setUp",
		({ state: { readable }, language }) => {
			const { light, panelC } = readable.setUp ?? {};
			const celsius = panelC === undefined ? [] : [`≤ ${writeAmount(panelC, "°C", language)}`];
			return [light?.[language] ?? "", ...celsius].filter((one) => one !== "").join(" · ");
		},
		setUpPart,
	),
	alone(
		"wear",
		({ state: { readable }, language }) =>
			[...new Set((readable.wear ?? []).map(({ item }) => label("gear", item, language)))].join(", "),
		wearPart,
	),
	alone(
		"startWhen",
		(fields) => counted(fields, "/startWhen"),
		(fields) => conditionsPart(fields, "startWhen"),
	),
	alone(
		"giveUpWhen",
		(fields) => counted(fields, "/giveUpWhen"),
		(fields) => conditionsPart(fields, "giveUpWhen"),
	),
	alone("exceptions", (fields) => counted(fields, "/exceptions"), exceptionsPart),
	{
		id: "about",
		parts: ["title", "id", "purpose", "variantOf", "chooseWhen", "notes"],
		heading: (_, { say }) => say("about"),
		summary: ({ state: { readable }, language }) => readable.title[language] ?? Object.values(readable.title)[0] ?? "",
		render: aboutPart,
	},
	{
		id: "record",
		parts: ["state", "revision", "revisionDate", "methodChanged", "writtenBy", "reviewBy"],
		heading: (_, { say }) => say("record"),
		summary: ({ state: { readable }, language, say }) =>
			[
				readable.state === undefined ? "" : label("state", readable.state, language),
				readable.revision === undefined ? "" : say("revision", { revision: readable.revision }),
				readable.writtenBy ?? "",
			]
				.filter((one) => one !== "")
				.join(" · "),
		render: recordPart,
	},
	alone("sources", (fields) => counted(fields, "/sources"), sourcesPart),
];

/** What stands under each other; parts do not change their place when one unfolds. */
const columns: readonly (readonly string[])[] = [
	["scope", "about"],
	["film", "cure", "setUp", "wear"],
	["startWhen", "giveUpWhen", "exceptions", "record", "sources"],
];

function groupOf(id: string): Group {
	const group = groups.find((one) => one.id === id);
	if (group === undefined) throw new RangeError(`no part is called ${id}`);
	return group;
}
