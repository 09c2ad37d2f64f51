import { expect } from "@esm-bundle/chai";
import { sendKeys } from "@web/test-runner-commands";
import { problemDetails } from "../../../src/api/problems.ts";
import type { Procedure } from "../../../src/model/generated/types.ts";
import "../../../src/workbench/shelf/new-dialog.ts";
import type { NewProcedure } from "../../../src/workbench/shelf/new-dialog.ts";
import { listed } from "../../workbench/shelf/listed.ts";
import { clearStage, complaints, focused, onStage, seen, themes, until } from "./stage.ts";

const original: Procedure = {
	format: 1,
	id: "nib-blade",
	title: { en: "Dirt nib: blade" },
	revision: 4,
	state: "released",
	steps: [{ id: "aaaaaaaaaa", stage: "level" }],
	exceptions: [{ rule: "grade-jump", reason: "tried", by: "Ines Marlow", on: "2026-02-01" }],
};

const usual: Partial<NewProcedure> = {
	book: "quill",
	listed: [listed("nib-blade", { title: { en: "Dirt nib: blade" } }), listed("swirl")],
	person: "Ines Marlow",
	server: { procedure: async () => ({ value: original, readOnly: [], etag: '"1"' }) },
	loadPreview: async () => undefined,
};

describe("a new procedure", () => {
	afterEach(clearStage);

	for (const theme of themes) {
		for (const way of ["blank", "variant", "sheet"]) {
			it(`is accessible on its way ${way}, ${theme}`, async () => {
				const dialog = await onStage<NewProcedure>("gw-new-procedure", usual, theme);
				await choose(dialog, way);
				expect(await complaints(dialog)).to.deep.equal([]);
			});
		}

		it(`is accessible with everything wrong, ${theme}`, async () => {
			const dialog = await onStage<NewProcedure>("gw-new-procedure", usual, theme);
			await submit(dialog);
			expect(await complaints(dialog)).to.deep.equal([]);
		});
	}

	it("starts from nothing, by keyboard alone", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		const started = startOf(dialog);
		field(dialog, "title").focus();
		await sendKeys({ type: "Niebla del capó" });
		await sendKeys({ press: "Tab" });
		expect(field(dialog, "id").value).to.equal("niebla-del-capo");
		await sendKeys({ press: "Tab" });
		await sendKeys({ press: "Space" });
		await sendKeys({ press: "Enter" });
		const { procedure } = await started;
		expect(procedure).to.deep.include({
			id: "niebla-del-capo",
			title: { en: "Niebla del capó" },
			state: "draft",
			scope: { defects: [{ defect: "dirt-nib" }] },
			writtenBy: "Ines Marlow",
		});
		expect(procedure.steps).to.have.length(3);
	});

	it("takes a short name that is free until another is typed", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		await type(dialog, "title", "Swirl");
		expect(field(dialog, "id").value).to.equal("swirl-2");
		await type(dialog, "id", "own-name");
		await type(dialog, "title", "Swirl marks");
		expect(field(dialog, "id").value).to.equal("own-name");
	});

	it("says what is missing at its field, and goes there", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		await submit(dialog);
		expect(focused()).to.equal(field(dialog, "title"));
		expect(field(dialog, "title").getAttribute("aria-invalid")).to.equal("true");
		expect(root(dialog).querySelector("#title-wrong")?.textContent).to.equal("Give it a title.");
	});

	for (const [id, words] of [
		["nib-blade", "This book already has a procedure called nib-blade. nib-blade-2 is free."],
		["Nib Blade", "A short name has lower-case letters"],
	] as const) {
		it(`refuses the short name ${id}`, async () => {
			const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
			await type(dialog, "title", "Something");
			await type(dialog, "id", id);
			await submit(dialog);
			expect(focused()).to.equal(field(dialog, "id"));
			expect(root(dialog).querySelector("#id-wrong")?.textContent).to.include(words);
		});
	}

	it("starts as a variant, and says which accepted findings stay behind", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		await choose(dialog, "variant");
		expect(field(dialog, "title").value).to.equal("Dirt nib: blade, variant");
		const started = startOf(dialog);
		await submit(dialog);
		const { procedure, notes } = await started;
		expect(procedure).to.deep.include({ id: "dirt-nib-blade-variant", variantOf: "nib-blade", state: "draft" });
		expect(procedure).not.to.have.any.keys("revision", "exceptions");
		expect(notes).to.deep.equal(["Findings accepted in the original and not taken over: 1."]);
	});

	it("lets go of the title of a variant on another way, but not of one that was typed", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		await choose(dialog, "variant");
		await choose(dialog, "sheet");
		expect(field(dialog, "title").value).to.equal("");
		await choose(dialog, "variant");
		expect(field(dialog, "title").value).to.equal("Dirt nib: blade, variant");
		await type(dialog, "title", "Mine");
		await choose(dialog, "blank");
		expect(field(dialog, "title").value).to.equal("Mine");
	});

	it("varies what its file is called by, whatever id is in it", async () => {
		const server = {
			procedure: async () => ({ value: { ...original, id: "another" }, readOnly: [], etag: '"1"' }),
		};
		const dialog = await onStage<NewProcedure>("gw-new-procedure", { ...usual, server });
		await choose(dialog, "variant");
		const started = startOf(dialog);
		await submit(dialog);
		expect((await started).procedure.variantOf).to.equal("nib-blade");
	});

	it("starts once, however often it is asked", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		let started = 0;
		dialog.addEventListener("gw-start", () => (started += 1));
		await type(dialog, "title", "Something");
		await submit(dialog);
		await submit(dialog);
		expect(started).to.equal(1);
	});

	it("says where the original did not open, and keeps what was typed", async () => {
		const server = { procedure: async () => ({ problem: problemDetails("no-such-procedure") }) };
		const dialog = await onStage<NewProcedure>("gw-new-procedure", { ...usual, server });
		await choose(dialog, "variant");
		await type(dialog, "title", "Mine");
		await submit(dialog);
		await until(() => seen(dialog).includes("could not be opened to copy it"), "the failure is said");
		expect(seen(dialog)).to.include("The book has no such procedure.");
		expect(field(dialog, "title").value).to.equal("Mine");
	});

	it("reads the file of a sheet and hands it to the preview, whose procedure gets the typed name", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		await choose(dialog, "sheet");
		await give(dialog, new File(["stage,grade\nsand,P1500"], "door.csv", { type: "text/csv" }));
		await until(() => textarea(dialog).value !== "", "the file is read");
		await submit(dialog);
		await until(() => root(dialog).querySelector("gw-mapping-preview"), "the preview is shown");
		const preview = root(dialog).querySelector("gw-mapping-preview") as HTMLElement & { text: string };
		expect(preview.text).to.equal("stage,grade\nsand,P1500");
		const started = startOf(dialog);
		const read: Procedure = { format: 1, id: "door", title: { en: "Door" }, steps: [{ id: "aaaaaaaaaa" }] };
		preview.dispatchEvent(
			new CustomEvent("gw-mapped", { detail: { procedure: read, notes: ["One column is left."] } }),
		);
		const { procedure, notes } = await started;
		expect(procedure).to.deep.include({ id: "door", title: { en: "Door" }, state: "draft" });
		expect(notes).to.deep.equal(["One column is left."]);
	});

	it("refuses a file that is no text, and an empty sheet", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		await choose(dialog, "sheet");
		await submit(dialog);
		expect(focused()).to.equal(textarea(dialog));
		await give(dialog, new File([new Uint8Array([80, 75, 3, 4, 0, 0])], "door.xlsx"));
		await until(() => seen(dialog).includes("door.xlsx could not be read"), "the file is refused");
	});

	it("says that the preview did not load, and keeps the sheet", async () => {
		const loadPreview = () => Promise.reject(new TypeError("Failed to fetch"));
		const dialog = await onStage<NewProcedure>("gw-new-procedure", { ...usual, loadPreview });
		await choose(dialog, "sheet");
		textarea(dialog).value = "stage\nsand";
		textarea(dialog).dispatchEvent(new Event("input"));
		await submit(dialog);
		await until(() => seen(dialog).includes("What you pasted is still here"), "the failure is said");
		expect(textarea(dialog).value).to.equal("stage\nsand");
	});

	it("closes with Escape and starts nothing", async () => {
		const dialog = await onStage<NewProcedure>("gw-new-procedure", usual);
		let closed = 0;
		dialog.addEventListener("gw-closed", () => (closed += 1));
		await sendKeys({ press: "Escape" });
		await until(() => closed === 1, "it is closed");
	});
});

function root(dialog: NewProcedure): ShadowRoot {
	return dialog.shadowRoot as ShadowRoot;
}

function field(dialog: NewProcedure, id: "title" | "id"): HTMLInputElement {
	return root(dialog).querySelector(`#${id}`) as HTMLInputElement;
}

function textarea(dialog: NewProcedure): HTMLTextAreaElement {
	return root(dialog).querySelector("textarea") as HTMLTextAreaElement;
}

async function type(dialog: NewProcedure, id: "title" | "id", text: string): Promise<void> {
	field(dialog, id).value = text;
	field(dialog, id).dispatchEvent(new Event("input"));
	await dialog.updateComplete;
}

async function choose(dialog: NewProcedure, way: string): Promise<void> {
	root(dialog).querySelector<HTMLInputElement>(`input[value=${way}]`)?.click();
	await dialog.updateComplete;
}

async function submit(dialog: NewProcedure): Promise<void> {
	root(dialog).querySelector<HTMLButtonElement>("button.main")?.click();
	await dialog.updateComplete;
}

async function give(dialog: NewProcedure, file: File): Promise<void> {
	const input = root(dialog).querySelector<HTMLInputElement>("input[type=file]") as HTMLInputElement;
	const files = new DataTransfer();
	files.items.add(file);
	input.files = files.files;
	input.dispatchEvent(new Event("change"));
	await dialog.updateComplete;
}

function startOf(dialog: NewProcedure): Promise<{ procedure: Procedure; notes: string[] }> {
	return new Promise((resolve) => {
		dialog.addEventListener("gw-start", (event) => resolve((event as CustomEvent).detail), { once: true });
	});
}
