import { describe, expect, it } from "vitest";
import type { SheetState } from "../../../src/workbench/store/state.ts";
import { StoreController } from "../../../src/workbench/store/store-controller.ts";

function follow(shows?: (state: SheetState) => readonly unknown[]) {
	const listeners = new Set<() => void>();
	const store = {
		state: { procedure: {}, selection: null } as SheetState,
		subscribe: (listener: () => void) => {
			listeners.add(listener);
			return () => listeners.delete(listener);
		},
	};
	const asked = { renders: 0 };
	const host = {
		addController: () => undefined,
		removeController: () => undefined,
		requestUpdate: () => {
			asked.renders++;
		},
		updateComplete: Promise.resolve(true),
	};
	const controller = new StoreController(host, () => store, shows);
	controller.hostConnected();
	const change = (some: Partial<SheetState>) => {
		store.state = { ...store.state, ...some };
		for (const listener of listeners) listener();
	};
	return { asked, change, controller };
}

describe("StoreController", () => {
	const selection = {} as SheetState["selection"];
	const procedure = {} as SheetState["procedure"];

	it("renders its host after every change", () => {
		const { asked, change } = follow();
		change({ selection });
		change({ procedure });
		expect(asked.renders).toBe(2);
	});

	it("renders a host that shows some parts only when one of them is another", () => {
		const { asked, change } = follow((state) => [state.procedure]);
		change({ selection });
		expect(asked.renders).toBe(0);
		change({ procedure });
		change({ selection: null });
		expect(asked.renders).toBe(1);
	});

	it("renders nothing once its host has left the page", () => {
		const { asked, change, controller } = follow();
		controller.hostDisconnected();
		change({ procedure });
		expect(asked.renders).toBe(0);
	});
});
