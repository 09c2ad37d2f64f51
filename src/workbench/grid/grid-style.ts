import { css } from "lit";

/** Rows like a bench card: large type, ruled lines, marks that stand beside the text. */
export const gridStyle = css`
	:host {
		display: block;
		font: var(--body);
		color: var(--ink);
	}
	section {
		display: flex;
		flex-direction: column;
		gap: 0.4rem;
	}
	.bar {
		container-type: inline-size;
		display: flex;
		flex-wrap: wrap;
		gap: 0.3rem 0.75rem;
		align-items: center;
	}
	::slotted(*) {
		flex: 1 1 24rem;
		min-width: 0;
	}
	.tools {
		display: flex;
		flex-wrap: wrap;
		gap: 0.25rem;
		margin-inline-start: auto;
	}
	.tools button {
		min-width: 2.25rem;
		padding-inline: 0.5rem;
		font-size: 0.9375rem;
		justify-content: center;
	}
	/* Beside the choice of a situation there is room for the signs only; each keeps its name and title. */
	@container (50rem <= width < 82rem) {
		.word {
			display: none;
		}
	}
	@container (width < 50rem) {
		.tools {
			margin-inline-start: 0;
		}
	}
	.rows {
		height: min(var(--rows-height, 20rem), var(--rows-most, 75vh));
		min-height: 11rem;
	}
	.foot {
		display: flex;
		flex-wrap: wrap;
		gap: 0.25rem 1.5rem;
		justify-content: space-between;
		min-height: 1.5rem;
		margin: 0;
	}
	.foot > * {
		margin: 0;
		max-width: 75ch;
	}
	.hidden-columns {
		margin: 0;
		color: var(--caution);
	}

	.header {
		line-height: 1.15;
		white-space: normal;
		overflow-wrap: anywhere;
	}
	.ag-cell {
		line-height: 1.2;
	}
	.ag-cell.picked {
		background: var(--picked);
	}
	.ag-cell.stop {
		background: var(--stop-ground);
	}
	.ag-cell.caution {
		background: var(--caution-ground);
	}
	.ag-cell.advice {
		background: var(--advice-ground);
	}
	.ag-cell.picked:is(.stop, .caution, .advice) {
		box-shadow: inset 0 0 0 1px var(--focus);
	}
	.ag-cell.unread .text {
		color: var(--unread);
		text-decoration: underline dotted;
		text-underline-offset: 3px;
	}
	.ag-cell.conflict {
		box-shadow: inset 4px 0 0 var(--stop);
	}
	.ag-cell.figure {
		background: var(--raised);
		font-family: var(--figures);
		cursor: default;
	}
	.ag-cell.figure.picked {
		background: var(--picked);
	}
	@media (forced-colors: active) {
		.ag-cell.picked {
			outline: 2px dashed Highlight;
			outline-offset: -3px;
		}
	}
	/* As exact as the library's own rule, and one more: its frame of 1 px is lost among the lines. */
	.rows .ag-cell.ag-cell-focus:not(.ag-cell-range-selected):focus-within {
		outline: 3px solid var(--focus);
		outline-offset: -3px;
	}
	.cell {
		display: flex;
		align-items: center;
		height: 100%;
		min-width: 0;
	}
	.content {
		flex: 1;
		min-width: 0;
		display: -webkit-box;
		-webkit-box-orient: vertical;
		-webkit-line-clamp: 2;
		overflow: hidden;
		overflow-wrap: anywhere;
		white-space: normal;
		position: relative;
	}
	.aside,
	.type-here {
		color: var(--quiet);
	}
	.aside {
		font-size: 0.8125rem;
	}
	/* A figure, and under it how sure it is. */
	.figure .aside {
		display: block;
		white-space: nowrap;
	}
	.type-here {
		font-style: italic;
	}
	.mark {
		font-weight: 700;
		margin-inline-end: 0.35rem;
	}
	.mark.stop {
		color: var(--stop);
	}
	.mark.caution {
		color: var(--caution);
	}
	.mark.advice {
		color: var(--advice);
	}
	.mark.accepted {
		color: var(--quiet);
		font-weight: 400;
	}
	.mark.unread-mark {
		color: var(--unread);
	}
	.conflict-mark {
		color: var(--stop);
		font-weight: 700;
		margin-inline-end: 0.35rem;
	}
	.handle {
		align-self: stretch;
		display: grid;
		place-items: center;
		width: 1.5rem;
		flex: none;
		margin-inline-start: -0.5rem;
		color: var(--quiet);
		cursor: grab;
		touch-action: none;
	}
	/* The number stands in one line with its mark. */
	.handle + .content {
		white-space: nowrap;
		overflow-wrap: normal;
	}
	.handle + .content .mark {
		margin-inline-end: 0.2rem;
	}
	.row-menu {
		flex: none;
		min-height: 2.25rem;
		min-width: 1.75rem;
		padding: 0;
		margin-inline-end: -0.4rem;
		justify-content: center;
		border-color: transparent;
		background: transparent;
		line-height: 1;
	}
	.editor {
		position: absolute;
		inset: 0;
		z-index: 1;
	}
	.editor input {
		width: 100%;
		height: 100%;
		min-height: 0;
		padding: 0 7px;
		border: 0;
		border-radius: 0;
		font: inherit;
		line-height: 1.4;
		background: var(--sheet);
		color: var(--ink);
	}
	.editor input:focus-visible {
		outline: 3px solid var(--focus);
		outline-offset: -3px;
	}

	[popover] {
		position: fixed;
		inset: auto;
		margin: 0;
		padding: 0.35rem;
		border: 1px solid var(--strong-line);
		border-radius: var(--radius);
		background: var(--sheet);
		color: var(--ink);
		overflow-y: auto;
		overscroll-behavior: contain;
		box-shadow: 0 4px 14px rgb(0 0 0 / 25%);
	}
	.offers {
		list-style: none;
		padding: 0;
	}
	.offers li {
		display: flex;
		justify-content: space-between;
		align-items: baseline;
		gap: 1.5rem;
		min-height: 2.5rem;
		padding: 0.5rem 0.7rem;
		cursor: pointer;
	}
	.offers li:hover,
	.offers li[aria-selected="true"] {
		background: var(--picked);
	}
	.offers li[aria-selected="true"] {
		outline: 2px solid var(--focus);
		outline-offset: -2px;
	}
	.offers small {
		color: var(--quiet);
		font-size: 0.875rem;
	}
	.offers li[aria-selected="true"] small,
	.offers li:hover small {
		color: var(--ink);
	}
	.menu:popover-open {
		display: grid;
	}
	.menu button {
		border-color: transparent;
		min-height: 2.75rem;
		justify-content: flex-start;
	}
	.menu button:focus-visible {
		outline-offset: -3px;
	}
	.columns fieldset {
		border: 0;
		margin: 0;
		padding: 0;
		display: grid;
		grid-template-columns: repeat(auto-fill, minmax(13rem, 1fr));
		gap: 0 1rem;
		width: min(44rem, 90vw);
	}
	.columns legend {
		font-weight: 600;
		padding: 0.35rem 0;
	}
	.columns label {
		display: flex;
		align-items: center;
		gap: 0.5rem;
		min-height: 2.5rem;
	}
	.columns small {
		color: var(--quiet);
	}
`;
