/**
 * Puts a text and its table on the clipboard without a key pressed for it. A page of an insecure address is given no
 * clipboard; there the browser's own command is asked. Rejects where neither may.
 */
export async function copyOut(text: string, table: string): Promise<void> {
	const { clipboard } = globalThis.navigator as Partial<Navigator>;
	if (clipboard !== undefined) return clipboard.writeText(text);
	const field = document.createElement("textarea");
	const fill = (event: ClipboardEvent) => {
		event.clipboardData?.setData("text/plain", text);
		event.clipboardData?.setData("text/html", table);
		event.preventDefault();
		event.stopImmediatePropagation();
	};
	field.value = text;
	document.body.append(field);
	field.select();
	globalThis.addEventListener("copy", fill, true);
	// oxlint-disable-next-line typescript/no-deprecated -- nothing else copies on an insecure address
	const isDone = document.execCommand("copy");
	globalThis.removeEventListener("copy", fill, true);
	field.remove();
	if (!isDone) throw new Error("the browser copied nothing");
}
