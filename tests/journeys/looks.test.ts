import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { journeys } from "./journey.ts";

const journey = journeys();
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** What is wrong for people who see, hear or move otherwise, in one line each. */
async function barriers(): Promise<string[]> {
	await journey.page.evaluate(axe);
	return journey.page.evaluate(async () => {
		const { axe } = globalThis as unknown as { axe: { run(): Promise<{ violations: Violation[] }> } };
		interface Violation {
			id: string;
			nodes: { target: unknown }[];
		}
		const { violations } = await axe.run();
		return violations.map(({ id, nodes }) => `${id}: ${JSON.stringify(nodes[0]?.target)}`);
	});
}

const papers = [
	["desktop", 1280, 800],
	["wide", 1600, 1000],
	["tablet", 820, 1180],
	["tablet on its side", 1180, 820],
] as const;

describe.each(["light", "dark"] as const)("in the %s", (colorScheme) => {
	it.each(papers)("Shelf and Sheet fit a %s and have no barriers", async (name, width, height) => {
		const { page, server, look } = journey;
		await page.emulateMedia({ colorScheme });
		await page.setViewportSize({ width, height });
		const views = {
			shelf: `${server.address}/books/quillfeather`,
			sheet: `${server.address}/books/quillfeather/procedures/peel-panel-discs`,
		};
		for (const [view, address] of Object.entries(views)) {
			await page.goto(address);
			await page.getByText("Orange peel or dry spray").first().waitFor();
			if (view === "sheet") await journey.cell(1, "stage").waitFor();
			await look(`${view}-${name.replaceAll(" ", "-")}-${colorScheme}`);
			const beyond = await page.evaluate(
				() => document.documentElement.scrollWidth - document.documentElement.clientWidth,
			);
			expect(beyond, `${view} is wider than the screen`).toBeLessThanOrEqual(0);
			expect(await barriers(), view).toEqual([]);
		}
	});
});
