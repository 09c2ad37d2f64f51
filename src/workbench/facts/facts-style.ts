import { css } from "lit";

/** The look of the strip and of the parts under it. */
export const factsStyle = css`
	:host {
		display: block;
		font: var(--body);
		color: var(--ink);
	}
	p,
	ul,
	ol {
		margin: 0;
		padding: 0;
	}
	.head {
		display: flex;
		align-items: start;
		justify-content: space-between;
		border-block: 1px solid var(--line);
		background: var(--sheet);
	}
	.strip {
		display: flex;
		flex-wrap: wrap;
		align-items: center;
		list-style: none;
		padding-inline-end: 0.3rem;
		overflow-x: clip;
	}
	/* The sign before a phrase that begins a line lies outside the strip, where nothing is shown. */
	.strip li {
		display: inline-flex;
		align-items: center;
		max-width: 100%;
		position: relative;
		padding-inline-start: 0.5rem;
	}
	.strip li::before {
		content: "·";
		position: absolute;
		inset-inline-start: -0.3rem;
		width: 0.3rem;
		overflow: clip;
		color: var(--quiet);
	}
	.head button {
		border-color: transparent;
		background: none;
		padding: 0 0.25rem;
		text-align: start;
		font-size: 0.875rem;
		line-height: 1.2;
	}
	.head button:hover {
		text-decoration: underline;
		text-underline-offset: 3px;
	}
	.strip .empty,
	.said.empty {
		color: var(--quiet);
		font-style: italic;
	}
	.head .all {
		color: var(--accent);
		flex: none;
		padding-inline: 0.6rem;
	}
	.parts:not([hidden]) {
		display: grid;
		grid-template-columns: repeat(auto-fit, minmax(min(100%, 24rem), 1fr));
		align-items: start;
		gap: var(--gap);
		padding-block: var(--gap);
	}
	.column {
		display: grid;
		gap: var(--gap);
		min-width: 0;
	}
	.part {
		border: 1px solid var(--line);
		border-radius: var(--radius);
		background: var(--sheet);
		min-width: 0;
	}
	summary {
		min-height: 2.25rem;
		padding: 0.35rem 0.6rem;
		cursor: pointer;
		overflow-wrap: anywhere;
	}
	.heading {
		font-weight: 600;
	}
	.said {
		color: var(--quiet);
		margin-inline-start: 0.4rem;
	}
	.content {
		display: grid;
		gap: var(--gap);
		padding: 0.35rem 0.6rem 0.75rem;
		min-width: 0;
	}
	.field {
		display: grid;
		gap: 0.2rem;
		min-width: 0;
	}
	label,
	legend,
	.legend {
		font-weight: 600;
		font-size: 0.9375rem;
	}
	.field input,
	.field select,
	.field textarea {
		width: 100%;
		min-width: 0;
	}
	textarea {
		resize: vertical;
		field-sizing: content;
	}
	::placeholder {
		color: var(--quiet);
		opacity: 1;
	}
	[aria-invalid="true"] {
		border-color: var(--unread);
		border-width: 2px;
	}
	.hint {
		color: var(--quiet);
		font-size: 0.9375rem;
	}
	.why,
	.warn {
		color: var(--unread);
		font-size: 0.9375rem;
	}
	fieldset {
		border: 0;
		margin: 0;
		padding: 0;
		min-width: 0;
	}
	legend {
		padding: 0 0 0.25rem;
	}
	.chips {
		display: flex;
		flex-wrap: wrap;
		gap: 0.4rem;
	}
	.chip {
		display: inline-flex;
		align-items: center;
		gap: 0.4rem;
		min-height: 2.25rem;
		padding: 0.2rem 0.7rem;
		border: 1px solid var(--strong-line);
		border-radius: 1.2rem;
		background: var(--sheet);
		font-weight: 400;
		font-size: 1rem;
		cursor: pointer;
	}
	.chip:has(:checked) {
		background: var(--picked);
		border-color: var(--accent);
	}
	.chip:has(:focus-visible) {
		outline: 3px solid var(--focus);
		outline-offset: 1px;
	}
	.chip :focus-visible {
		outline: none;
	}
	.block,
	.chooser > :not(summary) {
		display: grid;
		gap: 0.5rem;
		margin-block-end: 0.5rem;
	}
	.chooser > summary,
	.other > summary {
		color: var(--accent);
		padding-inline: 0.2rem;
		font-size: 0.9375rem;
	}
	.elements {
		display: grid;
		gap: 0.5rem;
		list-style: none;
	}
	.elements > li {
		border-inline-start: 3px solid var(--line);
		padding-inline-start: 0.6rem;
		display: grid;
		gap: 0.35rem;
		min-width: 0;
	}
	.element-head {
		display: flex;
		flex-wrap: wrap;
		align-items: start;
		justify-content: space-between;
		gap: 0.4rem;
	}
	/* The label of the field below stands beside the buttons. */
	.element-head.end {
		justify-content: end;
		margin-block-end: -1.9rem;
		padding-inline-start: 8rem;
	}
	.grow {
		flex: 1 1 12rem;
		min-width: 0;
	}
	.pair {
		display: grid;
		grid-template-columns: repeat(auto-fit, minmax(min(100%, 9rem), 1fr));
		gap: 0.5rem;
		align-items: start;
	}
	.buttons {
		display: inline-flex;
		gap: 0.3rem;
	}
	.small {
		min-width: 2.25rem;
		padding-inline: 0.4rem;
		justify-content: center;
	}
	.add {
		justify-self: start;
	}
	.findings {
		display: grid;
		gap: 0.3rem;
		list-style: none;
	}
	.findings li {
		background: var(--ground);
		padding: 0.3rem 0.5rem;
		border-radius: var(--radius);
	}
	.mark {
		color: var(--edge);
	}
`;
