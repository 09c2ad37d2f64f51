import type { Level } from "../../model/finding.ts";

/** The mark of each level, which stands beside its word and its colour. */
export const levelMarks: Record<Level, string> = { stop: "■", caution: "▲", advice: "●" };
