import type { QuantityKind } from '#lib/bench/quantity.ts';

/** Exit codes: the work came out well, it fell short of what was asked, the input could not be used. */
export const OK = 0;
export const FALLS_SHORT = 1;
export const UNUSABLE = 2;

/** Where a command writes: results to the standard output, progress and complaints beside it. */
export interface Terminal {
	print(text: string): void;
	note(text: string): void;
}

export interface Option {
	/** As it is typed, without its two dashes. */
	readonly name: string;
	/** What follows it, such as FILE; null for a switch. */
	readonly value: string | null;
	readonly meaning: string;
	/** What its value measures, if it has a unit; the unit may then stand apart, as in `--from 160 MHz`. */
	readonly quantity?: QuantityKind;
}

/** What was typed after a command's name, sorted. */
export interface Arguments {
	readonly files: readonly string[];
	/** By name; a switch that was given is ''. */
	readonly options: ReadonlyMap<string, string>;
}

/** One command of the command line: what the help says of it, what it takes and what it does. */
export interface Command {
	readonly name: string;
	/** What the files it takes are called; with `…` any number from one on, otherwise exactly one, and none if it is ''. */
	readonly takes: string;
	readonly summary: string;
	readonly details: readonly string[];
	readonly options: readonly Option[];
	/** Gives the exit code. @throws Fault when the input cannot be used. */
	readonly perform: (given: Arguments, terminal: Terminal) => Promise<number>;
}

/** Every command understands these. */
export const COMMON_OPTIONS: readonly Option[] = [
	{ name: 'json', value: null, meaning: 'print one JSON object, for programs to read' },
	{ name: 'help', value: null, meaning: 'explain the command' }
];
