import { css } from "lit";

/** A native dialog as every view shows it. */
export const dialogStyle = css`
	dialog {
		width: min(42rem, calc(100vw - 2rem));
		max-height: calc(100dvh - 2rem);
		padding: 1.25rem 1.5rem;
		background: var(--paper);
		color: var(--ink);
		border: 2px solid var(--strong-line);
		border-radius: var(--radius);
	}
	dialog::backdrop {
		background: rgb(0 0 0 / 45%);
	}
	dialog h2 {
		margin: 0 0 var(--gap);
		font-size: 1.3rem;
	}
	dialog .buttons {
		display: flex;
		flex-wrap: wrap;
		gap: var(--gap);
		justify-content: end;
		margin-block-start: 1.25rem;
	}
	dialog .field {
		display: grid;
		gap: 0.2rem;
		margin-block: var(--gap);
	}
	dialog .hint {
		color: var(--quiet);
		font-size: 0.9rem;
		margin: 0;
	}
	dialog .wrong {
		color: var(--stop);
		margin: 0;
	}
	dialog fieldset {
		border: 1px solid var(--line);
		border-radius: var(--radius);
		margin: var(--gap) 0;
		padding: 0.5rem var(--gap);
	}
	dialog .choice {
		display: flex;
		align-items: center;
		gap: 0.5rem;
		min-height: 2.25rem;
	}
`;
