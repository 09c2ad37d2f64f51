import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { hostname } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { lockName } from "../../src/book/lock.ts";
import { canonicalText } from "../../src/model/canonical.ts";
import { startServer } from "../../src/server/server.ts";
import { nib, nibPath, servedBook } from "./served-book.ts";

const served = servedBook();
const etagNow = async () => String((await served.send("GET", nibPath)).headers.etag);
const fileNow = () => readFileSync(join(served.shop, "nib.procedure.json"), "utf8");

describe("PUT over a known state", () => {
	it("writes the canonical form, and answers with the ETag the file has now", async () => {
		const changed = { ours: 1, ...nib, title: { es: "Mota", en: "Nib again" } };
		const saved = await served.put(nibPath, JSON.stringify(changed), { "if-match": await etagNow() });
		expect([saved.status, saved.json]).toEqual([200, { id: "nib" }]);
		expect(fileNow()).toBe(canonicalText("procedure", changed));
		expect(saved.headers.etag).toBe(await etagNow());
		expect(readdirSync(served.shop).toSorted()).toEqual(["book.json", "nib.procedure.json"]);
	});

	it("takes half-typed rows, and values the schema does not allow", async () => {
		const half = {
			...nib,
			steps: [{ id: "a" }, { id: "b", stage: "buff", asTyped: { speed: "quick" } }, { stage: 1 }],
		};
		expect((await served.put(nibPath, JSON.stringify(half), { "if-match": await etagNow() })).status).toBe(200);
		expect((await served.send("GET", nibPath)).json.value).toEqual(half);
	});

	it("takes any of several ETags", async () => {
		const list = `"${"0".repeat(64)}", ${await etagNow()}`;
		expect((await served.put(nibPath, JSON.stringify(nib), { "if-match": list })).status).toBe(200);
	});

	it("answers one of two that build on the same state, and the other with 412", async () => {
		const etag = await etagNow();
		const texts = ["one", "two"].map((title) => JSON.stringify({ ...nib, title: { en: title } }));
		const replies = await Promise.all(texts.map((text) => served.put(nibPath, text, { "if-match": etag })));
		expect(replies.map(({ status }) => status).toSorted((a, b) => a - b)).toEqual([200, 412]);
		const won = replies.findIndex(({ status }) => status === 200);
		expect(fileNow()).toBe(canonicalText("procedure", JSON.parse(texts[won] ?? "")));
	});

	it("loses nothing where two servers write to one folder", async () => {
		const other = await startServer(
			{
				books: served.books,
				workbench: served.workbench,
				today: () => "2026-03-02",
				onFault: (failure) => served.faults.push(failure),
			},
			0,
		);
		if ("refused" in other) throw new Error(other.refused);
		const add = async (address: string, count: number) => {
			for (let done = 0; done < count; ) {
				const got = await fetch(`${address.slice(0, -1)}${nibPath}`);
				const { value } = (await got.json()) as { value: typeof nib };
				const saved = await fetch(`${address.slice(0, -1)}${nibPath}`, {
					method: "PUT",
					headers: {
						origin: address.slice(0, -1),
						"content-type": "application/json",
						"if-match": got.headers.get("etag") ?? "",
					},
					body: JSON.stringify({ ...value, revision: (value.revision ?? 0) + 1 }),
				});
				if (saved.ok) done += 1;
				else expect(saved.status).toBe(412);
			}
		};
		await Promise.all([add(served.server.address, 15), add(other.address, 15), add(served.server.address, 15)]);
		await other.close();
		expect((await served.send("GET", nibPath)).json.value.revision).toBe(45);
	});
});

describe("PUT of a new procedure", () => {
	it("creates its file, which then is listed", async () => {
		const saved = await served.put("/api/books/shop/procedures/new-one", JSON.stringify({ ...nib, id: "new-one" }), {
			"if-none-match": "*",
		});
		expect([saved.status, saved.json]).toEqual([201, { id: "new-one" }]);
		const { json } = await served.send("GET", "/api/books/shop/procedures");
		expect(json.procedures.map(({ id }: { id: string }) => id)).toEqual(["new-one", "nib"]);
	});

	it("answers one of two with the same id, and the other with 412", async () => {
		const text = JSON.stringify({ ...nib, id: "new-one" });
		const replies = await Promise.all(
			[0, 1].map(() => served.put("/api/books/shop/procedures/new-one", text, { "if-none-match": "*" })),
		);
		expect(replies.map(({ status }) => status).toSorted((a, b) => a - b)).toEqual([201, 412]);
	});
});

describe("a save that is refused", () => {
	it("writes nothing while another program writes to the book, and says so", { timeout: 20_000 }, async () => {
		writeFileSync(
			join(served.shop, lockName),
			JSON.stringify({ process: process.ppid, host: hostname(), token: "theirs" }),
		);
		const before = served.files();
		const reply = await served.put(nibPath, JSON.stringify({ ...nib, title: { en: "x" } }), {
			"if-match": await etagNow(),
		});
		expect(reply).toMatchObject({ status: 503, json: { code: "busy" } });
		expect(served.files()).toEqual(before);
	});
});
