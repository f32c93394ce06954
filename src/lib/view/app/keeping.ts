import { get, set } from 'idb-keyval';
import type { BenchDocument } from '#lib/bench/command.ts';
import { benchData, readBench } from '#lib/files/bench-file.ts';
import type { Note } from './notes.ts';

/** What is kept in this browser between visits. */
export interface Kept {
	readonly document: BenchDocument;
	/** Sweeps of the run that was on the screen, so that it comes back with the same readings. */
	readonly sweeps: number;
	readonly running: boolean;
	readonly notes: readonly Note[];
	/** A lesson in progress: which, and the engine's own record. */
	readonly lesson: { readonly file: string; readonly saved: unknown } | null;
	readonly folded: boolean | null;
	readonly theme: 'light' | 'projector';
	readonly finished: readonly string[];
	readonly visited: boolean;
}

const KEY = 'faint-echo-work';
const VERSION = 1;

interface Written extends Omit<Kept, 'document'> {
	readonly version: number;
	readonly bench: string;
}

/** Keeps the work. Rejects when the browser refuses, full storage among the reasons. */
export async function keep({ document, ...rest }: Kept): Promise<void> {
	const written: Written = { version: VERSION, bench: JSON.stringify(benchData(document)), ...rest };
	await set(KEY, written);
}

/** The work kept last, or null when there is none that this program can read. */
export async function keptWork(): Promise<Kept | null> {
	const written = await get<Written>(KEY);
	if (written === undefined) return null;
	const { version, bench, ...rest } = written;
	if (version !== VERSION) return null;
	return { ...rest, document: readBench(bench, 'work kept in this browser') };
}
