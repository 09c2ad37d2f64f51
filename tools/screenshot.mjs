/** `npm run screenshot`: the Sheet as README shows it, from the built product and a demo book. */
import { join } from "node:path";
import { build } from "./build.mjs";
import { copyBooks, launch, removeBooks, serve } from "./open-workbench.mjs";
import { installChromium, installPackages, root } from "./set-up.mjs";

installPackages();
await installChromium();
await build();
const folder = copyBooks();
const server = await serve(folder);
const browser = await launch();
try {
	const page = await browser.newPage({ viewport: { width: 1400, height: 860 }, locale: "en-GB" });
	await page.goto(`${server.address}/books/quillfeather/procedures/peel-panel-discs`);
	await page.locator(`gw-grid [row-index="4"] [col-id="abrasive"]`).first().click();
	// Coarser than the row before, so that findings stand where they belong.
	await page.keyboard.type("p800");
	await page.keyboard.press("Enter");
	await page.getByText("Row 5").first().waitFor();
	await page.waitForTimeout(500);
	await page.screenshot({ path: join(root, "tools/screenshots/sheet.png") });
} finally {
	await browser.close();
	await server.stop();
	removeBooks(folder);
}
