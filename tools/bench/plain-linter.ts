import spectral from "@stoplight/spectral-core";
import functions from "@stoplight/spectral-functions";
import parsers from "@stoplight/spectral-parsers";

const fields = ["tool", "work", "stage", "edges", "speed", "abrasive", "backing", "pad", "liquid", "wipe"];

/** A general-purpose JSON rule linter with 20 trivial rules: ten fields of every row, each looked at in two ways. */
export function plainLinter(): (text: string) => Promise<unknown> {
	const linter = new spectral.Spectral();
	linter.setRuleset({
		rules: Object.fromEntries(
			fields.flatMap((field) => [
				[`${field}-there`, { given: "$.steps[*]", then: { field, function: functions.truthy } }],
				[`${field}-alone`, { given: `$.steps[*].${field}`, then: { function: functions.defined } }],
			]),
		),
	});
	return (text) => linter.run(new spectral.Document(text, parsers.Json, "procedure.json"));
}
