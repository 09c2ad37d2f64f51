import { html, nothing, type TemplateResult } from "lit";
import { boxesInWords } from "../../check/situation-words.ts";
import { defect, defectName, defects } from "../../model/defects.ts";
import type { Box } from "../../model/generated/types.ts";
import { axes, type Axis, claimedValues } from "../../model/situations.ts";
import { label, valuesOf, type WordKind } from "../../model/words.ts";
import { chipSet, type PartFields, recordOf } from "./fields.ts";
import { readEstimate, writeEstimate, writeRaw } from "./typed.ts";

/** Values chosen so far for situations that shall be excepted. */
export type ChosenValues = Partial<Record<Axis, readonly string[]>>;

/**
 * The scope: defects with goal and size, substrates, clear coats, tones, features, and the situations it leaves out.
 *
 * @param chosen values chosen for the next situations to be left out; nothing of it is in the procedure yet
 */
export function scopePart(
	fields: PartFields,
	chosen: ChosenValues,
	onChoose: (chosen: ChosenValues) => void,
): TemplateResult {
	const { say, language } = fields;
	const plainChips = (member: string, kind: WordKind) =>
		fields.chips(`/scope/${member}`, say(`scope-${member}` as "scope-tones"), valuesOf(kind), (value) =>
			label(kind, value, language),
		);
	return html`${defectList(fields)} ${plainChips("substrates", "substrate")} ${plainChips("clearCoats", "clearCoat")}
	${plainChips("tones", "tone")} ${plainChips("features", "feature")} ${exceptedSituations(fields, chosen, onChoose)}`;
}

function defectList(fields: PartFields): TemplateResult {
	const { say } = fields;
	const list = fields.list("/scope/defects");
	return html`<div class="block" role="group" aria-label=${say("scope-defects")} data-pointer="/scope/defects">
		<p class="legend">${say("scope-defects")}</p>
		${
			list.length === 0
				? nothing
				: html`<ul class="elements">
						${list.map((one, index) => defectRow(fields, recordOf(one), index))}
					</ul>`
		}
		<details class="chooser" ?open=${list.length === 0}>
			<summary>${say("choose-defects")}</summary>
			${positions.map((position) => defectChips(fields, list, position))}
		</details>
	</div>`;
}

function defectRow(fields: PartFields, entry: Record<string, unknown>, index: number): TemplateResult {
	const { say, language, film, shop } = fields;
	const id = writeRaw(entry.defect);
	const name = defectName(id, language, shop.book);
	const known = defect(id, shop.book);
	const at = `/scope/defects/${index}`;
	return html`<li aria-label=${name}>
		<p class="element-head">
			<strong>${name}</strong>
			${known?.polishable === false ? html`<span class="warn">${say("not-polishable")}</span>` : nothing}
			${fields.elementButtons("/scope/defects", index, name)}
		</p>
		<div class="pair">
			${fields.choice(
				`${at}/goal`,
				say("goal"),
				valuesOf("goal").map((value) => ({ value, label: label("goal", value, language) })),
			)}
			${fields.text({
				pointer: `${at}/um`,
				label: say("size"),
				read: (text) => readEstimate(text, "film", film, known?.um),
				write: (value) => writeEstimate(value, film, language),
				...(known?.um === undefined
					? {}
					: { usual: say("from-table", { film: writeEstimate(known.um, film, language) }) }),
			})}
		</div>
	</li>`;
}

function defectChips(fields: PartFields, list: readonly unknown[], position: Position): TemplateResult {
	const { say, language, shop } = fields;
	const own = (shop.book.defects ?? []).filter((one) => !builtIn.has(one.id));
	const here = [...defects, ...own].filter((one) => one.position === position);
	const placeOf = (id: string) => list.findIndex((one) => recordOf(one).defect === id);
	return chipSet({
		legend: position === "below" ? say("below-not-polishable") : label("position", position, language),
		values: here.map(({ id }) => id),
		labelOf: (id) => {
			const isOdd = position !== "below" && here.some((one) => one.id === id && !one.polishable);
			return `${defectName(id, language, shop.book)}${isOdd ? ` (${say("not-polishable")})` : ""}`;
		},
		isTicked: (id) => placeOf(id) !== -1,
		onTick: (id, isTicked) => {
			if (isTicked) fields.change("/scope/defects", [...list, { defect: id, goal: "gone" }]);
			else fields.remove("/scope/defects", placeOf(id));
		},
	});
}

function exceptedSituations(
	fields: PartFields,
	chosen: ChosenValues,
	onChoose: (chosen: ChosenValues) => void,
): TemplateResult {
	const { say, language, procedure } = fields;
	const list = fields.list("/scope/except");
	const isChosen = axes.some((axis) => (chosen[axis] ?? []).length > 0);
	const claimed = claimedValues(fields.state.readable.scope);
	const words = (box: unknown) => boxesInWords([recordOf(box) as Box], language) || say("every-situation");
	return html`<div class="block" role="group" aria-label=${say("scope-except")} data-pointer="/scope/except">
		<p class="legend">${say("scope-except")}</p>
		${
			list.length === 0
				? nothing
				: html`<ul class="elements">
						${list.map(
							(box, index) => html`<li>
								<p class="element-head">${words(box)} ${fields.elementButtons("/scope/except", index, words(box))}</p>
							</li>`,
						)}
					</ul>`
		}
		<details class="chooser">
			<summary>${say("add-except")}</summary>
			${
				procedure.scope === undefined
					? html`<p class="hint">${say("except-needs-scope")}</p>`
					: axes
							.filter((axis) => claimed[axis].length > 0)
							.map((axis) =>
								chipSet({
									legend: say(`except-${axis}` as "except-tone"),
									values: claimed[axis],
									labelOf: (value) =>
										axis === "defect" ? defectName(value, language, fields.shop.book) : label(axis, value, language),
									isTicked: (value) => (chosen[axis] ?? []).includes(value),
									onTick: (value, isTicked) => {
										const others = (chosen[axis] ?? []).filter((one) => one !== value);
										onChoose({
											...chosen,
											[axis]: isTicked ? [...others, value] : others,
										});
									},
								}),
							)
			}
			<button
				type="button"
				class="add"
				data-add="/scope/except"
				?disabled=${!isChosen}
				@click=${() => {
					const box = Object.fromEntries(
						axes.filter((axis) => chosen[axis]?.length).map((axis) => [axis, chosen[axis]]),
					);
					if (fields.change("/scope/except", [...list, box]) === null) onChoose({});
				}}
			>
				${say("except-these")}
			</button>
		</details>
	</div>`;
}

type Position = (typeof positions)[number];
const positions = valuesOf("position");
const builtIn = new Set(defects.map(({ id }) => id));
