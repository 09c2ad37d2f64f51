import table from "./data/limits.json" with { type: "json" };
import type { ClearCoat, Estimate, Limits, LimitValue, RuleSetting, Text } from "./generated/types.ts";

/** One row of the table of house limits: what it means, its default, and where the default comes from. */
export interface LimitEntry {
	key: string;
	value: number;
	low?: number;
	high?: number;
	/** `um`, `mm`, `m2`, `m/s2`, `dB(A)`, `C`; empty for a ratio. */
	unit: string;
	title: Text;
	source: string;
}

/** Every house limit with its default, in reading order. */
export const limitTable: readonly LimitEntry[] = table;

/**
 * The limits of a house: the defaults of the table, changed by what the shop's `limits.json` says.
 * Film in µm, areas in m². A clear coat without an entry (matt) has no limit: it cannot be polished back.
 */
export interface HouseLimits {
	assumedClearUm: Partial<Record<ClearCoat, Estimate>>;
	leastLeftUm: Partial<Record<ClearCoat, number>>;
	mostTakenUm: Partial<Record<ClearCoat, number>>;
	/** Share of the least clear left that is enough at an edge. */
	edgeLeastShare: number;
	gaugeErrorUm: number;
	scratchClearedUm: number;
	flushUm: number;
	gradeStepRatio: number;
	readingNeededAboveUm: number;
	hearingProtectionDb: number;
	/** Daily exposure A(8) from which action is due, and the most allowed, m/s². */
	vibrationActionMs2: number;
	vibrationLimitMs2: number;
	/** Scattered light over what the colour under the clear returns, from which haze is visible. */
	hazeVisible: number;
	/** Surface temperature from which care is due, and that ruins paint, °C; on plastic lower. */
	hotCautionC: number;
	hotStopC: number;
	hotPlasticCautionC: number;
	hotPlasticStopC: number;
	/** Panel temperature above which no work starts, °C. */
	hotStartC: number;
	spotMm: number;
	sectionM2: number;
	panelM2: number;
	edgeStripM2: number;
	blendZoneM2: number;
	/** How the shop has set single rules, by rule id. */
	rules: Record<string, RuleSetting>;
}

/**
 * The limits in force for a shop.
 *
 * @param limits the shop's file, as read; keys that are no limit are left out (a rule names them)
 */
export function houseLimits(limits?: Limits): HouseLimits {
	const house: Record<string, unknown> = { rules: limits?.rules ?? {} };
	for (const entry of limitTable) {
		const { value, low, high } = set(entry, limits?.values?.[entry.key]);
		const [name = "", kind] = entry.key.split(".");
		if (kind === undefined) {
			house[name] = value;
			continue;
		}
		const perKind = (house[name] ??= {}) as Record<string, unknown>;
		perKind[kind] = low === undefined || high === undefined ? value : { mid: value, low, high };
	}
	return house as unknown as HouseLimits;
}

/** A middle that a shop sets alone takes the usual interval with it: it must lie inside. */
function set(entry: LimitEntry, own: LimitValue | undefined): Pick<LimitEntry, "value" | "low" | "high"> {
	if (own === undefined || entry.low === undefined || entry.high === undefined) return { ...entry, ...own };
	const by = own.value - entry.value;
	return { value: own.value, low: own.low ?? Math.max(0, entry.low + by), high: own.high ?? entry.high + by };
}
