/**
 * What the first look costs: JavaScript over the wire, first paint of the Shelf, and the time until a Sheet takes a
 * first key; from loopback, nothing in the cache, medians of several visits.
 */
import { copyBooks, launch, removeBooks, serve } from "../open-workbench.mjs";

const visits = 7;

export async function firstViews() {
	const browser = await launch();
	const folder = copyBooks();
	const server = await serve(folder);
	try {
		const shelf = await visit(browser, `${server.address}/books/quillfeather`, "gw-shelf a[href*='/procedures/']");
		const sheet = await visit(
			browser,
			`${server.address}/books/quillfeather/procedures/peel-panel-discs`,
			"gw-grid [row-index='0'] [col-id='work']",
			typeFirst,
		);
		console.log(`First views, nothing cached, medians of ${visits} visits`);
		console.log(
			`  Shelf  ${kB(shelf.bytes)} JavaScript, first paint ${shelf.paint.toFixed(0)} ms, cards ${shelf.ready.toFixed(0)} ms   (aim: 120 kB, 500 ms)`,
		);
		console.log(
			`  Sheet  ${kB(sheet.bytes)} JavaScript, takes a key after ${sheet.ready.toFixed(0)} ms   (aim: 420 kB, 1500 ms)\n`,
		);
	} finally {
		await browser.close();
		await server.stop();
		removeBooks(folder);
	}
}

async function visit(browser, address, ready, act = async () => {}) {
	const seen = [];
	for (let count = 0; count < visits; count += 1) {
		const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
		const page = await context.newPage();
		const session = await context.newCDPSession(page);
		await session.send("Network.enable");
		const scripts = new Map();
		let bytes = 0;
		session.on("Network.responseReceived", ({ requestId, type }) => scripts.set(requestId, type === "Script"));
		// Bodies as they cross the wire, without the headers of the answers.
		session.on("Network.dataReceived", ({ requestId, encodedDataLength }) => {
			if (scripts.get(requestId)) bytes += encodedDataLength;
		});
		await page.goto(address, { waitUntil: "commit" });
		await page.locator(ready).first().waitFor();
		await act(page, ready);
		const atReady = await page.evaluate(() => performance.now());
		const paint = await page.evaluate(
			() => performance.getEntriesByName("first-contentful-paint")[0]?.startTime ?? Number.NaN,
		);
		seen.push({ bytes, paint, ready: atReady });
		await context.close();
	}
	const median = (pick) => seen.map(pick).toSorted((a, b) => a - b)[Math.floor(visits / 2)];
	return { bytes: median((one) => one.bytes), paint: median((one) => one.paint), ready: median((one) => one.ready) };
}

async function typeFirst(page, cell) {
	await page.locator(cell).first().click();
	await page.keyboard.type("3");
	await page.locator(`${cell} input`).first().waitFor();
}

function kB(bytes) {
	return `${(bytes / 1000).toFixed(0)} kB`;
}
