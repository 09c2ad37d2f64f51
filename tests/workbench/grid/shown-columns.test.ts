import { describe, expect, it } from "vitest";
import { keepChoice, readChoice, shownColumns } from "../../../src/workbench/grid/shown-columns.ts";
import { firstColumns } from "../../../src/workbench/store/columns.ts";

const ids = (...asked: Parameters<typeof shownColumns>) => shownColumns(...asked).map(({ id }) => id);

function storage(kept: Record<string, string> = {}, isFull = false): Storage {
	return {
		getItem: (key: string) => kept[key] ?? null,
		setItem: (key: string, value: string) => {
			if (isFull) throw new Error("full");
			kept[key] = value;
		},
	} as unknown as Storage;
}

describe("columns shown", () => {
	it("are the first ones, those in use, and those asked for, in the order of the sheet", () => {
		expect(ids({}, new Set())).toEqual(firstColumns);
		expect(ids({ note: true }, new Set(["place"]))).toEqual([...firstColumns, "place", "note"]);
	});

	it("leave out what a person has hidden, in use or not", () => {
		expect(ids({ place: false, speed: false }, new Set(["place"]))).toEqual(
			firstColumns.filter((id) => id !== "speed"),
		);
	});

	it("are remembered", () => {
		const some = storage();
		keepChoice(some, { note: true });
		expect(readChoice(some)).toEqual({ note: true });
	});

	it("are forgotten where the memory is full, or holds something else", () => {
		const full = storage({}, true);
		keepChoice(full, { note: true });
		expect(readChoice(full)).toEqual({});
		expect(readChoice(storage({ "gritwright.columns": "][" }))).toEqual({});
	});
});
