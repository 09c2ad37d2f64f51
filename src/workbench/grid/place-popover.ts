/**
 * Puts a popover under what it belongs to, or above where it has more room there, and as high as that room. A screen
 * keyboard and zoom by fingers leave a smaller part of the page in sight: that part counts.
 *
 * @returns false where what it belongs to is out of sight
 */
export function placePopover(
	popover: HTMLElement,
	beside: DOMRect,
	{ widthPx, wantedPx }: { widthPx: number; wantedPx: number },
): boolean {
	const seen = visualViewport;
	const top = seen?.offsetTop ?? 0;
	const bottom = top + (seen?.height ?? innerHeight);
	const below = bottom - beside.bottom - marginPx;
	const above = beside.top - top - marginPx;
	const isBelow = below >= Math.min(wantedPx, above);
	const { style } = popover;
	style.setProperty("left", `${Math.max(marginPx, Math.min(beside.left, innerWidth - widthPx - marginPx))}px`);
	style.setProperty("top", isBelow ? `${beside.bottom}px` : "auto");
	style.setProperty("bottom", isBelow ? "auto" : `${innerHeight - beside.top}px`);
	style.setProperty("max-height", `${Math.max(0, Math.min(wantedPx, isBelow ? below : above))}px`);
	return beside.bottom > top && beside.top < bottom;
}

const marginPx = 8;
