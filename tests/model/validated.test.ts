import { build } from "esbuild";
import { describe, expect, it } from "vitest";
import isProcedure from "../../src/model/generated/validators/procedure.js";
import { validated } from "../../src/model/validated.ts";

const step = { id: "aaaaaaaaaa", stage: "sand" };
const procedure = { format: 1, id: "one", title: { en: "One" }, steps: [step, { id: "bbbbbbbbbb" }] };

describe("validated", () => {
	it("hands back the value itself where nothing is wrong", () => {
		const { readable, problems, pointerInFile } = validated("procedure", procedure, isProcedure);
		expect(readable).toBe(procedure);
		expect(problems).toEqual([]);
		expect(pointerInFile("/steps/1/id")).toBe("/steps/1/id");
	});

	it("leaves out what is wrong in a copy, names it, and keeps the way back to the value", () => {
		const value = { ...procedure, steps: [7, { ...step, forceN: "hard" }] };
		const { readable, problems, pointerInFile } = validated("procedure", value, isProcedure);
		expect(readable.steps).toEqual([step]);
		expect(value.steps[1]).toHaveProperty("forceN", "hard");
		expect(problems.map(({ code, pointer }) => [code, pointer])).toEqual([
			["wrong-type", "/steps/0"],
			["not-a-number", "/steps/1/forceN"],
		]);
		expect(pointerInFile("/steps/0/stage")).toBe("/steps/1/stage");
	});

	it("names the row ids that stand twice, and gives the later one a stand-in", () => {
		const value = { ...procedure, steps: [step, { ...step, stage: "polish" }] };
		const { readable, problems } = validated("procedure", value, isProcedure);
		expect(problems).toMatchObject([{ code: "repeated-row-id", row: 1, data: { firstRow: 1 } }]);
		expect(new Set(readable.steps?.map(({ id }) => id)).size).toBe(2);
	});

	it("brings the validator of one kind into a bundle, and no reader of JSON text", async () => {
		const { metafile } = await build({
			stdin: {
				contents: `import { validated } from "./src/model/validated.ts";
import procedure from "./src/model/generated/validators/procedure.js";
console.log(validated("procedure", {}, procedure));`,
				resolveDir: `${import.meta.dirname}/../..`,
				loader: "ts",
			},
			bundle: true,
			format: "esm",
			write: false,
			metafile: true,
		});
		const inputs = Object.values(metafile.outputs).flatMap((output) => Object.keys(output.inputs));
		expect(inputs.filter((path) => path.includes("generated/validators"))).toEqual([
			"src/model/generated/validators/procedure.js",
		]);
		expect(inputs.filter((path) => /momoa|locate|document/.test(path))).toEqual([]);
	});
});
