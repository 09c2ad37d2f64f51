import type { Procedure } from "../../../src/model/generated/types.ts";
import type { Language } from "../../../src/model/words.ts";
import "../../../src/workbench/facts/facts.ts";
import type { Facts } from "../../../src/workbench/facts/facts.ts";
import { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { demoShop, noDrafts, stage, type themes } from "../stage.ts";

export { demoShop };

/** The real store, with nothing behind it that keeps anything. */
export function storeOf(procedure: Procedure, shop = demoShop(), isNew = false): SheetStore {
	return new SheetStore(
		{ book: shop.book.id, shop, procedure, etag: isNew ? null : '"1"', readOnly: [] },
		{
			server: {
				procedure: async () => ({ procedure, readOnly: [], etag: '"1"' }),
				save: async () => ({ etag: '"2"' }),
			},
			drafts: noDrafts,
			today: () => "2026-09-01",
			person: () => "Ines Marlow",
			random: Math.random,
		},
	);
}

/** Puts the element on the page and waits until it is there. */
export async function show(
	store: SheetStore,
	language: Language = "en",
	theme: (typeof themes)[number] = "light",
): Promise<Facts> {
	document.body.replaceChildren();
	const facts = document.createElement("gw-facts");
	facts.store = store;
	facts.language = language;
	stage(theme).append(facts);
	await facts.updateComplete;
	return facts;
}

/** Every part unfolded. */
export async function unfold(facts: Facts): Promise<void> {
	for (const part of parts) await facts.goTo(part);
	for (const fold of all<HTMLDetailsElement>(facts, "details.chooser, details.other")) fold.open = true;
	await settled(facts);
}

/** Waits until the element shows the store. */
export async function settled(facts: Facts): Promise<void> {
	await facts.updateComplete;
	await new Promise((resolve) => setTimeout(resolve));
	await facts.updateComplete;
}

export const parts = [
	"scope",
	"film",
	"cure",
	"setUp",
	"wear",
	"startWhen",
	"giveUpWhen",
	"exceptions",
	"title",
	"purpose",
	"variantOf",
	"chooseWhen",
	"notes",
	"state",
	"revision",
	"revisionDate",
	"methodChanged",
	"writtenBy",
	"reviewBy",
	"sources",
];

export function all<E extends Element = HTMLElement>(facts: Facts, selector: string): E[] {
	return [...facts.renderRoot.querySelectorAll<E>(selector)];
}

/** The one element that a selector finds; throws where there is none. */
export function one(facts: Facts, selector: string): HTMLElement {
	const found = facts.renderRoot.querySelector<HTMLElement>(selector);
	if (found === null) throw new Error(`nothing is ${selector}`);
	return found;
}

/** The field of a pointer. */
export function field(facts: Facts, pointer: string): HTMLInputElement {
	return one(facts, `[id="field${pointer}"]`) as HTMLInputElement;
}

/** The text of the sentences that describe a field. */
export function described(facts: Facts, element: Element): string {
	const ids = element.getAttribute("aria-describedby")?.split(" ") ?? [];
	return ids.map((id) => one(facts, `[id="${id}"]`).textContent?.replace(/\s+/g, " ").trim()).join(" ");
}

/** Fails with what axe finds on the page. */
export async function expectAccessible(): Promise<void> {
	const { violations } = await axe.run(document.body, { rules: { region: { enabled: false } } });
	const said = violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html: at }) => at).join("\n")}`);
	if (said.length > 0) throw new Error(said.join("\n\n"));
}

declare const axe: {
	run(context: Element, options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
};
