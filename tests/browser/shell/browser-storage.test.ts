import { expect } from "@esm-bundle/chai";
import { browserStorage, tabStorage } from "../../../src/workbench/browser-storage.ts";

const denied = {
	configurable: true,
	get(): never {
		throw new DOMException("The operation is insecure.", "SecurityError");
	},
};

describe("the storage of the browser", () => {
	for (const [name, storage] of [
		["localStorage", browserStorage],
		["sessionStorage", tabStorage],
	] as const) {
		it(`is ${name}, or none where the browser forbids to name it`, () => {
			expect(storage()).to.equal(globalThis[name]);
			const own = Object.getOwnPropertyDescriptor(globalThis, name) as PropertyDescriptor;
			Object.defineProperty(globalThis, name, denied);
			try {
				expect(storage()).to.equal(null);
			} finally {
				Object.defineProperty(globalThis, name, own);
			}
		});
	}
});
