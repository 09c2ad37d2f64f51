import { html } from "lit";
import type { Procedure } from "../../../src/model/generated/types.ts";
import "../../../src/workbench/sheet/start-readings.ts";
import type { StartReadings } from "../../../src/workbench/sheet/start-readings.ts";
import type { SheetStore } from "../../../src/workbench/store/sheet-store.ts";
import { clear, expect, expectAccessible, peelPanel, show, shown, storeOf, within } from "./bench.ts";

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
});
