import { css } from "lit";

/** The shell around every view. */
export const shellStyle = css`
	:host {
		display: block;
		min-height: 100vh;
		background: var(--paper);
		color: var(--ink);
		font: var(--body);
	}
	.skip:not(:focus) {
		position: absolute;
		inset-block-start: -4rem;
	}
	header {
		display: flex;
		flex-wrap: wrap;
		align-items: center;
		gap: 0.3rem var(--gap);
		padding: 0.3rem 1rem;
		background: var(--sheet);
		border-block-end: 2px solid var(--line);
	}
	.product {
		font-weight: 700;
		font-size: 1.2rem;
		letter-spacing: 0.01em;
		color: var(--ink);
		text-decoration: none;
		line-height: 2.25rem;
		padding-inline: 0.25rem;
	}
	.book {
		min-width: 0;
		max-width: 100%;
		display: inline-flex;
		align-items: center;
		gap: 0.5rem;
	}
	span.book {
		overflow-wrap: anywhere;
	}
	.book select {
		min-width: 0;
		max-width: 100%;
	}
	.space {
		flex: 1;
	}
	.banner {
		margin: 0;
		padding: 0.4rem 1rem;
		background: var(--caution-ground);
		color: var(--ink);
		border-block-end: 1px solid var(--line);
	}
	main {
		padding: 0.5rem 1rem 1rem;
	}
	main:focus,
	h1:focus {
		outline: none;
	}
	.page {
		max-width: 50rem;
		margin-inline: auto;
	}
	.page a {
		color: var(--accent);
		line-height: 2.25rem;
	}
	.loading {
		font-size: 1.2rem;
		font-weight: 400;
		color: var(--quiet);
	}
	@media print {
		header,
		.banners {
			display: none;
		}
		main {
			padding: 0;
		}
	}
`;
