import { html, nothing, type TemplateResult } from "lit";
import { enumerations } from "../../model/generated/enumerations.ts";
import type { ClearCoat } from "../../model/generated/types.ts";
import { label, valuesOf } from "../../model/words.ts";
import { type PartFields, recordOf } from "./fields.ts";
import { readEstimate, readOneFilm, writeEstimate, writeOneFilm } from "./typed.ts";

/** How film will be known, what is assumed of it per clear coat, an example reading, and the least left. */
export function filmPart(fields: PartFields): TemplateResult {
	const { say, language, film } = fields;
	const unit = label("filmUnit", film, language);
	const hasUnder = fields.value("/film/known") === "total-reading" || fields.value("/film/underUm") !== undefined;
	const leasts = clearCoatsOf(fields).flatMap((one) => fields.shop.limits.leastLeftUm[one] ?? []);
	const most = leasts.length === 0 ? undefined : Math.max(...leasts);
	const stated = fields.value("/film/leastLeftUm");
	const isBelow = most !== undefined && typeof stated === "number" && stated < most;
	return html`${fields.choice(
		"/film/known",
		say("film-known"),
		valuesOf("filmKnown").map((value) => ({ value, label: label("filmKnown", value, language) })),
	)}
	${
		hasUnder || fields.keptAt("/film/underUm") > 0
			? fields.text({
					pointer: "/film/underUm",
					label: say("film-under", { unit }),
					hint: say("film-interval"),
					read: (text) => readEstimate(text, "under", film),
					write: (value) => writeEstimate(value, film, language),
				})
			: nothing
	}
	${assumedClear(fields, unit)}
	${fields.text({
		pointer: "/film/leastLeftUm",
		label: say("film-least", { unit }),
		read: (text) => readOneFilm(text, film),
		write: (value) => writeOneFilm(value, film, language),
		...(most === undefined ? {} : { usual: say("house-figure", { film: writeOneFilm(most, film, language) }) }),
		...(isBelow ? { hint: say("film-least-below", { film: writeOneFilm(most, film, language) }) } : {}),
	})}
	${fields.text({
		pointer: "/film/startReadingUm",
		label: say("film-start", { unit }),
		hint: say("film-start-hint"),
		read: (text) => readOneFilm(text, film),
		write: (value) => writeOneFilm(value, film, language),
	})}`;
}

function assumedClear(fields: PartFields, unit: string): TemplateResult {
	const { say, language, film, shop } = fields;
	const set = recordOf(fields.value("/film/assumed"));
	const clearCoats = clearCoatsOf(fields);
	const isSet = Object.keys(set).length > 0 || fields.keptAt("/film/assumed") > 0;
	return html`<details class="chooser" ?open=${isSet}>
		<summary>${say(isSet ? "film-assumed" : "film-assumed-house", { unit })}</summary>
		${clearCoats.length === 0 ? html`<p class="hint">${say("assumed-needs-clear-coats")}</p>` : nothing}
		${clearCoats.map((clearCoat) => {
			const house = shop.limits.assumedClearUm[clearCoat];
			return fields.text({
				pointer: `/film/assumed/${clearCoat}`,
				label: label("clearCoat", clearCoat, language),
				read: (text) => readEstimate(text, "film", film, house),
				write: (value) => writeEstimate(value, film, language),
				usual:
					house === undefined
						? say("no-house-figure")
						: say("house-figure", { film: writeEstimate(house, film, language) }),
			});
		})}
	</details>`;
}

/** The clear coats of the scope, and those for which something is assumed. */
function clearCoatsOf(fields: PartFields): ClearCoat[] {
	const claimed = fields.list("/scope/clearCoats");
	const set = recordOf(fields.value("/film/assumed"));
	return enumerations.ClearCoat.filter(
		(one) => claimed.includes(one) || Object.hasOwn(set, one) || fields.keptAt(`/film/assumed/${one}`) > 0,
	);
}
