import type { ServerProblemCode } from "../api/problems.ts";
import { problemDetails } from "../api/problems.ts";
import type { Problem } from "../model/problem.ts";

/** Headers of every answer: nothing of it may be guessed, framed, shared with other origins or told to them. */
export const guardHeaders: Readonly<Record<string, string>> = {
	"x-content-type-options": "nosniff",
	"referrer-policy": "no-referrer",
	"cross-origin-opener-policy": "same-origin",
	"cross-origin-resource-policy": "same-origin",
	"content-security-policy": "default-src 'none'; frame-ancestors 'none'",
};

/** An answer that says what went wrong (RFC 9457). */
export function problemReply(
	code: ServerProblemCode,
	problem?: Problem,
	headers: Record<string, string> = {},
): Response {
	const details = problemDetails(code, problem);
	return new Response(JSON.stringify(details), {
		status: details.status,
		headers: { ...guardHeaders, "content-type": "application/problem+json", "cache-control": "no-store", ...headers },
	});
}

/** An answer with data; asked for anew each time, unless the asker names the ETag it has. */
export function dataReply(data: unknown, status: 200 | 201 = 200, headers: Record<string, string> = {}): Response {
	return new Response(JSON.stringify(data), {
		status,
		headers: { ...guardHeaders, "content-type": "application/json", "cache-control": "no-cache", ...headers },
	});
}
