import { css } from "lit";

/** The Sheet as a page: a bar, the facts, then the rows with a column beside them; one under the other where it is narrow. */
export const sheetStyle = css`
	:host {
		display: block;
		color: var(--ink);
	}
	.bar {
		position: sticky;
		top: 0;
		z-index: 3;
		display: flex;
		flex-wrap: wrap;
		align-items: center;
		gap: 0 0.6rem;
		padding: 0.3rem 0;
		background: var(--paper);
		border-bottom: 2px solid var(--line);
	}
	h1 {
		flex: 1 1 20rem;
		min-width: 0;
		margin: 0;
		font-size: 1.25rem;
		line-height: 1.2;
	}
	h1 textarea {
		display: block;
		width: 100%;
		min-height: 2.25rem;
		max-height: 6rem;
		padding: 0.3rem 0.4rem;
		field-sizing: content;
		resize: none;
		font-weight: 700;
		background: transparent;
		border-color: transparent;
	}
	h1 textarea:hover:not(:read-only) {
		border-color: var(--strong-line);
	}
	h1 textarea:focus {
		background: var(--sheet);
		border-color: var(--strong-line);
	}
	.about {
		margin: 0;
		align-items: center;
		flex: 1 1 100%;
		display: flex;
		flex-wrap: wrap;
		gap: 0 1rem;
		font-size: 0.875rem;
		color: var(--quiet);
	}
	.about .id {
		font-family: var(--figures);
	}
	.saving {
		color: var(--ink);
	}
	.saving.refused,
	.saving.conflict,
	.saving.undrafted {
		color: var(--stop);
		font-weight: 600;
	}
	.counts,
	button.saving {
		padding: 0 0.5rem;
		border-color: transparent;
		background: none;
		color: var(--ink);
		font-weight: 600;
		text-align: start;
		text-decoration: underline;
		text-decoration-color: var(--strong-line);
		text-underline-offset: 3px;
	}
	button.saving {
		color: var(--stop);
	}
	.counts span {
		color: var(--edge);
	}
	.tools {
		display: flex;
		flex-wrap: wrap;
		gap: 0.3rem;
	}
	/* Lies over the foot of the window, so that the page stays where it is. */
	.told {
		position: fixed;
		inset-inline-end: 1rem;
		inset-block-end: 1rem;
		z-index: 4;
		max-width: min(44rem, calc(100vw - 2rem));
		padding: 0.4rem 0.4rem 0.4rem 0.9rem;
		background: var(--raised);
		border: 2px solid var(--strong-line);
		border-radius: var(--radius);
		margin: 0;
		display: flex;
		justify-content: space-between;
		align-items: center;
		gap: var(--gap);
	}
	.told:not(.said) {
		position: absolute;
		width: 1px;
		height: 1px;
		padding: 0;
		border: 0;
		overflow: hidden;
		clip-path: inset(50%);
	}
	.banner {
		margin: var(--gap) 0;
		padding: 0.6rem 0.9rem;
		border-left: 4px solid var(--caution);
		background: var(--caution-ground);
	}
	.banner p,
	.banner ul {
		margin: 0.2rem 0;
	}
	gw-facts {
		display: block;
		margin: 0 0 0.5rem;
	}
	.work {
		display: grid;
		grid-template:
			"rows beside" auto
			"details beside" 1fr / minmax(0, 1fr) clamp(17.5rem, 22vw, 26rem);
		gap: var(--gap) 1rem;
		align-items: start;
	}
	.rows {
		grid-area: rows;
		min-width: 0;
	}
	gw-grid {
		--rows-most: max(28rem, calc(100vh - 17rem));
		min-width: 0;
	}
	.details {
		grid-area: details;
	}
	.beside {
		grid-area: beside;
		display: grid;
		gap: 1rem;
		min-width: 0;
	}
	.details,
	.beside > section {
		min-width: 0;
		padding-top: 0.4rem;
		border-top: 2px solid var(--line);
	}
	/* The drawing stays in sight under a long list. */
	.found {
		max-height: 56vh;
		overflow-y: auto;
	}
	h2 {
		font-size: 1rem;
		margin: 0 0 0.4rem;
	}
	@media (max-width: 1240px) {
		.work {
			grid-template: "rows" "beside" "details" / minmax(0, 1fr);
		}
		.beside {
			grid-template-columns: repeat(auto-fit, minmax(min(100%, 21rem), 1fr));
			align-items: start;
		}
		.found {
			grid-column: 1 / -1;
			max-height: none;
		}
		gw-grid {
			--rows-most: max(20rem, 62vh);
		}
	}
	/* Where there is little height (a page at 200 %, a tablet's keyboard) the bar scrolls away with the page. */
	@media (max-height: 40rem) {
		.bar {
			position: static;
		}
	}
`;
