import { css } from "lit";
import { browserStorage } from "./browser-storage.ts";
import { Server } from "./server.ts";
import { SettingsKeeper } from "./settings.ts";
import type { DraftKeeper } from "./store/draft.ts";
import { Workbench } from "./workbench.ts";

let keeper: Promise<DraftKeeper> | null = null;

const workbench = new Workbench();
workbench.surroundings = {
	server: new Server(fetch),
	settings: new SettingsKeeper(browserStorage()),
	drafts: () => (keeper ??= openDrafts()),
	loadSheet: () => import("./open-sheet.ts"),
	loadShelf: () => import("./shelf/shelf.ts"),
	loadNew: () => import("./shelf/new-dialog.ts"),
	askAgainMs: 4000,
};
document.adoptedStyleSheets.push(
	// The page around the workbench has no look of its own.
	css`body { margin: 0 }`.styleSheet as CSSStyleSheet,
);
document.body.prepend(workbench);

/** Once opened they stay so; what did not load is loaded again the next time. */
async function openDrafts(): Promise<DraftKeeper> {
	try {
		const { browserDrafts } = await import("./store/drafts.ts");
		return await browserDrafts();
	} catch (error) {
		keeper = null;
		throw error;
	}
}
