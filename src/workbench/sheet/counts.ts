import type { Finding, Level } from "../../model/finding.ts";

/** How many of some findings are of each level, those accepted left out. */
export function countByLevel(findings: readonly Finding[]): Record<Level, number> {
	const counts: Record<Level, number> = { stop: 0, caution: 0, advice: 0 };
	for (const { level, accepted } of findings) if (accepted === null) counts[level] += 1;
	return counts;
}
