import { css } from "lit";

/**
 * The look in one place: paper, ink, and three levels. Colour stands for level and data only, never for a liquid or a
 * pad, and never alone: each level has its own mark and its word. Every pair meets WCAG 2.2 AA on its ground.
 */
export const tokens = css`
	:host {
		--paper: #fbf9f4;
		--sheet: #ffffff;
		--raised: #f1eee6;
		--ink: #1c2326;
		--quiet: #566064;
		--line: #d5d1c5;
		--strong-line: #8c9296;
		--accent: #0b5560;
		--on-accent: #ffffff;
		--picked: #dcebea;
		--stop: #a1141f;
		--stop-ground: #fbe6e4;
		--caution: #7a4d00;
		--caution-ground: #fbeccb;
		--advice: #2b4f86;
		--advice-ground: #e3ebf8;
		--film: #7fa7ad;
		--film-band: #c6d9da;
		--unread: #7a1f6b;
		--focus: #0b5560;
		--radius: 3px;
		--gap: 0.75rem;
		--body: 16px/1.45 system-ui, "Liberation Sans", "Noto Sans", sans-serif;
		--figures: "Liberation Mono", ui-monospace, "DejaVu Sans Mono", monospace;
		color-scheme: light;
	}
	:host([theme="dark"]) {
		--paper: #14181a;
		--sheet: #1b2022;
		--raised: #262c2f;
		--ink: #eceae3;
		--quiet: #a9b1b3;
		--line: #3b4447;
		--strong-line: #727c80;
		--accent: #7fd0d2;
		--on-accent: #08282b;
		--picked: #1d3f42;
		--stop: #ff9a94;
		--stop-ground: #43191a;
		--caution: #f2c368;
		--caution-ground: #3c2d0b;
		--advice: #a3c4f5;
		--advice-ground: #1c2d49;
		--film: #5f9aa0;
		--film-band: #2d4d50;
		--unread: #eaa3dd;
		--focus: #7fd0d2;
		color-scheme: dark;
	}
	/* Where the reader has colours of their own, what is drawn takes them too. */
	@media (forced-colors: active) {
		:host,
		:host([theme="dark"]) {
			--paper: Canvas;
			--sheet: Canvas;
			--raised: Canvas;
			--ink: CanvasText;
			--quiet: CanvasText;
			--line: CanvasText;
			--strong-line: CanvasText;
			--picked: Canvas;
			--film: Canvas;
			--film-band: Canvas;
			--focus: Highlight;
		}
	}
`;

/** Buttons, fields and text as every view shows them; targets are 2.75 rem high where a finger works, 2.25 rem elsewhere. */
export const controls = css`
	* {
		box-sizing: border-box;
	}
	button,
	input,
	select,
	textarea {
		font: inherit;
		color: inherit;
	}
	button,
	.button {
		min-height: 2.25rem;
		padding: 0.25rem 0.8rem;
		border: 1px solid var(--strong-line);
		border-radius: var(--radius);
		background: var(--sheet);
		color: var(--ink);
		cursor: pointer;
		text-decoration: none;
		display: inline-flex;
		align-items: center;
		gap: 0.4rem;
	}
	button:hover:not(:disabled, .main) {
		background: var(--raised);
	}
	button.main {
		font-weight: 600;
	}
	button.main:not(:disabled) {
		background: var(--accent);
		border-color: var(--accent);
		color: var(--on-accent);
	}
	button.main:hover:not(:disabled) {
		background: color-mix(in srgb, var(--accent) 85%, var(--ink));
	}
	button:disabled {
		color: var(--quiet);
		border-style: dashed;
		cursor: default;
	}
	input,
	select,
	textarea {
		min-height: 2.25rem;
		padding: 0.25rem 0.5rem;
		border: 1px solid var(--strong-line);
		border-radius: var(--radius);
		background: var(--sheet);
	}
	input[type="checkbox"],
	input[type="radio"] {
		min-height: 0;
		width: 1.15rem;
		height: 1.15rem;
		accent-color: var(--accent);
	}
	@media (pointer: coarse) {
		button,
		.button,
		input,
		select,
		textarea,
		summary {
			min-height: 2.75rem;
		}
	}
	:focus-visible {
		outline: 3px solid var(--focus);
		outline-offset: 1px;
	}
	.hidden-text {
		position: absolute;
		width: 1px;
		height: 1px;
		overflow: hidden;
		clip-path: inset(50%);
		white-space: nowrap;
	}
	@media (prefers-reduced-motion: reduce) {
		*,
		*::before,
		*::after {
			transition: none !important;
			animation: none !important;
		}
	}
`;

/** The colours of a level, for what has it as its class: `--edge` for ink and lines, `--ground` for what lies under. */
export const levelColours = css`
	.stop {
		--edge: var(--stop);
		--ground: var(--stop-ground);
	}
	.caution {
		--edge: var(--caution);
		--ground: var(--caution-ground);
	}
	.advice {
		--edge: var(--advice);
		--ground: var(--advice-ground);
	}
`;

/** Headings, lists and what is said more quietly, in a panel of the Sheet. */
export const panel = css`
	:host {
		display: block;
	}
	h2 {
		font-size: 1rem;
		margin: 0 0 0.4rem;
	}
	h3 {
		font-size: 0.9375rem;
		margin: 0.9rem 0 0.2rem;
	}
	ul {
		list-style: none;
		margin: 0;
		padding: 0;
	}
	.quiet {
		color: var(--quiet);
		font-size: 0.875rem;
	}
`;
