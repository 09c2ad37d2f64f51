import type { CarWork } from "../forecast/car-work.ts";
import { Forecasts } from "../forecast/forecasts.ts";
import type { Forecast } from "../forecast/outcome.ts";
import type { PanelHeat } from "../forecast/panel-heat.ts";
import type { SchemaProblem } from "../model/problem.ts";
import { type Finding, type FindingData, type Level, levels } from "../model/finding.ts";
import type { Procedure } from "../model/generated/types.ts";
import { shapes } from "../model/generated/shape.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Shop } from "../model/shop.ts";
import { type Axis, axes, boxesOf, type Situation, situationsOf } from "../model/situations.ts";
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
 * @param forecasts of the same procedure and shop, where another reader of them shares what they make
 */
export function judge(
	one: Case,
	rules: readonly Rule[] = everyRule,
	forecasts = new Forecasts(one.procedure, one.shop),
): Finding[] {
	const views = new Views(one, forecasts);
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
	const views = new Views(one, new Forecasts(one.procedure, one.shop));
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
	const seen = views.onto(rule.axes);
	for (const view of seen) {
		const input = view.inputFor(rule, findings);
		for (const found of rule.check(input)) {
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
		// What a check finds without a look at the view, it finds in all of them.
		if (!input.isViewRead) {
			for (const one of merged.values()) one.in = seen.map(({ situation }) => situation);
			break;
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
	readonly forecasts: Forecasts;
	/** Views by the axes a rule declares, and by the axes that are read in the end: many rules share them. */
	private readonly declared = new Map<readonly Axis[], View[]>();
	private readonly known = new Map<string, View[]>();

	constructor(one: Case, forecasts: Forecasts) {
		this.one = one;
		this.forecasts = forecasts;
	}

	onto(declared: readonly Axis[]): View[] {
		const before = this.declared.get(declared);
		if (before !== undefined) return before;
		// Every rule reads rows, so every rule reads the axes that their conditions turn on.
		const read = axes.filter((axis) => declared.includes(axis) || this.forecasts.whenAxes.includes(axis));
		const key = read.join();
		let views = this.known.get(key);
		if (views === undefined) {
			const situations = situationsOf(this.one.procedure.scope, read);
			// Where every situation is excepted, what a procedure says is judged all the same.
			views = (situations.length > 0 ? situations : [{}]).map((situation) => new View(this, situation, read));
			this.known.set(key, views);
		}
		this.declared.set(declared, views);
		return views;
	}
}

/** One projection: the situation on some axes, and the rows that apply in it. */
class View {
	readonly situation: Situation;
	readonly rows: readonly ResolvedRow[];
	readonly views: Views;
	private readonly read: readonly Axis[];

	constructor(views: Views, situation: Situation, read: readonly Axis[]) {
		this.views = views;
		this.situation = situation;
		this.rows = views.forecasts.rowsIn(situation);
		this.read = read;
	}

	inputFor(rule: Rule, findings: readonly Finding[]): Input {
		return new Input(this, rule, findings);
	}

	forecastFor(rule: Rule): Forecast {
		this.insistOn(rule, "forecast", ["defect", "clearCoat"]);
		return this.views.forecasts.in(this.situation);
	}

	heatFor(rule: Rule): PanelHeat {
		this.insistOn(rule, "heat", ["substrate"]);
		return this.views.forecasts.heatIn(this.situation);
	}

	private insistOn(rule: Rule, what: string, needed: readonly Axis[]): void {
		for (const axis of needed)
			if (!this.read.includes(axis))
				throw new RangeError(`${rule.id} reads the ${what}, which needs the axes ${needed}; it has ${this.read}`);
	}
}

/** What one rule may read in one view. A class, since there is one for every rule and view: the forecast waits until it is asked for. */
class Input implements RuleInput {
	readonly procedure: Procedure;
	readonly problems: readonly SchemaProblem[];
	readonly allRows: readonly ResolvedRow[];
	readonly shop: Shop;
	readonly parameters: Record<string, number>;
	readonly today: string;
	readonly findings: readonly Finding[];
	/** Whether anything was read that may differ from view to view. */
	isViewRead = false;
	private readonly view: View;
	private readonly rule: Rule;

	constructor(view: View, rule: Rule, findings: readonly Finding[]) {
		const { one, forecasts } = view.views;
		const set = one.shop.limits.rules[rule.id]?.parameters;
		this.procedure = one.procedure;
		this.problems = one.problems;
		this.allRows = forecasts.rows;
		this.shop = one.shop;
		this.parameters = set ? { ...rule.parameters, ...set } : (rule.parameters ?? none);
		this.today = one.today;
		this.findings = findings;
		this.view = view;
		this.rule = rule;
	}

	get rows(): readonly ResolvedRow[] {
		this.isViewRead = true;
		return this.view.rows;
	}

	get situation(): Situation {
		this.isViewRead = true;
		return this.view.situation;
	}

	get forecast(): Forecast {
		this.isViewRead = true;
		return this.view.forecastFor(this.rule);
	}

	get heat(): PanelHeat {
		this.isViewRead = true;
		return this.view.heatFor(this.rule);
	}

	get work(): CarWork {
		return this.view.views.forecasts.workOf(this.forecast);
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
