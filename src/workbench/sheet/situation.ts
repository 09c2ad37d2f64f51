import { css, html, LitElement, nothing } from "lit";
import { customElement, property } from "lit/decorators.js";
import { situationInWords } from "../../check/situation-words.ts";
import { defectName } from "../../model/defects.ts";
import { capitalised } from "../../model/sentence.ts";
import { type Axis, axes, claimedValues, type Situation, situationsOf } from "../../model/situations.ts";
import { label, type Language } from "../../model/words.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/** Letters of a sentence that still stands beside the choices. */
const besideAtMost = 32;

/** Which situation of the scope the figures are for: one choice an axis, the worst case where none is made. */
@customElement("gw-situation")
export class SituationPicker extends LitElement {
	static override styles = [
		controls,
		css`
			:host {
				display: flex;
				flex-wrap: wrap;
				align-items: center;
				gap: 0.3rem 0.6rem;
			}
			fieldset {
				border: 0;
				margin: 0;
				padding: 0;
				min-width: 0;
				display: flex;
				flex-wrap: wrap;
				gap: 0.3rem;
			}
			legend {
				float: left;
				padding: 0;
			}
			label {
				display: block;
				max-width: 100%;
			}
			select {
				max-width: min(100%, 14rem);
				padding-inline: 0.2rem;
				font-size: 0.875rem;
				field-sizing: content;
				text-overflow: ellipsis;
			}
			select.asked {
				background: var(--picked);
				border-color: var(--accent);
			}
			p {
				margin: 0;
				flex: 1 1 4.25rem;
				min-width: 0;
				color: var(--quiet);
				font-size: 0.8125rem;
				line-height: 1.15;
			}
			p.long {
				flex-basis: 100%;
			}
		`,
	];

	@property({ attribute: false }) store!: SheetStore;
	@property() language: Language = "en";

	constructor() {
		super();
		new StoreController(
			this,
			() => this.store,
			({ readable, situation, shop }) => [readable, situation, shop],
		);
	}

	override render() {
		const say = saying(words, this.language);
		const { readable, situation } = this.store.state;
		const claimed = claimedValues(readable.scope);
		const open = axes.filter((axis) => claimed[axis].length > 1);
		const served = situationsOf(readable.scope);
		const shown = this.#shown(claimed, served, situation);
		return html`
			<fieldset>
				<legend class="hidden-text">${say("situationTitle")}</legend>
				${open.map((axis) => this.#picker(axis, claimed[axis], situation, served))}
				${
					Object.keys(situation).length === 0
						? nothing
						: html`<button type="button" @click=${() => this.store.ask({})}>${say("backToWorst")}</button>`
				}
			</fieldset>
			<p class=${shown.length > besideAtMost ? "long" : ""}>${shown}</p>
		`;
	}

	/** What was asked for may be no part of the scope any more; then the worst case is shown again. */
	override updated(): void {
		const { situation, readable } = this.store.state;
		if (Object.keys(situation).length > 0 && agreeing(situationsOf(readable.scope), situation).length === 0)
			queueMicrotask(() => this.store.ask({}));
	}

	#picker(axis: Axis, values: readonly string[], situation: Situation, served: readonly Situation[]) {
		const say = saying(words, this.language);
		const { shop } = this.store.state;
		const chosen = situation[axis] ?? "";
		const name = capitalised(label("axis", axis, this.language));
		return html`<label>
			<span class="hidden-text">${name}</span>
			<select
				class=${chosen === "" ? "" : "asked"}
				@change=${(event: Event) => this.#ask(axis, (event.target as HTMLSelectElement).value)}
			>
				<option value="" .selected=${chosen === ""}>${say("worstCase", { axis: name })}</option>
				${values.map((value) => {
					const isServed = agreeing(served, { ...situation, [axis]: value }).length > 0;
					const name =
						axis === "defect" ? defectName(value, this.language, shop.book) : label(axis, value, this.language);
					return html`<option value=${value} .selected=${chosen === value} ?disabled=${!isServed}>
						${isServed ? name : say("notInScope", { name })}
					</option>`;
				})}
			</select>
		</label>`;
	}

	#ask(axis: Axis, value: string): void {
		const { [axis]: _before, ...others } = this.store.state.situation;
		this.store.ask(value === "" ? others : { ...others, [axis]: value });
	}

	#shown(claimed: Record<Axis, string[]>, served: readonly Situation[], situation: Situation): string {
		const say = saying(words, this.language);
		const count = agreeing(served, situation).length;
		const asked = situationInWords(situation, this.language);
		const shown =
			count === 0
				? say("noSituation")
				: asked === ""
					? say(count === 1 ? "oneSituation" : "worstOf", { count })
					: say(count === 1 ? "shownOne" : "shownWorst", { count, situation: asked });
		const unnamed = axes.filter((axis) => claimed[axis].length === 0).map((axis) => label("axis", axis, this.language));
		return unnamed.length === 0 ? shown : `${shown} ${say("unnamedAxes", { axes: unnamed.join(", ") })}`;
	}
}

/** The situations that agree with what is asked. */
function agreeing(served: readonly Situation[], asked: Situation): Situation[] {
	return served.filter((one) => axes.every((axis) => asked[axis] === undefined || asked[axis] === one[axis]));
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-situation": SituationPicker;
	}
}
