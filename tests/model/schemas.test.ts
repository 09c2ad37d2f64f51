import { readdirSync, readFileSync } from "node:fs";
import Ajv2020 from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { formatOf } from "../../src/model/upgrades.ts";
import { shapes } from "../../src/model/generated/shape.ts";

const home = new URL("../../schemas/", import.meta.url);
const files = readdirSync(home).toSorted();
const schemaOf = (file: string) => JSON.parse(readFileSync(new URL(file, home), "utf8")) as Schema;

interface Schema {
	$schema?: string;
	title?: string;
	description?: string;
	properties?: Record<string, Schema>;
	items?: Schema;
	additionalProperties?: Schema | boolean;
	$defs?: Record<string, Schema>;
}

/** Every named property of a schema, with the path to it. */
function propertiesOf(schema: Schema, path = ""): [string, Schema][] {
	const own = Object.entries(schema.properties ?? {}).map(([key, value]): [string, Schema] => [
		`${path}/${key}`,
		value,
	]);
	const inner = [
		...own,
		...Object.entries(schema.$defs ?? {}).map(([key, value]): [string, Schema] => [`${path}#${key}`, value]),
		...(schema.items ? [[`${path}[]`, schema.items] as [string, Schema]] : []),
		...(typeof schema.additionalProperties === "object"
			? [[`${path}{}`, schema.additionalProperties] as [string, Schema]]
			: []),
	];
	return [...own, ...inner.flatMap(([at, value]) => propertiesOf(value, at))];
}

describe.each(files)("%s", (file) => {
	const schema = schemaOf(file);

	it("is a valid schema of draft 2020-12", () => {
		expect(schema.$schema).toBe("https://json-schema.org/draft/2020-12/schema");
		expect(new Ajv2020().validateSchema(schema)).toBe(true);
	});

	it("titles and describes every property, and names its unit where it carries one", () => {
		const properties = propertiesOf(schema);
		expect(properties.length).toBeGreaterThan(0);
		const units: [RegExp, RegExp][] = [
			[/Um$/, /micrometre/],
			[/Mm$/, /millimetre/],
			[/M2$/, /square metre/],
			[/Ml$/, /millilitre/],
			[/Minutes$/, /minute/i],
			[/Ms2$/, /metres a second squared/],
			[/forceN$/, /newton/],
		];
		for (const [path, property] of properties) {
			expect(property.title, path).toMatch(/\S/);
			expect(property.description, path).toMatch(/\.$/);
			for (const [name, unit] of units) if (name.test(path)) expect(property.description, path).toMatch(unit);
		}
	});
});

it("has a schema and a format for every kind of file of a book", () => {
	const kinds = files.map((file) => file.replace(".schema.json", "")).filter((kind) => kind !== "values");
	expect(Object.keys(shapes)).toEqual(kinds);
	for (const kind of Object.keys(shapes) as (keyof typeof shapes)[]) expect(formatOf(kind)).toBeGreaterThanOrEqual(1);
});
