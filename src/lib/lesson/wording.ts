import { Fault } from '#lib/fault.ts';
import { showAnswer } from './answer.ts';
import { parseExpression } from './conditions.ts';
import { evaluate, type ReadObservable } from './evaluate.ts';
import type { Expression } from './expression.ts';
import { kindOf } from './kinds.ts';
import type { LessonBench } from './lesson-bench.ts';
import { stepProgress, type Progress } from './progress.ts';
import { questionOf, type Lesson } from './schema.ts';
import { showValue, type ValueKind } from './value.ts';
import { answerKind, vocabulary } from './vocabulary.ts';

/** A moment of a lesson: what was done so far, and the bench as it is. */
export interface Moment {
	readonly lesson: Lesson;
	readonly bench: LessonBench;
	readonly progress: Progress;
	readonly read: ReadObservable;
}

interface Valued {
	readonly value: number | boolean | string;
	readonly kind: ValueKind;
}

/** What an expression comes to now, with its kind. @throws Fault when it speaks of what is not there. */
function valueNow(source: string, { lesson, bench, progress, read }: Moment): Valued {
	const place = `lesson "${lesson.id}"`;
	const expression = parseExpression(source, place);
	const answered = new Map<string, ValueKind>();
	for (const step of lesson.steps) {
		const kind = answerKind(step);
		if (kind) answered.set(step.id, kind);
	}
	const kept = new Map(Object.entries(progress.kept).map(([name, { kind }]) => [name, kind as ValueKind]));
	const kind = kindOf(expression, vocabulary(bench, answered, kept), place, source);
	return { value: evaluate(expression, read), kind };
}

export interface Kept {
	readonly value: Valued['value'] | null;
	readonly kind: ValueKind;
}

/** What a step keeps. Not finite means no value, since a record must survive being written as JSON. */
export function keptNow(source: string, moment: Moment): Kept {
	const { value, kind } = valueNow(source, moment);
	return { value: typeof value === 'number' && !Number.isFinite(value) ? null : value, kind };
}

/** A spread is an estimate itself: more than two digits of it would say nothing. */
function isSpread(expression: Expression, lesson: Lesson): boolean {
	if (expression.type !== 'observable') return false;
	const { name } = expression;
	const source = (written: string): string =>
		String(lesson.steps.find(({ keep }) => Object.hasOwn(keep, written))?.keep[written] ?? '');
	return (name.startsWith('kept.') ? source(name.slice('kept.'.length)) : name).startsWith('spread.');
}

/** An expression as a reader sees it: a value with its unit, or the learner's own answer in their words. */
export function inWords(source: string, moment: Moment): string {
	const expression = parseExpression(source, `lesson "${moment.lesson.id}"`);
	if (expression.type === 'observable' && expression.name === 'answer') {
		const id = String(expression.arguments[0]?.value);
		const step = moment.lesson.steps.find((candidate) => candidate.id === id);
		const question = step && questionOf(step);
		const commitment = stepProgress(moment.progress, id).ink.at(-1);
		return question && commitment ? showAnswer(question, commitment.answer) : 'no answer';
	}
	try {
		const { value, kind } = valueNow(source, moment);
		return typeof value === 'number' && isSpread(expression, moment.lesson)
			? showValue(Number(value.toPrecision(2)), kind)
			: showValue(value, kind);
	} catch (fault) {
		// the learner may have moved the sweep away from the frequency that is asked for
		if (fault instanceof Fault) return 'no value';
		throw fault;
	}
}
