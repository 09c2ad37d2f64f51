import { Forecasts } from "../forecast/forecasts.ts";
import type { Finding } from "../model/finding.ts";
import type { Situation } from "../model/situations.ts";
import { type Case, judge } from "../rules/judge.ts";
import { rules } from "../rules/generated/rules.ts";
import { type ForecastReport, reportOf } from "./forecast-report.ts";

/** A procedure judged and forecast. */
export interface Assessment {
	/** In the reading order of `judge`. */
	findings: Finding[];
	report: ForecastReport;
}

/**
 * The one pipeline: what `judge` finds and what `forecastReport` says, from rows resolved and forecasts made once.
 *
 * @param asked values on some axes for the report, each in the scope; findings are always those of every situation
 */
export function assess(one: Case, asked: Situation = {}): Assessment {
	const forecasts = new Forecasts(one.procedure, one.shop);
	return { findings: judge(one, rules, forecasts), report: reportOf(forecasts, asked) };
}
