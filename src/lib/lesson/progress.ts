import type { Answer } from './answer.ts';
import type { Grade } from './grading.ts';
import type { LearnerRecord, RecordEntry } from './record.ts';

export interface Commitment {
	readonly answer: Answer;
	readonly grade: Grade;
}

export interface StepProgress {
	/** Committed answers, first to last. */
	readonly ink: readonly Commitment[];
	/** How many hints are open. */
	readonly hints: number;
	/** Whether the right answer was shown after the tries were used up. */
	readonly shown: boolean;
	/** Whether the condition of a do step has held for long enough. */
	readonly met: boolean;
	readonly left: boolean;
}

export interface Progress {
	/** The step the learner stands at; undefined before the first. */
	readonly at: string | undefined;
	readonly finished: boolean;
	readonly steps: Readonly<Record<string, StepProgress>>;
	/** Numbers kept by steps that were left, by name. */
	readonly kept: Readonly<
		Record<string, { readonly value: number | boolean | string | null; readonly kind: string }>
	>;
}

const UNTOUCHED: StepProgress = { ink: [], hints: 0, shown: false, met: false, left: false };
const NOTHING: Progress = { at: undefined, finished: false, steps: {}, kept: {} };

/** How far a learner has come, worked out from the record alone. */
export const progressOf = (record: LearnerRecord): Progress => record.reduce(advance, NOTHING);

export const stepProgress = (progress: Progress, step: string): StepProgress =>
	Object.hasOwn(progress.steps, step) ? progress.steps[step] : UNTOUCHED;

/** The progress after one more entry. */
export function advance(progress: Progress, entry: RecordEntry): Progress {
	if (entry.type === 'finished') return { ...progress, finished: true };
	const before = stepProgress(progress, entry.step);
	const change = (changed: Partial<StepProgress>): Progress => ({
		...progress,
		steps: { ...progress.steps, [entry.step]: { ...before, ...changed } }
	});
	switch (entry.type) {
		case 'entered':
			return { ...change({}), at: entry.step };
		case 'committed':
			return change({ ink: [...before.ink, { answer: entry.answer, grade: entry.grade }] });
		case 'hint':
			return change({ hints: Math.max(before.hints, entry.hint + 1) });
		case 'shown':
			return change({ shown: true });
		case 'met':
			return change({ met: true });
		case 'again':
			return change({ met: false });
		case 'left':
			return { ...change({ left: true }), kept: { ...progress.kept, ...entry.kept } };
	}
}
