import type { CheckedFile, ReportedFinding } from "../../check/check.ts";
import { digestOf } from "../../model/digest.ts";
import type { Level } from "../../model/finding.ts";
import type { Language } from "../../model/words.ts";
import { rules } from "../../rules/generated/rules.ts";

const sarifLevel: Record<Level, "error" | "warning" | "note"> = { stop: "error", caution: "warning", advice: "note" };

/**
 * Findings as a SARIF 2.1.0 log (OASIS standard): levels stop, caution and advice as error, warning and note; bare
 * rule ids; line and column of the file as read; fingerprints that survive reordering of rows.
 */
export function sarif(files: readonly CheckedFile[], language: Language, version: string): object {
	return {
		$schema: "https://json.schemastore.org/sarif-2.1.0.json",
		version: "2.1.0",
		runs: [
			{
				tool: {
					driver: {
						name: "Gritwright",
						semanticVersion: version,
						rules: rules.map(({ id, why, level, group }) => ({
							id,
							shortDescription: { text: why[language] ?? id },
							defaultConfiguration: { level: sarifLevel[level] },
							properties: { group },
						})),
					},
				},
				columnKind: "utf16CodeUnits",
				results: files.flatMap((file) => file.findings.map((finding) => resultOf(file, finding))),
			},
		],
	};
}

function resultOf({ path, procedure }: CheckedFile, finding: ReportedFinding): object {
	const { rule, level, message, line, column, accepted, rowId, field, situations, data, pointer } = finding;
	return {
		ruleId: rule,
		ruleIndex: rules.findIndex(({ id }) => id === rule),
		level: sarifLevel[level],
		message: { text: message },
		locations: [
			{
				physicalLocation: {
					artifactLocation: { uri: uriOf(path) },
					...(line === null ? {} : { region: { startLine: line, startColumn: column ?? 1 } }),
				},
				...(pointer === null ? {} : { logicalLocations: [{ fullyQualifiedName: pointer === "" ? "/" : pointer }] }),
			},
		],
		partialFingerprints: { "ruleRowField/v1": digestOf([rule, procedure, rowId, field]).slice(0, 32) },
		...(accepted === null
			? {}
			: {
					suppressions: [{ kind: "external", status: "accepted", justification: `${accepted.by}: ${accepted.reason}` }],
				}),
		properties: { situations, data },
	};
}

/** A relative or absolute path as a URI reference. */
function uriOf(path: string): string {
	return path
		.replaceAll("\\", "/")
		.split("/")
		.map((part) => encodeURIComponent(part))
		.join("/");
}
