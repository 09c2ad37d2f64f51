import type { Estimate } from "../model/generated/types.ts";
import type { ResolvedRow } from "../model/resolve.ts";
import type { Contact } from "./contact.ts";
import type { Unknown } from "./outcome.ts";
import type { Removal } from "./removal.ts";
import type { Taken } from "./removal-sum.ts";

/** What a row does, as far as it does not depend on the situation. */
export interface RowTerms {
	row: ResolvedRow;
	/** It takes film off, or would if it were complete. */
	cuts: boolean;
	/** Null for a row that does not cut, and for one of which it is not known. */
	removal: Removal | null;
	/** The same where it is known, and a bound from above for work until flush. */
	atMost: Removal | null;
	/** The same at an edge, at the pressure there; null for a row that keeps off edges, too. */
	atEdge: Removal | null;
	/** Taken off by this row alone at the worst point of its place and at an edge; nothing for a row that does not cut. */
	taken: Taken | null;
	takenAtEdge: Taken | null;
	/** Depth of the scratch it leaves, µm; null where it leaves none or is not known. */
	own: Estimate | null;
	/** How it meets what is not flat; null for a row that does not cut, or whose coverage is not known. */
	contact: Contact | null;
	minutes: Estimate | null;
	/** Why its removal or its minutes are not known. */
	unknown: Unknown[];
}
