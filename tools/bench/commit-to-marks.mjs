/**
 * How long a committed cell takes to show what it did: from the event that commits it to a message posted in the
 * first animation frame after the new marks are in the document. Beside it the same edit in the bare grid, in the
 * same browser, which is the floor: most of it is the wait for the next frame.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import { join } from "node:path";
import { copyBooks, launch, removeBooks, serve } from "../open-workbench.mjs";
import { root } from "../set-up.mjs";

const sizes = [12, 100, 500];
const warmUps = 20;
const edits = 200;
/** Two texts in turn, one of which no rule lets pass: each commit makes marks appear or go. */
const texts = ["zzz", "3"];

/** Measures product and bare grid at every size and prints both. */
export async function commitToMarks() {
	const browser = await launch();
	const bare = await serveBareGrid();
	const folder = copyBooks();
	for (const size of sizes) writeLongProcedure(folder, size);
	const server = await serve(folder);
	try {
		console.log(`Commit of a cell to its marks, ${edits} edits after ${warmUps} to warm up, ms`);
		console.log(`  Chromium ${browser.version()}`);
		for (const size of sizes) {
			const floor = await measure(
				browser,
				`${bare.address}/?rows=${size}&columns=12`,
				"#grid",
				`[row-index="0"] [col-id="column6"]`,
				false,
			);
			const product = await measure(
				browser,
				`${server.address}/books/quillfeather/procedures/${idOf(size)}`,
				"gw-grid",
				`[row-index="0"] [col-id="work"]`,
				true,
			);
			console.log(
				`  ${String(size).padStart(3)} rows   sheet: median ${ms(product, 0.5)}, 95 % below ${ms(product, 0.95)}   bare grid: median ${ms(floor, 0.5)}, 95 % below ${ms(floor, 0.95)}`,
			);
		}
	} finally {
		await browser.close();
		await server.stop();
		bare.close();
		removeBooks(folder);
	}
}

async function measure(browser, address, host, cell, isMarked) {
	const page = await browser.newPage({ viewport: { width: 1600, height: 900 } });
	await page.goto(address);
	await page.locator(`${host} ${cell}`).first().waitFor();
	await page.evaluate(watch, { host, cell, isMarked });
	await page.locator(`${host} ${cell}`).first().click();
	for (let edit = 0; edit < warmUps + edits; edit += 1) {
		const text = texts[edit % texts.length];
		await page.evaluate((text) => globalThis.expectText(text), text);
		await page.keyboard.type(text);
		await page.keyboard.press("Enter");
		await page.waitForFunction((count) => globalThis.samples.length > count, edit);
		await page.keyboard.press("ArrowUp");
	}
	const samples = await page.evaluate(() => globalThis.samples);
	await page.close();
	return samples.slice(warmUps);
}

/** Runs in the page: notes the time of each commit, and of the message after the frame that follows its marks. */
function watch({ host, cell, isMarked }) {
	const element = document.querySelector("gw-workbench") ? deep(document, host) : document.querySelector(host);
	const within = element.shadowRoot ?? element;
	const channel = new MessageChannel();
	let committed = 0;
	let expected = null;
	globalThis.samples = [];
	globalThis.expectText = (text) => {
		expected = text;
	};
	channel.port2.addEventListener("message", () => globalThis.samples.push(performance.now() - committed));
	channel.port2.start();
	globalThis.addEventListener(
		"keydown",
		(event) => {
			if (event.key === "Enter") committed = performance.now();
		},
		true,
	);
	new MutationObserver(() => {
		if (expected === null || committed === 0) return;
		const shown = within.querySelector(cell);
		if (shown === null || shown.querySelector("input") !== null) return;
		if (!shown.textContent.includes(expected)) return;
		if (isMarked && /[■▲●]/.test(shown.textContent) !== (expected === "zzz")) return;
		expected = null;
		requestAnimationFrame(() => channel.port1.postMessage(null));
	}).observe(within, { subtree: true, childList: true, attributes: true, characterData: true });

	function deep(from, name) {
		const found = from.querySelector(name);
		if (found) return found;
		for (const one of from.querySelectorAll("*")) {
			const inside = one.shadowRoot && deep(one.shadowRoot, name);
			if (inside) return inside;
		}
		return null;
	}
}

/** A procedure of that many rows out of the rows of a demo procedure. */
function writeLongProcedure(folder, size) {
	const path = join(folder, "quillfeather");
	const source = JSON.parse(readFileSync(join(path, "peel-panel-discs.procedure.json"), "utf8"));
	const steps = Array.from({ length: size }, (_, index) => ({
		...source.steps[index % source.steps.length],
		id: `row${String(index).padStart(7, "0")}`,
	}));
	const long = { ...source, id: idOf(size), steps, exceptions: [] };
	writeFileSync(join(path, `${idOf(size)}.procedure.json`), JSON.stringify(long));
}

function idOf(size) {
	return `long-${size}`;
}

async function serveBareGrid() {
	const { build } = await import("vite");
	const { output } = await build({
		root: join(root, "tools/bench/bare"),
		configFile: false,
		logLevel: "error",
		build: { write: false, modulePreload: false },
	});
	const files = new Map(output.map((file) => [`/${file.fileName}`, file.code ?? file.source]));
	const server = createServer((request, response) => {
		const path = new URL(request.url, "http://localhost").pathname;
		const body = files.get(path === "/" ? "/index.html" : path);
		response.statusCode = body === undefined ? 404 : 200;
		response.setHeader("content-type", path.endsWith(".js") ? "text/javascript" : "text/html");
		response.end(body ?? "");
	});
	await new Promise((resolve) => server.listen(0, "127.0.0.1", resolve));
	return { address: `http://127.0.0.1:${server.address().port}`, close: () => server.close() };
}

function ms(samples, share) {
	const sorted = samples.toSorted((a, b) => a - b);
	return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))].toFixed(1);
}
