import type { SchemaProblem } from "../model/problem.ts";
import type { Edit } from "../model/edits.ts";
import type { Basis, Finding, FindingData, Level } from "../model/finding.ts";
import type { Box, Limits, Procedure, Step, Stock, Text } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import type { Axis, Situation } from "../model/situations.ts";
import type { CarWork } from "../forecast/car-work.ts";
import type { Forecast } from "../forecast/outcome.ts";
import type { PanelHeat } from "../forecast/panel-heat.ts";
import type { Say } from "./say.ts";

export const groups = [
	"grade progression",
	"backing and abrasive",
	"pads and liquids",
	"defects",
	"film budget",
	"heat, speed, edges",
	"order and control",
	"clear coats",
	"people",
	"record",
] as const;
export type Group = (typeof groups)[number];

/**
 * One rule: what it is, why, what it checks, how it is said, how it is repaired, and examples that run.
 *
 * `D` is what a finding rests on, `P` the names of its parameters.
 */
export interface Rule<D extends FindingData = FindingData, P extends string = string> {
	/** The bad thing in plain words, as in "allow …"; the same as the file's name; never reused. */
	id: string;
	group: Group;
	/** Level of a finding that names none. */
	level: Level;
	/** Where the expectation comes from; a finding may name a nearer basis of its own. */
	source: Basis;
	why: Text;
	/** Numbers a shop may set in `limits.json` under `rules`, with their defaults. */
	parameters?: Record<P, number>;
	/**
	 * Axes of the situation that the check reads, in `situation` or through `forecast` and `work` (which read defect
	 * and clearCoat) and `heat` (substrate). Axes of `when` conditions are added by the engine.
	 */
	axes: readonly Axis[];
	/** Runs after those that do not, in the order of the list, and reads what all before it found. */
	readsFindings?: boolean;
	/** Pure; never throws on a half-typed row; silent where another rule speaks. */
	check(input: RuleInput<P>): Iterable<Found<D>>;
	say: Record<"en" | "es", (data: D, say: Say) => Saying>;
	/** Repairs for one finding; sure ones first. */
	remedies?(finding: RemedyInput<D>, input: RuleInput<P>): Remedy[];
	examples: { good: readonly Example[]; bad: readonly BadExample[] };
}

/** What a check may read. */
export interface RuleInput<P extends string = string> {
	procedure: Procedure;
	/** What the schema found when the file was read. */
	problems: readonly SchemaProblem[];
	/** Rows that apply in this situation, in order; a row's `index` is its place in the whole procedure. */
	rows: readonly ResolvedRow[];
	/** Every row, whether it applies in this situation or not: for rules about what is written, not about what it does. */
	allRows: readonly ResolvedRow[];
	/** The situation on the declared axes only; an axis on which the scope names nothing is absent. */
	situation: Situation;
	/** What the rows do to the panel in this situation; computed when first asked for. */
	forecast: Forecast;
	/** How hot they make it, for a rule whose axes have the substrate; computed when first asked for. */
	heat: PanelHeat;
	/** Vibration, noise and cost of one car, for a rule that reads the forecast; each computed when first asked for. */
	work: CarWork;
	shop: Shop;
	parameters: Record<P, number>;
	/** Date of the check, year-month-day. */
	today: string;
	/** What the rules before it found, for a rule that declares `readsFindings`; else empty. */
	findings: readonly Finding[];
}

/** What a check hands back: where, and the values it rests on. */
export interface Found<D extends FindingData = FindingData> {
	/** The row; left out for the whole procedure. */
	row?: ResolvedRow;
	/** Field of the row, or a part of the procedure such as `scope`; left out for the row or procedure itself. */
	field?: keyof Step | keyof Procedure;
	/** Pointer within the procedure where row and field do not say it. */
	pointer?: string;
	data: D;
	level?: Level;
	basis?: Basis;
	/** How bad, larger is worse: over several situations the sentence quotes the worst. */
	weight?: number;
}

/** A finding in words, each part a sentence or a clause without its row and field, which the caller puts in front. */
export interface Saying {
	/** What was found; stands alone in a list. */
	found: string;
	/** What was expected, and whose rule that is. */
	expected: string;
	/** What it does to the panel, and the way out, where that helps. */
	then?: string;
}

export interface RemedyInput<D extends FindingData = FindingData> {
	row: ResolvedRow | null;
	field: string | null;
	data: D;
	situations: Box[];
}

/** A repair as an edit. */
export interface Remedy {
	/** `sure`: applied, the finding is gone and nothing worse appears. `offered`: it says what it changes. */
	kind: "sure" | "offered";
	say: Record<"en" | "es", string>;
	edit: Edit;
}

/** The smallest whole procedure that shows the point; what it leaves out is filled by `exampleProcedure`. */
export interface Example {
	title: string;
	steps: readonly Partial<Step>[];
	procedure?: Partial<Procedure>;
	stock?: Omit<Stock, "format">;
	limits?: Omit<Limits, "format">;
	book?: Partial<Shop["book"]>;
	today?: string;
}

/** A bad example yields exactly one finding of its rule, at this place. */
export interface BadExample extends Example {
	/** 1-based row, or null for the whole procedure. */
	at: { row: number | null; field: string | null };
	/** Level, where it differs from the rule's own. */
	level?: Level;
}

/** Declares a rule; keeps the types of its finding and parameters together. */
export function rule<D extends FindingData, P extends string = never>(definition: Rule<D, P>): Rule {
	return definition as unknown as Rule;
}

/** The basis of a rule that rests on what good shops do, without a source to name. */
export const common: Basis = { kind: "common-practice", name: "common practice, no source", value: null, unit: null };

/** The basis of a house limit. */
export function house(name: string, value: number | string | null, unit: string | null): Basis {
	return { kind: "house", name, value, unit };
}

/** The basis of a supplier's sheet or tool manual of the stock. */
export function sheet(name: string, value: number | string | null, unit: string | null): Basis {
	return { kind: "sheet", name, value, unit };
}
