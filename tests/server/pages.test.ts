import { rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { beforeEach, describe, expect, it } from "vitest";
import { routes, views } from "../../src/api/routes.ts";
import { servedBook } from "./served-book.ts";

const served = servedBook();
const script = "console.log(1);\n".repeat(100);

beforeEach(() => {
	writeFileSync(
		join(served.workbench, "index.html"),
		'<meta property="csp-nonce" nonce="__nonce__"><script type="module" src="/assets/index-abc.js" nonce="__nonce__"></script>',
	);
	writeFileSync(join(served.workbench, "assets/index-abc.js"), script);
	writeFileSync(join(served.workbench, "assets/index-abc.js.gz"), gzipSync(script));
	writeFileSync(join(served.workbench, "assets/index-abc.css"), "a { color: red }");
});

describe("the page of the workbench", () => {
	it.each([
		"/",
		views.shelf("shop"),
		views.shelf("a shop ü"),
		views.sheet("shop", "nib"),
		views.newSheet("shop", "0123"),
		`${views.shelf("shop")}/`,
	])("stands at the address of each view: %s", async (path) => {
		const { status, headers, text } = await served.send("GET", path);
		expect(status).toBe(200);
		expect(headers).toMatchObject({ "content-type": "text/html; charset=utf-8", "cache-control": "no-store" });
		expect(text).toContain("/assets/index-abc.js");
	});

	it("carries a nonce of its own in each response, the one its policy names", async () => {
		const nonces = await Promise.all(
			[0, 1].map(async () => {
				const { headers, text } = await served.send("GET", "/");
				const inPage = [...text.matchAll(/nonce="([^"]+)"/g)].map(([, nonce]) => nonce);
				expect(new Set(inPage).size).toBe(1);
				expect(inPage).toHaveLength(2);
				expect(headers["content-security-policy"]).toContain(`style-src 'self' 'nonce-${inPage[0]}'`);
				return inPage[0];
			}),
		);
		expect(nonces[0]).not.toBe(nonces[1]);
		expect(nonces[0]).toMatch(/^[A-Za-z0-9+/]{24}$/);
	});

	it("lets no script in but its own, and frames nothing and is framed by nobody else", async () => {
		const policy = String((await served.send("GET", "/")).headers["content-security-policy"]);
		expect(policy).toMatch(/default-src 'none'; script-src 'self' 'nonce-[^']+';/);
		expect(policy).not.toMatch(/unsafe|\*|http/);
		for (const part of ["base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'", "connect-src 'self'"])
			expect(policy).toContain(part);
	});

	it("says what to do where it has not been built", async () => {
		rmSync(served.workbench, { recursive: true });
		expect(await served.send("GET", "/")).toMatchObject({ status: 503, json: { code: "not-built" } });
		expect((await served.send("GET", "/assets/index-abc.js")).status).toBe(404);
	});
});

describe("the built files", () => {
	it("come packed to one who takes that, plain to others, to be kept for good", async () => {
		const plain = await served.send("GET", "/assets/index-abc.js");
		expect(plain.text).toBe(script);
		expect(plain.headers).toMatchObject({
			"content-type": expect.stringContaining("javascript"),
			"cache-control": "public, max-age=31536000, immutable",
			vary: "accept-encoding",
		});
		const packed = await fetch(`http://${served.host}/assets/index-abc.js`, { headers: { "accept-encoding": "gzip" } });
		expect(packed.headers.get("content-encoding")).toBe("gzip");
		expect(await packed.text()).toBe(script);
	});

	it("come plain where no packed copy lies beside, each with its type", async () => {
		const reply = await served.send("GET", "/assets/index-abc.css", { headers: { "accept-encoding": "gzip" } });
		expect(reply).toMatchObject({
			status: 200,
			text: "a { color: red }",
			headers: { "content-type": expect.stringContaining("text/css") },
		});
		expect(reply.headers["content-encoding"]).toBeUndefined();
	});
});

it("has an empty page for paper: inline styles, no script, framed by its own pages only", async () => {
	const { status, headers, text } = await served.send("GET", routes.paper());
	expect(status).toBe(200);
	expect(headers["content-security-policy"]).toMatch(
		/^default-src 'none'; style-src 'unsafe-inline';.*frame-ancestors 'self'$/,
	);
	expect(text).toMatch(/<body><\/body>/);
	expect(text).not.toContain("<script");
});
