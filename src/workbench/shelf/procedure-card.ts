import { css, html, nothing, type TemplateResult } from "lit";
import { views } from "../../api/routes.ts";
import type { ProcedureListed } from "../../api/types.ts";
import { defectName } from "../../model/defects.ts";
import { levels } from "../../model/finding.ts";
import type { Book, Estimate } from "../../model/generated/types.ts";
import { type FilmUnit, formatFilm, formatNumber } from "../../model/units.ts";
import { label, type Language } from "../../model/words.ts";
import { levelMarks } from "../style/marks.ts";
import { inLanguage, type Say, sayDate } from "../words.ts";
import type sentences from "./words.json";

/** How the reader of a card reads. */
export interface CardReader {
	say: Say<typeof sentences>;
	language: Language;
	filmUnit: FilmUnit;
	/** Id of the book. */
	book: string;
	/** Its names of defects; undefined where it did not open. */
	names: Pick<Book, "defects"> | undefined;
}

/** What stands beside a procedure that the listing alone does not tell. */
export interface Beside {
	/** Where this browser keeps changes of it that no save has taken. */
	unsaved: boolean;
	/** Title of what it varies, where it does not stand under it. */
	varies: string | null;
}

/** A procedure as a card: what it is for, how it stands, what it costs. The whole card opens its Sheet. */
export function procedureCard(procedure: ProcedureListed, beside: Beside, reader: CardReader): TemplateResult {
	const { say, language, book } = reader;
	const { id, state, code, chooseWhen } = procedure;
	const worst = levels.find((level) => procedure.counts[level] > 0);
	return html`
		<article class="card ${state}">
			<span class="worst ${worst ?? ""}" aria-hidden="true">${worst === undefined ? nothing : levelMarks[worst]}</span>
			<div class="what">
				<h3><a href=${views.sheet(book, id)}>${titleOf(procedure, reader)}</a></h3>
				<p>${scopeInWords(procedure, reader)}</p>
				${beside.varies === null ? nothing : html`<p class="quiet">${say("variantOf", { other: beside.varies })}</p>`}
				${chooseWhen ? html`<p class="quiet">${say("chooseWhen", { when: inLanguage(chooseWhen, language) })}</p>` : nothing}
				<div class="standing">
					${findings(procedure, reader)}
					<strong>${label("state", state, language)}</strong>
					<span>${revisionInWords(procedure, reader)}</span>
					<span class="quiet">${say("code")} <span class="code">${code}</span></span>
					${beside.unsaved ? html`<strong class="unsaved">${say("unsaved")}</strong>` : nothing}
				</div>
			</div>
			<dl class="figures">
				${figure(say("taken"), procedure.takenUm, film(reader), reader)}
				${figure(say("left"), procedure.leftUm, film(reader), reader)}
				${figure(say("time"), procedure.minutes, minutes(reader), reader)}
			</dl>
		</article>
	`;
}

/** The title in the reader's language, else in the other, else its id. */
export function titleOf(
	{ title, id }: Pick<ProcedureListed, "title" | "id">,
	{ language }: { language: Language },
): string {
	return inLanguage(title, language) || id;
}

export const cardStyle = css`
	.card {
		position: relative;
		display: grid;
		grid-template-columns: 2rem minmax(16rem, 1fr) auto;
		gap: 0.25rem 0.75rem;
		align-items: center;
		background: var(--sheet);
		border: 1px solid var(--line);
		border-radius: var(--radius);
		overflow: clip;
	}
	.card.withdrawn {
		background: var(--raised);
	}
	/* The worst level that is open, seen from afar; the words stand in the list of findings. */
	.worst {
		align-self: stretch;
		display: grid;
		place-items: center;
		font-size: 1.25rem;
	}
	.worst.stop,
	.findings .stop {
		color: var(--stop);
		background: var(--stop-ground);
	}
	.worst.caution,
	.findings .caution {
		color: var(--caution);
		background: var(--caution-ground);
	}
	.worst.advice,
	.findings .advice {
		color: var(--advice);
		background: var(--advice-ground);
	}
	.what {
		padding-block: 0.6rem;
		min-width: 0;
		overflow-wrap: anywhere;
	}
	.standing {
		display: flex;
		flex-wrap: wrap;
		align-items: baseline;
		gap: 0.1rem 1rem;
		margin-block-start: 0.3rem;
		font-size: 0.9375rem;
	}
	.card:hover,
	.card:focus-within {
		border-color: var(--accent);
	}
	.card p,
	.card dl,
	.card h3 {
		margin: 0;
	}
	.card h3 {
		font-size: 1.125rem;
		line-height: 1.25;
		margin-block-end: 0.15rem;
	}
	.card h3 a {
		color: var(--ink);
		text-decoration-color: var(--strong-line);
		text-underline-offset: 0.2em;
	}
	/* The whole card is the target of its link: a wet finger need not hit the words. */
	.card h3 a::after {
		content: "";
		position: absolute;
		inset: 0;
	}
	.quiet {
		color: var(--quiet);
	}
	.unsaved {
		font-weight: 600;
		color: var(--unread);
	}
	.code {
		font-family: var(--figures);
		letter-spacing: 0.05em;
	}
	.findings {
		display: flex;
		flex-wrap: wrap;
		gap: 0.25rem;
		margin: 0;
		padding: 0;
		list-style: none;
	}
	.findings [class] {
		font-weight: 600;
		padding-inline: 0.5rem;
		border-radius: var(--radius);
	}
	.findings .quiet {
		font-weight: 400;
		padding-inline: 0.25rem;
	}
	.card .figures {
		padding-block: 0.6rem;
		padding-inline-end: 1rem;
		line-height: 1.4;
	}
	.figures div {
		display: grid;
		grid-template-columns: 8.5rem 5.5rem 10.5rem;
		align-items: baseline;
		white-space: nowrap;
	}
	.figures dt {
		color: var(--quiet);
	}
	.figures dd {
		margin: 0;
		font-family: var(--figures);
		font-weight: 700;
		text-align: end;
	}
	.figures dd.interval {
		font-weight: 400;
		font-size: 0.875rem;
		color: var(--quiet);
	}
	@media (max-width: 64rem) {
		.card {
			grid-template-columns: 2rem minmax(0, 1fr);
		}
		.worst {
			grid-row: span 2;
		}
		.what {
			padding-inline-end: 1rem;
			padding-block-end: 0;
		}
		.card .figures {
			display: flex;
			flex-wrap: wrap;
			gap: 0 1.5rem;
			padding-block-start: 0;
		}
		.figures div {
			display: flex;
			flex-wrap: wrap;
			gap: 0 0.6rem;
		}
	}
`;

function scopeInWords({ scope }: ProcedureListed, { say, language, names }: CardReader): string {
	const parts = [
		(scope.defects ?? []).map(({ defect }) => defectName(defect, language, names)),
		(scope.substrates ?? []).map((value) => label("substrate", value, language)),
		(scope.clearCoats ?? []).map((value) => label("clearCoat", value, language)),
		(scope.tones ?? []).map((value) => label("tone", value, language)),
	].filter((words) => words.length > 0);
	return parts.length === 0 ? say("noScope") : parts.map((words) => words.join(", ")).join(" · ");
}

function revisionInWords({ revision, revisionDate }: ProcedureListed, { say, language }: CardReader): string {
	if (revision === null) return say("noRevision");
	if (revisionDate === null) return say("revision", { revision });
	return say("revisionOf", { revision, date: sayDate(revisionDate, language) });
}

function findings({ counts, accepted }: ProcedureListed, { say, language }: CardReader): TemplateResult {
	const found = levels.filter((level) => counts[level] > 0);
	return html`
		<ul class="findings">
			${found.map(
				(level) => html`<li class=${level}>
					<span aria-hidden="true">${levelMarks[level]}</span> ${counts[level]} ${label("level", level, language)}
				</li>`,
			)}
			${found.length === 0 ? html`<li>${say("clean")}</li>` : nothing}
			${accepted > 0 ? html`<li class="quiet">${say("accepted", { count: accepted })}</li>` : nothing}
		</ul>
	`;
}

type Figure = (value: number) => string;

function film({ filmUnit, language }: CardReader): Figure {
	return (um) => formatFilm(um, filmUnit, language);
}

function minutes({ say, language }: CardReader): Figure {
	return (value) => say("minutes", { minutes: formatNumber(value, language, 0) });
}

function figure(name: string, value: Estimate | null, write: Figure, { say }: CardReader): TemplateResult {
	if (value === null) return html`<div><dt>${name}</dt><dd>${say("unknown")}</dd></div>`;
	const [mid, low, high] = [write(value.mid), write(value.low), write(value.high)];
	// The unit stands once, behind the upper end.
	const interval =
		low === high
			? nothing
			: html`<dd class="interval">${say("interval", { low: low.slice(0, low.lastIndexOf(" ")), high })}</dd>`;
	return html`<div><dt>${name}</dt><dd>${mid}</dd>${interval}</div>`;
}
