/** What a command may touch besides the files it is given; handed in, so that a test can watch it. */
export interface World {
	/** Standard output. */
	out(text: string): void;
	/** Standard error. */
	err(text: string): void;
	/** Folder that relative paths start from. */
	folder: string;
	/** Today's date, year-month-day. */
	today: string;
	/** Environment variables. */
	environment: Record<string, string | undefined>;
	/** The date as it is at the moment of asking: a command may run past midnight. */
	clock(): string;
	/** Folder of the built workbench. */
	workbench: string;
	/** Resolves when the person wants the program to end (Ctrl+C). */
	untilStopped(): Promise<void>;
}

/** 0 clean, 1 findings at or above the asked level, 2 wrong use, 3 unreadable input, 4 our own failure. */
export type ExitCode = 0 | 1 | 2 | 3 | 4;

/** The gravest of several outcomes. */
export function gravest(codes: readonly ExitCode[]): ExitCode {
	return codes.reduce<ExitCode>((worst, code) => (code > worst ? code : worst), 0);
}
