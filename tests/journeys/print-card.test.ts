import { describe, expect, it } from "vitest";
import { journeys } from "./journey.ts";

const journey = journeys();

/** Pages of a PDF: each has an object of that type. */
function pagesOf(pdf: Buffer): number {
	return pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

describe("the bench card", () => {
	it.each(["A4", "Letter"])("is laid out in the browser, and prints each side on one page of %s", async (paper) => {
		const { page, server, context, look } = journey;
		await page.goto(`${server.address}/books/quillfeather/procedures/peel-panel-discs`);
		await page.getByRole("grid").waitFor();
		await page.getByRole("button", { name: "Print card" }).click();
		const dialog = page.getByRole("dialog");
		await dialog.waitFor();
		await dialog.getByLabel(paper, { exact: false }).first().check();
		const frame = await (await page.locator("gw-print iframe").elementHandle())?.contentFrame();
		if (!frame) throw new Error("the card has no frame");
		await frame.getByText("Orange peel or dry spray").first().waitFor();
		await look(`print-card-${paper.toLowerCase()}`);
		const markup = await frame.content();
		expect(markup).toContain("P1500");
		const sides = await frame.locator("article").count();

		const alone = await context.newPage();
		await alone.setContent(markup);
		const pdf = await alone.pdf({ preferCSSPageSize: true });
		expect(sides).toBeGreaterThan(0);
		expect(pagesOf(pdf)).toBe(sides);
	});
});
