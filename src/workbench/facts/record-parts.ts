import { html, nothing, type TemplateResult } from "lit";
import { boxesInWords } from "../../check/situation-words.ts";
import { headerOf } from "../../model/fields/columns.ts";
import { writeNumber } from "../../model/fields/span.ts";
import type { Finding } from "../../model/finding.ts";
import type { Box, Exception } from "../../model/generated/types.ts";
import { keysOf } from "../../model/same.ts";
import { axes } from "../../model/situations.ts";
import { label, valuesOf } from "../../model/words.ts";
import { isAbout } from "../../rules/exceptions.ts";
import { type PartFields, recordOf } from "./fields.ts";
import { readCount, readDay, readId, writeOneFilm, writeRaw } from "./typed.ts";

/** What the procedure is called, and what it is for. */
export function aboutPart(fields: PartFields): TemplateResult {
	const { language } = fields;
	const named = (part: string) => label("part", part, language);
	return html`${fields.words({ pointer: "/title", label: named("title") })}
	${
		fields.state.isNew
			? fields.text({
					pointer: "/id",
					label: named("id"),
					hint: fields.say("id-hint"),
					read: readId,
					isNeeded: true,
				})
			: nothing
	}
	${fields.words({ pointer: "/purpose", label: named("purpose"), lines: "wrapped" })}
	${fields.text({ pointer: "/variantOf", label: named("variantOf"), read: readId, hint: fields.say("variant-hint") })}
	${fields.words({ pointer: "/chooseWhen", label: named("chooseWhen"), lines: "wrapped" })}
	${fields.words({ pointer: "/notes", label: named("notes"), lines: "many" })}`;
}

/** Where the procedure stands, who answers for it, and until when. */
export function recordPart(fields: PartFields): TemplateResult {
	const { language, say } = fields;
	const named = (part: string) => label("part", part, language);
	const day = (part: string) =>
		fields.text({
			pointer: `/${part}`,
			label: named(part),
			hint: say("date-hint"),
			read: (text) => readDay(text, language),
		});
	return html`${fields.choice(
		"/state",
		named("state"),
		valuesOf("state").map((value) => ({ value, label: label("state", value, language) })),
	)}
	${fields.text({
		pointer: "/revision",
		label: named("revision"),
		read: (text) => readCount(text, 1, "unread-revision"),
		write: writeRaw,
	})}
	${day("revisionDate")}
	${fields.choice(
		"/methodChanged",
		named("methodChanged"),
		[
			{ value: "true", label: say("method-changed") },
			{ value: "false", label: say("wording-only") },
		],
		(value) => value === "true",
	)}
	${fields.text({
		pointer: "/writtenBy",
		label: named("writtenBy"),
		suggestions: (fields.shop.book.people ?? []).map(({ name }) => name),
	})}
	${day("reviewBy")}`;
}

/** The documents the procedure is based on. */
export function sourcesPart(fields: PartFields): TemplateResult {
	const { say } = fields;
	const list = fields.list("/sources");
	return html`<ul class="elements">
			${list.map((one, index) => sourceRow(fields, recordOf(one), index))}
			${
				fields.isAdding("/sources")
					? html`<li>${fields.text({ pointer: `/sources/${list.length}/title`, label: say("source-title") })}</li>`
					: nothing
			}
		</ul>
		${fields.addButton("/sources", say("add-sources"))}`;
}

function sourceRow(fields: PartFields, entry: Record<string, unknown>, index: number): TemplateResult {
	const { say, language, shop } = fields;
	const at = `/sources/${index}`;
	const head = ["title", "revision", "date"].flatMap((key) => (entry[key] === undefined ? [] : [writeRaw(entry[key])]));
	const items = Object.values(shop.stock).flatMap((stocked) => (Array.isArray(stocked) ? stocked : []));
	return html`<li>
		<div class="element-head">
			<details class="chooser grow" ?open=${fields.keptAt(at) > 0}>
				<summary>${head.join(", ")}</summary>
				${fields.text({ pointer: `${at}/title`, label: say("source-title"), isNeeded: true })}
				<div class="pair">
					${fields.text({ pointer: `${at}/revision`, label: say("source-revision") })}
					${fields.text({ pointer: `${at}/date`, label: say("source-date"), read: (text) => readDay(text, language) })}
				</div>
				${fields.choice(
					`${at}/item`,
					say("source-item"),
					items.map(({ id, name }) => ({ value: id, label: name })),
				)}
			</details>
			${fields.elementButtons("/sources", index, writeRaw(entry.title))}
		</div>
	</li>`;
}

/** Findings accepted on purpose, each with what it rested on; taking one back lets the finding count again. */
export function exceptionsPart(fields: PartFields): TemplateResult {
	const { say } = fields;
	const list = fields.list("/exceptions");
	return html`<ul class="elements">
		${list.map((one, index) => {
			const entry = recordOf(one);
			const rested = restedOnInWords(fields, entry);
			const boxes = Array.isArray(entry.situations) ? boxesInWords(entry.situations as Box[], fields.language) : "";
			const until = entry.until === undefined ? "" : say("exception-until", { day: writeRaw(entry.until) });
			return html`<li data-pointer=${`/exceptions/${index}`}>
				<p class="element-head">
					<strong>${exceptionPlace(fields, entry)}</strong>
					<button
						type="button"
						aria-label=${say("take-back-of", { name: exceptionPlace(fields, entry) })}
						@click=${() => void fields.takeOut("/exceptions", index)}
					>
						${say("take-back")}
					</button>
				</p>
				<p>${writeRaw(entry.reason)}</p>
				<p class="hint">
					${say("exception-by", { by: writeRaw(entry.by), day: writeRaw(entry.on) })}${until}${
						boxes === "" ? "" : say("exception-for", { boxes })
					}${rested === "" ? "" : say("exception-rested", { rested })}
				</p>
			</li>`;
		})}
	</ul>`;
}

function exceptionPlace(fields: PartFields, { rule, step, field }: Record<string, unknown>): string {
	const { say, language } = fields;
	const index = fields.list("/steps").findIndex((one) => recordOf(one).id === step);
	const row =
		step === undefined ? say("whole-procedure") : index === -1 ? say("row-gone") : say("row", { row: index + 1 });
	const at = typeof field === "string" ? [headerOf(field, language)] : [];
	return [writeRaw(rule), row, ...at].join(" · ");
}

/**
 * What was found when it was accepted, in the words of its rule; where the finding stands no longer, or rests on other
 * values now, those kept by name: "cleared 0.2 µm, defect etch, left 0.47 µm".
 */
function restedOnInWords(fields: PartFields, entry: Record<string, unknown>): string {
	const { language, film } = fields;
	const restedOn = recordOf(entry.restedOn);
	const finding = fields.state.findings.find((one) => isAbout(entry as unknown as Exception, one));
	if (finding !== undefined && keysOf(finding.data).every((key) => Object.hasOwn(restedOn, key))) {
		// A list is kept as one text.
		const kept = Object.entries(restedOn).filter(([key]) => !Array.isArray(finding.data[key]));
		return fields.said({
			...finding,
			data: {
				...finding.data,
				...(Object.fromEntries(kept) as Finding["data"]),
			},
		}).found;
	}
	return Object.entries(restedOn)
		.map(([key, value]) => {
			const [, name = key, unit = ""] = /^(.+?)(Um|Mm|M2|Hours|Minutes|C|Rpm)?$/.exec(key) ?? [];
			const words = name.replace(/(?<=[a-z])(?=[A-Z])/g, " ").toLowerCase();
			if (typeof value !== "number") {
				const axis = axes.find((one) => one === key);
				return `${words} ${axis === undefined ? writeRaw(value) : label(axis, writeRaw(value), language)}`;
			}
			if (unit === "Um") return `${words} ${writeOneFilm(value, film, language)}`;
			return `${words} ${writeNumber(value, language)}${unitSigns[unit] ?? ""}`;
		})
		.join(", ");
}

const unitSigns: Record<string, string> = {
	Mm: " mm",
	M2: " m²",
	Hours: " h",
	Minutes: " min",
	C: " °C",
	Rpm: " rpm",
};
