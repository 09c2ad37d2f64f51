import { describe, expect, it } from "vitest";
import table from "../../src/api/data/problems.json" with { type: "json" };
import { problemDetails, sayProblemDetails, type ServerProblemCode } from "../../src/api/problems.ts";
import { problemOf } from "../../src/model/problem.ts";

const codes = Object.keys(table) as ServerProblemCode[];

describe("a problem of the server", () => {
	it.each(codes)("%s has a sentence of its own in each language, and a status that says it failed", (code) => {
		const { status, en, es } = table[code];
		expect(en).not.toBe(es);
		for (const sentence of [en, es]) expect(sentence).toMatch(/^\p{Lu}.*\.$/u);
		expect(code === "no-answer" ? status === 0 : status >= 400 && status < 600).toBe(true);
		expect(codes.filter((other) => table[other].en === en)).toEqual([code]);
	});

	it("says in the reader's language what exactly was wrong, where that is known", () => {
		const details = problemDetails("not-valid", problemOf("no-id", null));
		expect(details.detail).toBe(sayProblemDetails(details, "en"));
		expect(sayProblemDetails(details, "es")).toMatch(/^Lo enviado .* El archivo no tiene id/);
		expect(sayProblemDetails(problemDetails("busy"), "es")).toBe(table.busy.es);
	});

	it("keeps the words of a problem that this program does not know", () => {
		const newer = { ...problemDetails("fault"), code: "too-new", detail: "Said by a newer server." };
		expect(sayProblemDetails(newer, "es")).toBe("Said by a newer server.");
	});
});
