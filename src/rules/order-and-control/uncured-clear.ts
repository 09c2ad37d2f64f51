import type { ClearCoatItem, Cure } from "../../model/generated/types.ts";
import { isCutting } from "../chains.ts";
import { clearsOfKind, curedHours } from "../cure.ts";
import { liquid, sand } from "../example-rows.ts";
import { rule, sheet } from "../rule.ts";

const clear: ClearCoatItem = {
	id: "clear-2k",
	name: "Two-pack clear",
	kind: "refinish",
	cureHours: 16,
	bake: { celsius: 60, minutes: 30, waitHours: 2 },
};

export default rule({
	id: "uncured-clear",
	group: "order and control",
	level: "stop",
	source: sheet("the cure of the clear coat in the stock", null, "h"),
	why: {
		en: "Clear that has not cured smears and loads the abrasive, and sinks back afterwards: scratches that were gone come up again.",
		es: "Un barniz sin curar se embota en el abrasivo y después merma: los arañazos que ya no estaban vuelven a salir.",
	},
	axes: ["clearCoat"],
	*check({ procedure, rows, situation: { clearCoat }, shop }) {
		const { cure } = procedure;
		const first = rows.find(isCutting);
		if (clearCoat === undefined || cure === undefined || first === undefined) return;
		const waitedHours = curedHours(procedure, first, rows);
		for (const item of clearsOfKind(clearCoat, shop)) {
			const short = waitedHours === null ? bakeShort(cure, item) : hoursShort(waitedHours, item);
			if (short === null) continue;
			const name = item.sheet?.title ?? item.name;
			yield {
				field: "cure" as const,
				weight: short.needed / Math.max(short.given, 1e-6),
				basis: sheet(name, short.needed, short.unit),
				data: { clear: item.name, sheet: name, ...short },
			};
			return;
		}
	},
	say: {
		en: ({ clear: name, sheet: from, what, given, needed, unit }, say) => ({
			found: `The work begins ${what === "hours" ? `after ${say.number(given)} ${unit} of cure` : what === "waitHours" ? `${say.number(given)} ${unit} after the bake` : `after a bake of ${say.number(given)} ${unit}`}, too little for ${name}`,
			expected: `It needs ${say.number(needed)} ${unit}${what === "waitHours" ? " after the bake" : ""} before it is sanded or polished (${from})`,
			then: "Uncured clear loads the abrasive and sinks back; wait as its sheet says",
		}),
		es: ({ clear: name, sheet: from, what, given, needed, unit }, say) => ({
			found: `El trabajo empieza ${what === "hours" ? `tras ${say.number(given)} ${unit} de curado` : what === "waitHours" ? `${say.number(given)} ${unit} después del horneado` : `tras un horneado de ${say.number(given)} ${unit}`}, poco para ${name}`,
			expected: `Necesita ${say.number(needed)} ${unit}${what === "waitHours" ? " tras el horneado" : ""} antes de lijar o pulir (${from})`,
			then: "El barniz sin curar embota el abrasivo y después merma; espere lo que dice su ficha",
		}),
	},
	examples: {
		good: [
			{
				title: "Cured as its sheet says",
				steps: [sand("P2000")],
				procedure: { cure: { hours: 24 } },
				stock: { clearCoats: [clear] },
			},
			{
				title: "Baked as its sheet says",
				steps: [sand("P2000")],
				procedure: { cure: { hours: 2, bake: { celsius: 60, minutes: 30, waitHours: 2 } } },
				stock: { clearCoats: [clear] },
			},
			{
				title: "A wait row makes up the hours",
				steps: [{ stage: "wait", waitFor: "cure", waitMinutes: 480 }, sand("P2000")],
				procedure: { cure: { hours: 8 } },
				stock: { clearCoats: [clear] },
			},
			{
				title: "Nothing said of cure: it may be years old",
				steps: [liquid("fine", "foam-soft")],
				stock: { clearCoats: [clear] },
			},
			{ title: "No clear in the stock", steps: [sand("P2000")], procedure: { cure: { hours: 4 } } },
		],
		bad: [
			{
				title: "Sanded after four hours of sixteen",
				steps: [sand("P2000")],
				procedure: { cure: { hours: 4 } },
				stock: { clearCoats: [clear] },
				at: { row: null, field: "cure" },
			},
			{
				title: "Sanded straight after the bake",
				steps: [sand("P2000")],
				procedure: { cure: { bake: { celsius: 60, minutes: 30, waitHours: 0.5 } } },
				stock: { clearCoats: [clear] },
				at: { row: null, field: "cure" },
			},
		],
	},
});

/** What a cure lacks: how much there is, how much is needed. */
interface Short {
	what: "hours" | "celsius" | "minutes" | "waitHours";
	given: number;
	needed: number;
	unit: string;
}

function hoursShort(given: number, { cureHours }: ClearCoatItem): Short | null {
	return cureHours === undefined || given >= cureHours ? null : { what: "hours", given, needed: cureHours, unit: "h" };
}

/** A bake is held against the one on the sheet; where the sheet has none, or the hours alone would do, nothing is said. */
function bakeShort({ hours, bake }: Cure, item: ClearCoatItem): Short | null {
	if (bake === undefined || item.bake === undefined) return null;
	if (hours !== undefined && item.cureHours !== undefined && hours >= item.cureHours) return null;
	const needed = item.bake;
	if (bake.celsius < needed.celsius)
		return { what: "celsius", given: bake.celsius, needed: needed.celsius, unit: "°C" };
	if (bake.minutes < needed.minutes)
		return { what: "minutes", given: bake.minutes, needed: needed.minutes, unit: "min" };
	const waited = bake.waitHours ?? hours;
	if (waited === undefined || needed.waitHours === undefined || waited >= needed.waitHours) return null;
	return { what: "waitHours", given: waited, needed: needed.waitHours, unit: "h" };
}
