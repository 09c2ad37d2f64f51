import { css, html, LitElement, nothing } from "lit";
import { customElement, property } from "lit/decorators.js";
import type { ForecastReport } from "../../check/forecast-report.ts";
import { measureInWords, unknownInWords } from "../../check/unknown-words.ts";
import type { ClearCoat } from "../../model/generated/types.ts";
import { formatFilm, type Language } from "../../model/units.ts";
import { label } from "../../model/words.ts";
import { filmUnitOf } from "../../rules/say.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/** "Start only if the clear reads at least …" for each clear coat, and where to stop on the way. Unknown is said, with what to measure. */
@customElement("gw-start-readings")
export class StartReadings extends LitElement {
	static override styles = [
		controls,
		css`
			h2 {
				font-size: 1rem;
				margin: 0 0 0.4rem;
			}
			ul {
				list-style: none;
				margin: 0;
				padding: 0;
			}
			li {
				padding: 0.25rem 0;
			}
			.figure {
				font: 700 1.3rem/1.3 var(--figures);
				white-space: nowrap;
			}
			.quiet {
				color: var(--quiet);
				font-size: 0.875rem;
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
		new StoreController(this, () => this.store);
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

	#unknown({ unknown, start }: ForecastReport) {
		if (unknown.length === 0) return nothing;
		const say = saying(words, this.language);
		const isOpen = start.length === 0;
		return html`<details ?open=${isOpen}>
			<summary>${say(unknown.length === 1 ? "unknownOne" : "unknownSome", { count: unknown.length })}</summary>
			<ul>
				${unknown.map(
					({ row, quantity, why, measure }) => html`<li class="quiet">
						${row === null ? nothing : `${say("row", { row })}: `}${unknownInWords({ quantity, why }, this.language)}
						<strong>${measureInWords(measure, this.language)}</strong>
					</li>`,
				)}
			</ul>
		</details>`;
	}
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-start-readings": StartReadings;
	}
}
