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
`;

/** Buttons, fields and text as every view shows them; targets are at least 15 mm where a wet finger works, 2.25 rem elsewhere. */
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
	button:hover:not(:disabled) {
		background: var(--raised);
	}
	button.main {
		background: var(--accent);
		border-color: var(--accent);
		color: var(--on-accent);
		font-weight: 600;
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
