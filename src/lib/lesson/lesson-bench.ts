import type { ValueKind } from './value.ts';

/** One bench command by name; in a lesson script a map with one key: `- set level: { level: -20 dBm }`. */
export interface CommandRecord {
	readonly name: string;
	readonly arguments: Readonly<Record<string, unknown>>;
}

/** Numbers are in the base unit of their kind: Hz, s, ohm; dB and dBm for logarithmic ones. */
export type ObservableValue = number | boolean | string;
export type ObservableArgument = number | boolean | string;

/** What the guide, the checker and the conditions know about one observable. */
export interface ObservableDescription {
	/** The full name, such as `displayed.R`. */
	readonly name: string;
	readonly arguments: readonly { readonly name: string; readonly kind: ValueKind }[];
	readonly kind: ValueKind;
	/** One sentence for the author's guide. */
	readonly meaning: string;
}

/** All that a lesson needs of a bench; the page, the command line and the tests each bring their own. */
export interface LessonBench {
	/** @throws Fault on an unknown command or bad arguments; the bench is then unchanged. */
	run(command: CommandRecord): void;
	/** @throws Fault when the observable is unknown. */
	read(observable: string, args: readonly ObservableArgument[]): ObservableValue;
	readonly observables: ReadonlyMap<string, ObservableDescription>;
	readonly commands: ReadonlySet<string>;
	/** Everything needed to come back to this moment with identical readings, as plain data. */
	snapshot(): unknown;
	restore(snapshot: unknown): void;
}

/** Opens a fresh bench for a lesson, with the set-up written under `bench:`, or the usual one. */
export type OpenBench = (setup: Readonly<Record<string, unknown>> | undefined) => LessonBench;
