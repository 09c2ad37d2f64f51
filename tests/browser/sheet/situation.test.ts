import { html } from "lit";
import type { Procedure } from "../../../src/model/generated/types.ts";
import "../../../src/workbench/sheet/situation.ts";
import type { SituationPicker } from "../../../src/workbench/sheet/situation.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { all, button, clear, expect, expectAccessible, peelPanel, show, shown, storeOf } from "./stage.ts";

const excepted: Procedure = {
	...peelPanel,
	scope: { ...peelPanel.scope, except: [{ defect: ["dry-spray"], substrate: ["aluminium"] }] },
};

function showing(store: SheetStore, language = "en") {
	return show<SituationPicker>(
		html`<gw-situation .store=${store} .language=${language}></gw-situation>`,
		"gw-situation",
	);
}

function choose(picker: SituationPicker, axis: number, value: string): Promise<boolean> {
	const select = all<HTMLSelectElement>(picker, "select")[axis] as HTMLSelectElement;
	select.value = value;
	select.dispatchEvent(new Event("change"));
	return picker.updateComplete;
}

describe("<gw-situation>", () => {
	afterEach(clear);

	it("shows the worst of all situations by default", async () => {
		const picker = await showing(storeOf(peelPanel));
		expect(shown(picker)).to.contain("Worst of 24 situations");
		expect(all<HTMLSelectElement>(picker, "select").map(({ value }) => value)).to.deep.equal(["", "", ""]);
		await expectAccessible(picker);
	});

	it("asks for a situation, says which it shows, and goes back to the worst", async () => {
		const store = storeOf(peelPanel);
		const picker = await showing(store);
		await choose(picker, 0, "dry-spray");
		await choose(picker, 2, "dark");
		expect(store.state.situation).to.deep.equal({ defect: "dry-spray", tone: "dark" });
		expect(shown(picker)).to.contain("dry spray · dark: worst of 2 situations");
		button(picker, /Worst of all/).click();
		await picker.updateComplete;
		expect(store.state.situation).to.deep.equal({});
		expect(all<HTMLSelectElement>(picker, "select")[0]?.value).to.equal("");
	});

	it("refuses what the scope excepts", async () => {
		const picker = await showing(storeOf(excepted));
		expect(shown(picker)).to.contain("Worst of 18 situations");
		await choose(picker, 0, "dry-spray");
		const aluminium = all<HTMLOptionElement>(picker, "option[value=aluminium]")[0];
		expect(aluminium?.disabled).to.equal(true);
		await expectAccessible(picker);
	});

	it("shows the worst again when the scope loses what was asked for", async () => {
		const store = storeOf(peelPanel);
		const picker = await showing(store);
		await choose(picker, 0, "dry-spray");
		await choose(picker, 1, "aluminium");
		const except = [{ defect: ["dry-spray"], substrate: ["aluminium"] }];
		store.change([{ op: "setPart", pointer: "/scope/except", to: except }], "part");
		await picker.updateComplete;
		await picker.updateComplete;
		expect(store.state.situation).to.deep.equal({});
	});

	it("names the axes on which the scope is silent", async () => {
		const picker = await showing(storeOf({ format: 1, id: "new", title: { en: "New" } }), "es");
		expect(shown(picker)).to.contain("El alcance no nombra defecto");
		await expectAccessible(picker);
	});
});
