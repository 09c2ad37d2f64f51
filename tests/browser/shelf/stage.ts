import type { LitElement } from "lit";
import { stage, themes } from "../stage.ts";

export { themes };

/** An element as the workbench would show it, its properties set. */
export async function onStage<Element extends LitElement>(
	tag: string,
	properties: Partial<Element>,
	theme: (typeof themes)[number] = "light",
): Promise<Element> {
	const element = Object.assign(document.createElement(tag) as Element, properties);
	stage(theme).append(element);
	await element.updateComplete;
	return element;
}

export function clearStage(): void {
	document.body.replaceChildren();
}

interface Axe {
	run(context: unknown): Promise<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[] }>;
}

/** What the accessibility check complains of, one line each. */
export async function complaints(context: unknown): Promise<string[]> {
	const { violations } = await (globalThis as unknown as { axe: Axe }).axe.run(context);
	return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html} ${node.failureSummary}`));
}

/** The text that a person sees, shadow roots included, blanks joined. */
export function seen(element: Element): string {
	return words(element).replace(/\s+/g, " ").trim();
}

function words(node: Node): string {
	if (node instanceof Text) return node.data;
	if (node instanceof HTMLStyleElement || (node instanceof HTMLElement && node.hidden)) return "";
	const root = node instanceof Element ? node.shadowRoot : null;
	const parts = [...(root ?? node).childNodes].map(words);
	const isBlock =
		node instanceof Element && !["inline", "inline-block", "inline-flex"].includes(getComputedStyle(node).display);
	return isBlock ? ` ${parts.join("")} ` : parts.join("");
}

/** Where the focus is, through shadow roots. */
export function focused(): Element | null {
	let one = document.activeElement;
	while (one?.shadowRoot?.activeElement) one = one.shadowRoot.activeElement;
	return one;
}

/** Waits until something holds, for as long as a slow machine may need. */
export async function until(holds: () => unknown, what: string): Promise<void> {
	for (let turn = 0; turn < 400; turn += 1) {
		if (holds()) return;
		await new Promise((resolve) => setTimeout(resolve, 10));
	}
	throw new Error(`it never came to pass that ${what}`);
}
