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

	it.each([
		["people that are no record", { people: null }, "people"],
		["a person that is no name", { people: { quill: 3 } }, "people"],
		["an unknown language", { language: "tlh" }, "language"],
		["an unknown unit", { filmUnit: "constructor" }, "filmUnit"],
		["unknown colours", { theme: "sepia" }, "theme"],
		["a book that is no text", { lastBook: 7 }, "lastBook"],
	] as const)("leave out %s, and keep the rest", (_, wrong, name) => {
		const good = { language: "es", filmUnit: "mil", theme: "dark", people: { quill: "Ines" }, lastBook: "quill" };
		const storage = memory();
		storage.setItem("gritwright.settings", JSON.stringify({ ...good, ...wrong }));
		const { settings } = new SettingsKeeper(storage);
		expect(settings).toEqual({ ...good, [name]: name === "people" ? {} : null });
	});

	it("know nobody in a book called as something that every record has, until somebody is named", () => {
		const keeper = new SettingsKeeper(memory());
		expect(keeper.settings.people.constructor).toBeUndefined();
		keeper.change({ people: { ...keeper.settings.people, constructor: "Ines" } });
		expect(keeper.settings.people.constructor).toBe("Ines");
		expect(keeper.settings.people.toString).toBeUndefined();
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
