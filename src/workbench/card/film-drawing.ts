import { css, html, nothing, type PropertyValues } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type { ForecastReport, WorstEstimate } from "../../check/forecast-report.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { filmUnitOf, type Shop } from "../../model/shop.ts";
import { formatFilm } from "../../model/units.ts";
import type { Language } from "../../model/words.ts";
import { filmDrawing, filmInWords } from "../../print/film-drawing.ts";
import { AfterPaint } from "../sheet/after-paint.ts";
import type { SheetStore } from "../store/sheet-store.ts";
import { StoreController } from "../store/store-controller.ts";
import { controls } from "../style/tokens.ts";
import { saying } from "../words.ts";
import words from "./words.json" with { type: "json" };

/** Width of the drawing before its column is measured, the narrowest that its words fit in, and the widest that is of use, CSS px. */
const usualWidth = 300;
const leastWidth = 240;
const mostWidth = 720;

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
			.drawing {
				max-width: 45rem;
			}
			svg {
				display: block;
				width: 100%;
				height: auto;
				font-family: inherit;
			}
			p {
				margin: 0.2rem 0;
			}
			[data-row] {
				cursor: pointer;
			}
			.here rect {
				stroke: currentColor;
				stroke-width: 2;
				fill: currentColor;
				fill-opacity: 0.08;
			}
			.here text {
				visibility: visible;
				font-weight: bold;
				stroke: var(--paper);
				stroke-width: 4;
				paint-order: stroke;
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
	/** Width of the column, CSS px: the drawing is made for it, so that its letters keep their size. */
	@state() private width = usualWidth;

	#drawn: { of: readonly unknown[]; svg: Element } | null = null;
	readonly #size = new ResizeObserver(([entry]) => {
		const width = Math.round(Math.min(entry?.contentRect.width ?? 0, mostWidth));
		if (width > 0) this.width = Math.max(width, leastWidth);
	});

	constructor() {
		super();
		new StoreController(this, () => this.store);
	}

	override connectedCallback(): void {
		super.connectedCallback();
		this.#size.observe(this);
	}

	override disconnectedCallback(): void {
		super.disconnectedCallback();
		this.#size.disconnect();
	}

	override render() {
		const say = saying(words, this.language);
		const { report, readable, shop } = this.store.state;
		if (report.rows.length === 0)
			return html`<p>${filmInWords({ report, procedure: readable, shop, language: this.language })}</p>`;
		return html`
			<div class="drawing" role="group" aria-label=${say("drawing")} @click=${this.#press}>${this.#drawing()}</div>
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

	override updated(changed: PropertyValues): void {
		super.updated(changed);
		this.#pointOut();
	}

	/** Drawn anew only when something in it has changed: the state is immutable, so that identity tells. */
	#drawing(): Element {
		const { report, readable, shop } = this.store.state;
		const { language, width } = this;
		const of = [report, shop, language, width];
		if (this.#drawn !== null && of.every((one, at) => one === this.#drawn?.of[at])) return this.#drawn.svg;
		const text = filmDrawing({
			report,
			procedure: readable,
			shop,
			language,
			width,
		});
		const svg = document.importNode(new DOMParser().parseFromString(text, "image/svg+xml").documentElement, true);
		this.#drawn = { of, svg };
		return svg;
	}

	/** Points out the row that has the focus, without drawing anew. */
	#pointOut(): void {
		const row = this.store.state.selection?.head.row ?? "";
		const svg = this.#drawn?.svg;
		const here = row === "" ? null : (svg?.querySelector(`[data-row="${CSS.escape(row)}"]`) ?? null);
		const before = svg?.querySelector(".here") ?? null;
		if (here === before) return;
		before?.classList.remove("here");
		here?.classList.add("here");
	}

	#table(report: ForecastReport, { steps = [] }: Procedure, shop: Shop) {
		const say = saying(words, this.language);
		const film = (um: number) => formatFilm(um, filmUnitOf(shop), this.language);
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
