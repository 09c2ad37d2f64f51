import { css, html, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type { ForecastReport, WorstEstimate } from "../../check/forecast-report.ts";
import type { Procedure } from "../../model/generated/types.ts";
import type { Shop } from "../../model/shop.ts";
import { formatFilm, type Language } from "../../model/units.ts";
import { filmDrawing } from "../../print/film-drawing.ts";
import { AfterPaint } from "../sheet/after-paint.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/**
 * The film drawing of the procedure as it stands, the same that is printed, and on demand its figures as a table.
 * Pressing the part of a row, or its number in the table, goes to that row (`gw-go-to`).
 */
@customElement("gw-film-drawing")
export class FilmDrawing extends AfterPaint {
	static override styles = [
		controls,
		css`
			:host {
				display: block;
			}
			.scroll {
				overflow-x: auto;
			}
			svg {
				display: block;
				font-family: inherit;
			}
			[data-row] {
				cursor: pointer;
			}
			[data-row]:hover rect {
				fill: currentColor;
				fill-opacity: 0.08;
			}
			summary {
				min-height: 2.25rem;
				display: inline-flex;
				align-items: center;
				cursor: pointer;
				text-decoration: underline;
			}
			table {
				border-collapse: collapse;
				width: 100%;
				font-variant-numeric: tabular-nums;
			}
			caption {
				text-align: left;
				color: var(--quiet);
			}
			th,
			td {
				padding: 0.2rem 0.75rem 0.2rem 0;
				border-top: 1px solid var(--line);
				text-align: left;
				font-weight: normal;
			}
			thead th {
				color: var(--quiet);
			}
		`,
	];

	@property({ attribute: false }) store!: SheetStore;
	@property() language: Language = "en";
	@state() private isTabled = false;

	#drawn: { report: ForecastReport; shop: Shop; highlighted: string | null; language: Language; svg: Element } | null =
		null;

	constructor() {
		super();
		new StoreController(this, () => this.store);
	}

	override render() {
		const say = saying(words, this.language);
		const { report, readable, shop } = this.store.state;
		return html`
			<div class="scroll" role="group" tabindex="0" aria-label=${say("drawing")} @click=${this.#press}>${this.#drawing()}</div>
			<details
				@toggle=${(event: Event) => {
					this.isTabled = (event.target as HTMLDetailsElement).open;
				}}
			>
				<summary>${say("asTable")}</summary>
				${this.isTabled ? this.#table(report, readable, shop) : nothing}
			</details>
		`;
	}

	/** Drawn anew only when something in it has changed: the state is immutable, so that identity tells. */
	#drawing(): Element {
		const { report, readable, shop, selection } = this.store.state;
		const { language } = this;
		const highlighted = selection?.head.row ?? null;
		const before = this.#drawn;
		if (
			before?.report === report &&
			before.shop === shop &&
			before.highlighted === highlighted &&
			before.language === language
		)
			return before.svg;
		const text = filmDrawing({ report, procedure: readable, shop, language, highlighted });
		const svg = document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true);
		this.#drawn = { report, shop, highlighted, language, svg };
		return svg;
	}

	#table(report: ForecastReport, { steps = [] }: Procedure, { book }: Shop) {
		const say = saying(words, this.language);
		const film = (um: number) => formatFilm(um, book.units ?? "um", this.language);
		const span = (value: WorstEstimate | null) =>
			value === null
				? say("unknown")
				: say("span", { mid: film(value.mid), low: film(value.low), high: film(value.high) });
		return html`<table>
			<caption>
				${say("caption")}
			</caption>
			<thead>
				<tr>
					<th scope="col">${say("row")}</th>
					<th scope="col">${say("clearLeft")}</th>
					<th scope="col">${say("scratch")}</th>
				</tr>
			</thead>
			<tbody>
				${report.rows.map(({ row, filmLeftUm, scratchUm, scratchFromRow }) => {
					const depth = span(scratchUm);
					return html`<tr>
						<th scope="row">
							<button type="button" aria-label=${say("goToRow", { row })} @click=${() => this.#goTo(steps[row - 1]?.id)}>${row}</button>
						</th>
						<td>${span(filmLeftUm)}</td>
						<td>${scratchFromRow === null ? depth : say("fromRow", { depth, row: scratchFromRow })}</td>
					</tr>`;
				})}
			</tbody>
		</table>`;
	}

	#press(event: Event): void {
		const group = (event.target as Element).closest("[data-row]");
		if (group !== null) this.#goTo(group.getAttribute("data-row") ?? "");
	}

	#goTo(row: string | undefined): void {
		if (!row) return;
		this.dispatchEvent(new CustomEvent("gw-go-to", { detail: { row, field: null }, bubbles: true, composed: true }));
	}
}
