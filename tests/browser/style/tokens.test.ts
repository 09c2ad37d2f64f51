import { expect } from "@esm-bundle/chai";
import { resetMouse, sendMouse } from "@web/test-runner-commands";
import { html, LitElement } from "lit";
import { controls } from "../../../src/workbench/style/tokens.ts";
import { stage, themes } from "../stage.ts";

class Buttons extends LitElement {
	static override styles = controls;

	override render() {
		return html`<button>Plain</button><button class="main">Save</button><button class="main" disabled>Save</button>`;
	}
}
customElements.define("test-buttons", Buttons);

/** WCAG 2.2, 1.4.3: text of this size. */
const leastContrast = 4.5;

async function buttons(theme: (typeof themes)[number]): Promise<HTMLButtonElement[]> {
	document.body.replaceChildren();
	const element = document.createElement("test-buttons") as Buttons;
	stage(theme).append(element);
	await element.updateComplete;
	return [...element.renderRoot.querySelectorAll("button")];
}

async function pointAt(button: HTMLElement): Promise<void> {
	const { left, top, width, height } = button.getBoundingClientRect();
	await sendMouse({ type: "move", position: [Math.round(left + width / 2), Math.round(top + height / 2)] });
}

/** Contrast of a button's text on its ground, by the formula of WCAG 2.2. */
function contrastOf(button: HTMLElement): number {
	const { color, backgroundColor } = getComputedStyle(button);
	const [light = 0, dark = 0] = [color, backgroundColor].map(luminance).toSorted((a, b) => b - a);
	return (light + 0.05) / (dark + 0.05);
}

function luminance(colour: string): number {
	const canvas = new OffscreenCanvas(1, 1).getContext("2d");
	if (canvas === null) throw new Error("no canvas");
	canvas.fillStyle = colour;
	canvas.fillRect(0, 0, 1, 1);
	const [red = 0, green = 0, blue = 0] = [...canvas.getImageData(0, 0, 1, 1).data].map((value) => {
		const share = value / 255;
		return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
	});
	return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

describe("the buttons of every view", () => {
	afterEach(() => resetMouse());

	for (const theme of themes)
		it(`can be read at rest, under the mouse and while they cannot be pressed, ${theme}`, async () => {
			for (const button of await buttons(theme)) {
				const name = `${button.textContent} ${button.className} ${button.disabled ? "disabled" : ""}`;
				expect(contrastOf(button), `${name} at rest`).to.be.at.least(leastContrast);
				await pointAt(button);
				expect(button.matches(":hover"), name).to.equal(true);
				expect(contrastOf(button), `${name} under the mouse`).to.be.at.least(leastContrast);
			}
		});

	for (const theme of themes)
		it(`keep the main one apart from the others under the mouse, ${theme}`, async () => {
			const [plain, main] = await buttons(theme);
			if (plain === undefined || main === undefined) throw new Error("no buttons");
			await pointAt(main);
			const ground = getComputedStyle(main).backgroundColor;
			await pointAt(plain);
			expect(ground).to.not.equal(getComputedStyle(plain).backgroundColor);
		});
});
