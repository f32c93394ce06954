/** A note in the notebook; notes are only ever added. */
export interface Note {
	readonly id: string;
	/** When, in words: bench time, not the clock on the wall. */
	readonly time: string;
	readonly lines: readonly string[];
	/** Written by the learner, not copied from a reading. */
	readonly own: boolean;
}

/** Bench time in words. */
export function benchTime(seconds: number): string {
	const minutes = Math.floor(seconds / 60);
	const rest = Math.floor(seconds - 60 * minutes);
	return `Bench time ${minutes === 0 ? '' : `${minutes}\u00a0min `}${rest}\u00a0s`;
}

export const withNote = (
	notes: readonly Note[],
	seconds: number,
	text: string,
	own: boolean
): readonly Note[] => [
	...notes,
	{ id: `note-${notes.length + 1}`, time: benchTime(seconds), lines: text.split('\n'), own }
];
