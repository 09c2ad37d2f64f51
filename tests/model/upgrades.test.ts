import { describe, expect, it } from "vitest";
import { openFile } from "../../src/model/document.ts";
import { formatOf, type UpgradeChain, upgrade, upgrades } from "../../src/model/upgrades.ts";

const called: string[] = [];
const chain: UpgradeChain = {
	...upgrades,
	procedure: [
		({ name, ...rest }) => {
			called.push("1 to 2");
			return { ...rest, title: { en: name } };
		},
		(file) => {
			called.push("2 to 3");
			return { ...file, revision: 1 };
		},
	],
};

describe("upgrade", () => {
	it("takes an old file through every step, in order, and sets its format", () => {
		called.length = 0;
		const old = Object.freeze({ format: 1, name: "old", own: true });
		expect(upgrade("procedure", old, chain)).toEqual({
			value: { format: 3, title: { en: "old" }, revision: 1, own: true },
			from: 1,
		});
		expect(called).toEqual(["1 to 2", "2 to 3"]);
	});

	it("starts at the format of the file", () => {
		called.length = 0;
		expect(upgrade("procedure", { format: 2 }, chain)).toEqual({ value: { format: 3, revision: 1 }, from: 2 });
		expect(called).toEqual(["2 to 3"]);
	});

	it("leaves a file of today alone", () => {
		const file = { format: 1 };
		expect(upgrade("stock", file, chain)).toEqual({ value: file, from: 1 });
	});

	it("refuses a newer format", () => {
		expect(upgrade("procedure", { format: 4 }, chain)).toMatchObject({
			problem: { code: "newer-format", data: { found: 4, known: 3 } },
		});
		expect(upgrade("book", { format: 2 })).toHaveProperty("problem.code", "newer-format");
	});

	it.each([[{ format: "1" }], [{ format: 0 }], [{ format: 1.5 }], [{}], [[]], [null]])(
		"leaves %j to the schema",
		(value) => {
			expect(upgrade("procedure", value, chain)).toEqual({ value, from: 3 });
		},
	);

	it("runs when a file is opened", () => {
		const opened = openFile("procedure", '{"format":1,"id":"a","name":"old"}', chain);
		expect(opened).toMatchObject({ from: 1, problems: [], readable: { format: 3, title: { en: "old" } } });
		expect(formatOf("procedure", chain)).toBe(3);
	});
});
