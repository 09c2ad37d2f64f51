import type { Gear, Procedure } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import { label } from "../model/words.ts";
import type { Remedy } from "./rule.ts";
import type { Say } from "./say.ts";

/** What a finding about protective gear rests on. */
export type GearData = {
	gear: Gear;
	/** False: the procedure does not name it; true: it names it, but not for every stage that needs it. */
	named: boolean;
	/** Rows that go without, from 1. */
	rows: string[];
	/** Stages of those rows. */
	stages: string[];
};

/** Of the rows that need an item of gear, those it is not worn in; null where there are none. */
export function withoutGear(gear: Gear, needing: readonly ResolvedRow[], { wear = [] }: Procedure): GearData | null {
	const named = wear.filter(({ item }) => item === gear);
	const bare = needing.filter(
		({ stage }) => !named.some(({ stages }) => stages === undefined || (stage !== null && stages.includes(stage))),
	);
	if (bare.length === 0) return null;
	return {
		gear,
		named: named.length > 0,
		rows: bare.map(({ index }) => String(index + 1)),
		stages: [...new Set(bare.flatMap(({ stage }) => stage ?? []))],
	};
}

/** Whether a row raises dust: sanding, dry or wet, by hand or by machine. A blade lifts a chip and raises none. */
export function isSanding({ kind }: ResolvedRow): boolean {
	return kind === "abrasive";
}

/** Whether a row works a liquid abrasive, which throws off oils and dust and is handled all day. */
export function isPolishing({ kind }: ResolvedRow): boolean {
	return kind === "liquid";
}

/** Whether a row wipes with solvent. A little alcohol on a cloth between two rows is not counted. */
export function isSolventWipe(row: ResolvedRow): boolean {
	return row.kind === "wipe" && row.wipe === "solvent-wipe";
}

/** What was found, for the sentence of a rule about gear. */
export const sayWithoutGear = {
	en: ({ gear, named, rows, stages }: GearData, say: Say) => {
		const item = say.label("gear", gear);
		if (!named) return `The procedure names no ${item}`;
		const which = rows.length === 1 ? `Row ${rows[0]} goes` : `Rows ${say.list(rows)} go`;
		return `${which} without ${item}${inStages(stages, say)}; Wear lists other stages only`;
	},
	es: ({ gear, named, rows, stages }: GearData, say: Say) => {
		const item = say.label("gear", gear);
		if (!named) return `El procedimiento no nombra ${item}`;
		const which = rows.length === 1 ? `La fila ${rows[0]} va` : `Las filas ${say.list(rows)} van`;
		return `${which} sin ${item}${inStages(stages, say)}; en Protección solo figuran otras etapas`;
	},
};

/** Offers to have an item worn throughout: its entry loses its stages, or one is written. */
export function wearThroughout(gear: Gear, { wear }: Procedure): Remedy[] {
	const own = (wear ?? []).filter(({ item }) => item === gear);
	const [first] = own;
	// Which of several filters serves all stages is for a person to say.
	if (own.some(({ filter }) => filter !== first?.filter)) return [];
	const { stages: _stages, ...always } = first ?? { item: gear };
	const to = [...(wear ?? []).filter(({ item }) => item !== gear), always];
	const item = { en: label("gear", gear, "en"), es: label("gear", gear, "es") };
	return [
		{
			kind: "offered",
			say: first
				? { en: `Wear ${item.en} in all stages`, es: `Llevar ${item.es} en todas las etapas` }
				: { en: `Add ${item.en} to what is worn`, es: `Añadir ${item.es} a lo que se lleva` },
			edit: [{ op: "setPart", pointer: "/wear", ...(wear === undefined ? {} : { from: wear }), to }],
		},
	];
}

function inStages(stages: readonly string[], say: Say): string {
	return stages.length === 0 ? "" : ` (${say.list(stages.map((stage) => say.label("stage", stage)))})`;
}
