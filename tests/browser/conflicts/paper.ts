import "axe-core/axe.min.js";
import { css, html, LitElement } from "lit";
import { controls, tokens } from "../../../src/workbench/style/tokens.ts";

/** A landmark with the colours of the workbench, to put an element on. */
class Paper extends LitElement {
	static override styles = [
		tokens,
		controls,
		css`
			:host {
				display: block;
				background: var(--paper);
				color: var(--ink);
				font: var(--body);
			}
		`,
	];

	override render() {
		return html`<main><h1>A procedure</h1><slot></slot></main>`;
	}
}

customElements.define("test-paper", Paper);

export function paper(): HTMLElement {
	const element = new Paper();
	document.body.append(element);
	return element;
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
