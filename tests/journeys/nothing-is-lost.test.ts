import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { journeys } from "./journey.ts";

const journey = journeys();
const id = "scratch-section";
const address = () => `${journey.server.address}/books/quillfeather/procedures/${id}`;
const file = () => join(journey.server.folder, "quillfeather", `${id}.procedure.json`);

async function type(row: number, column: string, text: string): Promise<void> {
	await journey.cell(row, column).click();
	await journey.page.keyboard.type(text);
	await journey.page.keyboard.press("Enter");
}

const saved = () => journey.page.getByText("Saved", { exact: true }).first().waitFor();

describe("nothing typed is lost", () => {
	it("when the page is closed with a cell open: the next one offers the draft, the open text included", async () => {
		const { page, context, look } = journey;
		await page.goto(address());
		await type(2, "work", "4x");
		await journey.cell(3, "speed").click();
		await page.keyboard.type("55");
		await page.waitForTimeout(100);
		await page.close({ runBeforeUnload: false });

		journey.page = await context.newPage();
		await journey.page.goto(address());
		await journey.page.getByText(/55/).first().waitFor();
		await look("draft-offered");
		await journey.page.getByRole("button", { name: "Go on with it" }).click();
		await expect.poll(async () => (await journey.texts(2)).work).toContain("4 passes");
		await expect.poll(() => journey.page.locator("gw-grid input").first().inputValue()).toBe("55");
	});

	it("when the page is loaded again: its own draft is there at once, with its undo", async () => {
		const { page } = journey;
		await page.goto(address());
		const before = await journey.cell(2, "work").innerText();
		await type(2, "work", "4x");
		await page.waitForTimeout(500);
		await page.reload();
		await expect.poll(async () => (await journey.texts(2)).work).toContain("4 passes");
		await page.getByRole("button", { name: "Undo typing" }).click();
		await expect.poll(() => journey.cell(2, "work").innerText()).toBe(before);
	});

	it("when the server is dead at a save: it says so, and the next save writes", async () => {
		const { page, server, look } = journey;
		await page.goto(address());
		await type(2, "work", "4x");
		const { port } = new URL(server.address);
		await server.kill();
		await page.keyboard.press("Control+s");
		await page
			.getByText(/does not answer/)
			.first()
			.waitFor();
		await look("server-dead");
		await journey.restart(Number(port));
		await page.keyboard.press("Control+s");
		await saved();
		expect(JSON.parse(readFileSync(file(), "utf8")).steps[1].work).toEqual({ unit: "passes", low: 4, high: 4 });
	});

	it("when the file changed on disk meanwhile: both are joined, and a place both changed is asked about", async () => {
		const { page, look } = journey;
		await page.goto(address());
		await type(2, "work", "4x");
		const theirs = JSON.parse(readFileSync(file(), "utf8"));
		theirs.steps[1].work = { unit: "passes", low: 6, high: 6 };
		theirs.notes = { en: "Written beside." };
		writeFileSync(file(), `${JSON.stringify(theirs, null, 2)}\n`);

		await page.keyboard.press("Control+s");
		await page.getByRole("button", { name: /^Take theirs: / }).waitFor();
		await look("conflict");
		expect(JSON.parse(readFileSync(file(), "utf8")).steps[1].work.low).toBe(6);
		await page.getByRole("button", { name: /^Keep mine: / }).click();
		await page.getByRole("button", { name: "Save now" }).click();
		await saved();
		const joined = JSON.parse(readFileSync(file(), "utf8"));
		expect(joined.steps[1].work.low).toBe(4);
		expect(joined.notes).toEqual({ en: "Written beside." });
	});

	it("when two pages write the same procedure: each keeps its own draft", async () => {
		const { page, context } = journey;
		await page.goto(address());
		await type(2, "work", "4x");
		const other = await context.newPage();
		await other.goto(address());
		await other.locator("gw-grid [row-index='1'] [col-id='work']").first().waitFor();
		const shown = await other.locator("gw-grid [row-index='1'] [col-id='work']").first().innerText();
		expect(shown).not.toContain("4 passes");
		await other.locator("gw-grid [row-index='1'] [col-id='work']").first().click();
		await other.keyboard.type("7x");
		await other.keyboard.press("Enter");
		await other.waitForTimeout(500);
		await page.reload();
		await expect.poll(async () => (await journey.texts(2)).work).toContain("4 passes");
	});

	it("when an unchanged procedure is saved: no byte of its file changes", async () => {
		const { page } = journey;
		const before = readFileSync(file(), "utf8");
		await page.goto(address());
		await journey.cell(1, "stage").waitFor();
		await page.keyboard.press("Control+s");
		await page.waitForTimeout(500);
		expect(readFileSync(file(), "utf8")).toBe(before);
	});
});
