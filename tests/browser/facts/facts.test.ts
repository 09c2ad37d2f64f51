import { expect } from "@esm-bundle/chai";
import { sendKeys, setViewport } from "@web/test-runner-commands";
import scratch from "../../../procedures/quillfeather/scratch-section.procedure.json" with { type: "json" };
import etch from "../../../procedures/quillfeather/spot-etch-section.procedure.json" with { type: "json" };
import swirl from "../../../procedures/quillfeather/swirl-light-one.procedure.json" with { type: "json" };
import { sayer } from "../../../src/rules/sayer.ts";
import { acceptEdit } from "../../../src/workbench/sheet/acceptance.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import {
	all,
	demoShop,
	described,
	expectAccessible,
	field,
	one,
	parts,
	settled,
	show,
	storeOf,
	unfold,
} from "./stage.ts";
import { themes } from "../stage.ts";

const blank: Procedure = { format: 1, id: "new-one", title: {}, steps: [{ id: "aaaaaaaaaa" }] };
const filled = scratch as unknown as Procedure;
const accepted = etch as unknown as Procedure;
const variant = swirl as unknown as Procedure;
const flawed: Procedure = {
	...filled,
	scope: { ...filled.scope, clearCoats: ["refinish", "matt"], defects: [{ defect: "crater" }, { defect: "run" }] },
	film: { known: "total-reading" },
	wear: [],
};

async function type(text: string): Promise<void> {
	await sendKeys({ press: "Control+A" });
	if (text === "") await sendKeys({ press: "Delete" });
	else await sendKeys({ type: text });
	await sendKeys({ press: "Enter" });
}

describe("gw-facts", () => {
	for (const theme of themes) {
		for (const [state, procedure] of Object.entries({
			empty: blank,
			filled,
			accepted,
			variant,
			flawed,
		})) {
			it(`passes axe when ${state}, folded and unfolded, ${theme}`, async () => {
				const facts = await show(storeOf(procedure, demoShop(), state === "empty"), "en", theme);
				await expectAccessible();
				await unfold(facts);
				await expectAccessible();
			});
		}
	}

	it("passes axe in Spanish with a text that could not be read", async () => {
		const facts = await show(storeOf(filled), "es");
		await unfold(facts);
		field(facts, "/film/underUm").focus();
		await type("gordo");
		await settled(facts);
		await expectAccessible();
	});

	it("reads like the head of a bench card while it is folded", async () => {
		const facts = await show(storeOf(filled));
		const phrases = all(facts, ".phrase").map((button) => button.textContent?.replace(/\s+/g, " ").trim());
		expect(phrases.slice(0, 5)).to.deep.equal([
			"Sanding scratch, pigtail",
			"steel, aluminium",
			"refinish, refinish fast",
			"dark, mid, light",
			"film read by total gauge",
		]);
		expect(all(facts, ".part")).to.have.length(0);
	});

	for (const part of parts) {
		it(`goes to ${part}, on the page and by the keyboard from there`, async () => {
			const facts = await show(storeOf(variant));
			await facts.goTo(part);
			const group = one(facts, `[data-summary~="${part}"]`).closest("details");
			const at = (facts.renderRoot as ShadowRoot).activeElement;
			expect(group?.open).to.equal(true);
			expect(group?.contains(at)).to.equal(true);
		});
	}

	it("opens the part of a phrase and ticks a chip by the keyboard, one undo each", async () => {
		const store = storeOf(blank, demoShop(), true);
		const facts = await show(store);
		const phrase = all<HTMLButtonElement>(facts, ".phrase").find((button) => button.textContent?.includes("no tone"));
		phrase?.focus();
		await sendKeys({ press: "Enter" });
		await settled(facts);
		const dark = (facts.renderRoot as ShadowRoot).activeElement as HTMLInputElement;
		expect(dark.value).to.equal("dark");
		await sendKeys({ press: "Space" });
		await settled(facts);
		expect(store.state.procedure.scope).to.deep.equal({ tones: ["dark"] });
		expect(dark.checked).to.equal(true);
		store.undo();
		await settled(facts);
		expect(store.state.procedure.scope).to.equal(undefined);
		expect(dark.checked).to.equal(false);
	});

	it("marks findings at their phrase, their part and their field, with a word for readers", async () => {
		const facts = await show(storeOf(flawed));
		const clearCoats = all(facts, ".phrase").find((button) => button.textContent?.includes("matt"));
		expect(clearCoats?.textContent).to.match(/■\s*stop/);
		await facts.goTo("scope");
		const chips = one(facts, '[data-pointer="/scope/clearCoats"]');
		expect(described(facts, chips)).to.match(/matt/i);
		expect(described(facts, one(facts, '[data-pointer="/scope/tones"]'))).not.to.match(/matt/i);
		expect(one(facts, '[data-group="scope"] summary').textContent).to.contain("stop");
	});
});

describe("the scope", () => {
	it("adds a defect by its box and says what it is, and takes it out again", async () => {
		const store = storeOf(blank, demoShop(), true);
		const facts = await show(store);
		await facts.goTo("scope");
		one(facts, 'input[value="crater"]').focus();
		await sendKeys({ press: "Space" });
		await settled(facts);
		expect(store.state.procedure.scope?.defects).to.deep.equal([{ defect: "crater", goal: "gone" }]);
		expect(one(facts, ".elements").textContent).to.contain("not polishable");
		one(facts, '[data-act="out/scope/defects/0"]').focus();
		await sendKeys({ press: "Enter" });
		await settled(facts);
		expect(store.state.procedure.scope).to.equal(undefined);
		expect((facts.renderRoot as ShadowRoot).activeElement?.tagName).to.equal("SUMMARY");
	});

	it("shows the size of the table greyed until one is typed", async () => {
		const store = storeOf({ ...blank, scope: { defects: [{ defect: "dirt-nib" }] } }, demoShop(), true);
		const facts = await show(store);
		await facts.goTo("scope");
		const size = field(facts, "/scope/defects/0/um");
		expect(size.placeholder).to.equal("table: 35 (20–60) µm");
		size.focus();
		await type("30 ± 5");
		await settled(facts);
		expect(store.state.procedure.scope?.defects?.[0]?.um).to.deep.equal({ mid: 30, low: 25, high: 35 });
		expect(size.value).to.equal("30 (25–35) µm");
	});

	it("leaves situations out by values chosen first, never all of them", async () => {
		const store = storeOf(filled);
		const facts = await show(store);
		await unfold(facts);
		const add = one(facts, '[data-add="/scope/except"]') as HTMLButtonElement;
		expect(add.disabled).to.equal(true);
		const light = all<HTMLInputElement>(facts, '[data-pointer="/scope/except"] input[value="light"]')[0];
		light?.focus();
		await sendKeys({ press: "Space" });
		await settled(facts);
		add.focus();
		await sendKeys({ press: "Enter" });
		await settled(facts);
		expect(store.state.procedure.scope?.except).to.deep.equal([{ tone: ["light"] }]);
		one(facts, '[data-act="out/scope/except/0"]').click();
		await settled(facts);
		expect(store.state.procedure.scope).not.to.have.property("except");
	});
});

describe("film", () => {
	it("takes lengths as people type them, and shows them in the reader's form", async () => {
		const store = storeOf(filled, demoShop("mil"));
		const facts = await show(store, "es");
		await facts.goTo("film");
		const under = field(facts, "/film/underUm");
		expect(under.value).to.equal("4,13 (3,54–4,72) mil");
		under.focus();
		await type("100 ± 10 µm");
		await settled(facts);
		expect(store.state.procedure.film?.underUm).to.deep.equal({ mid: 100, low: 90, high: 110 });
		expect(under.value).to.equal("3,94 (3,54–4,33) mil");
	});

	it("changes nothing where a rounded figure was only looked at", async () => {
		const store = storeOf(filled, demoShop("mil"));
		const facts = await show(store);
		await facts.goTo("film");
		field(facts, "/film/underUm").focus();
		await sendKeys({ press: "Tab" });
		expect(store.state.undo).to.equal(null);
	});

	it("keeps a text it cannot read, with a sentence, through changes and folds, until it is mended", async () => {
		const store = storeOf(filled);
		const facts = await show(store);
		await facts.goTo("film");
		field(facts, "/film/underUm").focus();
		await type("rather thick");
		await settled(facts);
		expect(store.state.procedure).to.equal(filled);
		store.change([{ op: "setPart", pointer: "/writtenBy", from: filled.writtenBy, to: "Ada" }], "part");
		await settled(facts);
		one(facts, ".all").click();
		await settled(facts);
		await facts.goTo("film");
		const under = field(facts, "/film/underUm");
		expect(under.value).to.equal("rather thick");
		expect(under.getAttribute("aria-invalid")).to.equal("true");
		expect(one(facts, '[role="status"]').textContent).to.contain("rather thick");
		expect(described(facts, under)).to.contain("“rather thick” is kept here").and.contain("105 (90–120) µm");
		expect(one(facts, '[data-group="film"] summary').textContent).to.contain("1 text not read");
		under.focus();
		await type("100");
		await settled(facts);
		expect(store.state.procedure.film?.underUm).to.deep.equal({ mid: 100, low: 100, high: 100 });
		expect(field(facts, "/film/underUm").hasAttribute("aria-invalid")).to.equal(false);
	});

	it("shows the house's own figure for each clear coat until one is set", async () => {
		const store = storeOf(filled);
		const facts = await show(store);
		await unfold(facts);
		const refinish = field(facts, "/film/assumed/refinish");
		expect(refinish.placeholder).to.match(/^house: \d+ \(\d+–\d+\) µm$/);
		refinish.focus();
		await type("60 (50–70)");
		await settled(facts);
		expect(store.state.procedure.film?.assumed).to.deep.equal({ refinish: { mid: 60, low: 50, high: 70 } });
		field(facts, "/film/assumed/refinish").focus();
		await type("");
		await settled(facts);
		expect(store.state.procedure.film).not.to.have.property("assumed");
	});

	it("shows an invalid value as it stands in the file", async () => {
		const odd = { ...filled, film: { known: "total-reading", underUm: "about 100" } } as unknown as Procedure;
		const facts = await show(storeOf(odd));
		await facts.goTo("film");
		expect(field(facts, "/film/underUm").value).to.equal("about 100");
	});
});

describe("cure, set-up and gear", () => {
	it("takes degrees Fahrenheit and days", async () => {
		const store = storeOf({ ...filled, cure: { hours: 24 } });
		const facts = await show(store);
		await facts.goTo("cure");
		await type("2 days");
		await sendKeys({ press: "Tab" });
		await type("140 °F");
		await sendKeys({ press: "Tab" });
		await type("35");
		await settled(facts);
		expect(store.state.procedure.cure).to.deep.equal({ hours: 48, bake: { celsius: 60, minutes: 35 } });
		expect(store.state.readable.cure).to.deep.equal({ hours: 48, bake: { celsius: 60, minutes: 35 } });
	});

	it("ticks gear, names its filter, and takes it off again", async () => {
		const store = storeOf(blank, demoShop(), true);
		const facts = await show(store);
		await facts.goTo("wear");
		await sendKeys({ press: "Space" });
		await settled(facts);
		field(facts, "/wear/0/filter").focus();
		await type("A2P3");
		await settled(facts);
		expect(store.state.procedure.wear).to.deep.equal([{ item: "respirator", filter: "A2P3" }]);
		one(facts, '[data-act="out/wear/0"]').click();
		await settled(facts);
		expect(store.state.procedure).not.to.have.property("wear");
	});

	it("says whether extraction is at hand", async () => {
		const store = storeOf(blank, demoShop(), true);
		const facts = await show(store);
		await facts.goTo("setUp");
		await sendKeys({ type: "at" });
		await settled(facts);
		expect(store.state.procedure.setUp).to.deep.equal({ extraction: true });
	});
});

describe("conditions", () => {
	it("adds, words, orders and takes out by the keyboard, and follows with the focus", async () => {
		const store = storeOf({ ...filled, startWhen: [{ text: { en: "Panel is cool" } }] });
		const facts = await show(store);
		await facts.goTo("startWhen");
		one(facts, '[data-add="/startWhen"]').focus();
		await sendKeys({ press: "Enter" });
		await settled(facts);
		expect(store.state.undo).to.equal(null);
		await type("Panel is clean");
		await settled(facts);
		expect(store.state.procedure.startWhen).to.deep.equal([
			{ text: { en: "Panel is cool" } },
			{ text: { en: "Panel is clean" } },
		]);
		one(facts, '[data-act="up/startWhen/1"]').focus();
		await sendKeys({ press: "Enter" });
		await settled(facts);
		expect(store.state.procedure.startWhen?.map(({ text }) => text.en)).to.deep.equal([
			"Panel is clean",
			"Panel is cool",
		]);
		const at = (facts.renderRoot as ShadowRoot).activeElement;
		expect(at?.getAttribute("data-act")).to.equal("down/startWhen/0");
		expect(one(facts, '[role="status"]').textContent).to.equal("Now in place 1 of 2.");
		one(facts, '[data-act="out/startWhen/0"]').click();
		await settled(facts);
		expect(store.state.procedure.startWhen).to.deep.equal([{ text: { en: "Panel is cool" } }]);
		expect((facts.renderRoot as ShadowRoot).activeElement?.getAttribute("data-add")).to.equal("/startWhen");
	});

	it("takes the figure it turns on; a figure that is not read goes along when the condition moves", async () => {
		const store = storeOf(filled);
		const facts = await show(store);
		await unfold(facts);
		field(facts, "/giveUpWhen/1/readingBelowUm").focus();
		await type("1.6 mil");
		field(facts, "/giveUpWhen/0/countAbove").focus();
		await type("a few");
		await settled(facts);
		expect(store.state.procedure.giveUpWhen?.[1]?.readingBelowUm).to.equal(40.64);
		one(facts, '[data-act="down/giveUpWhen/0"]').click();
		await settled(facts);
		expect(field(facts, "/giveUpWhen/1/countAbove").value).to.equal("a few");
		expect(field(facts, "/giveUpWhen/0/countAbove").value).to.equal("");
	});

	it("keeps a figure that is not read when undo takes its condition away", async () => {
		const store = storeOf({ ...filled, giveUpWhen: [] });
		const facts = await show(store);
		await facts.goTo("giveUpWhen");
		one(facts, '[data-add="/giveUpWhen"]').click();
		await settled(facts);
		await type("Many nibs");
		await unfold(facts);
		field(facts, "/giveUpWhen/0/countAbove").focus();
		await type("a few");
		store.undo();
		await settled(facts);
		expect(store.state.procedure.giveUpWhen).to.deep.equal([]);
		expect(field(facts, "/giveUpWhen/0/countAbove").value).to.equal("a few");
	});

	it("keeps the words of another language behind a fold, named", async () => {
		const facts = await show(storeOf(filled), "es");
		await facts.goTo("startWhen");
		expect(field(facts, "/startWhen/0/text/es").value).to.match(/^El panel/);
		const fold = one(facts, '[data-group="startWhen"] .other') as HTMLDetailsElement;
		expect(fold.open).to.equal(false);
		expect(fold.textContent).to.contain("inglés: escrito");
	});
});

describe("the record", () => {
	it("writes title, days and revision as typed, and refuses what they are not", async () => {
		const store = storeOf(blank, demoShop(), true);
		const facts = await show(store);
		await facts.goTo("title");
		await type("Nib on a door");
		await facts.goTo("reviewBy");
		await type("12 May 2027");
		await facts.goTo("revision");
		await type("two");
		await settled(facts);
		const { title, reviewBy, revision } = store.state.procedure;
		expect([title, reviewBy, revision]).to.deep.equal([{ en: "Nib on a door" }, "2027-05-12", undefined]);
		expect(described(facts, field(facts, "/revision"))).to.contain("a whole number from 1");
	});

	it("lets a procedure without a file be renamed, and no other", async () => {
		const store = storeOf(blank, demoShop(), true);
		const facts = await show(store);
		await facts.goTo("id");
		await type("nib-door");
		await settled(facts);
		expect(store.state.procedure.id).to.equal("nib-door");
		const saved = await show(storeOf(filled));
		await saved.goTo("title");
		expect(saved.renderRoot.querySelector('[id="field/id"]')).to.equal(null);
	});

	it("adds a document once it has a title, and keeps one whose title is emptied", async () => {
		const store = storeOf({ ...filled, sources: [] });
		const facts = await show(store);
		await facts.goTo("sources");
		await sendKeys({ press: "Enter" });
		await settled(facts);
		await type("Disc sheet");
		await settled(facts);
		expect(store.state.procedure.sources).to.deep.equal([{ title: "Disc sheet" }]);
		await unfold(facts);
		field(facts, "/sources/0/title").focus();
		await type("");
		await settled(facts);
		expect(store.state.procedure.sources).to.deep.equal([{ title: "Disc sheet" }]);
		expect(described(facts, field(facts, "/sources/0/title"))).to.contain("still says: Disc sheet");
	});

	it("tells what was accepted and what it rested on, and takes it back in one gesture", async () => {
		const store = storeOf(accepted);
		const facts = await show(store);
		await facts.goTo("exceptions");
		const [item] = all(facts, '[data-pointer="/exceptions/0"]');
		item?.querySelector("button")?.focus();
		expect(item?.textContent?.replace(/\s+/g, " "))
			.to.contain("scratch-left-behind · row")
			.and.contain("Accepted by Ines Marlow on 2026-06-05, until 2028-06-30")
			.and.contain("left 0.47 µm");
		await sendKeys({ press: "Enter" });
		await settled(facts);
		expect(store.state.procedure).not.to.have.property("exceptions");
		store.undo();
		expect(store.state.procedure.exceptions).to.deep.equal(accepted.exceptions);
	});
});

describe("what an acceptance rested on", () => {
	it("is said in the words of the rule where every value was kept, in the reader's language", async () => {
		const store = storeOf(flawed);
		const found = store.state.findings.find(({ rule }) => rule === "matt-clear");
		if (found === undefined) throw new Error("matt is not found");
		const said = { reason: "A trial", by: "Ines Marlow", on: "2026-08-01", until: null };
		store.change(acceptEdit(found, said, store.state.procedure), "accept");
		const facts = await show(store, "es");
		await facts.goTo("exceptions");
		const [item] = all(facts, '[data-pointer="/exceptions/0"]');
		expect(item?.textContent).to.contain(sayer("es", "um")(found).found);
		expect(item?.textContent).to.contain("todo el procedimiento");
	});

	it("is said value by value where the rule is unknown", async () => {
		const exceptions = [
			{
				rule: "of-old",
				reason: "Kept",
				by: "Ada",
				on: "2026-08-01",
				restedOn: { leftUm: 0.4, waitHours: 2, defect: "etch" },
			},
		];
		const facts = await show(storeOf({ ...filled, exceptions }));
		await facts.goTo("exceptions");
		expect(all(facts, '[data-pointer="/exceptions/0"]')[0]?.textContent).to.contain(
			"rested on left 0.4 µm, wait 2 h, defect etch",
		);
	});
});

describe("text that is still being typed", () => {
	it("is in the procedure when saving is asked for, or the element goes away", async () => {
		const store = storeOf(filled);
		const facts = await show(store);
		await facts.goTo("writtenBy");
		await sendKeys({ press: "Control+A" });
		await sendKeys({ type: "Ada" });
		expect(store.state.procedure.writtenBy).to.equal(filled.writtenBy);
		await sendKeys({ press: "Control+S" });
		expect(store.state.procedure.writtenBy).to.equal("Ada");
		await sendKeys({ type: " Holm" });
		facts.remove();
		expect(store.state.procedure.writtenBy).to.equal("Ada Holm");
	});

	it("stays while the store changes around it, and goes in once", async () => {
		const store = storeOf(filled);
		const facts = await show(store);
		await facts.goTo("writtenBy");
		await sendKeys({ press: "Control+A" });
		await sendKeys({ type: "Ad" });
		store.change([{ op: "setPart", pointer: "/methodChanged", to: true }], "part");
		await settled(facts);
		await sendKeys({ type: "a" });
		await sendKeys({ press: "Enter" });
		await sendKeys({ press: "Tab" });
		expect(store.state.procedure.writtenBy).to.equal("Ada");
		store.undo();
		expect(store.state.procedure.writtenBy).to.equal(filled.writtenBy);
	});

	it("is kept by the store while it is typed, and comes back from it", async () => {
		const store = storeOf(filled);
		store.typingPart("/reviewBy", "next spr");
		const facts = await show(store);
		await facts.goTo("reviewBy");
		expect(field(facts, "/reviewBy").value).to.equal("next spr");
		await facts.goTo("writtenBy");
		await sendKeys({ press: "Control+A" });
		await sendKeys({ type: "A" });
		expect(store.partTexts).to.deep.include({ "/writtenBy": "A" });
		await sendKeys({ press: "Enter" });
		expect(store.partTexts).to.not.have.property("/writtenBy");
	});
});

describe("text left behind by a page that was closed", () => {
	it("shows by itself, also at an entry that its list does not have yet", async () => {
		const store = storeOf(filled);
		const next = `/sources/${filled.sources?.length ?? 0}/title`;
		store.typingPart(next, "Half a ti");
		const facts = await show(store);
		await settled(facts);
		expect(field(facts, next).value).to.equal("Half a ti");
		expect(described(facts, field(facts, next))).to.contain("not in the procedure yet");
		expect(one(facts, '[data-group="sources"] summary').textContent).to.contain("1 text not read");
		await expectAccessible();
		field(facts, next).focus();
		await sendKeys({ press: "Enter" });
		expect(store.state.procedure.sources?.at(-1)).to.deep.equal({
			title: "Half a ti",
		});
		expect(store.partTexts).to.deep.equal({});
	});

	it("says why it could not be read", async () => {
		const store = storeOf(filled);
		store.typingPart("/reviewBy", "next spr");
		const facts = await show(store);
		await settled(facts);
		expect(described(facts, field(facts, "/reviewBy"))).to.contain("next spr");
		expect(field(facts, "/reviewBy").getAttribute("aria-invalid")).to.equal("true");
	});

	it("moves with its entry, and goes with it", async () => {
		const store = storeOf({
			...filled,
			sources: [{ title: "One" }, { title: "Two" }],
		});
		store.typingPart("/sources/1/date", "someday");
		const facts = await show(store);
		await settled(facts);
		one(facts, '[data-act="out/sources/0"]').click();
		await settled(facts);
		expect(store.partTexts).to.deep.equal({ "/sources/0/date": "someday" });
		one(facts, '[data-act="out/sources/0"]').click();
		await settled(facts);
		expect(store.partTexts).to.deep.equal({});
	});
});

describe("going to a part", () => {
	it("never puts the focus on a button that takes something out", async () => {
		const facts = await show(storeOf(accepted));
		for (const part of parts) {
			await facts.goTo(part);
			const at = (facts.renderRoot as ShadowRoot).activeElement;
			expect(at?.matches("[data-act], [aria-label^='Take']"), part).to.equal(false);
		}
	});
});

describe("the layout", () => {
	afterEach(() => setViewport({ width: 1280, height: 800 }));

	for (const [width, columns] of [
		[1280, 3],
		[768, 1],
		[320, 1],
	] as const) {
		it(`has ${columns} columns at ${width} px and never scrolls sideways`, async () => {
			await setViewport({ width, height: 800 });
			const facts = await show(storeOf(filled));
			await unfold(facts);
			const lefts = new Set(all(facts, ".part").map((part) => Math.round(part.getBoundingClientRect().left)));
			expect(lefts.size).to.equal(columns);
			expect(document.documentElement.scrollWidth).to.be.at.most(width);
		});
	}
});
