/** Exit codes: the work came out well, it fell short of what was asked, the input could not be used. */
export const OK = 0;
export const FALLS_SHORT = 1;
export const UNUSABLE = 2;

/** One command of the command line: what the usage says of it, and what it does with its own arguments. */
export interface Command {
	readonly name: string;
	readonly usage: string;
	readonly summary: string;
	readonly perform: (args: readonly string[]) => Promise<number>;
}
