import { questionOf } from '#lib/lesson/schema.ts';
import type { Step } from '#lib/lesson/schema.ts';
import { showAnswer } from '#lib/lesson/answer.ts';
import { stepProgress } from '#lib/lesson/progress.ts';
import { FREE_TRIES, SWEEPS_HELD } from '#lib/lesson/runner.ts';
import type { LessonRunner } from '#lib/lesson/runner.ts';
import { plainText } from '#lib/lesson/text.ts';
import type { Block } from '#lib/lesson/text.ts';

/** The miss after which the answer is shown. */
const TRIES = FREE_TRIES + 1;

/** A question as it is asked, without what its answers lead to. */
export type AskedQuestion =
	| {
			readonly kind: 'choice';
			readonly ask: Block[];
			readonly options: readonly { readonly is: string; readonly text: Block[] }[];
	  }
	| {
			readonly kind: 'number' | 'interval';
			readonly ask: Block[];
			readonly unit: string;
			/** Where in the corridor the answer is drawn, and what it says of the level there. */
			readonly mark?: { readonly at: 'receiver' | 'device'; readonly as: 'level' | 'fall' } | undefined;
	  }
	| { readonly kind: 'point'; readonly ask: Block[] }
	| {
			readonly kind: 'order';
			readonly ask: Block[];
			readonly items: readonly { readonly id: string; readonly text: Block[] }[];
	  };

/** An answer in ink: a line, or the items of an order one under the other. */
export type InkedAnswer = string | readonly string[];

/** What is said of an answer in ink. */
export interface ShownExplanation {
	readonly right: boolean;
	readonly misconception: string | undefined;
	readonly text: Block[];
}

/** A step that was left, or one to come (without ink then). */
export interface OtherStep {
	readonly id: string;
	readonly number: number;
	readonly state: 'past' | 'later';
	readonly title: string;
	readonly ink: readonly InkedAnswer[];
	readonly explanation: ShownExplanation | undefined;
}

/** The step the learner stands at. */
export interface OpenStep {
	readonly id: string;
	readonly number: number;
	readonly state: 'open';
	readonly title: string;
	readonly kind: Step['kind'];
	readonly text: Block[] | undefined;
	/** Undefined once its answer stands. */
	readonly question: AskedQuestion | undefined;
	readonly ink: readonly InkedAnswer[];
	/** How many more tries there are before the answer is shown; undefined before the first miss. */
	readonly triesLeft: number | undefined;
	/** The prediction explained here and what the bench shows beside it. */
	readonly compared:
		{ readonly ink: InkedAnswer | undefined; readonly observed: string | undefined } | undefined;
	/** What is said of that prediction. */
	readonly ofPrediction: ShownExplanation | undefined;
	/** What is said of the answer given at this step. */
	readonly explanation: ShownExplanation | undefined;
	/** The right answer and what is said of it, once the tries are used up. */
	readonly shown: { readonly answer: string; readonly text: Block[] } | undefined;
	readonly hints: readonly Block[][];
	readonly hintsLeft: number;
	/** How many sweeps the condition of a do step has held, of how many. */
	readonly held: { readonly sweeps: number; readonly of: number } | undefined;
	readonly canContinue: boolean;
	readonly last: boolean;
}

/** Everything the notebook draws of a running lesson, as plain data. */
export interface LessonPage {
	readonly id: string;
	readonly title: string;
	readonly minutes: number;
	readonly finished: boolean;
	/** The number of the open step, from 1, and of how many. */
	readonly at: number;
	readonly of: number;
	/** Nothing is in ink yet, so the notebook says once that ink stays. */
	readonly firstInk: boolean;
	/** The open step asks for a point, in pencil or in ink already: the chart must be in sight. */
	readonly onChart: boolean;
	readonly steps: readonly (OtherStep | OpenStep)[];
}

/** The page of a lesson as it stands now; made anew after every act and every sweep. */
export function lessonPage(runner: LessonRunner): LessonPage {
	const { lesson, progress, step: present } = runner;
	const { finished } = progress;
	const at = lesson.steps.indexOf(present);
	const steps = lesson.steps.flatMap((step, i): (OtherStep | OpenStep)[] => {
		if (step === present && !finished) return [openStep(runner, i + 1)];
		const known = Object.hasOwn(progress.steps, step.id);
		// A step the way led past is neither past nor to come.
		if (!known && (i < at || finished)) return [];
		return [otherStep(runner, step, i + 1, known ? 'past' : 'later')];
	});
	return {
		id: lesson.id,
		title: lesson.title,
		minutes: lesson.minutes,
		finished,
		at: at + 1,
		of: lesson.steps.length,
		firstInk: !runner.record.some((entry) => entry.type === 'committed'),
		onChart: !finished && questionOf(present)?.kind === 'point',
		steps
	};
}

function otherStep(runner: LessonRunner, step: Step, number: number, state: 'past' | 'later'): OtherStep {
	const past = state === 'past';
	return {
		id: step.id,
		number,
		state,
		title: step.title,
		ink: past ? inkOf(runner, step) : [],
		explanation: past ? explanationOf(runner, step.id) : undefined
	};
}

function openStep(runner: LessonRunner, number: number): OpenStep {
	const { step, stepProgress: own, lesson } = runner;
	const question = questionOf(step);
	const { canContinue } = runner;
	const explained = step.kind === 'explain' ? step.of : undefined;
	const { shownExplanation: shown, shownAnswer } = runner;
	return {
		id: step.id,
		number,
		state: 'open',
		title: step.title,
		kind: step.kind,
		text: runner.stepText,
		question: question && !canContinue ? asked(runner, question) : undefined,
		ink: inkOf(runner, step),
		triesLeft: own.ink.length > 0 && !canContinue ? TRIES - own.ink.length : undefined,
		compared: step.kind === 'explain' ? compared(runner, step) : undefined,
		ofPrediction: explained === undefined ? undefined : explanationOf(runner, explained),
		explanation: explanationOf(runner, step.id),
		shown:
			shown === undefined || shownAnswer === undefined
				? undefined
				: { answer: shownAnswer, text: runner.text(shown) },
		hints: step.hints.slice(0, own.hints).map((hint) => runner.text(hint)),
		hintsLeft: step.hints.length - own.hints,
		held: step.kind === 'do' && !own.met ? { sweeps: runner.sweepsHeld, of: SWEEPS_HELD } : undefined,
		canContinue,
		last: step.next === 'end' || (step.next === undefined && step === lesson.steps.at(-1))
	};
}

function inkOf(runner: LessonRunner, step: Step): InkedAnswer[] {
	const question = questionOf(step);
	if (!question) return [];
	return stepProgress(runner.progress, step.id).ink.map(({ answer }) =>
		question.kind === 'order' && answer.kind === 'order'
			? answer.order.map((id) => {
					const item = question.items.find((candidate) => candidate.id === id);
					return item ? plainText(runner.text(item.text)) : id;
				})
			: question.kind === 'choice'
				? // what was chosen may have numbers of the bench in it
					plainText(runner.text(showAnswer(question, answer)))
				: showAnswer(question, answer)
	);
}

function explanationOf(runner: LessonRunner, id: string): ShownExplanation | undefined {
	const explanation = runner.explanation(id);
	return (
		explanation && {
			right: explanation.right,
			misconception: explanation.misconception,
			text: runner.explanationText(id) ?? []
		}
	);
}

function compared(runner: LessonRunner, step: Step & { kind: 'explain' }): OpenStep['compared'] {
	const predicted = runner.lesson.steps.find(({ id }) => id === step.of);
	const ink = predicted && inkOf(runner, predicted).at(-1);
	const observed = step.observed === undefined ? undefined : runner.written(step.observed);
	return ink === undefined && observed === undefined ? undefined : { ink, observed };
}

function asked(runner: LessonRunner, question: NonNullable<ReturnType<typeof questionOf>>): AskedQuestion {
	const ask = runner.text(question.ask);
	switch (question.kind) {
		case 'choice':
			return {
				kind: 'choice',
				ask,
				options: question.answers.map(({ is, text }) => ({ is, text: runner.text(text) }))
			};
		case 'number':
		case 'interval':
			return {
				kind: question.kind,
				ask,
				unit: question.unit,
				mark: question.kind === 'number' ? question.mark : undefined
			};
		case 'point':
			return { kind: 'point', ask };
		case 'order':
			return {
				kind: 'order',
				ask,
				items: question.items.map(({ id, text }) => ({ id, text: runner.text(text) }))
			};
	}
}
