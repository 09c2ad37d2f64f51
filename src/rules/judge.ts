import { forecastOf } from "../forecast/forecast.ts";
import type { Forecast } from "../forecast/outcome.ts";
import type { SchemaProblem } from "../model/problem.ts";
import { type Finding, type FindingData, type Level, levels } from "../model/finding.ts";
import type { Procedure } from "../model/generated/types.ts";
import { shapes } from "../model/generated/shape.ts";
import { type ResolvedRow, resolveRows } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { type Axis, axes, boxesOf, boxHolds, type Situation, situationsOf } from "../model/situations.ts";
import { acceptExceptions } from "./exceptions.ts";
import { rules as everyRule } from "./generated/rules.ts";
import type { Found, Remedy, Rule, RuleInput } from "./rule.ts";

/** A procedure and what it is judged by. */
export interface Case {
	procedure: Procedure;
	/** What the schema found when the file was read. */
	problems: readonly SchemaProblem[];
	shop: Shop;
	/** Date of the check, year-month-day. */
	today: string;
}

/**
 * Judges a procedure in every situation of its scope: each rule runs once for each distinct projection of the
 * situations onto the axes it reads, and findings of one rule, row and field become one that names its situations.
 * The order is stable: row (whole procedure first), column, level, rule id.
 *
 * @param rules the rules to run; the whole book of rules where left out
 */
export function judge(one: Case, rules: readonly Rule[] = everyRule): Finding[] {
	const views = new Views(one);
	const judged = rules.filter((rule) => !rule.readsFindings).flatMap((rule) => judgeBy(rule, views, []));
	const findings = acceptExceptions(judged, one);
	// What a rule says of exceptions cannot itself be accepted, or an exception could vouch for itself.
	const about = rules.filter((rule) => rule.readsFindings).flatMap((rule) => judgeBy(rule, views, findings));
	return [...findings, ...about].toSorted(inReadingOrder);
}

/**
 * The repairs a rule offers for one of its findings, sure ones first, made in the situation whose values the finding
 * quotes. Empty where the rule has none.
 */
export function remediesFor(finding: Finding, one: Case, rules: readonly Rule[] = everyRule): Remedy[] {
	const rule = rules.find(({ id }) => id === finding.rule);
	if (rule?.remedies === undefined) return [];
	const views = new Views(one);
	const earlier = rule.readsFindings
		? judge(
				one,
				rules.filter(({ readsFindings }) => !readsFindings),
			)
		: [];
	const merged = mergedFinds(rule, views, earlier).find(
		({ found: { row, field, pointer } }) =>
			(row?.index ?? null) === finding.row &&
			(field ?? null) === finding.field &&
			(pointer ?? finding.pointer) === finding.pointer,
	);
	if (merged === undefined) return [];
	const { row = null } = merged.found;
	const { field, data, situations } = finding;
	return rule.remedies({ row, field, data, situations }, merged.view.inputFor(rule, earlier));
}

/** What one rule finds, merged over situations. */
function judgeBy(rule: Rule, views: Views, findings: readonly Finding[]): Finding[] {
	const { procedure } = views.one;
	const seen = views.onto(rule.axes);
	return mergedFinds(rule, views, findings).map(({ found, level, in: some }) => ({
		rule: rule.id,
		level,
		row: found.row?.index ?? null,
		rowId: found.row?.step.id ?? null,
		field: found.field ?? null,
		pointer: found.pointer ?? pointerTo(found, procedure),
		situations: some.length === seen.length ? [{}] : boxesOf(some, procedure.scope),
		data: rounded(found.data),
		basis: found.basis ?? rule.source,
		accepted: null,
	}));
}

/** What a rule found at one place: the worst of all situations, where that was, and every situation it holds in. */
interface Merged {
	found: Found;
	level: Level;
	view: View;
	in: Situation[];
}

function mergedFinds(rule: Rule, views: Views, findings: readonly Finding[]): Merged[] {
	const setting = views.one.shop.limits.rules[rule.id];
	if (setting?.off) return [];
	const merged = new Map<string, Merged>();
	for (const view of views.onto(rule.axes)) {
		for (const found of rule.check(view.inputFor(rule, findings))) {
			const key = `${found.row?.index ?? ""}/${found.field ?? ""}/${found.pointer ?? ""}`;
			const level = levelOf(found, rule, setting?.level);
			const earlier = merged.get(key);
			if (earlier === undefined) {
				merged.set(key, { found, level, view, in: [view.situation] });
				continue;
			}
			if (earlier.in.at(-1) !== view.situation) earlier.in.push(view.situation);
			const worse =
				levels.indexOf(earlier.level) - levels.indexOf(level) || (found.weight ?? 0) - (earlier.found.weight ?? 0);
			if (worse > 0) Object.assign(earlier, { found, level, view });
		}
	}
	return [...merged.values()];
}

/** The level a shop has set replaces the rule's own; a finding that the rule itself puts elsewhere stays there. */
function levelOf(found: Found, rule: Rule, set: Level | undefined): Level {
	if (found.level !== undefined && found.level !== rule.level) return found.level;
	return set ?? rule.level;
}

/** The procedure as seen from every projection of its situations, each seen once. */
class Views {
	readonly one: Case;
	readonly rows: readonly ResolvedRow[];
	/** Axes that conditions of rows turn on: every rule reads rows, so every rule reads these. */
	private readonly whenAxes: readonly Axis[];
	/** Views by the axes a rule declares, and by the axes that are read in the end: many rules share them. */
	private readonly declared = new Map<readonly Axis[], View[]>();
	private readonly known = new Map<string, View[]>();
	private readonly applying = new Map<string, readonly ResolvedRow[]>();
	private readonly forecasts = new Map<string, Forecast>();

	constructor(one: Case) {
		this.one = one;
		this.rows = resolveRows(one.procedure, one.shop);
		const conditions = this.rows.flatMap((row) => row.when ?? []);
		this.whenAxes = conditions.length === 0 ? [] : axes.filter((axis) => conditions.some((box) => axis in box));
	}

	onto(declared: readonly Axis[]): View[] {
		const before = this.declared.get(declared);
		if (before !== undefined) return before;
		const read = axes.filter((axis) => declared.includes(axis) || this.whenAxes.includes(axis));
		const key = read.join();
		let views = this.known.get(key);
		if (views === undefined) {
			const situations = situationsOf(this.one.procedure.scope, read);
			// Where every situation is excepted, what a procedure says is judged all the same.
			views = (situations.length > 0 ? situations : [{}]).map(
				(situation) => new View(this, situation, this.rowsIn(situation), read),
			);
			this.known.set(key, views);
		}
		this.declared.set(declared, views);
		return views;
	}

	forecastIn(view: View): Forecast {
		const { situation } = view;
		let key = `${situation.defect}|${situation.clearCoat}`;
		for (const axis of this.whenAxes) key += `|${situation[axis]}`;
		let forecast = this.forecasts.get(key);
		if (forecast === undefined) {
			const { procedure, shop } = this.one;
			forecast = forecastOf({ procedure, rows: view.rows, situation, shop });
			this.forecasts.set(key, forecast);
		}
		return forecast;
	}

	/** The rows that apply, one list for all situations in which they are the same: the forecast prepares each list once. */
	private rowsIn(situation: Situation): readonly ResolvedRow[] {
		if (this.whenAxes.length === 0) return this.rows;
		const here = this.rows.filter(({ when }) => when === null || when.some((box) => boxHolds(box, situation)));
		const key = here.map(({ index }) => index).join();
		const same = this.applying.get(key);
		if (same !== undefined) return same;
		this.applying.set(key, here);
		return here;
	}
}

/** One projection: the situation on some axes, and the rows that apply in it. */
class View {
	readonly situation: Situation;
	readonly rows: readonly ResolvedRow[];
	readonly views: Views;
	private readonly read: readonly Axis[];

	constructor(views: Views, situation: Situation, rows: readonly ResolvedRow[], read: readonly Axis[]) {
		this.views = views;
		this.situation = situation;
		this.rows = rows;
		this.read = read;
	}

	inputFor(rule: Rule, findings: readonly Finding[]): RuleInput {
		return new Input(this, rule, findings);
	}

	forecastFor(rule: Rule): Forecast {
		if (!this.read.includes("defect") || !this.read.includes("clearCoat"))
			throw new RangeError(
				`${rule.id} reads the forecast, which needs the axes defect and clearCoat; it has ${this.read}`,
			);
		return this.views.forecastIn(this);
	}
}

/** What one rule may read in one view. A class, since there is one for every rule and view: the forecast waits until it is asked for. */
class Input implements RuleInput {
	readonly procedure: Procedure;
	readonly problems: readonly SchemaProblem[];
	readonly rows: readonly ResolvedRow[];
	readonly allRows: readonly ResolvedRow[];
	readonly situation: Situation;
	readonly shop: Shop;
	readonly parameters: Record<string, number>;
	readonly today: string;
	readonly findings: readonly Finding[];
	private readonly view: View;
	private readonly rule: Rule;

	constructor(view: View, rule: Rule, findings: readonly Finding[]) {
		const { one, rows } = view.views;
		const set = one.shop.limits.rules[rule.id]?.parameters;
		this.procedure = one.procedure;
		this.problems = one.problems;
		this.rows = view.rows;
		this.allRows = rows;
		this.situation = view.situation;
		this.shop = one.shop;
		this.parameters = set ? { ...rule.parameters, ...set } : (rule.parameters ?? none);
		this.today = one.today;
		this.findings = findings;
		this.view = view;
		this.rule = rule;
	}

	get forecast(): Forecast {
		return this.view.forecastFor(this.rule);
	}
}

const none: Record<string, number> = {};

/** To the value where it is there, else to its row, else to the part, else to the procedure. */
function pointerTo({ row, field }: Found, procedure: Procedure): string {
	if (row !== undefined) {
		const at = `/steps/${row.index}`;
		if (field === undefined) return at;
		if (Object.hasOwn(row.step, field)) return `${at}/${field}`;
		return Object.hasOwn(row.step.asTyped ?? {}, field) ? `${at}/asTyped/${field}` : at;
	}
	return field !== undefined && Object.hasOwn(procedure, field) ? `/${field}` : "";
}

const columns = Object.keys(shapes.procedure.keys?.steps?.items?.keys ?? {});

function inReadingOrder(a: Finding, b: Finding): number {
	return (
		(a.row ?? -1) - (b.row ?? -1) ||
		columns.indexOf(a.field ?? "") - columns.indexOf(b.field ?? "") ||
		levels.indexOf(a.level) - levels.indexOf(b.level) ||
		(a.rule < b.rule ? -1 : a.rule > b.rule ? 1 : 0) ||
		(a.pointer < b.pointer ? -1 : a.pointer > b.pointer ? 1 : 0)
	);
}

/** Figures to 1e-6 of their unit, so that a finding reads the same wherever it was made. */
function rounded(data: FindingData): FindingData {
	return Object.fromEntries(
		Object.entries(data).map(([key, value]) => [
			key,
			typeof value === "number" ? Math.round(value * 1e6) / 1e6 : value,
		]),
	);
}
