import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { ServerWatch } from "../../../src/workbench/shell/server-watch.ts";

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function watching(answers: boolean[]) {
	const asked = vi.fn<() => Promise<boolean>>(async () => answers.shift() ?? false);
	const back = vi.fn<() => void>();
	return { watch: new ServerWatch(asked, back, 100), asked, back };
}

describe("the watch for a server that is gone", () => {
	it("asks until it answers, and then no more", async () => {
		const { watch, asked, back } = watching([false, false, true]);
		watch.start();
		watch.start();
		await vi.advanceTimersByTimeAsync(1000);
		expect(asked).toHaveBeenCalledTimes(3);
		expect(back).toHaveBeenCalledTimes(1);
		expect(vi.getTimerCount()).toBe(0);
	});

	it("can begin again", async () => {
		const { watch, back } = watching([true, true]);
		watch.start();
		await vi.advanceTimersByTimeAsync(100);
		watch.start();
		await vi.advanceTimersByTimeAsync(100);
		expect(back).toHaveBeenCalledTimes(2);
	});

	it("ends also while it waits for an answer", async () => {
		const waiting: ((isBack: boolean) => void)[] = [];
		const back = vi.fn<() => void>();
		const asked = vi.fn<() => Promise<boolean>>(() => new Promise((resolve) => waiting.push(resolve)));
		const watch = new ServerWatch(asked, back, 100);
		watch.start();
		await vi.advanceTimersByTimeAsync(100);
		watch.end();
		waiting[0]?.(false);
		await vi.advanceTimersByTimeAsync(1000);
		expect(asked).toHaveBeenCalledTimes(1);
		expect(vi.getTimerCount()).toBe(0);
		expect(back).not.toHaveBeenCalled();
	});
});
