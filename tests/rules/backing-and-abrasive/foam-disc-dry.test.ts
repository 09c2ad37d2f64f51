import { describe, expect, it } from "vitest";
import type { Stock } from "../../../src/model/generated/types.ts";
import rule from "../../../src/rules/backing-and-abrasive/foam-disc-dry.ts";
import { exampleProcedure, exampleShop } from "../../../src/rules/example.ts";
import { sand } from "../../../src/rules/example-rows.ts";
import { judge, remediesFor } from "../../../src/rules/judge.ts";

describe("a dry foam disc", () => {
	it.each<["damp" | "no" | undefined, string[]]>([
		[undefined, ["sure"]],
		["damp", ["sure"]],
		["no", []],
	])("may be wetted in one press where the tool allows it: %s", (wetUse, kinds) => {
		const tools: Stock["tools"] = [{ id: "sander", name: "Sander", kind: "random-orbital", ...(wetUse && { wetUse }) }];
		const example = {
			title: "dry foam",
			steps: [sand("P3000", { carrier: "foam", holes: "none", tool: "sander" })],
			stock: { tools },
		};
		const one = { procedure: exampleProcedure(example), problems: [], shop: exampleShop(example), today: "2026-03-02" };
		const [finding] = judge(one, [rule]);
		if (finding === undefined) throw new Error("the dry disc is not found");
		expect(remediesFor(finding, one, [rule]).map(({ kind }) => kind)).toEqual(kinds);
	});
});
