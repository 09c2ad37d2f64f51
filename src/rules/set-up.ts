import type { Defect } from "../model/defects.ts";
import type { AbrasiveRow, ResolvedRow } from "../model/resolve.ts";

/** What makes a set-up soft. */
export type SoftPart = "abrasive" | "interfaceMm" | "backing";

/** The row that is the first to meet a hard proud defect, where its set-up is soft; null where it is firm or a blade. */
export function softOnHard(
	{ position, hard }: Defect,
	rows: readonly ResolvedRow[],
): { row: AbrasiveRow; soft: SoftPart } | null {
	if (position !== "proud" || !hard) return null;
	// An edge strip is worked for its own sake: the defect is not there.
	const row = rows.find(({ kind, place }) => (kind === "abrasive" || kind === "blade") && place !== "edge-strip");
	const soft = row?.kind === "abrasive" ? softPartOf(row) : null;
	return soft === null ? null : { row: row as AbrasiveRow, soft };
}

/** What makes a set-up soft; null for a firm one, and for the bare hand, of which another rule speaks. */
export function softPartOf({ backing, interfaceMm, abrasive }: AbrasiveRow): SoftPart | null {
	if (backing === null) return null;
	if (abrasive.carrier === "foam") return "abrasive";
	if (interfaceMm > 0) return "interfaceMm";
	return backing.kind === "soft-plate" || backing.kind === "sponge-pad" ? "backing" : null;
}
