import { randomBytes } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { getMimeType } from "hono/utils/mime";
import { guardHeaders, problemReply } from "./reply.ts";

/** What stands in the built page wherever the nonce of the response belongs. */
const placeholder = "__nonce__";

/** The page of the workbench, the same at every address of a view; read anew each time, since a build may change it. */
export function workbenchPage(workbench: string): Response {
	let page: string;
	try {
		page = readFileSync(join(workbench, "index.html"), "utf8");
	} catch {
		return problemReply("not-built");
	}
	const nonce = randomBytes(18).toString("base64");
	return htmlReply(page.replaceAll(placeholder, nonce), [
		"default-src 'none'",
		`script-src 'self' 'nonce-${nonce}'`,
		`style-src 'self' 'nonce-${nonce}'`,
		"img-src 'self' data:",
		"font-src 'self' data:",
		"connect-src 'self'",
		"worker-src 'self'",
		"frame-src 'self'",
		"base-uri 'none'",
		"form-action 'none'",
		"frame-ancestors 'none'",
	]);
}

/** An empty page for the workbench to lay out paper in: inline styles, no script, nothing from anywhere. */
export function paperPage(): Response {
	return htmlReply(
		'<!doctype html>\n<html lang="en">\n<head><meta charset="utf-8"><title>Gritwright</title></head>\n<body></body>\n</html>\n',
		[
			"default-src 'none'",
			"style-src 'unsafe-inline'",
			"base-uri 'none'",
			"form-action 'none'",
			"frame-ancestors 'self'",
		],
	);
}

/**
 * A file of the built workbench, by its listed name; packed where the asker takes that. Names carry a digest of the
 * content, so that it may be kept for good.
 */
export function asset(workbench: string, name: string, acceptsGzip: boolean): Response {
	const folder = join(workbench, "assets");
	let names: string[];
	try {
		names = readdirSync(folder);
	} catch {
		return problemReply("no-such-page");
	}
	if (!names.includes(name)) return problemReply("no-such-page");
	const packed = acceptsGzip && names.includes(`${name}.gz`);
	return new Response(readFileSync(join(folder, packed ? `${name}.gz` : name)), {
		headers: {
			...guardHeaders,
			"content-type": getMimeType(name) ?? "application/octet-stream",
			"cache-control": "public, max-age=31536000, immutable",
			vary: "accept-encoding",
			...(packed ? { "content-encoding": "gzip" } : {}),
		},
	});
}

function htmlReply(page: string, policy: readonly string[]): Response {
	return new Response(page, {
		headers: {
			...guardHeaders,
			"content-type": "text/html; charset=utf-8",
			"cache-control": "no-store",
			"content-security-policy": policy.join("; "),
		},
	});
}
