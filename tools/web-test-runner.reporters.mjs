/** What the browser tests count and refuse. */
import { writeFileSync } from "node:fs";

/**
 * Counts the tests and, where a path is given, writes how many passed and failed in the form of the other runner's
 * report. The grid library only logs what it was told wrongly; here every such line is a failed test.
 */
export function countReporter(path) {
	return {
		onTestRunFinished({ sessions }) {
			const counts = { numPassedTests: 0, numFailedTests: 0 };
			for (const { testFile, testResults, errors = [], passed, logs = [] } of sessions) {
				const tests = testResults ? testsOf(testResults) : [];
				counts.numPassedTests += tests.filter((test) => test.passed).length;
				counts.numFailedTests += tests.filter((test) => !test.passed && !test.skipped).length;
				// A file that did not load has no tests to fail.
				if (!passed && (errors.length > 0 || tests.length === 0)) counts.numFailedTests += 1;
				const complaints = logs
					.flat()
					.map(String)
					.filter((line) => line.startsWith("AG Grid:"));
				for (const line of complaints) console.error(`${testFile}: ${line}`);
				counts.numFailedTests += complaints.length;
			}
			if (counts.numFailedTests > 0) process.exitCode = 1;
			if (path) writeFileSync(path, JSON.stringify(counts));
		},
	};
}

function testsOf({ tests, suites }) {
	return [...tests, ...suites.flatMap(testsOf)];
}
