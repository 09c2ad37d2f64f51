import { describe, expect, it } from "vitest";
import { journeys } from "./journey.ts";

const journey = journeys();

/** Puts a text on the clipboard of the page and pastes it, as a spreadsheet's block would come. */
async function paste(text: string): Promise<void> {
	await journey.page.evaluate((text) => {
		const data = new DataTransfer();
		data.setData("text/plain", text);
		let target: Element | null = document.activeElement;
		while (target?.shadowRoot?.activeElement) target = target.shadowRoot.activeElement;
		target?.dispatchEvent(
			new ClipboardEvent("paste", { clipboardData: data, bubbles: true, composed: true, cancelable: true }),
		);
	}, text);
}

describe("a shop lead with a sheet of the shop's own", () => {
	it("pastes a block with a header into the rows, sees what each column became, and takes it back with one undo", async () => {
		const { page, server, look } = journey;
		await page.goto(`${server.address}/books/quillfeather/procedures/scratch-section`);
		await journey.cell(1, "stage").click();
		const before = await journey.texts(1);
		await paste("Step\tGrit\tPad\tPasses\nsand\tP1500\tfirm plate\t3x\nsand\tP2500 film\tfoam?\t2-3\n");
		await page.getByRole("dialog").waitFor();
		await look("mapping-preview");
		await page.getByRole("button", { name: /^Paste 2 rows/ }).click();
		await expect.poll(() => journey.texts(1)).toMatchObject({ stage: "sand", abrasive: "P1500" });
		await look("pasted");
		await page.keyboard.press("Control+z");
		await expect.poll(() => journey.texts(1)).toEqual(before);
	});

	it("starts a procedure from a pasted sheet", async () => {
		const { page, server, look } = journey;
		await page.goto(`${server.address}/books/quillfeather`);
		await page.getByRole("button", { name: "New procedure" }).click();
		await page.getByRole("radio", { name: "from a sheet you have" }).check();
		await page
			.getByRole("textbox", { name: /sheet/i })
			.last()
			.fill(
				"Door nib, from the wall\nStage;Grit;Backing;Wet/dry;Passes\nlevel;P2000;hard block;wet;until flush\nrefine;P3000;soft pad;damp;3\n",
			);
		await page.getByRole("button", { name: "See what each column becomes" }).click();
		await page.getByRole("button", { name: "Start with these 2 rows" }).click();
		await page.getByRole("grid").waitFor();
		expect(await journey.texts(1)).toMatchObject({ stage: "level", abrasive: "P2000" });
		await look("from-a-sheet");
	});

	it("mends a finding by one press and takes the mending back", async () => {
		const { page, server, look } = journey;
		await page.goto(`${server.address}/books/quillfeather/procedures/peel-panel-discs`);
		await journey.cell(4, "work").click();
		await page.keyboard.type("later");
		await page.keyboard.press("Enter");
		const finding = page.getByRole("button", { name: /stop\s*Row 4/ });
		await finding.waitFor();
		await look("a-finding");
		expect((await journey.texts(4)).work).toContain("later");
		await page.keyboard.press("Control+z");
		await finding.waitFor({ state: "detached" });
		expect((await journey.texts(4)).work).not.toContain("later");
	});
});
