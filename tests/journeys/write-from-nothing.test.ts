import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { journeys } from "./journey.ts";

const journey = journeys();

describe("a shop lead", () => {
	it("writes a procedure from nothing by keyboard, mends it, saves it and sees it on the Shelf", async () => {
		const { page, server, look } = journey;
		await page.goto(`${server.address}/books/quillfeather`);
		await page.getByRole("button", { name: "New procedure" }).click();
		await page.getByRole("textbox", { name: "Title" }).fill("Scuffs on a bumper, by hand");
		await page.getByRole("checkbox", { name: "scuff", exact: true }).check();
		await look("new-procedure");
		await page.getByRole("button", { name: "Start writing" }).click();
		await page.getByRole("grid").waitFor();

		const typed = [
			["sand", "p2000 film", "soft plate", "damp", "random orbital", "5000-6000 opm", "3x"],
			["compound", "", "foam firm", "medium cut", "random orbital", "5000 opm", "3"],
			["inspect"],
		];
		await journey.cell(1, "stage").click();
		for (const row of typed) {
			for (const text of row) {
				if (text !== "") await page.keyboard.type(text);
				await page.keyboard.press("Tab");
			}
			await journey.backTo(typed.indexOf(row) + 2);
		}
		await look("written-from-nothing");
		expect(await journey.texts(1)).toMatchObject({
			stage: "sand",
			abrasive: "P2000",
			work: expect.stringContaining("3"),
		});

		await page.keyboard.press("Control+s");
		await page.getByText("Saved", { exact: true }).first().waitFor();
		const file = join(server.folder, "quillfeather", "scuffs-on-a-bumper-by-hand.procedure.json");
		const saved = JSON.parse(readFileSync(file, "utf8"));
		expect(saved.steps[0]).toMatchObject({ stage: "sand", abrasive: "P2000", carrier: "film", wetness: "damp" });
		expect(new URL(page.url()).pathname).toBe("/books/quillfeather/procedures/scuffs-on-a-bumper-by-hand");

		await page.getByRole("link", { name: /Shelf/ }).first().click();
		await page.getByRole("link", { name: "Scuffs on a bumper, by hand" }).waitFor();
		await look("shelf-with-the-new-one");
	});
});
