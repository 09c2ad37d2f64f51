import { describe, expect, it } from "vitest";
import { SettingsKeeper } from "../../src/workbench/settings.ts";

describe("the settings of this browser", () => {
	it("are kept in its storage, and told", () => {
		const storage = memory();
		const keeper = new SettingsKeeper(storage);
		let told = 0;
		const end = keeper.subscribe(() => (told += 1));
		keeper.change({ theme: "dark" });
		end();
		keeper.change({ filmUnit: "mil" });
		expect(told).toBe(1);
		expect(new SettingsKeeper(storage).settings).toMatchObject({ theme: "dark", filmUnit: "mil", language: null });
	});

	it.each(["not json", "null", "[]", '"text"'])("begin anew where the storage holds %s", (text) => {
		const keeper = new SettingsKeeper({ getItem: () => text, setItem: () => undefined });
		expect(keeper.settings).toMatchObject({ theme: null, people: {} });
	});

	it("hold for the page where the browser forbids or refuses storage", () => {
		const full = {
			getItem: () => null,
			setItem: () => {
				throw new Error("full");
			},
		};
		for (const storage of [null, full]) {
			const keeper = new SettingsKeeper(storage);
			keeper.change({ language: "es" });
			expect(keeper.settings.language).toBe("es");
		}
	});
});

function memory(): Pick<Storage, "getItem" | "setItem"> {
	const kept = new Map<string, string>();
	return { getItem: (key) => kept.get(key) ?? null, setItem: (key, value) => void kept.set(key, value) };
}
