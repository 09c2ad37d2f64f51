import toolDefaults from "./data/tools.json" with { type: "json" };
import { enumerations } from "./generated/enumerations.ts";
import type {
	AbrasiveItem,
	BackingItem,
	BackingKind,
	Box,
	Carrier,
	GaugeItem,
	Holes,
	LiquidClass,
	LiquidItem,
	PadItem,
	PadKind,
	Place,
	Procedure,
	Speed,
	Stage,
	Step,
	ToolItem,
	ToolKind,
	Wetness,
	Work,
} from "./generated/types.ts";
import { type Grade, readGrade, type UnknownGrade } from "./grades.ts";
import { type Shop, stockItem } from "./shop.ts";

/**
 * A row as rules and forecast see it: the step with its stock looked up and its defaults filled, told
 * apart by `kind`. A row that lacks what its kind needs is `incomplete`, and only the rules of the
 * record group speak of it.
 */
export type ResolvedRow =
	| AbrasiveRow
	| LiquidRow
	| BladeRow
	| WipeRow
	| ReadingRow
	| InspectionRow
	| WaitRow
	| SetupRow
	| IncompleteRow;

export type RowKind = ResolvedRow["kind"];

/** A field of a step. */
export type StepField = keyof Step;

/** What every row has. */
interface RowBase {
	step: Step;
	/** Place among all rows of the procedure, from 0. */
	index: number;
	stage: Stage | null;
	place: Place;
	/** Diameter of the spot in mm, where the place is a spot. */
	spotMm: number;
	/** Area of the whole place in m². */
	areaM2: number;
	/** Area worked at one go in m²; never more than the place. */
	sectionM2: number;
	edges: Step["edges"] | null;
	need: "always" | "if-needed";
	/** Situations in which the row applies; null for all. */
	when: Box[] | null;
	tool: Tool | null;
	/** References that name neither an item of the stock nor a kind, as written. */
	unknownRefs: { field: StepField; text: string }[];
}

/** A row that sands with a coated abrasive. */
export interface AbrasiveRow extends RowBase {
	kind: "abrasive";
	tool: Tool;
	abrasive: Abrasive;
	/** Null only for the bare hand. */
	backing: Backing | null;
	/** Thickness in mm of a soft layer between plate and disc; 0 for none. */
	interfaceMm: number;
	/** As set in the row; null where nothing is said (taken as dry). */
	wetness: Wetness | null;
	speed: RowSpeed | null;
	work: RowWork;
	hand: Handling;
}

/** A row that works a liquid abrasive with a pad. */
export interface LiquidRow extends RowBase {
	kind: "liquid";
	tool: Tool;
	liquid: Liquid;
	pad: Pad;
	padUse: Step["padUse"] | null;
	speed: RowSpeed | null;
	work: RowWork;
	hand: Handling;
}

/** A row that takes a proud defect down with a nib blade, nib file or razor. */
export interface BladeRow extends RowBase {
	kind: "blade";
	tool: Tool;
	work: RowWork;
}

/** A row that washes or wipes the surface; by clay too. */
export interface WipeRow extends RowBase {
	kind: "wipe";
	wipe: NonNullable<Step["wipe"]> | "clay";
}

/** A row that reads the film with a gauge; `gauge` null where none of the stock is named. */
export interface ReadingRow extends RowBase {
	kind: "reading";
	gauge: GaugeItem | null;
}

export interface InspectionRow extends RowBase {
	kind: "inspection";
}

export interface WaitRow extends RowBase {
	kind: "wait";
	/** Minutes; null where only a reason is given. */
	minutes: number | null;
	waitFor: Step["waitFor"] | null;
}

/** Masking and sealing. */
export interface SetupRow extends RowBase {
	kind: "setup";
}

/** A row that lacks something its kind needs, or names something that is not there. */
export interface IncompleteRow extends RowBase {
	kind: "incomplete";
	/** What the row would be; null where even that cannot be told. */
	would: Exclude<RowKind, "incomplete"> | null;
	/** Fields that its kind needs and that are empty, in column order. */
	missing: StepField[];
	/** An abrasive that is a grade no published table has. */
	unknownGrade: UnknownGrade | null;
}

/** A tool as used in a row, from the stock where it names an item, else by its kind. */
export interface Tool {
	kind: ToolKind;
	item: ToolItem | null;
	/** Runs on air, mains or a battery. */
	driven: boolean;
	drive: NonNullable<ToolItem["drive"]> | null;
	extraction: NonNullable<ToolItem["extraction"]> | null;
	wetUse: NonNullable<ToolItem["wetUse"]> | null;
	/** Disc or pad diameter in mm; null for hand work. */
	diameterMm: number | null;
	/** Orbit diameter in mm; null where the tool has none. */
	orbitMm: number | null;
	/** For a gear-driven orbital: turns of the disc for each orbit; 0 for any other. */
	turnsPerOrbit: number;
	/** Face of a hand block along and across the stroke in mm, and the stroke's length; null for driven tools. */
	face: { alongMm: number; acrossMm: number; strokeMm: number } | null;
}

/** A coated abrasive as used in a row. */
export interface Abrasive {
	item: AbrasiveItem | null;
	grade: Grade;
	/** Median grain in µm: as the stock says, else of the published table. */
	medianUm: number;
	/** Null where nothing is said. */
	carrier: Carrier | null;
	holes: Holes | null;
	form: NonNullable<AbrasiveItem["form"]> | null;
	/** Area in m² after which it cuts 1/e as fast; null where the stock says nothing. */
	lifeM2: number | null;
}

export interface Backing {
	kind: BackingKind;
	item: BackingItem | null;
}

export interface Pad {
	kind: PadKind;
	item: PadItem | null;
}

export interface Liquid {
	class: LiquidClass;
	item: LiquidItem | null;
}

/** A speed in the unit of the tool's motion: a dial mark is looked up in the tool's table, in between straight. */
export interface RowSpeed {
	unit: "rpm" | "opm" | "spm";
	low: number;
	high: number;
	mid: number;
	asSet: Speed;
}

/** How much is done. For `until-flush` the figures are null. */
export interface RowWork {
	unit: Work["unit"];
	low: number | null;
	high: number | null;
	mid: number | null;
}

/** How the tool is held and moved, defaults filled. */
export interface Handling {
	forceN: number;
	overlap: number;
	/** Metres a second; null for hand work. */
	armSpeedMs: number | null;
}

const drivenKinds: readonly ToolKind[] = ["random-orbital", "gear-orbital", "rotary"];
const bladeKinds: readonly ToolKind[] = ["nib-blade", "nib-file", "razor"];

/** Rows by their step, so that after an edit only the rows it touched are resolved again. */
const remembered = new WeakMap<Step, { row: ResolvedRow; shop: Shop; lastPad: Pad | null }>();

/**
 * All rows of a procedure, resolved, in order. Never throws on a half-typed row. A step is taken for unchanged while it
 * is the same object at the same place.
 */
export function resolveRows(procedure: Pick<Procedure, "steps">, shop: Shop): ResolvedRow[] {
	let lastPad: Pad | null = null;
	return (procedure.steps ?? []).map((step, index) => {
		const known = remembered.get(step);
		const row =
			known?.shop === shop &&
			known.row.index === index &&
			(step.padUse !== "same-as-row" || isSamePad(known.lastPad, lastPad))
				? known.row
				: resolveRow(step, index, shop, lastPad);
		if (row !== known?.row) remembered.set(step, { row, shop, lastPad });
		// Whether or not the rest of that row is there: a missing speed is no reason to miss its pad in later rows.
		if (step.pad !== undefined) lastPad = findPad(step.pad, shop) ?? null;
		return row;
	});
}

function isSamePad(one: Pad | null, other: Pad | null): boolean {
	return one?.kind === other?.kind && one?.item === other?.item;
}

function resolveRow(step: Step, index: number, shop: Shop, lastPad: Pad | null): ResolvedRow {
	const { stock, limits } = shop;
	const unknownRefs: RowBase["unknownRefs"] = [];
	const place = step.place ?? "section";
	const spotMm = step.spotMm ?? limits.spotMm;
	const sectionWanted = step.sectionM2 ?? limits.sectionM2;
	const areaM2 = {
		spot: (Math.PI / 4) * (spotMm / 1000) ** 2,
		section: sectionWanted,
		panel: limits.panelM2,
		"edge-strip": limits.edgeStripM2,
		"blend-zone": limits.blendZoneM2,
	}[place];
	const base = {
		step,
		index,
		stage: step.stage ?? null,
		place,
		spotMm,
		areaM2,
		sectionM2: Math.min(sectionWanted, areaM2),
		edges: step.edges ?? null,
		need: step.need ?? ("always" as const),
		when: step.when ?? null,
		tool: null,
		unknownRefs,
	};
	const refer = <T>(field: StepField, find: (text: string) => T | undefined): T | null => {
		const text = step[field];
		if (typeof text !== "string") return null;
		const found = find(text);
		if (found === undefined) unknownRefs.push({ field, text });
		return found ?? null;
	};

	const samePad = step.pad === undefined && step.padUse === "same-as-row";
	const pad = samePad ? lastPad : refer("pad", (text) => findPad(text, shop));
	const backing = refer("backing", (text) => findBacking(text, shop));
	const liquid = refer("liquid", (text) => findLiquid(text, shop));
	const graded = refer("abrasive", (text) => findAbrasive(text, step, shop));
	const toolFound = refer("tool", (text) => findTool(text, shop));

	const work = workOf(step.work);
	const would = kindOf(step, toolFound?.kind);
	const incomplete = (missing: StepField[]): IncompleteRow => ({
		...base,
		kind: "incomplete",
		would,
		missing,
		tool: null,
		unknownGrade: graded !== null && "kind" in graded ? graded : null,
	});
	if (would === null) return incomplete(["stage"]);

	switch (would) {
		case "abrasive": {
			const abrasive = graded !== null && "kind" in graded ? null : graded;
			const bare = toolFound?.kind === "bare-hand";
			const missing: StepField[] = [];
			if (toolFound === null) missing.push("tool");
			if (abrasive === null) missing.push("abrasive");
			if (backing === null && !bare) missing.push("backing");
			if (toolFound?.driven && step.speed === undefined) missing.push("speed");
			if (work === null) missing.push("work");
			if (missing.length > 0 || abrasive === null || toolFound === null || work === null) return incomplete(missing);
			const tool = fitTool(toolFound, "sanding", abrasive.item?.diameterMm ?? backing?.item?.diameterMm);
			return {
				...base,
				kind: "abrasive",
				tool,
				abrasive,
				backing,
				interfaceMm: step.interfaceMm ?? 0,
				wetness: step.wetness ?? null,
				speed: speedOf(step.speed, tool),
				work,
				hand: handlingOf(step, tool, "sanding"),
			};
		}
		case "liquid": {
			const missing: StepField[] = [];
			if (toolFound === null) missing.push("tool");
			if (pad === null) missing.push("pad");
			if (liquid === null) missing.push("liquid");
			if (toolFound?.driven && step.speed === undefined) missing.push("speed");
			if (work === null) missing.push("work");
			if (pad === null || liquid === null || toolFound === null || missing.length > 0 || work === null)
				return incomplete(missing);
			const tool = fitTool(toolFound, "polishing", pad.item?.diameterMm);
			return {
				...base,
				kind: "liquid",
				tool,
				liquid,
				pad,
				padUse: step.padUse ?? null,
				speed: speedOf(step.speed, tool),
				work,
				hand: handlingOf(step, tool, "polishing"),
			};
		}
		case "blade": {
			const missing: StepField[] = [];
			if (toolFound === null) missing.push("tool");
			if (work === null) missing.push("work");
			if (toolFound === null || work === null) return incomplete(missing);
			return { ...base, kind: "blade", tool: fitTool(toolFound, "sanding", undefined), work };
		}
		case "wipe": {
			const wipe = step.wipe ?? (toolFound?.kind === "clay" ? "clay" : null);
			if (wipe === null) return incomplete(["wipe"]);
			return { ...base, kind: "wipe", wipe, tool: toolFound };
		}
		case "wait":
			if (step.waitMinutes === undefined && step.waitFor === undefined) return incomplete(["waitMinutes"]);
			return { ...base, kind: "wait", minutes: step.waitMinutes ?? null, waitFor: step.waitFor ?? null };
		case "reading":
			return { ...base, kind: "reading", gauge: stockItem(stock, "gauges", step.tool) ?? null, tool: toolFound };
		default:
			return { ...base, kind: would, tool: toolFound };
	}
}

/** The kind of row a stage makes; without a stage, the kind that the filled fields tell. */
function kindOf(step: Step, tool: ToolKind | undefined): Exclude<RowKind, "incomplete"> | null {
	switch (step.stage) {
		case "level":
		case "sand":
		case "refine":
			return tool !== undefined && bladeKinds.includes(tool) ? "blade" : "abrasive";
		case "compound":
		case "polish":
		case "finish":
			return "liquid";
		case "clean":
		case "wipe":
			return "wipe";
		case "measure":
			return "reading";
		case "inspect":
			return "inspection";
		case "wait":
			return "wait";
		case "mask":
		case "seal":
			return "setup";
	}
	if (step.abrasive !== undefined) return "abrasive";
	if (step.liquid !== undefined || step.pad !== undefined) return "liquid";
	if (step.wipe !== undefined || tool === "clay") return "wipe";
	if (step.waitMinutes !== undefined || step.waitFor !== undefined) return "wait";
	if (tool !== undefined && bladeKinds.includes(tool)) return "blade";
	if (tool === "gauge") return "reading";
	if (tool === "lamp") return "inspection";
	return null;
}

const kindWords = {
	tool: new Set<string>(enumerations.ToolKind),
	backing: new Set<string>(enumerations.BackingKind),
	pad: new Set<string>(enumerations.PadKind),
	liquid: new Set<string>(enumerations.LiquidClass),
};

function findPad(text: string, { stock }: Shop): Pad | undefined {
	const item = stockItem(stock, "pads", text);
	if (item) return { kind: item.kind, item };
	return kindWords.pad.has(text) ? { kind: text as PadKind, item: null } : undefined;
}

function findBacking(text: string, { stock }: Shop): Backing | undefined {
	const item = stockItem(stock, "backings", text);
	if (item) return { kind: item.kind, item };
	return kindWords.backing.has(text) ? { kind: text as BackingKind, item: null } : undefined;
}

function findLiquid(text: string, { stock }: Shop): Liquid | undefined {
	const item = stockItem(stock, "liquids", text);
	if (item) return { class: item.class, item };
	return kindWords.liquid.has(text) ? { class: text as LiquidClass, item: null } : undefined;
}

/**
 * An abrasive of the stock, else one known by its grade; an unknown grade is handed back as such. A stock item whose
 * grade no published table has is known by the median that the stock gives.
 */
function findAbrasive(text: string, step: Step, { stock, book }: Shop): Abrasive | UnknownGrade | undefined {
	const item = stockItem(stock, "abrasives", text) ?? null;
	const grade = gradeOf(item, readGrade(item?.grade ?? text, book.gradeScale));
	if (grade === null) return undefined;
	if (grade.kind === "unknown") return grade;
	return {
		item,
		grade,
		medianUm: item?.medianUm ?? grade.um,
		carrier: item?.carrier ?? step.carrier ?? null,
		holes: item?.holes ?? step.holes ?? null,
		form: item?.form ?? null,
		lifeM2: item?.lifeM2 ?? null,
	};
}

function gradeOf(item: AbrasiveItem | null, read: Grade | UnknownGrade | null): Grade | UnknownGrade | null {
	if (read?.kind === "grade" || item?.medianUm === undefined) return read;
	return { kind: "grade", text: read?.text ?? item.grade, scale: "um", um: item.medianUm, bare: false };
}

/** A tool of the stock, a gauge of the stock, or a kind of tool; sizes are filled when its use is known. */
function findTool(text: string, { stock }: Shop): Tool | undefined {
	const item = stockItem(stock, "tools", text) ?? null;
	const kind = item?.kind ?? (stockItem(stock, "gauges", text) ? "gauge" : kindWords.tool.has(text) ? text : undefined);
	if (kind === undefined) return undefined;
	const driven = drivenKinds.includes(kind as ToolKind);
	return {
		kind: kind as ToolKind,
		item,
		driven,
		drive: item?.drive ?? (driven ? null : "hand"),
		extraction: item?.extraction ?? null,
		wetUse: item?.wetUse ?? null,
		diameterMm: item?.diameterMm ?? null,
		orbitMm: item?.orbitMm ?? null,
		turnsPerOrbit: 0,
		face: null,
	};
}

type Use = "sanding" | "polishing";

interface ToolDefault {
	diameterMm?: number;
	orbitMm?: number;
	discRpmPerOpm?: number;
	alongMm?: number;
	acrossMm?: number;
	strokeMm?: number;
	forceN: number;
	overlap: number;
	armSpeedMs?: number;
}

function defaultsFor(kind: ToolKind, use: Use): ToolDefault | undefined {
	return toolDefaults.find((entry) => entry.kind === kind && entry.use === use);
}

/** The tool with the size of what is on it, else its own, else the default of its kind and use. */
function fitTool(tool: Tool, use: Use, mountedMm: number | undefined): Tool {
	const usual = defaultsFor(tool.kind, use);
	if (usual === undefined) return tool;
	const { alongMm, acrossMm, strokeMm } = usual;
	return {
		...tool,
		diameterMm: tool.driven ? (mountedMm ?? tool.diameterMm ?? usual.diameterMm ?? null) : null,
		orbitMm: tool.orbitMm ?? usual.orbitMm ?? null,
		turnsPerOrbit: usual.discRpmPerOpm ?? 0,
		face:
			alongMm === undefined || acrossMm === undefined || strokeMm === undefined
				? null
				: { alongMm, acrossMm, strokeMm },
	};
}

function handlingOf(step: Step, tool: Tool, use: Use): Handling {
	const usual = defaultsFor(tool.kind, use);
	return {
		forceN: step.forceN ?? usual?.forceN ?? 30,
		overlap: step.overlap ?? usual?.overlap ?? 0.5,
		armSpeedMs: tool.driven ? (step.armSpeedMs ?? usual?.armSpeedMs ?? null) : null,
	};
}

/** Null where nothing is set, or where a dial mark is not in the tool's table. */
function speedOf(speed: Speed | undefined, tool: Tool): RowSpeed | null {
	if (speed === undefined) return null;
	const orbital = tool.kind === "random-orbital" || tool.kind === "gear-orbital";
	if (speed.unit === "dial") {
		const ends = [dialValue(tool.item, speed.low), dialValue(tool.item, speed.high)] as const;
		if (ends[0] === null || ends[1] === null) return null;
		const [low, high] = inOrder(ends[0], ends[1]);
		return { unit: orbital ? "opm" : "rpm", low, high, mid: (low + high) / 2, asSet: speed };
	}
	const [low, high] = inOrder(speed.low, speed.high);
	// Shops write rpm for an orbital's orbits; the number means the same motion.
	const unit = orbital && speed.unit === "rpm" ? "opm" : speed.unit;
	return { unit, low, high, mid: (low + high) / 2, asSet: speed };
}

/** Speed at a dial mark: as the table has it, straight between two marks, null outside it. */
function dialValue(item: ToolItem | null, mark: number): number | null {
	const dial = (item?.dial ?? []).toSorted((a, b) => a.mark - b.mark);
	const above = dial.findIndex((entry) => entry.mark >= mark);
	const upper = dial[above];
	if (upper === undefined) return null;
	if (upper.mark === mark) return upper.value;
	const lower = dial[above - 1];
	if (lower === undefined) return null;
	return lower.value + ((upper.value - lower.value) * (mark - lower.mark)) / (upper.mark - lower.mark);
}

/** Null where nothing is set, or a unit without its figure. */
function workOf(work: Work | undefined): RowWork | null {
	if (work === undefined) return null;
	if (work.unit === "until-flush") return { unit: work.unit, low: null, high: null, mid: null };
	const from = work.low ?? work.high;
	const to = work.high ?? work.low;
	if (from === undefined || to === undefined) return null;
	const [low, high] = inOrder(from, to);
	return { unit: work.unit, low, high, mid: (low + high) / 2 };
}

/** A range typed backwards means the same. */
function inOrder(one: number, other: number): [number, number] {
	return one <= other ? [one, other] : [other, one];
}
