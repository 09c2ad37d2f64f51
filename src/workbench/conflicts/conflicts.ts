import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";
import { repeat } from "lit/directives/repeat.js";
import type { Conflict } from "../../model/merge.ts";
import { pointerParts } from "../../model/pointer.ts";
import type { Language } from "../../model/words.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { controls } from "../style/tokens.ts";
import { type Say, saying } from "../words.ts";
import { type Around, joinedInWords, placeInWords, sideInWords } from "./conflict-words.ts";
import sentences from "./words.json" with { type: "json" };

/**
 * What both sides changed, place by place, and what was joined without conflict; there until it is saved.
 *
 * Event: `gw-go-to`, also after the last decision, so that the focus has somewhere to be.
 */
@customElement("gw-conflicts")
export class Conflicts extends LitElement {
	@property({ attribute: false }) store!: SheetStore;
	@property() language: Language = "en";

	static override styles = [controls, panelStyle()];

	constructor() {
		super();
		new StoreController(this, () => this.store);
	}

	override render(): TemplateResult | typeof nothing {
		const { conflicts, procedure, shop, saving } = this.store.state;
		const { joined } = this.store;
		const isUnderWay = saving.state === "saving" || saving.state === "saved";
		if (conflicts.length === 0 && (joined === null || isUnderWay)) return nothing;
		const say = saying(sentences, this.language);
		const around: Around = { procedure, shop, language: this.language };
		const left = say(conflicts.length === 1 ? "leftOne" : "left", { count: conflicts.length });
		return html`
			<section aria-labelledby="title">
				<h2 id="title" tabindex="-1">${say("title")}</h2>
				${conflicts.length === 0 ? nothing : html`<p>${say("intro")}</p>`}
				<p role="status">${conflicts.length === 0 ? say("decided") : left}</p>
				<ol>
					${repeat(
						conflicts,
						(conflict) => conflict,
						(conflict) => this.#conflict(conflict, around, say),
					)}
				</ol>
				${conflicts.length > 1 ? this.#everywhere(say) : nothing}
				${
					conflicts.length === 0
						? html`<button class="main" @click=${() => void this.store.save()}>${say("save")}</button>`
						: nothing
				}
				${joined === null || joined.length === 0 ? nothing : joinedList(joinedInWords(joined, around), conflicts.length === 0, say)}
			</section>
		`;
	}

	#conflict(conflict: Conflict, around: Around, say: Say<typeof sentences>): TemplateResult {
		const place = placeInWords(conflict, around);
		const named = (key: "keepMine" | "takeTheirs" | "goTo") => say("actionAt", { action: say(key), place });
		return html`
			<li>
				<h3>${place}</h3>
				<dl>
					${(["base", "mine", "theirs"] as const).map(
						(side) => html`<div class=${side}>
							<dt>${say(side)}</dt>
							<dd>${sideInWords(conflict, conflict[side], around)}</dd>
						</div>`,
					)}
				</dl>
				<p class="choice">
					<button class="keep" aria-label=${named("keepMine")} @click=${() => this.#settle(conflict, "mine")}>
						${say("keepMine")}
					</button>
					<button aria-label=${named("takeTheirs")} @click=${() => this.#settle(conflict, "theirs")}>
						${say("takeTheirs")}
					</button>
					<button aria-label=${named("goTo")} @click=${() => this.#goTo(conflict)}>${say("goTo")}</button>
				</p>
			</li>
		`;
	}

	#everywhere(say: Say<typeof sentences>): TemplateResult {
		const settleAll = (side: "mine" | "theirs") => {
			const last = this.store.state.conflicts.at(-1);
			this.store.settleAll(side);
			if (last !== undefined && this.store.state.conflicts.length === 0) this.#goTo(last);
		};
		return html`
			<p class="choice">
				<span id="all">${say("all")}</span>
				<button @click=${() => settleAll("mine")}>${say("keepAllMine")}</button>
				<button @click=${() => settleAll("theirs")}>${say("takeAllTheirs")}</button>
			</p>
		`;
	}

	/** The focus goes on to the next place, since the one it was on is gone. */
	#settle(conflict: Conflict, side: "mine" | "theirs"): void {
		const index = this.store.state.conflicts.indexOf(conflict);
		this.store.settle(conflict, side);
		const { conflicts } = this.store.state;
		if (conflicts.includes(conflict)) return;
		if (conflicts.length === 0) {
			this.#goTo(conflict);
			return;
		}
		void this.updateComplete.then(() => {
			const buttons = [...this.renderRoot.querySelectorAll<HTMLElement>("button.keep")];
			(buttons[index] ?? buttons.at(-1))?.focus();
		});
	}

	#goTo({ row, field, pointer, code }: Conflict): void {
		const { steps = [] } = this.store.state.procedure;
		const stands = steps.some(({ id }) => id === row);
		const detail = stands
			? { row, field }
			: code === "order" || pointer === null
				? { row: steps[0]?.id ?? null, field: null }
				: { row: null, field: pointerParts(pointer)[0] ?? null };
		this.dispatchEvent(new CustomEvent("gw-go-to", { detail, bubbles: true, composed: true }));
	}
}

function joinedList(lines: readonly string[], isOpen: boolean, say: Say<typeof sentences>): TemplateResult {
	return html`
		<details ?open=${isOpen}>
			<summary>${say("joined", { count: lines.length })}</summary>
			<ul>
				${lines.map((line) => html`<li>${line}</li>`)}
			</ul>
		</details>
	`;
}

function panelStyle() {
	return css`
		:host {
			display: block;
		}
		section {
			border: 2px solid var(--caution);
			border-radius: var(--radius);
			background: var(--sheet);
			color: var(--ink);
			padding: var(--gap);
		}
		h2 {
			margin: 0;
			font-size: 1.1rem;
		}
		h3 {
			margin: 0;
			font-size: 1rem;
		}
		p {
			margin: 0.4rem 0;
			max-width: 75ch;
		}
		ol,
		ul {
			margin: 0.4rem 0;
			padding: 0;
			list-style: none;
			display: grid;
			gap: 0.5rem;
		}
		ol > li {
			border-top: 1px solid var(--line);
			padding-top: 0.5rem;
		}
		details ul {
			padding-left: 1rem;
		}
		dl {
			margin: 0.3rem 0;
			display: grid;
			grid-template-columns: repeat(auto-fit, minmax(min(14rem, 100%), 1fr));
			gap: 0.4rem;
		}
		dt {
			color: var(--quiet);
			font-size: 0.875rem;
		}
		dd {
			margin: 0;
			overflow-wrap: anywhere;
		}
		.mine dd {
			font-weight: 600;
		}
		.choice {
			display: flex;
			flex-wrap: wrap;
			align-items: center;
			gap: 0.5rem;
			max-width: none;
		}
		.choice button {
			min-height: 2.75rem;
		}
		summary {
			min-height: 2.25rem;
			cursor: pointer;
			padding-top: 0.4rem;
		}
	`;
}
