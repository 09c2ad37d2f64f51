/**
 * The link of this page that a plain click follows; null where it is on none, or asks for another tab, window or file:
 * those are the browser's.
 */
export function followedLink(event: MouseEvent): HTMLAnchorElement | null {
	const { button, ctrlKey, metaKey, shiftKey, altKey } = event;
	if (event.defaultPrevented || button !== 0 || ctrlKey || metaKey || shiftKey || altKey) return null;
	const link = event.composedPath().find((one) => one instanceof HTMLAnchorElement);
	if (link === undefined || link.target !== "" || link.hasAttribute("download")) return null;
	return link.origin === location.origin ? link : null;
}
