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
	await page.locator(`gw-grid [row-index="5"] [col-id="work"]`).first().click();
	// A row that does not clear the scratches before it, so that a finding stands where it belongs.
	await page.keyboard.type("1x");
	await page.keyboard.press("Enter");
	await page.getByText("Row 6").first().waitFor();
	await page.waitForTimeout(500);
	await page.screenshot({ path: join(root, "tools/screenshots/sheet.png") });
} finally {
	await browser.close();
	await server.stop();
	removeBooks(folder);
}
