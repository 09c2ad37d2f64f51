import type { IncompleteRow, LiquidRow, ResolvedRow } from "../model/resolve.ts";
import { oncePerRows, surfacesUnder } from "./chains.ts";

/** Consecutive liquid rows on one place: each with every one before it whose surface it finds as it was left. */
export const liquidPairs = oncePerRows((rows): readonly { from: LiquidRow; to: LiquidRow }[] =>
	rows.flatMap((to) => {
		if (to.kind !== "liquid") return [];
		return surfacesUnder(to, rows).flatMap((from) => (from.kind === "liquid" ? [{ from, to }] : []));
	}),
);

/** Whether two rows may work the same liquid: by item where both name one, else by class. */
export function mayBeSameLiquid({ liquid: one }: LiquidRow, { liquid: other }: LiquidRow): boolean {
	return one.item && other.item ? one.item.id === other.item.id : one.class === other.class;
}

/** Name of a row's liquid on the shelf, else its class, which `say.label("liquid", …)` puts into words. */
export function liquidName({ liquid }: LiquidRow): string {
	return liquid.item?.name ?? liquid.class;
}

/** Name of a row's pad on the shelf, else its kind, which `say.label("pad", …)` puts into words. */
export function padName({ pad }: LiquidRow): string {
	return pad.item?.name ?? pad.kind;
}

/**
 * Whether one empty cell is all that a liquid row lacks. Such a row has a rule of its own that says what the panel
 * suffers; a row that lacks more, or whose cell holds a text that could not be read, is for the record group.
 */
export function lacksOnly(field: "pad" | "liquid", row: ResolvedRow): row is IncompleteRow {
	return (
		row.kind === "incomplete" &&
		row.would === "liquid" &&
		row.missing.length === 1 &&
		row.missing[0] === field &&
		row.step[field] === undefined &&
		row.step.asTyped?.[field] === undefined
	);
}
