import { LitElement } from "lit";

/**
 * An element that renders one frame after it was asked to: the grid's marks come first, and what stands beside them
 * follows. In a hidden tab, where no frame comes, it renders all the same.
 */
export abstract class AfterPaint extends LitElement {
	override async scheduleUpdate(): Promise<void> {
		if (this.hasUpdated) await nextFrame();
		await super.scheduleUpdate();
	}
}

/** Resolves after the next frame is on the screen, or shortly where no frame comes. */
export function nextFrame(): Promise<void> {
	return new Promise((resolve) => {
		const late = setTimeout(resolve, 100);
		requestAnimationFrame(() => {
			clearTimeout(late);
			setTimeout(resolve);
		});
	});
}
