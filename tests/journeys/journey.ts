import { mkdirSync } from "node:fs";
import { join } from "node:path";
import type { Browser, BrowserContext, Locator, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, expect } from "vitest";
import { copyBooks, launch, removeBooks, serve } from "../../tools/open-workbench.mjs";

/** A person at the workbench: a browser with one page open on a server that has a copy of the demo books. */
export interface Journey {
	page: Page;
	context: BrowserContext;
	browser: Browser;
	server: Awaited<ReturnType<typeof serve>>;
	/** What pages said on their consoles that no page may say; empty at the end of every journey. */
	complaints: string[];
	/** Looks at the page, and keeps what is seen under that name. */
	look(name: string): Promise<void>;
	/** Follows another page of the same journey. */
	watch(page: Page): void;
	/** The cell of a row, from 1, in the column named by its first field. */
	cell(row: number, column: string): Locator;
	/** What the cells of a row show, by column. */
	texts(row: number): Promise<Record<string, string>>;
	/** Puts the focus into the first column of a row, from 1. */
	backTo(row: number): Promise<void>;
	/** Starts the server again on the same books, at that port. */
	restart(port: number): Promise<void>;
}

const screenshots = join(import.meta.dirname, "../../dist/screenshots");

/** A fresh journey for each test of a file; the browser is one for all. */
export function journeys(viewport = { width: 1280, height: 800 }): Journey {
	const journey = { complaints: [] as string[] } as Journey;
	beforeAll(async () => {
		mkdirSync(screenshots, { recursive: true });
		journey.browser = await launch();
	});
	afterAll(() => journey.browser.close());

	beforeEach(async () => {
		journey.complaints = [];
		journey.server = await serve(copyBooks());
		journey.context = await journey.browser.newContext({ viewport, reducedMotion: "reduce" });
		journey.watch = (page) => {
			page.on("console", (message) => {
				const text = message.text();
				if (text.startsWith("AG Grid:") || /Content Security Policy|Refused to/.test(text))
					journey.complaints.push(text);
			});
			page.on("pageerror", (error) => journey.complaints.push(String(error.stack ?? error)));
		};
		journey.context.on("page", journey.watch);
		journey.page = await journey.context.newPage();
		journey.look = async (name) => {
			await journey.page.screenshot({ path: join(screenshots, `${name}.png`) });
		};
		journey.cell = (row, column) =>
			journey.page.locator(`gw-grid [row-index="${row - 1}"] [col-id="${column}"]`).first();
		journey.texts = async (row) => {
			const cells = await journey.page.locator(`gw-grid [row-index="${row - 1}"] [col-id]`).all();
			const entries = cells.map(async (cell) => [await cell.getAttribute("col-id"), (await cell.innerText()).trim()]);
			return Object.fromEntries(await Promise.all(entries)) as Record<string, string>;
		};
		journey.backTo = async (row) => {
			await journey.cell(row, "stage").click();
		};
		journey.restart = async (port) => {
			journey.server = await serve(journey.server.folder, port);
		};
	});

	afterEach(async () => {
		await journey.context.close();
		await journey.server.stop();
		removeBooks(journey.server.folder);
		expect(journey.complaints).toEqual([]);
	});
	return journey;
}
