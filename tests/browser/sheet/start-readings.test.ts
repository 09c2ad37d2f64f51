import { html } from "lit";
import type { Procedure } from "../../../src/model/generated/types.ts";
import "../../../src/workbench/sheet/start-readings.ts";
import type { StartReadings } from "../../../src/workbench/sheet/start-readings.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { all, clear, expect, expectAccessible, peelPanel, show, shown, storeOf, within } from "./stage.ts";

function showing(store: SheetStore, language = "en") {
	return show<StartReadings>(
		html`<gw-start-readings .store=${store} .language=${language}></gw-start-readings>`,
		"gw-start-readings",
	);
}

describe("<gw-start-readings>", () => {
	afterEach(clear);

	it("says from which reading to start on each clear coat, in total too where the gauge reads total", async () => {
		const readings = await showing(storeOf(peelPanel));
		expect(shown(readings)).to.match(
			/On refinish: start only if the clear reads at least \d+ µm or the gauge reads \d+ µm in total/,
		);
		expect(shown(readings)).to.match(/Row 8: stop if the clear reads below \d+ µm/);
		expect(shown(readings)).to.contain("estimate");
		await expectAccessible(readings);
	});

	it("follows the unit of the reader", async () => {
		const store = storeOf(peelPanel);
		const readings = await showing(store);
		const { shop } = store.state;
		store.useShop({ ...shop, book: { ...shop.book, units: "mil" } });
		await readings.updateComplete;
		expect(shown(readings)).to.match(/at least \d\.\d\d mil/);
	});

	it("says unknown as unknown, with what to measure", async () => {
		const silent: Procedure = { ...peelPanel, scope: { ...peelPanel.scope, clearCoats: [] } };
		const readings = await showing(storeOf(silent), "es");
		expect(shown(readings)).to.contain("La lectura mínima para empezar no se conoce");
		within<HTMLDetailsElement>(readings, "details").open = true;
		expect(shown(readings)).to.contain("Nombre el barniz");
		await expectAccessible(readings);
	});

	it("leads from an unknown figure to its row, and folds more than three of them", async () => {
		const bare: Procedure = {
			...peelPanel,
			steps: (peelPanel.steps ?? []).map(({ id, stage }, at) =>
				at < 2 ? { id, stage: "sand" as const } : { id, ...(stage === undefined ? {} : { stage }) },
			),
		};
		const readings = await showing(storeOf(bare));
		const { unknown } = readings.store.state.report;
		expect(unknown.length).to.be.greaterThan(3);
		const fold = within<HTMLDetailsElement>(readings, "details");
		expect(fold.open).to.equal(false);
		fold.open = true;
		const asked: unknown[] = [];
		readings.addEventListener("gw-go-to", (event) => asked.push((event as CustomEvent<unknown>).detail));
		const at = unknown.findIndex(({ row }) => row !== null);
		all(readings, "li button")[at]?.click();
		const row = unknown[at]?.row ?? 0;
		expect(asked).to.deep.equal([{ row: bare.steps?.[row - 1]?.id, field: null }]);
		await expectAccessible(readings);
	});
});
