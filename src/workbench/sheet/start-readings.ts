import { css, html, LitElement, nothing } from "lit";
import { customElement, property } from "lit/decorators.js";
import type { ForecastReport } from "../../check/forecast-report.ts";
import { measureInWords, unknownInWords } from "../../check/unknown-words.ts";
import type { ClearCoat } from "../../model/generated/types.ts";
import { filmUnitOf } from "../../model/shop.ts";
import { formatFilm } from "../../model/units.ts";
import { label, type Language } from "../../model/words.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { controls, panel } from "../style/tokens.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/** "Start only if the clear reads at least …" for each clear coat, and where to stop on the way. Unknown is said, with what to measure. */
@customElement("gw-start-readings")
export class StartReadings extends LitElement {
	static override styles = [
		controls,
		panel,
		css`
			li {
				padding: 0.25rem 0;
			}
			li button {
				padding: 0 0.25rem;
				border-color: transparent;
				background: none;
				color: var(--ink);
				text-align: start;
				text-decoration: underline;
				text-underline-offset: 2px;
			}
			summary {
				cursor: pointer;
				min-height: 2.25rem;
				padding: 0.4rem 0;
			}
			.figure {
				font: 700 1.3rem/1.3 var(--figures);
				white-space: nowrap;
			}
			p {
				margin: 0.25rem 0;
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
			({ readable, report, shop }) => [readable, report, shop],
		);
	}

	override render() {
		const say = saying(words, this.language);
		const { report, readable } = this.store.state;
		const asked = report.situation.clearCoat;
		const claimed = readable.scope?.clearCoats ?? [];
		const coats: (ClearCoat | null)[] = asked !== undefined ? [asked] : claimed.length > 0 ? claimed : [null];
		return html`
			<h2>${say("startTitle")}</h2>
			<ul>
				${coats.map((coat) => this.#coat(coat))}
			</ul>
			${this.#unknown(report)}
			<p class="quiet">${say("estimate")}</p>
		`;
	}

	#coat(coat: ClearCoat | null) {
		const say = saying(words, this.language);
		const { report, shop, readable } = this.store.state;
		const film = (um: number) => formatFilm(um, filmUnitOf(shop), this.language);
		const isTotal = readable.film?.known === "total-reading";
		const start = report.start.find(({ clearCoat }) => clearCoat === coat);
		const name = coat === null ? "" : label("clearCoat", coat, this.language);
		const stops = report.stop.filter(({ clearCoat }) => clearCoat === coat);
		return html`<li>
			${
				start === undefined
					? html`<span>${name === "" ? say("startUnknown") : say("startUnknownOn", { coat: name })}</span>`
					: html`<span>${say(name === "" ? "startIf" : "startIfOn", { coat: name })}</span>
							<span class="figure">${film(start.clearAtLeastUm)}</span>
							${
								isTotal
									? html`<span>
											${start.totalAtLeastUm === null ? say("totalUnknown") : say("totalAtLeast", { film: film(start.totalAtLeastUm) })}
										</span>`
									: nothing
							}`
			}
			${stops.map(
				({ row, clearBelowUm, totalBelowUm }) => html`<p class="quiet">
					${say("stopBelow", { row, film: film(clearBelowUm) })}
					${isTotal && totalBelowUm !== null ? say("stopBelowTotal", { film: film(totalBelowUm) }) : nothing}
				</p>`,
			)}
		</li>`;
	}

	#unknown({ unknown }: ForecastReport) {
		if (unknown.length === 0) return nothing;
		const say = saying(words, this.language);
		return html`<details ?open=${unknown.length <= mostOpen}>
			<summary>${say(unknown.length === 1 ? "unknownOne" : "unknownSome", { count: unknown.length })}</summary>
			<ul>
				${unknown.map(
					({ row, quantity, why, measure }) => html`<li class="quiet">
						${row === null ? nothing : `${say("row", { row })}: `}${unknownInWords({ quantity, why }, this.language)}
						<button type="button" @click=${() => this.#goTo(row, why)}>${measureInWords(measure, this.language)}</button>
					</li>`,
				)}
			</ul>
		</details>`;
	}

	/** To the row that would tell; what no row tells stands in the film, or in the scope. */
	#goTo(row: number | null, why: ForecastReport["unknown"][number]["why"]): void {
		const id = row === null ? undefined : this.store.state.readable.steps?.[row - 1]?.id;
		const part = why === "no-assumed-clear" ? "film" : "scope";
		const detail = id === undefined ? { row: null, field: part } : { row: id, field: null };
		this.dispatchEvent(new CustomEvent("gw-go-to", { detail, bubbles: true, composed: true }));
	}
}

/** How many unknown figures stand open; more would push the findings out of sight. */
const mostOpen = 3;

declare global {
	interface HTMLElementTagNameMap {
		"gw-start-readings": StartReadings;
	}
}
