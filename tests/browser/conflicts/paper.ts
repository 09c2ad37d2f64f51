import { stage } from "../stage.ts";

/** A landmark with the colours of the workbench, to put an element on. */
export function paper(): HTMLElement {
	const main = document.createElement("main");
	const title = document.createElement("h1");
	title.textContent = "A procedure";
	main.append(title);
	stage().append(main);
	return main;
}

/** @throws where axe finds anything, with what and where */
export async function expectAccessible(element: Element): Promise<void> {
	const { axe } = globalThis as unknown as { axe: { run(context: Element): Promise<AxeResults> } };
	const { violations } = await axe.run(element);
	if (violations.length === 0) return;
	const found = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html: node }) => node).join(" ")}`);
	throw new Error(found.join("\n"));
}

interface AxeResults {
	violations: { id: string; nodes: { html: string }[] }[];
}
