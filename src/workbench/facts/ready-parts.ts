import { html, nothing, type TemplateResult } from "lit";
import { enumerations } from "../../model/generated/enumerations.ts";
import { label, valuesOf } from "../../model/words.ts";
import { chipSet, type PartFields, recordOf } from "./fields.ts";
import {
	readCelsius,
	readCount,
	readHours,
	readMinutes,
	readOneFilm,
	writeAmount,
	writeOneFilm,
	writeRaw,
} from "./typed.ts";

/** Hours since the clear was applied, or the bake that stands in for them. */
export function curePart(fields: PartFields): TemplateResult {
	const { say, language } = fields;
	return html`${fields.text({
		pointer: "/cure/hours",
		label: say("cure-hours"),
		read: (text) => readHours(text),
		write: (value) => writeAmount(value, "h", language),
	})}
	<fieldset>
		<legend>${say("cure-bake")}</legend>
		<div class="pair">
			${fields.text({
				pointer: "/cure/bake/celsius",
				label: say("bake-celsius"),
				read: (text) => readCelsius(text, 0, 250),
				write: (value) => writeAmount(value, "°C", language),
			})}
			${fields.text({
				pointer: "/cure/bake/minutes",
				label: say("bake-minutes"),
				read: readMinutes,
				write: (value) => writeAmount(value, "min", language),
			})}
			${fields.text({
				pointer: "/cure/bake/waitHours",
				label: say("bake-wait"),
				read: (text) => readHours(text, 1000),
				write: (value) => writeAmount(value, "h", language),
			})}
		</div>
	</fieldset>`;
}

/** What the bay must offer before the first row. */
export function setUpPart(fields: PartFields): TemplateResult {
	const { say, language } = fields;
	return html`${fields.choice(
		"/setUp/extraction",
		say("set-up-extraction"),
		[
			{ value: "true", label: say("extraction-yes") },
			{ value: "false", label: say("extraction-no") },
		],
		(value) => value === "true",
	)}
	${fields.text({
		pointer: "/setUp/panelC",
		label: say("set-up-panel"),
		read: (text) => readCelsius(text, -20, 120),
		write: (value) => writeAmount(value, "°C", language),
	})}
	${fields.words({ pointer: "/setUp/light", label: say("set-up-light"), lines: "wrapped" })}`;
}

/** What is worn, and in which stages. */
export function wearPart(fields: PartFields): TemplateResult {
	const { say, language } = fields;
	const list = fields.list("/wear");
	const items = valuesOf("gear");
	const placeOf = (item: string) => list.findLastIndex((one) => recordOf(one).item === item);
	return html`${chipSet({
		legend: say("wear-items"),
		values: items,
		labelOf: (item) => label("gear", item, language),
		isTicked: (item) => placeOf(item) !== -1,
		onTick: (item, isTicked) => {
			if (isTicked) fields.change("/wear", [...list, { item }]);
			else
				fields.change(
					"/wear",
					list.filter((one) => recordOf(one).item !== item),
				);
		},
		pointer: "/wear",
		describedBy: fields.describedBy("/wear"),
	})}
	<ul class="elements">
		${list.map((one, index) => {
			const entry = recordOf(one);
			const item = writeRaw(entry.item);
			const name = label("gear", item, language);
			const at = `/wear/${index}`;
			const stages = fields.list(`${at}/stages`).map((stage) => label("stage", writeRaw(stage), language));
			return html`<li aria-label=${name}>
				<p class="element-head"><strong>${name}</strong> ${fields.elementButtons("/wear", index, name)}</p>
				${
					item === "respirator" || entry.filter !== undefined
						? fields.text({ pointer: `${at}/filter`, label: say("wear-filter") })
						: nothing
				}
				<details class="chooser">
					<summary>${stages.length === 0 ? say("wear-always") : say("wear-in", { stages: stages.join(", ") })}</summary>
					${fields.chips(`${at}/stages`, say("wear-stages", { name }), enumerations.Stage, (stage) =>
						label("stage", stage, language),
					)}
				</details>
			</li>`;
		})}
	</ul>`;
}

/** Conditions to begin, or to stop and ask: words, and the figure they turn on where there is one. */
export function conditionsPart(fields: PartFields, part: "startWhen" | "giveUpWhen"): TemplateResult {
	const { say } = fields;
	const pointer = `/${part}`;
	const list = fields.list(pointer);
	const places = fields.isAdding(pointer) ? [...list, undefined] : list;
	return html`<ol class="elements">
			${places.map((one, index) => conditionRow(fields, `${pointer}/${index}`, one, index, pointer))}
		</ol>
		${fields.addButton(pointer, say(`add-${part}`))}`;
}

function conditionRow(fields: PartFields, at: string, value: unknown, index: number, list: string): TemplateResult {
	const { say, language, film } = fields;
	const entry = recordOf(value);
	const name = writeRaw(recordOf(entry.text)[language]) || say("condition", { number: index + 1 });
	const below = entry.readingBelowUm;
	const count = entry.countAbove;
	const figures = [
		...(below === undefined ? [] : [say("figure-below", { film: writeOneFilm(below, film, language) })]),
		...(count === undefined ? [] : [say("figure-above", { count: writeAmount(count, "", language) })]),
	];
	return html`<li>
		${
			value === undefined
				? nothing
				: html`<p class="element-head end">${fields.elementButtons(list, index, name, "ordered")}</p>`
		}
		${fields.words({ pointer: `${at}/text`, label: say("condition", { number: index + 1 }), lines: "wrapped" })}
		${
			value === undefined && fields.keptAt(at) === 0
				? nothing
				: html`<details class="chooser" ?open=${fields.keptAt(`${at}/readingBelowUm`) + fields.keptAt(`${at}/countAbove`) > 0}>
						<summary>${figures.length === 0 ? say("add-figure") : figures.join(", ")}</summary>
						<div class="pair">
							${fields.text({
								pointer: `${at}/readingBelowUm`,
								label: say("reading-below"),
								read: (text) => readOneFilm(text, film),
								write: (one) => writeOneFilm(one, film, language),
							})}
							${fields.text({
								pointer: `${at}/countAbove`,
								label: say("count-above"),
								read: (text) => readCount(text, 0, "unread-count"),
								write: (one) => writeAmount(one, "", language),
							})}
						</div>
					</details>`
		}
	</li>`;
}
