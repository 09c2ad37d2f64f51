import { describe, expect, it } from "vitest";
import { views } from "../../src/api/routes.ts";
import { readAddress } from "../../src/workbench/address.ts";

describe("readAddress", () => {
	const odd = "a/b é%20?#";

	it.each([
		["/", { view: "first" }],
		[views.shelf(odd), { view: "shelf", book: odd }],
		[`${views.shelf("quill")}/`, { view: "shelf", book: "quill" }],
		[views.sheet("quill", odd), { view: "sheet", book: "quill", id: odd }],
		[views.newSheet("quill", odd), { view: "newSheet", book: "quill", draft: odd }],
		["/books", { view: "unknown" }],
		["/books//procedures/x", { view: "unknown" }],
		["/books/quill/procedures", { view: "unknown" }],
		["/books/quill/releases/x", { view: "unknown" }],
		["/books/quill/procedures/x/y", { view: "unknown" }],
		["/books/%E0%A4%A", { view: "unknown" }],
		["/elsewhere", { view: "unknown" }],
	])("reads %s", (path, place) => expect(readAddress(path)).toEqual(place));
});
