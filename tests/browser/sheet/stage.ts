import { expect } from "@esm-bundle/chai";
import { html, type LitElement, render, type TemplateResult } from "lit";
import etch from "../../../procedures/quillfeather/spot-etch-section.procedure.json" with { type: "json" };
import peel from "../../../procedures/quillfeather/peel-panel-discs.procedure.json" with { type: "json" };
import type { Procedure } from "../../../src/model/generated/types.ts";
import { problemOf } from "../../../src/model/problem.ts";
import { type Opening, type Refused, SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import type { DraftKeeper } from "../../../src/workbench/store/draft.ts";
import { problemDetails } from "../../../src/api/problems.ts";
import { demoShop, noDrafts, stage } from "../stage.ts";

export { expect };

export const shop = demoShop();
/** Fifteen rows, nothing of level stop in it. */
export const peelPanel = peel as unknown as Procedure;
/** Has a finding of level stop that somebody who signs has accepted. */
export const etchSection = etch as unknown as Procedure;

/** What the server was given to save. */
export const saves: Procedure[] = [];

/** The real store, over a server and drafts in memory. */
export function storeOf(
	procedure: Procedure,
	some: Partial<Opening> = {},
	{ drafts = noDrafts, answers = true, onDisk }: { drafts?: DraftKeeper; answers?: boolean; onDisk?: Procedure } = {},
): SheetStore {
	return new SheetStore(
		{ book: "quillfeather", shop, procedure, etag: '"1"', readOnly: [], ...some },
		{
			server: {
				procedure: () => Promise.resolve({ procedure: onDisk ?? procedure, readOnly: [], etag: '"3"' }),
				save: async (_book, _id, saved, etag): Promise<{ etag: string } | Refused> => {
					if (onDisk !== undefined && etag !== '"3"')
						return {
							refused: {
								type: "about:blank",
								title: "Changed",
								status: 412,
								code: "changed-meanwhile",
								detail: "Changed.",
							},
						};
					if (!answers) return { refused: problemDetails("no-answer") };
					saves.push(saved);
					return { etag: '"2"' };
				},
			},
			drafts,
			today: () => "2026-06-10",
			person: () => "Ines Marlow",
			random: () => 0.5,
		},
	);
}

/** A browser that keeps no drafts. */
export const brokenDrafts: DraftKeeper = {
	...noDrafts,
	keep: () => Promise.resolve(problemOf("drafts-not-kept", null)),
};

let paper: HTMLElement | null = null;

/** Shows an element on paper, and hands back the one that the selector names. */
export async function show<E extends HTMLElement>(content: TemplateResult, selector: string): Promise<E> {
	clear();
	paper = stage();
	render(html`<main>${content}</main>`, paper);
	const element = paper.querySelector<E>(selector);
	if (element === null) throw new Error(`nothing matches ${selector}`);
	await (element as unknown as LitElement).updateComplete;
	return element;
}

export function clear(): void {
	paper?.remove();
	paper = null;
}

/** Inside an element's shadow root. */
// oxlint-disable-next-line typescript/no-unnecessary-type-parameters -- the caller says what it looks for
export function within<E extends Element = HTMLElement>(element: Element, selector: string): E {
	const found = element.shadowRoot?.querySelector<E>(selector);
	if (!found) throw new Error(`${element.localName} has no ${selector}`);
	return found;
}

export function all<E extends Element = HTMLElement>(element: Element, selector: string): E[] {
	return [...(element.shadowRoot?.querySelectorAll<E>(selector) ?? [])];
}

/** The button with these words in it. */
export function button(element: Element, words: RegExp): HTMLButtonElement {
	const found = all<HTMLButtonElement>(element, "button").find((one) => words.test(textOf(one)));
	if (!found) throw new Error(`${element.localName} has no button ${words}`);
	return found;
}

export function textOf(element: Element): string {
	return (element.textContent ?? "").replace(/\s+/g, " ").trim();
}

/** Everything in an element's shadow root as one text. */
export function shown(element: Element): string {
	const copy = document.createElement("div");
	copy.append(...[...(element.shadowRoot?.childNodes ?? [])].map((node) => node.cloneNode(true)));
	for (const style of copy.querySelectorAll("style")) style.remove();
	return textOf(copy);
}

/** Waits until something holds. */
export async function until(holds: () => boolean, what: string): Promise<void> {
	const end = Date.now() + 5000;
	while (!holds()) {
		if (Date.now() > end) throw new Error(`it never came: ${what}`);
		await new Promise((resolve) => setTimeout(resolve, 15));
	}
}

interface AxeViolation {
	id: string;
	nodes: { html: string; failureSummary?: string }[];
}

/** Accessible in light and in dark. */
export async function expectAccessible(element: HTMLElement): Promise<void> {
	for (const theme of ["light", "dark"]) {
		paper?.setAttribute("theme", theme);
		const { axe } = globalThis as unknown as {
			axe: { run: (node: unknown, options: object) => Promise<{ violations: AxeViolation[] }> };
		};
		const { violations } = await axe.run(element, { rules: { region: { enabled: false } } });
		const said = violations.map(
			({ id, nodes }) => `${id}: ${nodes.map((node) => `${node.html} ${node.failureSummary}`).join("; ")}`,
		);
		expect(said, theme).to.deep.equal([]);
	}
	paper?.setAttribute("theme", "light");
}
