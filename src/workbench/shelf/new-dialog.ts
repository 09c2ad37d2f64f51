import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { sayProblemDetails } from "../../api/problems.ts";
import type { BookOpened, ProcedureListed } from "../../api/types.ts";
import { decodeText } from "../../exchange/decode.ts";
import { defect, defectName } from "../../model/defects.ts";
import type { Procedure } from "../../model/generated/types.ts";
import { freeId, isSlug, slugOf } from "../../model/ids.ts";
import type { FilmUnit } from "../../model/units.ts";
import { type Language, valuesOf } from "../../model/words.ts";
import type { Server } from "../server.ts";
import { dialogStyle } from "../shell/dialog.ts";
import { controls } from "../style/tokens.ts";
import { inLanguage, type Say, saying } from "../words.ts";
import { blankProcedure, type Naming, namedProcedure, variantOf } from "./new-procedure.ts";
import { titleOf } from "./procedure-card.ts";
import sentences from "./words.json" with { type: "json" };

/** How a procedure is started. */
const ways = ["blank", "variant", "sheet"] as const;
type Way = (typeof ways)[number];

/** Fields that may be wrong, by name. */
type Wrong = Partial<Record<"title" | "id" | "original" | "sheet", string>>;

/**
 * Starts a procedure: from nothing, as a variant, or from a sheet. It opens by itself.
 *
 * Events: `gw-start` (detail `{ procedure, notes }`), `gw-closed` when it was left without one.
 */
@customElement("gw-new-procedure")
export class NewProcedure extends LitElement {
	/** Id of the book. */
	@property() book = "";
	@property({ attribute: false }) opened: BookOpened | null = null;
	@property({ attribute: false }) listed: readonly ProcedureListed[] = [];
	@property({ attribute: false }) server!: Pick<Server, "procedure">;
	@property() language: Language = "en";
	@property() filmUnit: FilmUnit = "um";
	/** Who writes; empty where nobody said. */
	@property() person = "";
	/** Loads the preview of a sheet: defines `<gw-mapping-preview>`. */
	@property({ attribute: false }) loadPreview: () => Promise<unknown> = () => import("../paste/mapping-preview.ts");
	@state() private way: Way = "blank";
	@state() private name = "";
	/** As typed; null as long as it follows the title. */
	/** The title proposed for a variant, as long as nobody typed another. */
	#proposed: string | null = null;
	@state() private ownId: string | null = null;
	@state() private defects: ReadonlySet<string> = new Set();
	@state() private original = "";
	@state() private sheet = "";
	@state() private sheetName: string | null = null;
	@state() private previewing = false;
	@state() private wrong: Wrong = {};
	@state() private busy = false;
	/** A procedure is started once; whoever shows this takes it away. */
	#isStarted = false;
	@query("dialog") private dialog!: HTMLDialogElement;

	static override styles = [controls, dialogStyle, newStyle()];

	override firstUpdated(): void {
		this.dialog.showModal();
	}

	override render(): TemplateResult {
		const say = saying(sentences, this.language);
		return html`
			<dialog aria-labelledby="heading" class=${this.previewing ? "wide" : ""} @close=${this.#onClose}>
				<h2 id="heading">${say("newHeading")}</h2>
				${this.previewing ? this.#preview(say) : this.#form(say)}
			</dialog>
		`;
	}

	#form(say: Say<typeof sentences>): TemplateResult {
		return html`
			<form novalidate @submit=${this.#onSubmit}>
				<fieldset class="ways">
					<legend>${say("way")}</legend>
					${ways.map(
						(way) => html`<label class="choice">
							<input
								type="radio"
								name="way"
								value=${way}
								.checked=${this.way === way}
								@change=${() => this.#choose(way)}
							/>
							${say(`way-${way}`)}
						</label>`,
					)}
				</fieldset>
				${this.way === "variant" ? this.#originals(say) : nothing}
				${this.#field("title", say("title"), this.name, this.way === "sheet" ? say("titleFromSheet") : say("titleHint"))}
				${this.#field("id", say("shortName"), this.#id, say("shortNameHint"))}
				${this.way === "blank" ? this.#defectChoices(say) : nothing} ${this.way === "sheet" ? this.#sheetFields(say) : nothing}
				<div class="buttons">
					<button type="button" @click=${() => this.dialog.close()}>${say("cancel")}</button>
					<button class="main" ?disabled=${this.busy}>
						${this.way === "sheet" ? say("lookAtSheet") : say("start")}
					</button>
				</div>
			</form>
		`;
	}

	#field(name: "title" | "id", words: string, value: string, hint: string): TemplateResult {
		return html`<div class="field">
			<label for=${name}>${words}</label>
			<input
				id=${name}
				maxlength=${name === "title" ? 200 : 80}
				autocomplete="off"
				spellcheck=${name === "title"}
				.value=${value}
				aria-describedby=${`${name}-hint ${name}-wrong`}
				aria-invalid=${this.wrong[name] === undefined ? nothing : "true"}
				@input=${this.#onType}
			/>
			<p class="hint" id=${`${name}-hint`}>${hint}</p>
			${this.#wrongNote(name)}
		</div>`;
	}

	#wrongNote(name: keyof Wrong): TemplateResult {
		return html`<p class="wrong" id=${`${name}-wrong`} ?hidden=${this.wrong[name] === undefined}>${this.wrong[name]}</p>`;
	}

	#originals(say: Say<typeof sentences>): TemplateResult {
		if (this.listed.length === 0) return html`<p>${say("noneToVary")}</p>`;
		return html`<div class="field">
			<label for="original">${say("variantFrom")}</label>
			<select
				id="original"
				aria-describedby="original-hint original-wrong"
				@change=${({ target }: Event) => this.#vary((target as HTMLSelectElement).value)}
			>
				${this.listed.map(
					(one) => html`<option value=${one.id} ?selected=${one.id === this.original}>${titleOf(one, this)}</option>`,
				)}
			</select>
			<p class="hint" id="original-hint">${say("variantHint")}</p>
			${this.#wrongNote("original")}
		</div>`;
	}

	#defectChoices(say: Say<typeof sentences>): TemplateResult {
		const book = this.opened?.book;
		const ids = [...valuesOf("defect"), ...(book?.defects ?? []).map(({ id }) => id)];
		const polishable = (id: string) => defect(id, book)?.polishable ?? false;
		const toggle = (id: string) => {
			const defects = new Set(this.defects);
			if (!defects.delete(id)) defects.add(id);
			this.defects = defects;
		};
		return html`<fieldset class="defects">
			<legend>${say("defectsToServe")}</legend>
			${[...ids.filter(polishable), ...ids.filter((id) => !polishable(id))].map((id) => {
				const name = defectName(id, this.language, book);
				return html`<label class="choice">
					<input type="checkbox" .checked=${this.defects.has(id)} @change=${() => toggle(id)} />
					${polishable(id) ? name : say("notPolishable", { defect: name })}
				</label>`;
			})}
		</fieldset>`;
	}

	#sheetFields(say: Say<typeof sentences>): TemplateResult {
		return html`<div class="field" @dragover=${(event: Event) => event.preventDefault()} @drop=${this.#onDrop}>
			<label for="sheet">${say("sheetText")}</label>
			<textarea
				id="sheet"
				rows="7"
				wrap="off"
				spellcheck="false"
				.value=${this.sheet}
				aria-describedby="sheet-hint sheet-wrong"
				aria-invalid=${this.wrong.sheet === undefined ? nothing : "true"}
				@input=${this.#onSheet}
			></textarea>
			<p class="hint" id="sheet-hint">${say("sheetHint")}</p>
			<label>
				${say("sheetFile")}
				<input type="file" accept=".csv,.tsv,.txt,text/csv,text/plain,text/tab-separated-values" @change=${this.#onFile} />
			</label>
			${this.#wrongNote("sheet")}
		</div>`;
	}

	#preview(say: Say<typeof sentences>): TemplateResult {
		return html`
			<gw-mapping-preview
				mode="new"
				.text=${this.sheet}
				.name=${this.sheetName ?? ""}
				.opened=${this.opened}
				.language=${this.language}
				@gw-mapped=${this.#onMapped}
			>
				<button slot="buttons" type="button" @click=${() => (this.previewing = false)}>${say("back")}</button>
				<button slot="buttons" type="button" @click=${() => this.dialog.close()}>${say("cancel")}</button>
			</gw-mapping-preview>
		`;
	}

	/** The short name: as typed, else made from the title, free in the book. */
	get #id(): string {
		return this.ownId ?? (this.name.trim() === "" ? "" : freeId(slugOf(this.name) || "procedure", this.#taken));
	}

	get #taken(): ReadonlySet<string> {
		return new Set(this.listed.map(({ id }) => id));
	}

	get #naming(): Naming {
		return {
			id: this.#id,
			title: this.name.trim(),
			language: this.language,
			writtenBy: this.person || null,
			random: Math.random,
		};
	}

	#choose(way: Way): void {
		this.way = way;
		this.wrong = {};
		const [first] = this.listed;
		if (way === "variant") {
			if (first !== undefined) this.#vary(this.original || first.id);
		} else if (this.name === this.#proposed) this.name = "";
	}

	/** The title follows the original as long as nobody typed one. */
	#vary(id: string): void {
		this.original = id;
		const original = this.listed.find((one) => one.id === id);
		if (original === undefined || (this.name.trim() !== "" && this.name !== this.#proposed)) return;
		this.#proposed = saying(sentences, this.language)("variantTitle", { title: titleOf(original, this) });
		this.name = this.#proposed;
	}

	readonly #onType = ({ target }: Event): void => {
		const { id, value } = target as HTMLInputElement;
		if (id === "title") {
			this.name = value;
			this.#proposed = null;
		} else this.ownId = value === "" ? null : value;
	};

	readonly #onSheet = ({ target }: Event): void => {
		this.sheet = (target as HTMLTextAreaElement).value;
		this.sheetName = null;
	};

	readonly #onFile = ({ target }: Event): void => {
		const file = (target as HTMLInputElement).files?.[0];
		if (file !== undefined) void this.#readFile(file);
	};

	readonly #onDrop = (event: DragEvent): void => {
		const file = event.dataTransfer?.files[0];
		if (file === undefined) return;
		event.preventDefault();
		void this.#readFile(file);
	};

	async #readFile(file: File): Promise<void> {
		try {
			if (file.size > mostBytes) throw new RangeError(`${file.size} bytes of ${mostBytes}`);
			const { text } = decodeText(new Uint8Array(await file.arrayBuffer()));
			if (text.includes("\0")) throw new TypeError(`${file.name} is not text`);
			this.sheet = text;
			this.sheetName = file.name;
			this.wrong = {};
		} catch {
			this.wrong = { sheet: saying(sentences, this.language)("sheetNotRead", { name: file.name }) };
		}
	}

	readonly #onSubmit = async (event: Event): Promise<void> => {
		event.preventDefault();
		this.wrong = this.#mistakes();
		const [first] = Object.keys(this.wrong);
		if (first !== undefined) {
			this.renderRoot.querySelector<HTMLElement>(`#${first}`)?.focus();
			return;
		}
		this.busy = true;
		try {
			if (this.way === "blank") this.#start(blankProcedure(this.#naming, [...this.defects]), []);
			else if (this.way === "variant") await this.#startVariant();
			else await this.#lookAtSheet();
		} finally {
			this.busy = false;
		}
	};

	#mistakes(): Wrong {
		const say = saying(sentences, this.language);
		const wrong: Wrong = {};
		const fromSheet = this.way === "sheet";
		if (this.name.trim() === "" && !fromSheet) wrong.title = say("titleMissing");
		const id = this.#id;
		if (id !== "" && !isSlug(id)) wrong.id = say("shortNameWrong");
		else if (this.#taken.has(id)) wrong.id = say("shortNameTaken", { id, free: freeId(id, this.#taken) });
		if (fromSheet && this.sheet.trim() === "") wrong.sheet = say("sheetMissing");
		if (this.way === "variant" && this.listed.length === 0) wrong.original = say("noneToVary");
		return wrong;
	}

	async #startVariant(): Promise<void> {
		const say = saying(sentences, this.language);
		const answer = await this.server.procedure(this.book, this.original);
		if ("problem" in answer) {
			const title =
				inLanguage(this.listed.find(({ id }) => id === this.original)?.title, this.language) || this.original;
			this.wrong = {
				original: `${say("originalFailed", { title })} ${sayProblemDetails(answer.problem, this.language)}`,
			};
			return;
		}
		const count = answer.value.exceptions?.length ?? 0;
		// The book knows the original by the name of its file.
		this.#start(
			variantOf({ ...answer.value, id: this.original }, this.#naming),
			count === 0 ? [] : [say("exceptionsLeft", { count })],
		);
	}

	async #lookAtSheet(): Promise<void> {
		try {
			await this.loadPreview();
			this.previewing = true;
		} catch {
			this.wrong = { sheet: saying(sentences, this.language)("previewFailed") };
		}
	}

	readonly #onMapped = ({ detail }: CustomEvent<{ procedure: Procedure; notes: readonly string[] }>): void => {
		const { procedure, notes } = detail;
		if (this.name.trim() === "") this.name = inLanguage(procedure.title, this.language) || procedure.id;
		this.#start(namedProcedure(procedure, this.#naming), notes);
	};

	#start(procedure: Procedure, notes: readonly string[]): void {
		if (this.#isStarted) return;
		this.#isStarted = true;
		const detail = { procedure, notes };
		this.dispatchEvent(new CustomEvent("gw-start", { detail, bubbles: true, composed: true }));
	}

	readonly #onClose = (): void => {
		this.dispatchEvent(new CustomEvent("gw-closed", { bubbles: true, composed: true }));
	};
}

const mostBytes = 2 * 1024 * 1024;

function newStyle() {
	return css`
		dialog.wide {
			width: min(80rem, calc(100vw - 2rem));
		}
		.ways {
			display: flex;
			flex-wrap: wrap;
			gap: 0 1.5rem;
		}
		fieldset {
			min-width: 0;
		}
		input {
			max-width: 100%;
		}
		.defects {
			display: grid;
			grid-template-columns: repeat(auto-fill, minmax(min(15rem, 100%), 1fr));
			max-height: 15rem;
			overflow: auto;
		}
		input:not([type]),
		select,
		textarea {
			width: 100%;
		}
		textarea {
			font-family: var(--figures);
			font-size: 0.875rem;
		}
		[aria-invalid="true"] {
			border: 2px solid var(--stop);
		}
	`;
}

declare global {
	interface HTMLElementTagNameMap {
		"gw-new-procedure": NewProcedure;
	}
}
