import { showAnswer } from './answer.ts';
import { consequenceOf } from './grading.ts';
import type { Commitment } from './progress.ts';
import { questionOf, type Lesson, type Step } from './schema.ts';

/** What may be said about a committed answer once it is revealed. */
export interface Explanation {
	/** The answer in ink, in words. */
	readonly answer: string;
	readonly right: boolean;
	/** The sentence of the misconception it shows. */
	readonly misconception: string | undefined;
	/** Markdown, its blanks not yet filled. */
	readonly text: string;
}

export function explanationOf(lesson: Lesson, step: Step, commitment: Commitment): Explanation | undefined {
	const question = questionOf(step);
	if (!question) return undefined;
	const { explain, misconception } = consequenceOf(question, commitment.grade.met);
	return {
		answer: showAnswer(question, commitment.answer),
		right: commitment.grade.right,
		misconception: misconception === undefined ? undefined : lesson.misconceptions[misconception],
		text: explain
	};
}

/** The first right case of a question, with its explanation, for when the answer is shown. */
export function rightCase(step: Step): number | undefined {
	const i = questionOf(step)?.answers.findIndex((answer) => answer.right === true);
	return i === undefined || i < 0 ? undefined : i;
}
